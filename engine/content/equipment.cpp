#include "engine/content/loading.hpp"
#include "engine/text.hpp"

#include <utility>

namespace sipladder::content {

namespace {

using solution::Balance;
using solution::Equipment;
using solution::Vessel;
using solution::VesselKind;

Balance balance_at(Loading& loading, const Field& field, const std::vector<Balance>& before) {
    field.only(
        {"id", "name", "resolution_g", "capacity_g", "source", "smallest_load_g", "gain_half_width_rel"});
    source_of(loading, field.at("source"));
    Balance balance;
    balance.id = own_id(field, before);
    balance.name = field.at("name").text();
    balance.resolution = Grams{field.at("resolution_g").number(1e-5, 100.0)};
    balance.capacity = Grams{field.at("capacity_g").number(1.0, 100000.0)};
    balance.smallest_load = Grams{figure(loading, field.at("smallest_load_g"), 1e-5, 10000.0)};
    balance.gain_half_width_rel = figure(loading, field.at("gain_half_width_rel"), 0.0, 0.2);
    const Field smallest = field.at("smallest_load_g").at("value");
    if (balance.smallest_load < balance.resolution)
        smallest.note("is " + smallest.shown() + ", less than one step of the display (" +
                          exact(balance.resolution.value) + ")",
                      "a load that the display can show is wanted");
    if (balance.smallest_load >= balance.capacity)
        smallest.note(
            "is " + smallest.shown() + ", not below the capacity (" + exact(balance.capacity.value) + ")",
            "a smaller load is wanted");
    return balance;
}

VesselKind kind_of(const Field& field) {
    const std::string name = field.one_of({"syringe", "pipette", "cylinder", "flask", "jug"});
    if (name == "pipette") return VesselKind::pipette;
    if (name == "cylinder") return VesselKind::cylinder;
    if (name == "flask") return VesselKind::flask;
    if (name == "jug") return VesselKind::jug;
    return VesselKind::syringe;
}

void check_vessel(const Field& field, const Vessel& vessel) {
    const std::string nominal = exact(vessel.nominal.value);
    if (vessel.smallest > vessel.nominal)
        field.at("smallest_mL")
            .note("is " + field.at("smallest_mL").shown() + ", more than the vessel holds (" + nominal + ")",
                  "a smaller volume is wanted");
    if (vessel.kind == VesselKind::flask &&
        (vessel.graduation.value != 0.0 || vessel.smallest != vessel.nominal))
        field.note("is a flask with more than one mark",
                   "graduation_mL 0 and smallest_mL " + nominal + " are wanted");
    if (vessel.kind != VesselKind::flask && vessel.graduation.value <= 0.0)
        field.at("graduation_mL")
            .note("is 0", "the distance of two marks is wanted; only a flask has one mark");
    if (vessel.tolerance_rel <= 0.0 && vessel.tolerance.value <= 0.0)
        field.note("has no tolerance", "tolerance_rel or tolerance_mL is wanted");
    if (vessel.kind == VesselKind::syringe && !vessel.food_grade_new)
        field.at("food_grade_new")
            .note("is false for a syringe", "use new, needle-free syringes: true is wanted");
}

Vessel vessel_at(Loading& loading, const Field& field, const std::vector<Vessel>& before) {
    field.only({"id", "name", "kind", "nominal_mL", "graduation_mL", "smallest_mL", "source", "tolerance_rel",
                "tolerance_mL", "food_grade_new"});
    source_of(loading, field.at("source"));
    Vessel vessel;
    vessel.id = own_id(field, before);
    vessel.name = field.at("name").text();
    vessel.kind = kind_of(field.at("kind"));
    vessel.nominal = Millilitres{field.at("nominal_mL").number(0.01, 20000.0)};
    vessel.graduation = Millilitres{field.at("graduation_mL").number(0.0, 1000.0)};
    vessel.smallest = Millilitres{field.at("smallest_mL").number(0.001, 20000.0)};
    if (const Field part = field.at("tolerance_rel"); part.is_there())
        vessel.tolerance_rel = figure(loading, part, 0.0, 0.5);
    if (const Field part = field.at("tolerance_mL"); part.is_there())
        vessel.tolerance = Millilitres{figure(loading, part, 0.0, 1000.0)};
    vessel.food_grade_new = field.at("food_grade_new").boolean();
    check_vessel(field, vessel);
    return vessel;
}

Equipment equipment_at(Loading& loading, const Field& field) {
    field.only({"id", "name", "note", "balances", "vessels"});
    Equipment equipment;
    equipment.id = own_id(field, loading.content.equipment);
    equipment.name = field.at("name").text();
    equipment.note = optional_text(field.at("note"));
    for (const Field& part : field.at("balances").each(0))
        equipment.balances.push_back(balance_at(loading, part, equipment.balances));
    for (const Field& part : field.at("vessels").each(0))
        equipment.vessels.push_back(vessel_at(loading, part, equipment.vessels));
    if (equipment.balances.empty() && equipment.vessels.empty())
        field.note("holds neither a balance nor a vessel", "at least one is wanted");
    return equipment;
}

}  // namespace

void load_equipment(Loading& loading, const std::filesystem::path& file) {
    for (const Field& field : loading.entries(file, "equipment", "equipment")) {
        loading.content.equipment.push_back(equipment_at(loading, field));
        loading.content.equipment_entries[loading.content.equipment.back().id] = field.as_json();
    }
}

EquipmentEntry read_equipment(const Field& field, const Content& content) {
    Loading loading;
    loading.is_own = true;
    solution::Equipment equipment = equipment_at(loading, field);
    for (const auto& check : loading.references) check(content);  // they note in the field's own problems
    return {std::move(equipment), field.as_json()};
}

}  // namespace sipladder::content

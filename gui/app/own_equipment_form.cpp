// A scale is its display, its capacity and how far it may be off; a vessel its marks. What people rarely know
// of a tool has the value that the shipped tools have.

#include "engine/text.hpp"
#include "gui/app/own_form_parts.hpp"

namespace sipladder::gui {

namespace {

using content::OwnValue;

/// 2 % from tare and reading, each rectangular over one step of the display, as for the shipped scales
/// (gum_2008).
constexpr double steps_of_smallest_load = 21.0;

std::string at(const char* list, std::size_t index, const std::string& key) {
    return std::string("/equipment/0/") + list + "/" + std::to_string(index) + "/" + key;
}

std::string half_of(const std::string& typed) {
    const std::optional<double> number = number_from_typed(typed);
    return number && *number > 0.0 ? shortest(0.5 * *number, 6) : std::string();
}

std::string typed_in(const OwnTyped& tool, const std::string& field) {
    const auto found = tool.find(field);
    return found == tool.end() ? std::string() : std::string(trimmed(found->second));
}

std::string kind_of(const OwnTyped& vessel) {
    const std::string kind = typed_in(vessel, "kind");
    return kind.empty() ? "syringe" : kind;
}

OwnGroup balance_group(const OwnTyped& typed, std::size_t i) {
    const auto field = [&](const std::string& name) { return OwnPlace{OwnList::balances, i, name}; };
    const std::string step = typed_in(typed, "resolution");
    const std::optional<double> resolution = number_from_typed(step);
    OwnGroup group{"Scale " + std::to_string(i + 1), OwnList::balances, i, {}};
    group.fields = {
        {.place = field("name"),
         .label = "Its name",
         .unit = {},
         .usual = step.empty() ? "scale" : "scale, " + step + " g",
         .may_be_empty = true,
         .pointer = at("balances", i, "name")},
        {.place = field("resolution"),
         .label = "Shows steps of",
         .unit = "g",
         .explains = "the last digit of the display: 0.01 or 1",
         .kind = OwnValue::Kind::number,
         .pointer = at("balances", i, "resolution_g")},
        {.place = field("capacity"),
         .label = "Holds up to",
         .unit = "g",
         .kind = OwnValue::Kind::number,
         .pointer = at("balances", i, "capacity_g")},
        {.place = field("gain"),
         .label = "Off by up to ±",
         .unit = "% of what it shows",
         .usual = "0.52",
         .explains =
             "0.52 % unless a known mass has shown better: a half-width, 0.3 % as standard uncertainty",
         .may_be_empty = true,
         .kind = OwnValue::Kind::number,
         .pointer = at("balances", i, "gain_half_width_rel/value"),
         .scale = 0.01,
         .right = "a percentage from 0 to 20"},
        {.place = field("smallest"),
         .label = "Used from",
         .unit = "g",
         .usual = resolution && *resolution > 0.0 ? shortest(steps_of_smallest_load * *resolution, 6) : "",
         .explains = "the smallest load that is honest; 21 steps of the display keep it within 2 %",
         .may_be_empty = true,
         .kind = OwnValue::Kind::number,
         .pointer = at("balances", i, "smallest_load_g/value")}};
    return group;
}

OwnField tolerance_field(const OwnTyped& typed, std::size_t i) {
    const std::string kind = kind_of(typed);
    const OwnPlace place{OwnList::vessels, i, "tolerance"};
    constexpr double small_syringe_mL = 5.0;  // iso_7886_1: 5 % below, 4 % from here
    const bool is_large = number_from_typed(typed_in(typed, "nominal")).value_or(0.0) >= small_syringe_mL;
    if (kind == "syringe" || kind == "jug")
        return {.place = place,
                .label = "Off by up to ±",
                .unit = "% of what is drawn",
                .usual = kind == "syringe" && is_large ? "4" : "5",
                .explains = kind == "jug"
                                ? "5 % is common for a kitchen jug"
                                : "what ISO 7886-1 allows from half full: 5 % below 5 mL, 4 % from there",
                .may_be_empty = true,
                .kind = OwnValue::Kind::number,
                .pointer = at("vessels", i, "tolerance_rel/value"),
                .scale = 0.01,
                .right = "a percentage above 0, at most 50"};
    return {.place = place,
            .label = "Off by up to ±",
            .unit = "mL",
            .explains = "as it is printed on it",
            .kind = OwnValue::Kind::number,
            .pointer = at("vessels", i, "tolerance_mL/value")};
}

OwnGroup vessel_group(const OwnTyped& typed, std::size_t i) {
    const auto field = [&](const std::string& name) { return OwnPlace{OwnList::vessels, i, name}; };
    const std::string kind = kind_of(typed);
    const std::string holds = typed_in(typed, "nominal");
    const bool is_flask = kind == "flask";
    OwnGroup group{"Vessel " + std::to_string(i + 1), OwnList::vessels, i, {}};
    group.fields = {{.place = field("kind"),
                     .label = "Is a",
                     .unit = {},
                     .choices = {{"syringe", "syringe"},
                                 {"pipette", "pipette"},
                                 {"cylinder", "cylinder"},
                                 {"flask", "flask"},
                                 {"jug", "jug"}},
                     .usual = "syringe",
                     .may_be_empty = true,
                     .pointer = at("vessels", i, "kind")},
                    {.place = field("name"),
                     .label = "Its name",
                     .unit = {},
                     .usual = holds.empty() ? kind : kind + ", " + holds + " mL",
                     .may_be_empty = true,
                     .pointer = at("vessels", i, "name")},
                    {.place = field("nominal"),
                     .label = "Holds",
                     .unit = "mL",
                     .kind = OwnValue::Kind::number,
                     .pointer = at("vessels", i, "nominal_mL")}};
    if (!is_flask) {
        group.fields.push_back({.place = field("graduation"),
                                .label = "Marked every",
                                .unit = "mL",
                                .kind = OwnValue::Kind::number,
                                .pointer = at("vessels", i, "graduation_mL")});
        group.fields.push_back({.place = field("smallest"),
                                .label = "Used from",
                                .unit = "mL",
                                .usual = half_of(holds),
                                .explains = "half of what it holds, where its tolerance is stated",
                                .may_be_empty = true,
                                .kind = OwnValue::Kind::number,
                                .pointer = at("vessels", i, "smallest_mL")});
    }
    group.fields.push_back(tolerance_field(typed, i));
    if (kind == "syringe")
        group.fields.push_back({.place = field("new"),
                                .label = "Is new",
                                .unit = {},
                                .choices = {{"true", "yes"}, {"false", "no"}},
                                .explains = "new, needle-free, food grade: others are not used here",
                                .kind = OwnValue::Kind::flag,
                                .pointer = at("vessels", i, "food_grade_new")});
    return group;
}

void state(OwnValues& values, const std::string& pointer) {
    values[pointer] = said(std::string(content::own_statement));
}

}  // namespace

std::vector<OwnGroup> equipment_groups(const OwnForm& form) {
    OwnGroup head{"Equipment", OwnList::head, 0, {}};
    head.fields = {{.place = {OwnList::head, 0, "name"},
                    .label = "Its name",
                    .unit = {},
                    .explains = "as Prepare and Class offer it: my kitchen, the school's balance",
                    .pointer = "/equipment/0/name"},
                   {.place = {OwnList::head, 0, "note"},
                    .label = "A note",
                    .unit = {},
                    .may_be_empty = true,
                    .pointer = "/equipment/0/note"}};
    std::vector<OwnGroup> groups{std::move(head)};
    for (std::size_t i = 0; i < form.balances.size(); ++i)
        groups.push_back(balance_group(form.balances[i], i));
    for (std::size_t i = 0; i < form.vessels.size(); ++i) groups.push_back(vessel_group(form.vessels[i], i));
    return groups;
}

void work_in_equipment(OwnValues& values, const OwnForm& form, const std::string& id) {
    values["/equipment/0/id"] = said(id);
    for (const char* list : {"/equipment/0/balances", "/equipment/0/vessels"})
        values[list] = {OwnValue::Kind::list, {}, 1.0};
    for (std::size_t i = 0; i < form.balances.size(); ++i) {
        values[at("balances", i, "id")] = said("scale_" + std::to_string(i + 1));
        state(values, at("balances", i, "source"));
        state(values, at("balances", i, "smallest_load_g/source"));
        state(values, at("balances", i, "gain_half_width_rel/source"));
    }
    for (std::size_t i = 0; i < form.vessels.size(); ++i) {
        const std::string kind = kind_of(form.vessels[i]);
        const bool is_relative = kind == "syringe" || kind == "jug";
        values[at("vessels", i, "id")] = said("vessel_" + std::to_string(i + 1));
        state(values, at("vessels", i, "source"));
        state(values, at("vessels", i, is_relative ? "tolerance_rel/source" : "tolerance_mL/source"));
        if (kind != "syringe")
            values[at("vessels", i, "food_grade_new")] = {OwnValue::Kind::flag, "false", 1.0};
        if (kind == "flask") {  // one mark, at what it holds
            values[at("vessels", i, "graduation_mL")] = counted_as_number("0");
            values[at("vessels", i, "smallest_mL")] = counted_as_number(typed_in(form.vessels[i], "nominal"));
        }
    }
}

}  // namespace sipladder::gui

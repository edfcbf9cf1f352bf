#include "engine/content/loading.hpp"
#include "engine/text.hpp"

#include <optional>
#include <utility>

// A base is checked as a whole: what is dissolved in it, in every cup and every blank, has to be an
// ingredient of ours, and weak enough to drink all evening. Its density is reckoned here, once.

namespace sipladder::content {

namespace {

using solution::Base;
using solution::Constituent;
using solution::PotassiumSalt;

/// Above it potassium hydrogen tartrate may crystallise in the cold; common practice, no source.
constexpr double most_potassium_mmol_per_L = 15.0;
constexpr double most_ethanol_pct_vol = 15.0;  // of a table wine; the caps of a sitting ask for less

/// The ingredient of this id with its substance; nothing, and a problem noted, if there is none.
std::optional<Constituent> ingredient_of(Loading& loading, const Field& field) {
    const std::string id = field.id();
    if (id.empty()) return std::nullopt;
    std::string known;
    for (const solution::Ingredient& one : loading.content.ingredients) {
        known += (known.empty() ? "" : ", ") + one.id;
        if (one.id != id) continue;
        for (const solution::Substance& substance : loading.content.substances)
            if (substance.id == one.substance) return Constituent{one, substance, GramsPerLitre{0.0}};
        return std::nullopt;  // its unknown substance is a problem of its own
    }
    field.note("is \"" + id + "\", which ingredients.json lacks", "one of " + known + " is wanted");
    return std::nullopt;
}

void read_constituents(Loading& loading, const Field& field, Base& base) {
    if (!field.is_there()) return;
    for (const Field& part : field.each()) {
        part.only({"ingredient", "g_per_L"});
        std::optional<Constituent> found = ingredient_of(loading, part.at("ingredient"));
        const double held = figure(loading, part.at("g_per_L"), 1e-3, 200.0);
        if (!found) continue;
        if (found->substance.scale == Scale::pct_vol)
            part.at("ingredient")
                .note("is \"" + found->ingredient.id + "\", a spirit", "state it as ethanol_pct_vol");
        else if (held > found->substance.strongest_cup)
            part.at("g_per_L").at("value").note("is " + exact(held) + ", above the strongest cup of " +
                                                    found->substance.name + " (" +
                                                    exact(found->substance.strongest_cup) + ")",
                                                "a base that may be drunk from is wanted");
        else {
            found->held = GramsPerLitre{held};
            base.constituents.push_back(std::move(*found));
        }
    }
}

void read_potassium(Loading& loading, const Field& field, Base& base) {
    const Field potassium = field.at("potassium_mmol_per_L");
    const Field salt = field.at("potassium_from");
    if (!potassium.is_there() && !salt.is_there()) return;
    base.potassium = MillimolesPerLitre{figure(loading, potassium, 0.1, most_potassium_mmol_per_L)};
    base.potassium_salt = salt.one_of({"potassium_hydrogen_tartrate", "potassium_hydrogen_carbonate"}) ==
                                  "potassium_hydrogen_tartrate"
                              ? PotassiumSalt::hydrogen_tartrate
                              : PotassiumSalt::hydrogen_carbonate;
}

void read_ethanol(Loading& loading, const Field& field, Base& base) {
    const Field strength = field.at("ethanol_pct_vol");
    const Field from = field.at("ethanol_from");
    if (!strength.is_there() && !from.is_there()) return;
    base.ethanol = PercentVol{figure(loading, strength, 0.01, most_ethanol_pct_vol)};
    const std::optional<Constituent> spirit = ingredient_of(loading, from);
    if (!spirit) return;
    base.ethanol_from = spirit->ingredient.id;
    base.spirit_name = spirit->ingredient.name;
    base.spirit_strength = spirit->ingredient.strength;
    if (base.spirit_strength.value > 0.0 && base.ethanol.value >= base.spirit_strength.value)
        strength.note("is " + exact(base.ethanol.value) + ", no weaker than the spirit",
                      "less than " + exact(base.spirit_strength.value) + " % vol");
    if (spirit->ingredient.form != solution::IngredientForm::spirit)
        from.note("is \"" + spirit->ingredient.id + "\", no spirit", "a spirit is wanted");
}

}  // namespace

void load_bases(Loading& loading, const std::filesystem::path& file) {
    for (const Field& field : loading.entries(file, "bases", "bases")) {
        field.only({"id", "name", "bicarbonate_mg_per_L", "constituents", "potassium_mmol_per_L",
                    "potassium_from", "ethanol_pct_vol", "ethanol_from"});
        Base base;
        base.id = own_id(field, loading.content.bases);
        base.name = field.at("name").text();
        base.bicarbonate_mg_per_L = figure(loading, field.at("bicarbonate_mg_per_L"), 0.0, 5000.0);
        read_constituents(loading, field.at("constituents"), base);
        read_potassium(loading, field, base);
        read_ethanol(loading, field, base);
        base.density = density_of_base(base);
        loading.content.bases.push_back(std::move(base));
    }
}

}  // namespace sipladder::content

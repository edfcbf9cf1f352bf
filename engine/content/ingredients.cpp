#include "engine/content/loading.hpp"
#include "engine/text.hpp"

namespace sipladder::content {

namespace {

using solution::Ingredient;
using solution::IngredientForm;

constexpr double strongest_vinegar_g_per_L =
    100.0;                                     // judgement: shop vinegar; above, acetic acid irritates skin
constexpr double strongest_tablet_mg = 200.0;  // efsa_caffeine_2015: a single dose without concern
constexpr double strongest_spirit_pct_vol = 60.0;  // judgement: fire, and a mistaken sip that burns

void read_powder(Loading& loading, const Field& field, Ingredient& ingredient) {
    const FigureWithin held = figure_within(loading, field.at("content_mass_fraction"), 0.0, 1.0);
    ingredient.form = IngredientForm::powder;
    ingredient.content = MassFraction{held.value};
    ingredient.content_half_width = MassFraction{held.half_width};
    ingredient.source = held.source;
    if (held.value <= 0.0)
        field.at("content_mass_fraction")
            .at("value")
            .note("is 0", "a powder that holds some of it is wanted");
}

void read_spirit(Loading& loading, const Field& field, Ingredient& ingredient) {
    const Field strength = field.at("strength_pct_vol");
    const FigureWithin held = figure_within(loading, strength, 1.0, 100.0);
    ingredient.form = IngredientForm::spirit;
    ingredient.strength = PercentVol{held.value};
    ingredient.strength_half_width = PercentVol{held.half_width};
    ingredient.source = held.source;
    loading.caps.push_back([strength, held](const Content&) {
        if (held.value > strongest_spirit_pct_vol)
            strength.at("value").note(
                "is " + exact(held.value) + ", stronger than is safe at a table",
                "a spirit of at most " + exact(strongest_spirit_pct_vol) + " % vol is wanted");
    });
}

void read_liquid(Loading& loading, const Field& field, Ingredient& ingredient) {
    const FigureWithin held = figure_within(loading, field.at("held_g_per_L"), 0.1, 1000.0);
    ingredient.form = IngredientForm::liquid;
    ingredient.held = GramsPerLitre{held.value};
    loading.caps.push_back([field, held, id = ingredient.substance](const Content& content) {
        for (const solution::Substance& one : content.substances)
            if (one.id == id && one.component == solution::Component::sour &&
                held.value > strongest_vinegar_g_per_L)
                field.at("held_g_per_L")
                    .at("value")
                    .note("is " + exact(held.value) + ", a concentrated acid",
                          "table vinegar of at most " + exact(strongest_vinegar_g_per_L) + " g/L is wanted");
    });
    ingredient.held_half_width = GramsPerLitre{held.half_width};
    ingredient.source = held.source;
}

void read_tablet(Loading& loading, const Field& field, Ingredient& ingredient) {
    const FigureWithin held = figure_within(loading, field.at("held_mg_per_piece"), 1.0, 5000.0);
    ingredient.form = IngredientForm::tablet;
    ingredient.per_piece = Milligrams{held.value};
    ingredient.per_piece_half_width = Milligrams{held.half_width};
    loading.caps.push_back([field, held](const Content&) {
        if (held.value > strongest_tablet_mg)
            field.at("held_mg_per_piece")
                .at("value")
                .note("is " + exact(held.value) + ", more than one dose",
                      "tablets of at most " + exact(strongest_tablet_mg) + " mg are wanted");
    });
    ingredient.source = held.source;
}

/// Spirits and only spirits hold what is counted in % vol.
void check_form(Loading& loading, const Field& field, const Ingredient& ingredient) {
    loading.references.push_back([field, ingredient](const Content& content) {
        for (const solution::Substance& one : content.substances)
            if (one.id == ingredient.substance &&
                (one.scale == Scale::pct_vol) != (ingredient.form == IngredientForm::spirit))
                field.at("form").note("is " + field.at("form").shown() + " of " + one.name,
                                      one.scale == Scale::pct_vol
                                          ? "a spirit is wanted"
                                          : "a powder, a liquid or a tablet is wanted");
    });
}

/// Pure caffeine is measured in grams where milligrams are meant: only counted pieces.
void check_bitter(Loading& loading, const Field& field, const Ingredient& ingredient) {
    loading.caps.push_back([field, ingredient](const Content& content) {
        for (const solution::Substance& one : content.substances)
            if (one.id == ingredient.substance && one.component == solution::Component::bitter &&
                ingredient.form != IngredientForm::tablet)
                field.at("form").note(
                    "is " + field.at("form").shown() + " of " + one.name,
                    "tablets of stated strength are wanted, a slip of the scale could do harm");
    });
}

Ingredient ingredient_at(Loading& loading, const Field& field) {
    Ingredient ingredient;
    ingredient.id = own_id(field, loading.content.ingredients);
    ingredient.name = field.at("name").text();
    ingredient.substance = substance_of(loading, field.at("substance"));
    ingredient.allergens = optional_text(field.at("allergens"));
    ingredient.note = field.at("note").text();
    const std::string form = field.at("form").one_of({"powder", "spirit", "liquid", "tablet"});
    const std::string figure_key = form == "powder"   ? "content_mass_fraction"
                                   : form == "spirit" ? "strength_pct_vol"
                                   : form == "tablet" ? "held_mg_per_piece"
                                                      : "held_g_per_L";
    field.only({"id", "name", "substance", "form", figure_key, "allergens", "note"});
    if (form == "powder") read_powder(loading, field, ingredient);
    if (form == "spirit") read_spirit(loading, field, ingredient);
    if (form == "liquid") read_liquid(loading, field, ingredient);
    if (form == "tablet") read_tablet(loading, field, ingredient);
    check_form(loading, field, ingredient);
    check_bitter(loading, field, ingredient);
    return ingredient;
}

}  // namespace

void read_ingredients(Loading& loading, const std::vector<Field>& list) {
    for (const Field& field : list) loading.content.ingredients.push_back(ingredient_at(loading, field));
}

void load_ingredients(Loading& loading, const std::filesystem::path& file) {
    read_ingredients(loading, loading.entries(file, "ingredients", "ingredients"));
}

}  // namespace sipladder::content

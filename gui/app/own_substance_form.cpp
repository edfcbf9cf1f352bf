// What a person has to say of a substance so that it can be mixed, served and counted; and of one pack of it.

#include "engine/text.hpp"
#include "gui/app/own_form_parts.hpp"

#include <array>
#include <cmath>
#include <utility>

namespace sipladder::gui {

namespace {

using content::OwnValue;

constexpr const char* of_substance = "/substances/0/";
constexpr const char* of_ingredient = "/ingredients/0/";

bool is_vol(const OwnForm& form) {
    return head_text(form, "scale") == "pct_vol";
}

std::string suffix(const OwnForm& form) {
    return is_vol(form) ? "_pct_vol" : "_g_per_L";
}

/// How each form states what it holds: the key of the text, the unit as typed, and what makes one of the
/// other.
struct Stated {
    const char* form;
    const char* key;
    const char* unit;
    double scale;
    const char* right;
};
constexpr std::array<Stated, 4> stated_by_form{
    {{"powder", "content_mass_fraction", "g in 100 g", 0.01, "above 0, at most 100"},
     {"liquid", "held_g_per_L", "g in 100 mL", 10.0, "0.01 to 100; an acid at most 10"},
     {"tablet", "held_mg_per_piece", "mg in a tablet", 1.0, "1 to 200"},
     {"spirit", "strength_pct_vol", "% vol", 1.0, "1 to 60; nothing stronger is used here"}}};

const Stated& stated(const OwnForm& form) {
    for (const Stated& one : stated_by_form)
        if (head_text(form, "form") == one.form) return one;
    return is_vol(form) ? stated_by_form.back() : stated_by_form.front();
}

OwnPlace field(const char* name) {
    return {OwnList::head, 0, name};
}

std::string at(const char* of, const std::string& key) {
    return std::string(of) + key;
}

/// A factor as the standard deviation of log10; what is no factor stays as it was typed.
std::string spread_log10(const std::string& factor) {
    const std::optional<double> number = number_from_typed(factor.empty() ? "3.2" : factor);
    return number && *number > 0.0 ? exact(std::log10(*number)) : factor;
}

std::vector<OwnField> what_it_is(const OwnForm& form) {
    const std::string name = head_text(form, "name");
    return {{.place = field("name"), .label = "Its name", .unit = {}, .pointer = at(of_substance, "name")},
            {.place = field("asked_for"),
             .label = "Asked for as",
             .unit = {},
             .usual = name,
             .explains = "which cup holds the …? The word that a drill asks with",
             .may_be_empty = true,
             .pointer = at(of_substance, "asked_for")},
            {.place = field("component"),
             .label = "It is",
             .unit = {},
             .choices = {{"sweet", "sweet"},
                         {"sour", "sour"},
                         {"alcohol", "alcohol"},
                         {"astringent", "astringent"},
                         {"bitter", "bitter"},
                         {"salty", "salty"},
                         {"weight", "weight"}},
             .pointer = at(of_substance, "component")},
            {.place = field("counts_as"),
             .label = "It counts as",
             .unit = {},
             .choices = {{"sugar", "sugar"},
                         {"acid", "acid"},
                         {"ethanol", "alcohol"},
                         {"tannin", "tannin"},
                         {"caffeine", "caffeine"},
                         {"salt", "salt"},
                         {"glycerol", "glycerol"},
                         {"thickener", "thickener"}},
             .explains = "against the limits of a sitting and a day. What is bitter counts as caffeine: the "
                         "strictest that may be meant",
             .pointer = at(of_substance, "counts_as")},
            {.place = field("scale"),
             .label = "Counted in",
             .unit = {},
             .choices = {{"g_per_L", "g/L"}, {"pct_vol", "% vol"}},
             .usual = "g_per_L",
             .explains = "% vol is for alcohol, and only for that",
             .may_be_empty = true,
             .pointer = at(of_substance, "scale")}};
}

std::vector<OwnField> how_strong(const OwnForm& form) {
    const std::string unit = is_vol(form) ? "% vol" : "g/L";
    std::vector<OwnField> fields{
        {.place = field("cup"),
         .label = "Cup at most",
         .unit = unit,
         .explains = "no stronger than the shipped ones that count alike",
         .kind = OwnValue::Kind::number,
         .pointer = at(of_substance, "strongest_cup" + suffix(form) + "/value")},
        {.place = field("stock"),
         .label = "Stock at most",
         .unit = unit,
         .usual = head_text(form, "cup"),
         .explains = "that a cup is drawn from; empty: as strong as the strongest cup",
         .may_be_empty = true,
         .kind = OwnValue::Kind::number,
         .pointer = at(of_substance, "strongest_stock" + suffix(form) + "/value")},
        {.place = field("centre"),
         .label = "Noticed from",
         .unit = unit,
         .explains =
             "where about half of the people notice it in water: a guess is enough, and is called one",
         .kind = OwnValue::Kind::number,
         .pointer = at(of_substance, "prior/centre" + suffix(form))},
        {.place = field("spread"),
         .label = "Factor ±",
         .unit = "between people",
         .usual = "3.2",
         .explains = "how far people differ; 3.2 is wide, as suits what nobody has measured",
         .may_be_empty = true,
         .pointer = at(of_substance, "prior/sd_log10"),
         .right = "a factor from 1.13 to 100"},
        {.place = field("rest"),
         .label = "Rest, at least",
         .unit = "s",
         .usual = "60",
         .explains = "60 s for sugars and salt; 120 and more for what is sour, bitter or astringent",
         .may_be_empty = true,
         .kind = OwnValue::Kind::number,
         .pointer = at(of_substance, "rest_s/value")},
        {.place = field("nose"),
         .label = "Nose closed",
         .unit = {},
         .choices = {{"false", "no"}, {"true", "yes: it smells"}},
         .usual = "false",
         .may_be_empty = true,
         .kind = OwnValue::Kind::flag,
         .pointer = at(of_substance, "closed_nose")}};
    return fields;
}

std::vector<OwnField> how_it_dissolves(const OwnForm& form) {
    if (is_vol(form)) return {};  // the tables of ethanol and water hold
    return {{.place = field("dissolves"),
             .label = "Dissolves",
             .unit = "g in 100 g of water",
             .explains = "empty: it mixes freely",
             .may_be_empty = true,
             .kind = OwnValue::Kind::number,
             .pointer = at(of_substance, "solubility_g_per_100_g_water/value")},
            {.place = field("takes_up"),
             .label = "A gram fills",
             .unit = "mL in solution",
             .usual = "0.6",
             .explains = "0.6 suits most sugars and acids; it moves a level by a part in a thousand at most "
                         "in a weak cup",
             .may_be_empty = true,
             .kind = OwnValue::Kind::number,
             .pointer = at(of_substance, "apparent_volume_mL_per_g/value")}};
}

std::vector<OwnField> what_is_bought(const OwnForm& form) {
    const Stated& label = stated(form);
    const std::string name = head_text(form, "name");
    const auto number = [&](const char* name_of, const char* title, const char* key, std::string usual,
                            const char* explains) {
        return OwnField{.place = field(name_of),
                        .label = title,
                        .unit = label.unit,
                        .usual = std::move(usual),
                        .explains = explains,
                        .may_be_empty = *name_of == 'w',
                        .kind = OwnValue::Kind::number,
                        .pointer = at(of_ingredient, std::string(label.key) + "/" + key),
                        .scale = label.scale,
                        .right = label.right};
    };
    return {
        {.place = field("ingredient"),
         .label = "Its name",
         .unit = {},
         .usual = name.empty() ? name : name + ", " + label.form,
         .explains = "as the pack calls it",
         .may_be_empty = true,
         .pointer = at(of_ingredient, "name")},
        {.place = field("form"),
         .label = "Is a",
         .unit = {},
         .choices = {{"powder", "powder"}, {"liquid", "liquid"}, {"tablet", "tablet"}, {"spirit", "spirit"}},
         .usual = label.form,
         .explains = "what is bitter comes in tablets, alcohol as a spirit",
         .may_be_empty = true,
         .pointer = at(of_ingredient, "form")},
        number("strength", "Holds of it", "value", {}, "as its label states"),
        number("within", "Within ±", "half_width", "0", "how far off the label may be, a half-width"),
        {.place = field("allergens"),
         .label = "Allergens",
         .unit = {},
         .explains = "empty: none known",
         .may_be_empty = true,
         .pointer = at(of_ingredient, "allergens")},
        {.place = field("look_for"),
         .label = "Look for",
         .unit = {},
         .usual = "Food grade, as its own label says.",
         .explains = "on the pack, whenever it is bought again",
         .may_be_empty = true,
         .pointer = at(of_ingredient, "note")}};
}

}  // namespace

std::vector<OwnGroup> substance_groups(const OwnForm& form) {
    std::vector<OwnField> measures = how_strong(form);
    for (OwnField& one : how_it_dissolves(form)) measures.push_back(std::move(one));
    std::vector<OwnField> all = what_it_is(form);
    OwnGroup what{"Substance", OwnList::head, 0, std::move(all)};
    OwnGroup strong{"How strong, how noticed", OwnList::head, 0, std::move(measures)};
    OwnGroup bought{"What is bought", OwnList::head, 0, what_is_bought(form)};
    return {std::move(what), std::move(strong), std::move(bought)};
}

void work_in_substance(OwnValues& values, const OwnForm& form, const std::string& id) {
    const auto own = said(std::string(content::own_statement));
    for (const std::string& key : {"strongest_cup" + suffix(form), "strongest_stock" + suffix(form),
                                   std::string("rest_s"), std::string("prior")})
        values[at(of_substance, key + "/source")] = own;
    values[at(of_substance, "id")] = said(id);
    values[at(of_substance, "density_model")] = said(is_vol(form) ? "ethanol" : "apparent_volume");
    values[at(of_substance, "prior/why")] = said("a guess of who added it");
    if (!is_vol(form)) {
        values[at(of_substance, "apparent_volume_mL_per_g/source")] = own;
        if (!head_text(form, "dissolves").empty())
            values[at(of_substance, "solubility_g_per_100_g_water/source")] = own;
    }
    values[at(of_substance, "prior/sd_log10")] = counted_as_number(spread_log10(head_text(form, "spread")));
    values[at(of_ingredient, "id")] = said(id + "_bought");
    values[at(of_ingredient, "substance")] = said(id);
    values[at(of_ingredient, std::string(stated(form).key) + "/source")] = own;
}

}  // namespace sipladder::gui

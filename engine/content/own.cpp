// The loaders of the content files do the work, on a text in place of a file. What is added here is the
// little that a person's own needs beyond them: an id that no shipped thing has, and for a substance cautions
// and caps that hold for it whatever it is called.

#include "engine/content/own.hpp"

#include "engine/content/json_file.hpp"
#include "engine/content/loading.hpp"
#include "engine/safety/intake.hpp"
#include "engine/text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <utility>

namespace sipladder::content {

namespace {

using nlohmann::json;

constexpr std::size_t largest_own_bytes = 64U << 10U;

/// What content/cautions.json leaves out by name. No list can be complete, and a label says more than a name.
constexpr std::array<std::string_view, 5> left_out{"alum", "denatured", "methanol", "methylated", "rubbing"};
/// Words that tell what a thing counts as, whatever else is said of it.
constexpr std::array<std::pair<std::string_view, std::string_view>, 5> telling{{{"caffein", "caffeine"},
                                                                                {"guarana", "caffeine"},
                                                                                {"ethanol", "ethanol"},
                                                                                {"alcohol", "ethanol"},
                                                                                {"vodka", "ethanol"}}};

const std::string& id_of(const solution::Ladder& ladder) {
    return ladder.id();
}
const std::string& id_of(const solution::Equipment& equipment) {
    return equipment.id;
}

std::string lowered(std::string text) {
    for (char& one : text)
        if (one >= 'A' && one <= 'Z') one = static_cast<char>(one - 'A' + 'a');
    return text;
}

void check_own_id(const Field& entry, const std::string& id) {
    if (!id.empty() && !is_own(id))
        entry.at("id").note("is \"" + id + "\"", "an own id begins with " + std::string(own_prefix));
}

void check_words(const Field& field, const std::string& text, const std::string& counted) {
    const std::string words = lowered(text);
    for (const std::string_view word : left_out)
        if (words.find(word) != std::string::npos)
            field.note("is " + field.shown(),
                       "nothing with " + std::string(word) + " is used here: see the cautions");
    for (const auto& [word, counts] : telling)
        if (words.find(word) != std::string::npos && counted != counts)
            field.note("is " + field.shown() + ", counted as " + counted,
                       "what is called so counts as " + std::string(counts));
}

/// The strongest cup and stock of what is shipped and counts alike; 0: there is none.
struct Strongest {
    double cup{};
    double stock{};
};
Strongest strongest_alike(const std::vector<solution::Substance>& shipped, const std::string& counted) {
    Strongest found;
    for (const solution::Substance& one : shipped) {
        if (is_own(one.id) || safety::counts_as(one) != counted) continue;
        found.cup = std::max(found.cup, one.strongest_cup);
        found.stock = std::max(found.stock, one.strongest_stock);
    }
    return found;
}

void check_strength(const Field& field, double value, double most, const std::string& of,
                    const std::string& unit) {
    if (value > most)
        field.note("is " + exact(value) + ", stronger than any shipped one that counts alike",
                   of + " of at most " + exact(most) + " " + unit + " is wanted");
}

/// Gives it the cautions of what is shipped and counts alike. @return whether there are any
bool take_cautions(Content& content, const std::string& id, const std::string& counted) {
    const auto counts_alike = [&](const std::string& other) {
        const auto found = std::ranges::find(content.substances, other, &solution::Substance::id);
        return found != content.substances.end() && !is_own(other) && safety::counts_as(*found) == counted;
    };
    bool any = false;
    for (safety::Caution& caution : content.cautions.texts) {
        if (!std::ranges::any_of(caution.substances, counts_alike)) continue;
        any = true;
        caution.substances.push_back(id);
    }
    return any;
}

/// Caps and cautions hold for it, and no cup is stronger than those they were made for.
void check_safe(Content& content, const Field& field, const solution::Substance& substance) {
    const std::string counted = safety::counts_as(substance);
    const std::string suffix = unit_suffix(substance.scale);
    const std::string unit = unit_text(substance.scale);
    check_words(field.at("name"), substance.name, counted);
    check_words(field.at("asked_for"), substance.asked_for, counted);
    const Strongest most = strongest_alike(content.substances, counted);
    check_strength(field.at("strongest_cup" + suffix).at("value"), substance.strongest_cup, most.cup, "a cup",
                   unit);
    check_strength(field.at("strongest_stock" + suffix).at("value"), substance.strongest_stock, most.stock,
                   "a stock", unit);
    const bool is_capped = std::ranges::any_of(content.cautions.caps, [&](const safety::Cap& cap) {
        return cap.what.substr(0, cap.what.find('_')) == counted;
    });
    if (!is_capped || !take_cautions(content, substance.id, counted))
        field.at("counts_as")
            .note("is " + counted + ", for which there is no " + (is_capped ? "caution" : "cap"),
                  "what has neither is not served");
}

const Field& only_one(const std::vector<Field>& list, const Field& whole, const std::string& kind) {
    if (list.size() != 1)
        whole.note("holds " + counted(list.size(), "entry", "entries") + " of " + kind, "one is wanted");
    return list.size() == 1 ? list.front() : whole;
}

void read_substance(Loading& loading, const std::string& name) {
    const auto root = loading.root(name, "own-substance", {"schema", "substances", "ingredients"});
    if (!root) return;
    const std::vector<Field> substances = root->at("substances").each();
    const std::vector<Field> ingredients = root->at("ingredients").each();
    const Field& substance = only_one(substances, root->at("substances"), "substances");
    const Field& ingredient = only_one(ingredients, root->at("ingredients"), "ingredients");
    if (!loading.problems.empty()) return;
    read_substances(loading, substances);
    read_ingredients(loading, ingredients);
    check_own_id(substance, loading.content.substances.back().id);
    check_own_id(ingredient, loading.content.ingredients.back().id);
    check_words(ingredient.at("name"), loading.content.ingredients.back().name,
                safety::counts_as(loading.content.substances.back()));
    if (loading.content.ingredients.back().substance != loading.content.substances.back().id)
        ingredient.at("substance")
            .note("is " + ingredient.at("substance").shown(), "the substance that it comes with is wanted");
    check_safe(loading.content, substance, loading.content.substances.back());
}

/// A ladder or an equipment: what its loader has added to what was there.
template <class Entry>
void check_one(Loading& loading, const std::vector<Entry>& all, std::size_t before, const std::string& name,
               const std::string& kind) {
    const std::size_t came = all.size() - before;
    if (!loading.problems.empty()) return;
    if (came != 1)
        loading.problems.push_back(
            {name, "holds " + counted(came, "entry", "entries") + " of " + kind, "one is wanted"});
    else if (!is_own(id_of(all.back())))
        loading.problems.push_back({name + ": /" + kind + "/0/id", "is \"" + id_of(all.back()) + "\"",
                                    "an own id begins with " + std::string(own_prefix)});
}

void read(Loading& loading, OwnKind kind, const std::string& name) {
    const Content& content = loading.content;
    const std::size_t kitchens = content.equipment.size();
    const std::size_t ladders = content.ladders.size();
    const std::size_t pedestals = content.pedestals.size();
    switch (kind) {
        case OwnKind::substance:
            return read_substance(loading, name);
        case OwnKind::equipment:
            load_equipment(loading, name);
            return check_one(loading, content.equipment, kitchens, name, "equipment");
        case OwnKind::ladder:
            load_ladders(loading, name);
            check_one(loading, content.ladders, ladders, name, "ladders");
            if (content.pedestals.size() != pedestals)
                loading.problems.push_back({name, "holds a pedestal", "a ladder is wanted"});
    }
}

std::string text_of(const json& object, const char* key) {
    const auto found = object.find(key);
    return found != object.end() && found->is_string() ? found->get<std::string>() : std::string();
}

}  // namespace

bool is_own(std::string_view id) {
    return id.starts_with(own_prefix);
}

std::vector<Problem> add_own(Content& content, OwnKind kind, const std::string& text,
                             const std::string& name) {
    if (text.size() > largest_own_bytes)
        return {{name, "is " + std::to_string(text.size()) + " bytes long",
                 "at most " + std::to_string(largest_own_bytes) + " are wanted"}};
    Loading loading;
    loading.content = content;
    loading.is_own = true;
    loading.held[name] = text;
    read(loading, kind, name);
    loading.check_later();
    if (!loading.problems.empty()) return loading.problems;
    content = std::move(loading.content);
    return {};
}

OwnTitle title_of_own(OwnKind kind, const std::string& text) {
    std::vector<Problem> ignored;
    const auto document = parse_json(text, "own", ignored, largest_own_bytes);
    if (!document || !document->is_object()) return {};
    const auto list = document->find(kind == OwnKind::substance   ? "substances"
                                     : kind == OwnKind::equipment ? "equipment"
                                                                  : "ladders");
    if (list == document->end() || !list->is_array() || list->empty() || !list->front().is_object())
        return {};
    return {text_of(list->front(), "id"), text_of(list->front(), kind == OwnKind::ladder ? "why" : "name")};
}

void strike_own(Content& content, OwnKind kind, const std::string& id) {
    if (kind == OwnKind::substance) content.struck_out.insert(id);
    if (kind == OwnKind::equipment) {
        std::erase_if(content.equipment, [&](const solution::Equipment& one) { return one.id == id; });
        content.equipment_entries.erase(id);
    }
    if (kind == OwnKind::ladder)
        std::erase_if(content.ladders, [&](const solution::Ladder& one) { return one.id() == id; });
}

std::string own_text(std::string_view schema, const std::map<std::string, OwnValue>& values) {
    json document{{"schema", "sipladder-" + std::string(schema) + "/1"}};
    for (const auto& [pointer, value] : values) {
        const std::string typed{trimmed(value.typed)};
        if (typed.empty() && value.kind != OwnValue::Kind::list) continue;
        json& place = document[json::json_pointer(pointer)];
        const std::optional<double> number = number_from_typed(typed);
        if (value.kind == OwnValue::Kind::list)
            place = place.is_null() ? json::array() : std::move(place);
        else if (value.kind == OwnValue::Kind::number && number)
            place = *number * value.scale;
        else if (value.kind == OwnValue::Kind::flag)
            place = typed == "true";
        else
            place = typed;
    }
    return document.dump(-1, ' ', false, json::error_handler_t::replace);
}

std::map<std::string, OwnValue> own_values(const std::string& text) {
    std::vector<Problem> ignored;
    const auto document = parse_json(text, "own", ignored, largest_own_bytes);
    std::map<std::string, OwnValue> values;
    if (!document || !document->is_object()) return values;
    const json flat = document->flatten();
    for (const auto& [pointer, value] : flat.items()) {
        if (value.is_number())
            values[pointer] = {OwnValue::Kind::number, exact(value.get<double>()), 1.0};
        else if (value.is_boolean())
            values[pointer] = {OwnValue::Kind::flag, value.get<bool>() ? "true" : "false", 1.0};
        else if (value.is_string())
            values[pointer] = {OwnValue::Kind::text, value.get<std::string>(), 1.0};
    }
    return values;
}

}  // namespace sipladder::content

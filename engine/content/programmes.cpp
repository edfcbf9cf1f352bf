#include "engine/content/loading.hpp"

#include <algorithm>

// A programme names ladders and a base; whether it fits the caps of a sitting depends on how each drill is
// served, which drills/programme knows: `sipladder-cli content check` asks both.

namespace sipladder::content {

namespace {

constexpr double most_cups = 200.0;
constexpr double most_minutes = 480.0;

void refer_to(Loading& loading, const Field& field, const std::string& id,
              bool (*is_known)(const Content&, const std::string&), const std::string& file) {
    if (id.empty()) return;
    loading.references.push_back([=](const Content& content) {
        if (!is_known(content, id))
            field.note("is \"" + id + "\", which " + file + " lacks", "an id of that file");
    });
}

// A file that could not be read is a problem of its own, and so is a ladder that is unsound.
bool is_ladder(const Content& content, const std::string& id) {
    return content.ladder_reasons.empty() || content.ladder_reasons.contains(id);
}
bool is_base(const Content& content, const std::string& id) {
    return content.bases.empty() || std::any_of(content.bases.begin(), content.bases.end(),
                                                [&](const solution::Base& one) { return one.id == id; });
}

/// With and without something else, or cool and at room temperature.
void read_condition(Loading& loading, const Field& field, ProgrammeDrill& drill) {
    const Field base = field.at("other_base");
    const Field condition = field.at("condition");
    if (base.is_there()) {
        drill.other_base = base.id();
        refer_to(loading, base, drill.other_base, is_base, "bases.json");
    }
    if (condition.is_there()) drill.condition = condition.text();
    const bool may_have = drill.kind == "balance" || drill.kind == "persistence";
    if (!may_have && (base.is_there() || condition.is_there()))
        field.note("has another condition", "only balance and persistence compare two");
    if (base.is_there() && !condition.is_there())
        condition.note("is missing", "what is different, as \"with acid\"");
}

ProgrammeDrill drill_at(Loading& loading, const Field& field) {
    field.only({"kind", "ladders", "blinding", "presentations", "other_base", "condition"});
    ProgrammeDrill drill;
    drill.kind = field.at("kind").one_of({"detection", "quick_look", "recognition", "difference", "nose",
                                          "tray_check", "naming", "ranking", "scaling", "balance",
                                          "mouth_map", "persistence", "weight"});
    drill.blinding = field.at("blinding").one_of({"served", "shuffled_tray", "sealed_key"});
    drill.presentations = static_cast<std::size_t>(field.at("presentations").integer(1, 200));
    for (const Field& ladder : field.at("ladders").each()) {
        drill.ladders.push_back(ladder.id());
        refer_to(loading, ladder, drill.ladders.back(), is_ladder, "ladders.json");
    }
    const bool takes_several =
        drill.kind == "recognition" || drill.kind == "naming" || drill.kind == "mouth_map";
    const bool wants_several = drill.kind == "recognition";
    if (wants_several ? drill.ladders.size() < 2 : drill.ladders.size() > 1 && !takes_several)
        field.at("ladders").note(
            "holds " + std::to_string(drill.ladders.size()),
            wants_several ? "recognition tells at least two apart"
                          : "one ladder is wanted; only recognition, naming and the mouth map take several");
    read_condition(loading, field, drill);
    return drill;
}

Programme programme_at(Loading& loading, const Field& field) {
    field.only({"id", "name", "why", "source", "base", "cup_mL", "minutes", "drills"});
    source_of(loading, field.at("source"));
    Programme programme;
    programme.id = own_id(field, loading.content.programmes);
    programme.name = field.at("name").text();
    programme.why = field.at("why").text();
    programme.base = field.at("base").id();
    refer_to(loading, field.at("base"), programme.base, is_base, "bases.json");
    programme.cup = Millilitres{field.at("cup_mL").number(5.0, 50.0)};
    if (const Field minutes = field.at("minutes"); minutes.is_there())
        programme.most_minutes = static_cast<int>(minutes.integer(1, static_cast<long>(most_minutes)));
    for (const Field& drill : field.at("drills").each()) programme.drills.push_back(drill_at(loading, drill));
    return programme;
}

Spoiler spoiler_at(Loading& loading, const Field& field) {
    field.only({"id", "text", "wait_minutes", "source"});
    source_of(loading, field.at("source"));
    return {own_id(field, loading.content.sitting.spoilers), field.at("text").text(),
            static_cast<int>(field.at("wait_minutes").integer(0, 1440))};
}

void read_sitting(Loading& loading, const Field& field) {
    field.only({"cups", "minutes", "temperature_degC", "spoilers"});
    SittingLimits& sitting = loading.content.sitting;
    sitting.most_cups = static_cast<std::size_t>(figure(loading, field.at("cups"), 1.0, most_cups));
    sitting.most_minutes = static_cast<int>(figure(loading, field.at("minutes"), 1.0, most_minutes));
    const Field temperature = field.at("temperature_degC");
    temperature.only({"from", "to", "source"});
    source_of(loading, temperature.at("source"));
    sitting.coolest = Celsius{temperature.at("from").number(0.0, 40.0)};
    sitting.warmest = Celsius{temperature.at("to").number(0.0, 40.0)};
    if (sitting.warmest < sitting.coolest)
        temperature.at("to").note("is " + temperature.at("to").shown(), "at least as much as \"from\"");
    for (const Field& spoiler : field.at("spoilers").each())
        sitting.spoilers.push_back(spoiler_at(loading, spoiler));
}

}  // namespace

void load_programmes(Loading& loading, const std::filesystem::path& file) {
    const auto root = loading.root(file, "programmes", {"schema", "sitting", "programmes"});
    if (!root) return;
    read_sitting(loading, root->at("sitting"));
    for (const Field& field : root->at("programmes").each())
        loading.content.programmes.push_back(programme_at(loading, field));
}

}  // namespace sipladder::content

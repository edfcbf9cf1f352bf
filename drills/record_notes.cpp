// Small JSON objects, each with a version of its own ("body": 1), read strictly: what is missing or of
// another kind names the row.

#include "drills/record_notes.hpp"

#include "drills/drill.hpp"
#include "engine/problem.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <iterator>
#include <utility>

namespace sipladder::drills::record {

namespace {

using nlohmann::json;

constexpr int fact_body_version = 1;

json parsed(const std::string& body, const std::string& where) {
    json read = json::parse(body, nullptr, false);
    if (!read.is_object() || read.value("body", json{}) != fact_body_version)
        throw Refused(where, "its body is not readable", "a JSON object with \"body\": 1");
    return read;
}

std::vector<std::string> texts(const json& object, const std::string& key, const std::string& where) {
    const json list = object.value(key, json{});
    std::vector<std::string> read;
    bool is_good = list.is_array();
    for (const json& item : list) {
        is_good = is_good && item.is_string();
        if (is_good) read.push_back(item.get<std::string>());
    }
    if (!is_good) throw Refused(where, "\"" + key + "\" is no list of texts", "a list of texts");
    return read;
}

constexpr std::pair<Blinding, const char*> blinding_names[] = {{Blinding::served, "served"},
                                                               {Blinding::shuffled_tray, "shuffled_tray"},
                                                               {Blinding::sealed_key, "sealed_key"},
                                                               {Blinding::class_service, "class_service"}};

std::string name_of_blinding(Blinding blinding) {
    for (const auto& [one, name] : blinding_names)
        if (one == blinding) return name;
    SIPLADDER_EXPECT(false);
    return {};
}

std::optional<PlannedDrill> planned_drill(const json& drill, const std::string& where) {
    const auto text = [&](const char* key) {
        const json value = drill.is_object() ? drill.value(key, json{}) : json{};
        return value.is_string() ? value.get<std::string>() : std::string();
    };
    PlannedDrill planned;
    const bool is_good = drill.is_object() && drill.value("presentations", json{}).is_number_unsigned() &&
                         !text("kind").empty();
    const auto kind = std::find_if(std::begin(every_kind), std::end(every_kind),
                                   [&](Kind one) { return name_of(one) == text("kind"); });
    const auto blinding = std::find_if(std::begin(blinding_names), std::end(blinding_names),
                                       [&](const auto& one) { return one.second == text("blinding"); });
    if (!is_good) throw Refused(where, "one of its drills is not readable", "a kind, presentations, mixes");
    if (kind == std::end(every_kind) || blinding == std::end(blinding_names)) return std::nullopt;
    planned.kind = *kind;
    planned.blinding = blinding->first;
    planned.order = text("order") == "ascending" ? Order::ascending : Order::adaptive;
    planned.presentations = drill.at("presentations").get<std::size_t>();
    planned.condition = text("condition");
    for (const std::string& mix : texts(drill, "mixes", where)) planned.mixes.push_back(Uuid{mix});
    return planned;
}

}  // namespace

std::string body_of(const CautionsRead& read) {
    return json{{"body", fact_body_version},
                {"cautions", read.cautions},
                {"no_ethanol_reasons", read.no_ethanol_reasons}}
        .dump();
}

CautionsRead read_cautions_read(const journal::Fact& fact) {
    const std::string where = "journal row " + fact.id.text;
    const json read = parsed(fact.body, where);
    return {.cautions = texts(read, "cautions", where),
            .no_ethanol_reasons = texts(read, "no_ethanol_reasons", where)};
}

std::string body_of(const Circumstances& circumstances) {
    json body{{"body", fact_body_version},
              {"spoilers", circumstances.spoilers},
              {"closed_nose", circumstances.closed_nose},
              {"blinding", circumstances.blinding}};
    if (circumstances.temperature_degC) body["temperature_degC"] = *circumstances.temperature_degC;
    return body.dump();
}

Circumstances read_circumstances(const journal::Sitting& sitting) {
    const std::string where = "journal row " + sitting.id.text;
    const json read = parsed(sitting.body, where);
    const json nose = read.value("closed_nose", json{});
    const json blinding = read.value("blinding", json{});
    if (!nose.is_boolean() || !blinding.is_string())
        throw Refused(where, "the nose or the blinding is not readable", "true or false, and a text");
    Circumstances told{.spoilers = texts(read, "spoilers", where),
                       .closed_nose = nose.get<bool>(),
                       .blinding = blinding.get<std::string>()};
    if (const auto temperature = read.find("temperature_degC"); temperature != read.end()) {
        if (!temperature->is_number())
            throw Refused(where, "the temperature is no number", "degrees Celsius");
        told.temperature_degC = temperature->get<double>();
    }
    return told;
}

std::string body_of(const SittingNote& note) {
    return json{{"body", fact_body_version}, {"sitting", note.sitting.text}, {"text", note.text}}.dump();
}

SittingNote read_sitting_note(const journal::Fact& fact) {
    const std::string where = "journal row " + fact.id.text;
    const json read = parsed(fact.body, where);
    const json sitting = read.value("sitting", json{});
    const json text = read.value("text", json{});
    if (!sitting.is_string() || !text.is_string() || !is_uuid(sitting.get<std::string>()))
        throw Refused(where, "its sitting or its text is not readable", "the id of a sitting, and a text");
    return {.sitting = Uuid{sitting.get<std::string>()}, .text = text.get<std::string>()};
}

std::string body_of(const SittingPlan& plan) {
    json drills = json::array();
    for (const PlannedDrill& drill : plan.drills) {
        json mixes = json::array();
        for (const Uuid& mix : drill.mixes) mixes.push_back(mix.text);
        drills.push_back({{"kind", name_of(drill.kind)},
                          {"order", drill.order == Order::ascending ? "ascending" : "adaptive"},
                          {"blinding", name_of_blinding(drill.blinding)},
                          {"presentations", drill.presentations},
                          {"mixes", std::move(mixes)}});
        if (!drill.condition.empty()) drills.back()["condition"] = drill.condition;
    }
    return json{
        {"body", fact_body_version}, {"name", plan.name}, {"cup_mL", plan.cup.value}, {"drills", drills}}
        .dump();
}

std::optional<SittingPlan> read_sitting_plan(const journal::Fact& fact) {
    const std::string where = "journal row " + fact.id.text;
    const json read = parsed(fact.body, where);
    const json name = read.value("name", json{});
    const json cup = read.value("cup_mL", json{});
    const json drills = read.value("drills", json{});
    if (!name.is_string() || !cup.is_number() || !drills.is_array())
        throw Refused(where, "its name, cup or drills are not readable", "a text, a number, a list");
    SittingPlan plan{.name = name.get<std::string>(), .cup = Millilitres{cup.get<double>()}, .drills = {}};
    for (const json& drill : drills) {
        auto planned = planned_drill(drill, where);
        if (!planned) return std::nullopt;
        plan.drills.push_back(std::move(*planned));
    }
    return plan;
}

std::string body_of(const Goal& goal) {
    json body{{"body", fact_body_version}, {"substance", goal.substance}, {"base_name", goal.base_name}};
    if (goal.value) body["value"] = *goal.value;
    return body.dump();
}

Goal read_goal(const journal::Fact& fact) {
    const std::string where = "journal row " + fact.id.text;
    const json read = parsed(fact.body, where);
    const json substance = read.value("substance", json{});
    const json base = read.value("base_name", json{});
    if (!substance.is_string() || !base.is_string())
        throw Refused(where, "the substance or base of its goal is not readable", "two texts");
    Goal goal{.substance = substance.get<std::string>(), .base_name = base.get<std::string>(), .value = {}};
    if (const auto value = read.find("value"); value != read.end()) {
        if (!value->is_number() || !(value->get<double>() > 0.0))
            throw Refused(where, "its goal is no number above 0", "g/L or % vol");
        goal.value = value->get<double>();
    }
    return goal;
}

std::string body_of_rest_cut(long seconds_left) {
    return json{{"body", fact_body_version}, {"seconds_left", seconds_left}}.dump();
}

long read_rest_cut(const journal::Entry& entry) {
    const std::string where = "journal row " + entry.id.text;
    const json seconds = parsed(entry.body, where).value("seconds_left", json{});
    if (!seconds.is_number_integer())
        throw Refused(where, "the seconds of its rest are not readable", "a whole number");
    return seconds.get<long>();
}

}  // namespace sipladder::drills::record

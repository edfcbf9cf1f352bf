// One JSON object with a version of its own ("body": 1), read strictly.

#include "drills/record_draft.hpp"

#include "engine/problem.hpp"

#include <nlohmann/json.hpp>

namespace sipladder::drills::record {

namespace {

using nlohmann::json;

constexpr int draft_body_version = 1;

[[noreturn]] void refuse(const journal::Fact& fact, const std::string& what) {
    throw Refused("journal row " + fact.id.text, what, "a mix draft with \"body\": 1");
}

std::string text_at(const journal::Fact& fact, const json& object, const char* key) {
    const auto found = object.find(key);
    if (found == object.end() || !found->is_string()) refuse(fact, std::string(key) + " is no text");
    return found->get<std::string>();
}

std::map<std::string, std::string> texts_at(const journal::Fact& fact, const json& object, const char* key) {
    const auto found = object.find(key);
    if (found == object.end() || !found->is_object())
        refuse(fact, std::string(key) + " is no object of texts");
    std::map<std::string, std::string> texts;
    for (const auto& [name, value] : found->items()) {
        if (!value.is_string()) refuse(fact, name + " is no text");
        texts[name] = value.get<std::string>();
    }
    return texts;
}

json json_of_draft(const MixDraft& draft) {
    json steps = json::array();
    for (const DraftStep& step : draft.steps)
        steps.push_back({{"number", step.number},
                         {"text", step.text},
                         {"ticked", step.ticked},
                         {"reading", step.reading},
                         {"fate", step.fate},
                         {"left", step.left}});
    json body{{"body", draft_body_version}, {"form", draft.form}, {"steps", steps}, {"checks", draft.checks}};
    if (draft.beside.empty()) return body;
    json beside = json::array();
    for (const MixDraft& other : draft.beside) beside.push_back(json_of_draft(other));
    body["beside"] = std::move(beside);
    body["place"] = draft.place;
    return body;
}

MixDraft draft_from(const journal::Fact& fact, const json& read) {
    if (!read.is_object() || read.value("body", json{}) != draft_body_version)
        refuse(fact, "its body is not readable");
    MixDraft draft;
    draft.form = texts_at(fact, read, "form");
    draft.checks = texts_at(fact, read, "checks");
    const auto steps = read.find("steps");
    if (steps == read.end() || !steps->is_array()) refuse(fact, "steps is no list");
    for (const json& step : *steps) {
        if (!step.is_object() || !step.value("number", json{}).is_number_unsigned() ||
            !step.value("ticked", json{}).is_boolean())
            refuse(fact, "a step has no number or tick");
        draft.steps.push_back({.number = step.at("number").get<std::size_t>(),
                               .text = text_at(fact, step, "text"),
                               .ticked = step.at("ticked").get<bool>(),
                               .reading = text_at(fact, step, "reading"),
                               .fate = text_at(fact, step, "fate"),
                               .left = text_at(fact, step, "left")});
    }
    const auto beside = read.find("beside");
    if (beside == read.end()) return draft;
    if (!beside->is_array() || !read.value("place", json{}).is_number_unsigned())
        refuse(fact, "the ladders beside it are not readable");
    for (const json& other : *beside) draft.beside.push_back(draft_from(fact, other));
    draft.place = read.at("place").get<std::size_t>();
    if (draft.place > draft.beside.size()) refuse(fact, "its place is not among its ladders");
    return draft;
}

}  // namespace

std::string body_of(const MixDraft& draft) {
    return json_of_draft(draft).dump();
}

MixDraft read_mix_draft(const journal::Fact& fact) {
    return draft_from(fact, json::parse(fact.body, nullptr, false));
}

}  // namespace sipladder::drills::record

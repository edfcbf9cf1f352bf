#include "tests/support/published.hpp"

#include "tests/support/within.hpp"

#include <nlohmann/json.hpp>

#include <cmath>
#include <fstream>
#include <set>
#include <sstream>
#include <stdexcept>
#include <utility>

// The checks run when a file is read, so a case that names no source fails every test that uses it.

namespace sipladder::tests {

namespace {

using nlohmann::json;

[[noreturn]] void fail(const std::string& where, const std::string& what) {
    throw std::runtime_error(where + ": " + what);
}

std::string text_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) fail(path, "cannot be read");
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

json parsed(std::string_view text, const std::string& file) {
    try {
        return json::parse(text);
    } catch (const json::parse_error& error) {
        fail(file, error.what());
    }
}

const json& bibliography() {
    static const json sources =
        parsed(text_of(SIPLADDER_SOURCE_DIR "/content/sources.json"), "content/sources.json").at("sources");
    return sources;
}

/// "OIML: International alcoholometric tables. OIML R 22 (published, …)" for each key.
std::string source_text_of(const json& keys, const std::string& where) {
    if (!keys.is_array() || keys.empty())
        fail(where, "names no source; give \"source\": [keys of content/sources.json]");
    std::string text;
    for (const json& key : keys) {
        if (!key.is_string()) fail(where, "a source is no text");
        const auto found = bibliography().find(key.get<std::string>());
        if (found == bibliography().end())
            fail(where,
                 "names the source \"" + key.get<std::string>() + "\", which content/sources.json lacks");
        if (!text.empty()) text += "; ";
        text +=
            found->value("authors", "") + ": " + found->value("title", "") + ", " + found->value("where", "");
    }
    return text;
}

bool has_number(const json& value) {
    if (value.is_number()) return true;
    if (!value.is_structured()) return false;
    for (const json& part : value)
        if (has_number(part)) return true;
    return false;
}

void check_expectation(const json& expectation, const std::string& where) {
    if (!expectation.is_object() || !expectation.contains("name") || !expectation.contains("value"))
        fail(where, "an expectation lacks \"name\" or \"value\"");
    for (const auto& [key, part] : expectation.items()) {
        if (key != "name" && key != "value" && key != "abs" && key != "rel" && key != "why")
            fail(where, "unknown field " + key);
        if ((key == "abs" || key == "rel") && (!part.is_number() || part.get<double>() < 0.0))
            fail(where, key + " is no tolerance");
    }
    if (has_number(expectation.at("value")) && !expectation.contains("abs") && !expectation.contains("rel"))
        fail(where, "the expectation " + expectation.at("name").dump() + " lacks a tolerance (abs or rel)");
}

void check_case(const json& body, const std::string& where) {
    for (const auto& [key, part] : body.items())
        if (key != "id" && key != "source" && key != "provenance" && key != "note" && key != "data" &&
            key != "expected")
            fail(where, "unknown field " + key);
    if (!body.contains("provenance") || !body.at("provenance").is_string() ||
        body.at("provenance").get<std::string>().empty())
        fail(where, "does not say its provenance");
    if (!body.contains("data") || !body.at("data").is_object()) fail(where, "has no \"data\"");
    if (!body.contains("expected") || !body.at("expected").is_array() || body.at("expected").empty())
        fail(where, "expects nothing");
    for (const json& expectation : body.at("expected")) check_expectation(expectation, where);
}

}  // namespace

PublishedValue::PublishedValue(std::shared_ptr<const json> value, std::string where)
    : value_(std::move(value)), where_(std::move(where)) {}

double PublishedValue::number() const {
    if (!value_->is_number()) fail(where_, "is no number");
    return value_->get<double>();
}

long PublishedValue::integer() const {
    if (!value_->is_number_integer()) fail(where_, "is no whole number");
    return value_->get<long>();
}

bool PublishedValue::boolean() const {
    if (!value_->is_boolean()) fail(where_, "is neither true nor false");
    return value_->get<bool>();
}

std::string PublishedValue::text() const {
    if (!value_->is_string()) fail(where_, "is no text");
    return value_->get<std::string>();
}

std::vector<double> PublishedValue::numbers() const {
    std::vector<double> all;
    for (const PublishedValue& part : each()) all.push_back(part.number());
    return all;
}

std::vector<std::string> PublishedValue::texts() const {
    std::vector<std::string> all;
    for (const PublishedValue& part : each()) all.push_back(part.text());
    return all;
}

std::vector<std::vector<double>> PublishedValue::rows() const {
    std::vector<std::vector<double>> all;
    for (const PublishedValue& part : each()) all.push_back(part.numbers());
    return all;
}

bool PublishedValue::has(const std::string& name) const {
    return value_->is_object() && value_->contains(name);
}

PublishedValue PublishedValue::at(const std::string& name) const {
    if (!has(name)) fail(where_, "has no \"" + name + "\"");
    return {std::shared_ptr<const json>(value_, &value_->at(name)), where_ + "/" + name};
}

std::size_t PublishedValue::size() const {
    if (!value_->is_array()) fail(where_, "is no array");
    return value_->size();
}

PublishedValue PublishedValue::at(std::size_t index) const {
    if (index >= size()) fail(where_, "has no part " + std::to_string(index));
    return {std::shared_ptr<const json>(value_, &value_->at(index)), where_ + "/" + std::to_string(index)};
}

std::vector<PublishedValue> PublishedValue::each() const {
    std::vector<PublishedValue> all;
    for (std::size_t index = 0; index < size(); ++index) all.push_back(at(index));
    return all;
}

PublishedCase::PublishedCase(std::shared_ptr<const json> body, std::string where, std::string source_text)
    : body_(std::move(body)), where_(std::move(where)), source_text_(std::move(source_text)) {}

std::string PublishedCase::id() const {
    return body_->at("id").get<std::string>();
}

PublishedValue PublishedCase::data() const {
    return {std::shared_ptr<const json>(body_, &body_->at("data")), where_ + "/data"};
}

bool PublishedCase::expects(const std::string& name) const {
    for (const json& one : body_->at("expected"))
        if (one.at("name") == name) return true;
    return false;
}

PublishedExpectation PublishedCase::expected(const std::string& name) const {
    for (const PublishedExpectation& one : expected())
        if (one.name == name) return one;
    fail(where_, "expects no \"" + name + "\"");
}

std::vector<PublishedExpectation> PublishedCase::expected() const {
    std::vector<PublishedExpectation> all;
    for (const json& one : body_->at("expected")) {
        const std::string name = one.at("name").get<std::string>();
        all.push_back({name,
                       {std::shared_ptr<const json>(body_, &one.at("value")), where_ + "/expected/" + name},
                       one.value("abs", 0.0),
                       one.value("rel", 0.0)});
    }
    return all;
}

std::vector<PublishedCase> published_from_text(std::string_view text, const std::string& file) {
    const auto root = std::make_shared<const json>(parsed(text, file));
    if (!root->is_array() || root->empty()) fail(file, "is no array of cases");
    std::vector<PublishedCase> cases;
    std::set<std::string> ids;
    for (const json& body : *root) {
        if (!body.is_object() || !body.contains("id") || !body.at("id").is_string())
            fail(file, "a case has no id");
        const std::string id = body.at("id").get<std::string>();
        const std::string where = file + ": " + id;
        if (!ids.insert(id).second) fail(where, "is there twice");
        const std::string sources = source_text_of(body.value("source", json::array()), where);
        check_case(body, where);
        cases.emplace_back(std::shared_ptr<const json>(root, &body), where,
                           where + ": " + sources + " (" + body.at("provenance").get<std::string>() + ")");
    }
    return cases;
}

std::vector<PublishedCase> published(const std::string& file) {
    return published_from_text(text_of(SIPLADDER_SOURCE_DIR "/tests/published/" + file), file);
}

PublishedCase published(const std::string& file, const std::string& id) {
    for (const PublishedCase& one : published(file))
        if (one.id() == id) return one;
    fail(file, "has no case " + id);
}

bool within(double got, const PublishedExpectation& wanted) {
    return within(got, wanted.number(), wanted.abs, wanted.rel);
}

bool within(const std::vector<double>& got, const PublishedExpectation& wanted) {
    const std::vector<double> values = wanted.numbers();
    if (got.size() != values.size()) return false;
    for (std::size_t i = 0; i < got.size(); ++i)
        if (!within(got[i], values[i], wanted.abs, wanted.rel)) return false;
    return true;
}

}  // namespace sipladder::tests

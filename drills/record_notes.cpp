// Small JSON objects, each with a version of its own ("body": 1), read strictly: what is missing or of
// another kind names the row.

#include "drills/record_notes.hpp"

#include "engine/problem.hpp"

#include <nlohmann/json.hpp>

namespace sipladder::drills::record {

namespace {

using nlohmann::json;

constexpr int body_version = 1;

json parsed(const std::string& body, const std::string& where) {
    json read = json::parse(body, nullptr, false);
    if (!read.is_object() || read.value("body", json{}) != body_version)
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

}  // namespace

std::string body_of(const CautionsRead& read) {
    return json{
        {"body", body_version}, {"cautions", read.cautions}, {"no_ethanol_reasons", read.no_ethanol_reasons}}
        .dump();
}

CautionsRead read_cautions_read(const journal::Fact& fact) {
    const std::string where = "journal row " + fact.id.text;
    const json read = parsed(fact.body, where);
    return {.cautions = texts(read, "cautions", where),
            .no_ethanol_reasons = texts(read, "no_ethanol_reasons", where)};
}

std::string body_of(const Circumstances& circumstances) {
    json body{{"body", body_version},
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

std::string body_of_rest_cut(long seconds_left) {
    return json{{"body", body_version}, {"seconds_left", seconds_left}}.dump();
}

long read_rest_cut(const journal::Entry& entry) {
    const std::string where = "journal row " + entry.id.text;
    const json seconds = parsed(entry.body, where).value("seconds_left", json{});
    if (!seconds.is_number_integer())
        throw Refused(where, "the seconds of its rest are not readable", "a whole number");
    return seconds.get<long>();
}

}  // namespace sipladder::drills::record

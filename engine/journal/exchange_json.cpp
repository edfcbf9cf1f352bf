// The reader goes through content::Field, which refuses unknown and repeated keys. It stops at a hundred
// problems: a hostile file could otherwise make it gather millions.

#include "engine/content/field.hpp"
#include "engine/content/json_file.hpp"
#include "engine/journal/exchange.hpp"
#include "engine/journal/instant_range.hpp"
#include "engine/problem.hpp"

#include <nlohmann/json.hpp>

#include <set>
#include <utility>

namespace sipladder::journal {

namespace {

using content::Field;
using Json = nlohmann::ordered_json;

constexpr const char* schema = "sipladder-exchange/1";
constexpr std::size_t most_problems = 100;

Json json_of(const Instant& at) {
    return {{"utc_ms", at.utc_ms}, {"offset_min", at.offset_min}, {"monotonic_ms", at.monotonic_ms}};
}

Json start(const char* row, const Uuid& id, const Instant& at) {
    return {{"row", row}, {"id", id.text}, {"at", json_of(at)}};
}

Json json_of(const Person& person) {
    Json json = start("person", person.id, person.created);
    json["name"] = person.name;
    json["invented"] = person.invented;
    return json;
}
Json json_of(const Fact& fact) {
    Json json = start("fact", fact.id, fact.at);
    json["person"] = fact.person.text;
    json["kind"] = fact.kind;
    json["body"] = fact.body;
    return json;
}
Json json_of(const Sitting& sitting) {
    Json json = start("sitting", sitting.id, sitting.started);
    json["person"] = sitting.person.text;
    json["body"] = sitting.body;
    return json;
}
Json json_of(const Drill& drill) {
    Json json = start("drill", drill.id, drill.started);
    json["sitting"] = drill.sitting.text;
    json["kind"] = drill.kind;
    json["body"] = drill.body;
    return json;
}
Json json_of(const Entry& entry) {
    Json json = start("entry", entry.id, entry.at);
    json["drill"] = entry.drill.text;
    json["number"] = entry.number;
    json["kind"] = entry.kind;
    json["body"] = entry.body;
    return json;
}
Json json_of(const StrikeRow& strike) {
    Json json = start("strike", strike.id, strike.at);
    json["target"] = strike.target.text;
    json["strikes"] = strike.strikes;
    json["reason"] = strike.reason;
    return json;
}

std::string line_of(const ExchangeRow& row) {
    const Json json = std::visit([](const auto& one) { return json_of(one); }, row);
    try {
        return json.dump();
    } catch (const Json::type_error&) {
        throw Refused("journal: row " + json.at("id").get<std::string>(), "holds text that is no UTF-8",
                      "this file was written by another program; it cannot be exported");
    }
}

/// Any text, an empty one too, but for the NUL that some readers take for its end.
std::string any_text(const Field& field) {
    std::string text = field.any_text();
    if (text.find('\0') != std::string::npos) field.note("holds a NUL", "plain text is wanted");
    return text;
}

Uuid read_uuid(const Field& field) {
    Uuid id{field.text()};
    if (!id.text.empty() && !is_uuid(id.text))
        field.note("is \"" + id.text.substr(0, 40) + "\"", "a UUID in lower case is wanted");
    return id;
}

Instant read_at(const Field& field) {
    field.only({"utc_ms", "offset_min", "monotonic_ms"});
    return {field.at("utc_ms").integer(earliest_utc_ms, latest_utc_ms),
            static_cast<int>(field.at("offset_min").integer(-most_offset_min, most_offset_min)),
            field.at("monotonic_ms").integer(-most_monotonic_ms, most_monotonic_ms)};
}

ExchangeRow read_row(const Field& row) {
    const std::string what = row.at("row").one_of({"person", "fact", "sitting", "drill", "entry", "strike"});
    Uuid id = read_uuid(row.at("id"));
    const Instant at = read_at(row.at("at"));
    const auto text = [&](const char* key) { return any_text(row.at(key)); };
    const auto uuid = [&](const char* key) { return read_uuid(row.at(key)); };
    if (what == "person") {
        row.only({"row", "id", "at", "name", "invented"});
        return Person{std::move(id), text("name"), row.at("invented").boolean(), at};
    }
    if (what == "fact") {
        row.only({"row", "id", "at", "person", "kind", "body"});
        return Fact{std::move(id), uuid("person"), text("kind"), at, text("body"), {}};
    }
    if (what == "sitting") {
        row.only({"row", "id", "at", "person", "body"});
        return Sitting{std::move(id), uuid("person"), at, text("body"), {}};
    }
    if (what == "drill") {
        row.only({"row", "id", "at", "sitting", "kind", "body"});
        return Drill{std::move(id), uuid("sitting"), text("kind"), at, text("body"), {}};
    }
    if (what == "entry") {
        row.only({"row", "id", "at", "drill", "number", "kind", "body"});
        constexpr long most_entries = 1'000'000;
        return Entry{std::move(id),
                     uuid("drill"),
                     static_cast<int>(row.at("number").integer(0, most_entries)),
                     text("kind"),
                     at,
                     text("body"),
                     {}};
    }
    row.only({"row", "id", "at", "target", "strikes", "reason"});
    return StrikeRow{std::move(id), uuid("target"), row.at("strikes").boolean(), text("reason"), at};
}

void refuse_if_any(std::vector<Problem>& problems) {
    if (!problems.empty()) throw Refused(std::move(problems));
}

}  // namespace

std::string exchange_json(const Exchange& exchange) {
    std::string text = std::string("{\"schema\":\"").append(schema).append("\",\n\"erased\":[");
    const char* between = "";
    for (const Uuid& person : exchange.erased) {
        text.append(between).append("\"").append(person.text).append("\"");
        between = ",";
    }
    text += "],\n\"rows\":[";
    between = "\n";
    for (const ExchangeRow& row : exchange.rows) {
        text.append(between).append(line_of(row));
        between = ",\n";
    }
    text += "\n]}\n";
    if (text.size() > largest_exchange_bytes)
        throw Refused("journal export", "would be " + std::to_string(text.size()) + " bytes long",
                      "export one person at a time; at most " + std::to_string(largest_exchange_bytes) +
                          " are read back");
    return text;
}

Exchange read_exchange_json(std::string_view text, const std::string& file) {
    std::vector<Problem> problems;
    const auto document = content::parse_json(text, file, problems, largest_exchange_bytes);
    refuse_if_any(problems);
    const Field root(*document, file, problems);
    const std::string found = root.at("schema").text();
    if (!found.empty() && found != schema)
        root.at("schema").note("is " + found.substr(0, 60), std::string("this program reads ") + schema +
                                                                "; a later one may have written this file");
    root.only({"schema", "erased", "rows"});
    refuse_if_any(problems);
    Exchange exchange;
    for (const Field& person : root.at("erased").each(0)) {
        exchange.erased.push_back(read_uuid(person));
        if (problems.size() >= most_problems) break;
    }
    std::set<std::string> ids;
    for (const Field& row : root.at("rows").each(0)) {
        exchange.rows.push_back(read_row(row));
        const std::string id = std::visit([](const auto& one) { return one.id.text; }, exchange.rows.back());
        if (!id.empty() && !ids.insert(id).second) row.at("id").note("is given twice", "give each row once");
        if (problems.size() >= most_problems) break;
    }
    refuse_if_any(problems);
    return exchange;
}

}  // namespace sipladder::journal

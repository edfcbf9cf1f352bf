#include "drills/record_body.hpp"

#include "engine/content/json_file.hpp"

#include <nlohmann/json.hpp>

#include <utility>

namespace sipladder::drills::record {

using content::Field;

Body parsed(const std::string& text, std::string name, std::vector<Problem>& problems) {
    auto document = content::parse_json(text, name, problems);
    return {std::move(name), std::move(document)};
}

void want_schema(const Field& body, const std::string& schema) {
    const std::string found = body.at("schema").text();
    if (!found.empty() && found != schema)
        body.at("schema").note("is " + found,
                               "this program reads " + schema + "; a later one may have written this row");
}

std::string schema_of(Kind kind) {
    return "sipladder-" + name_of(kind) + "/1";
}

Kind read_kind(const Field& body) {
    const std::string found = body.at("schema").text();
    for (const Kind kind : every_kind)
        if (found == schema_of(kind)) return kind;
    want_schema(body, schema_of(Kind::detection));
    return Kind::detection;
}

}  // namespace sipladder::drills::record

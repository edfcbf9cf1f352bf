#include "engine/content/loading.hpp"

#include "engine/content/json_file.hpp"
#include "engine/content/own.hpp"
#include "engine/text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <utility>

namespace sipladder::content {

namespace {

constexpr std::array<std::string_view, 3> honest_words{"judgement", "from memory", "common practice"};

void refer_to_source(Loading& loading, const Field& field, const std::string& key) {
    if (key.empty()) return;
    loading.references.push_back([field, key](const Content& content) {
        if (!content.sources.contains(key))
            field.note(
                "is \"" + key + "\", which sources.json lacks",
                "a key of sources.json, \"judgement\", \"from memory\" or \"common practice\" is wanted");
    });
}

}  // namespace

std::optional<Field> Loading::root(const std::filesystem::path& file, std::string_view schema,
                                   std::initializer_list<std::string_view> keys) {
    const auto text = held.find(file.generic_string());
    const auto document = text == held.end() ? read_json_file(file, problems)
                                             : parse_json(text->second, file.generic_string(), problems);
    if (!document) return std::nullopt;
    documents.push_back(document);
    Field field(*document, file.generic_string(), problems);
    field.only(keys);
    if (document->is_object()) field.at("schema").one_of({"sipladder-" + std::string(schema) + "/1"});
    return field;
}

std::vector<Field> Loading::entries(const std::filesystem::path& file, std::string_view schema,
                                    std::string_view key) {
    const auto field = root(file, schema, {"schema", key});
    return field ? field->at(key).each() : std::vector<Field>{};
}

void Loading::check_later() {
    for (const auto& check : references) check(content);
    for (const auto& check : caps) check(content);
}

void Loading::finish() {
    check_later();
    if (!problems.empty()) throw Refused(problems);
}

double figure(Loading& loading, const Field& field, double lo, double hi) {
    field.only({"value", "source", "why", "rests_on"});
    source_of(loading, field.at("source"));
    rests_on(loading, field.at("rests_on"));
    optional_text(field.at("why"));
    return field.at("value").number(lo, hi);
}

FigureWithin figure_within(Loading& loading, const Field& field, double lo, double hi) {
    field.only({"value", "half_width", "source", "why", "rests_on"});
    FigureWithin figure{field.at("value").number(lo, hi), field.at("half_width").number(0.0, hi - lo),
                        source_of(loading, field.at("source"))};
    rests_on(loading, field.at("rests_on"));
    optional_text(field.at("why"));
    // A label that reads 100 % may hide a little less, never more: rounding in the last digit is forgiven.
    if (figure.value - figure.half_width < lo - 1e-9 || figure.value + figure.half_width > hi + 1e-9)
        field.at("half_width")
            .note("is " + field.at("half_width").shown() + ", which leaves " + exact(lo) + " to " +
                      exact(hi) + " from the value " + field.at("value").shown(),
                  "a smaller half-width is wanted");
    return figure;
}

std::string source_of(Loading& loading, const Field& field) {
    std::string key = field.text();
    if (loading.is_own && key == own_statement) return key;
    if (std::find(honest_words.begin(), honest_words.end(), key) == honest_words.end())
        refer_to_source(loading, field, key);
    return key;
}

void rests_on(Loading& loading, const Field& field) {
    if (!field.is_there()) return;
    for (const Field& part : field.each()) refer_to_source(loading, part, part.text());
}

std::string substance_of(Loading& loading, const Field& field) {
    std::string id = field.id();
    if (id.empty()) return id;
    loading.references.push_back([field, id](const Content& content) {
        std::string known;
        for (const solution::Substance& one : content.substances) {
            if (one.id == id) return;
            known += (known.empty() ? "" : ", ") + one.id;
        }
        field.note("is \"" + id + "\", which substances.json lacks", "one of " + known + " is wanted");
    });
    return id;
}

std::string optional_text(const Field& field) {
    return field.is_there() ? field.text() : "";
}

Scale scale_of(const Field& field) {
    return field.one_of({"g_per_L", "pct_vol"}) == "pct_vol" ? Scale::pct_vol : Scale::g_per_L;
}

std::string unit_suffix(Scale scale) {
    return scale == Scale::g_per_L ? "_g_per_L" : "_pct_vol";
}

double most_on(Scale scale) {
    return scale == Scale::g_per_L ? 1000.0 : 100.0;
}

}  // namespace sipladder::content

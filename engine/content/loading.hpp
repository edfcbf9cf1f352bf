#pragma once

#include "engine/content/content.hpp"
#include "engine/content/field.hpp"

#include <nlohmann/json_fwd.hpp>

#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// What the loaders of the content files share. Used inside engine/content only.
namespace sipladder::content {

/// A load under way. Problems come in the order of the checks: syntax and repeated keys, fields and ranges,
/// rules within an entry (file by file), then references between files, then safety caps.
struct Loading {
    Content content;
    std::vector<Problem> problems;
    std::vector<std::shared_ptr<const nlohmann::json>>
        documents;  ///< kept alive for the fields in the checks below
    std::vector<std::function<void(const Content&)>> references;
    std::vector<std::function<void(const Content&)>> caps;
    std::map<std::string, std::string> held;  ///< texts that stand in for files, by name
    bool is_own = false;                      ///< a person's own: what they state themselves is a source too

    /// The list under `key` in a file whose schema is "sipladder-<schema>/1"; nothing if the file cannot be
    /// read.
    std::vector<Field> entries(const std::filesystem::path& file, std::string_view schema,
                               std::string_view key);
    /// The root of such a file.
    std::optional<Field> root(const std::filesystem::path& file, std::string_view schema,
                              std::initializer_list<std::string_view> keys);
    /// Runs the later checks.
    void check_later();
    /// The same. @throws Refused if there is any problem by then
    void finish();
};

/// A figure: {"value", "source", and where useful "why" and "rests_on", keys of what a judgement is drawn
/// from}.
double figure(Loading& loading, const Field& field, double lo, double hi);
/// A figure with the half-width of a rectangular distribution beside it.
struct FigureWithin {
    double value{};
    double half_width{};
    std::string source;
};
FigureWithin figure_within(Loading& loading, const Field& field, double lo, double hi);

/// A key of sources.json, or one of the words "judgement", "from memory", "common practice".
std::string source_of(Loading& loading, const Field& field);
/// A list of keys of sources.json; may be left out.
void rests_on(Loading& loading, const Field& field);
/// Notes, once all files are read, a substance that is not there.
std::string substance_of(Loading& loading, const Field& field);
/// A text that may be left out.
std::string optional_text(const Field& field);
/// Notes an id that an entry before this one has.
template <class Entries>
std::string own_id(const Field& entry, const Entries& before) {
    std::string id = entry.at("id").id();
    for (const auto& one : before) {
        if (!id.empty() && one.id == id)
            entry.at("id").note("is \"" + id + "\", which an entry before it has", "another id is wanted");
    }
    return id;
}

Scale scale_of(const Field& field);
/// The ending of keys on this scale: "_g_per_L" or "_pct_vol".
std::string unit_suffix(Scale scale);
/// The largest number that makes sense on this scale: 1000 g/L or 100 % vol.
double most_on(Scale scale);

/// The parts of a list, each checked and added.
void read_substances(Loading& loading, const std::vector<Field>& list);
void read_ingredients(Loading& loading, const std::vector<Field>& list);

void load_sources(Loading& loading, const std::filesystem::path& file);
void load_substances(Loading& loading, const std::filesystem::path& file);
void load_ingredients(Loading& loading, const std::filesystem::path& file);
void load_bases(Loading& loading, const std::filesystem::path& file);
void load_equipment(Loading& loading, const std::filesystem::path& file);
void load_ladders(Loading& loading, const std::filesystem::path& file);
void load_reference_thresholds(Loading& loading, const std::filesystem::path& file);
void load_cautions(Loading& loading, const std::filesystem::path& file);
void load_programmes(Loading& loading, const std::filesystem::path& file);
/// After the sources.
void load_handbook(Loading& loading, const std::filesystem::path& folder);

}  // namespace sipladder::content

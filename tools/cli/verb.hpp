#pragma once

#include "engine/content/content.hpp"
#include "engine/content/json_file.hpp"
#include "engine/threshold/threshold.hpp"
#include "tools/arguments/arguments.hpp"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <optional>
#include <string>

/// What the verbs of sipladder-cli share. Each verb lives in its own file and adds itself to the command
/// line; its callback may throw Refused or Failed, which `main` reports.
namespace sipladder::cli {

using Json = nlohmann::ordered_json;  // keys in the order they are written

struct Common {
    bool json = false;    ///< one object on standard output in place of text
    std::string journal;  ///< --journal
    std::string content;  ///< --content, else SIPLADDER_CONTENT
};

/// The folder that the options and the environment name. @throws Refused when there is none
std::filesystem::path content_folder(const Common& common);
/// The content that the options and the environment name, loaded and checked.
content::Content load_content(const Common& common);
/// A substance of the content, or an acid that only conversions know. @throws Refused naming the ones there
/// are
solution::Substance substance_named(const Common& common, const std::string& name);
/// The whole text of a file. @throws Refused naming the file when it cannot be read or is larger
std::string read_file(const std::string& file, std::size_t largest_bytes = content::largest_file_bytes);
/// Writes a text file: beside its name first, then renamed. @throws Failed when it cannot be written
void write_file(const std::filesystem::path& file, const std::string& text);
/// One object on standard output, numbers in full precision.
void print(const Json& object);
/// JSON knows no infinity: null in its place.
Json number_or_null(double value);
Json optional_json(const std::optional<double>& value);
/// A line of text on standard output.
void say(const std::string& line);

/// The keys that every fit shares: log10, value, unit, lower, upper, sd_log10. A limit that the answers do
/// not set is null.
Json threshold_json(const threshold::Threshold& threshold);
/// The same as a sentence: "Threshold 1.4 (0.8 to 2.6) g/L, equal-tailed 95 %."
std::string threshold_text(const threshold::Threshold& threshold);

/// A number and its unit as one argument: "40 pct_vol".
struct NumberWithUnit {
    double value{};
    std::string unit;
};
/// @throws Refused naming `where` when the text is not a number, a blank and a unit
NumberWithUnit number_with_unit(const std::string& text, const std::string& where);

void add_acidity(arguments::Command app, const Common& common);
void add_ballots(arguments::Command app, const Common& common);
void add_best_estimate(arguments::Command app, const Common& common);
void add_content(arguments::Command app, const Common& common);
void add_convert(arguments::Command app, const Common& common);
void add_demo(arguments::Command app, const Common& common);
void add_dilute(arguments::Command app, const Common& common);
void add_discriminate(arguments::Command app, const Common& common);
void add_fit(arguments::Command app, const Common& common);
void add_journal(arguments::Command app, const Common& common);
void add_panel(arguments::Command app, const Common& common);
void add_prepare(arguments::Command app, const Common& common);
void add_rank(arguments::Command app, const Common& common);
void add_sheets(arguments::Command app, const Common& common);
void add_simulate(arguments::Command app, const Common& common);
void add_trend(arguments::Command app, const Common& common);

}  // namespace sipladder::cli

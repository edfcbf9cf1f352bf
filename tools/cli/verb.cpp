#include "tools/cli/verb.hpp"

#include "engine/content/location.hpp"
#include "engine/problem.hpp"
#include "engine/solution/acid.hpp"
#include "engine/text.hpp"

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iostream>

namespace sipladder::cli {

std::filesystem::path content_folder(const Common& common) {
    const char* environment = std::getenv("SIPLADDER_CONTENT");
    const std::string asked = !common.content.empty() ? common.content : environment ? environment : "";
    return content::locate(asked);
}

content::Content load_content(const Common& common) {
    return content::load(content_folder(common));
}

solution::Substance substance_named(const Common& common, const std::string& name) {
    const content::Content content = load_content(common);
    for (const std::string& id : {name, name + "_acid"})
        for (const solution::Substance& one : content.substances)
            if (one.id == id) return one;
    if (const auto acid = solution::acid_named(name)) return substance_of(*acid);
    return content.substance(name);  // refuses, naming those there are
}

std::string read_file(const std::string& file, std::size_t largest_bytes) {
    std::error_code error;
    if (std::filesystem::is_directory(file, error)) throw Refused(file, "is a folder", "name a file");
    std::ifstream in(file, std::ios::binary);
    std::string text;
    // Piece by piece: a pipe has no size, and a device has no end.
    constexpr std::size_t piece = 1u << 16;
    while (in && text.size() <= largest_bytes) {
        const std::size_t had = text.size();
        text.resize(had + piece);
        in.read(text.data() + had, static_cast<std::streamsize>(piece));
        text.resize(had + static_cast<std::size_t>(in.gcount()));
    }
    if (text.size() > largest_bytes)
        throw Refused(file, "is too large to be meant",
                      "at most " + std::to_string(largest_bytes) + " bytes are read");
    if (!in.eof()) throw Refused(file, "cannot be read", "check the name and the permissions");
    return text;
}

void write_file(const std::filesystem::path& file, const std::string& text) {
    const std::filesystem::path part = file.string() + ".part";
    std::ofstream out(part, std::ios::binary);
    out << text;
    out.close();
    if (!out) throw Failed(part.string() + " cannot be written");
    std::filesystem::rename(part, file);
}

void print(const Json& object) {
    std::cout << object.dump(2) << '\n';
}

Json number_or_null(double value) {
    return std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json optional_json(const std::optional<double>& value) {
    return value ? Json(*value) : Json(nullptr);
}

void say(const std::string& line) {
    std::cout << line << '\n';
}

Json threshold_json(const threshold::Threshold& t) {
    return {{"log10", t.log10},
            {"value", t.value()},
            {"unit", t.scale == Scale::g_per_L ? "g_per_L" : "pct_vol"},
            {"lower", number_or_null(t.lower())},
            {"upper", number_or_null(t.upper())},
            {"sd_log10", number_or_null(t.sd_log10)}};
}

std::string threshold_text(const threshold::Threshold& t) {
    const std::string unit = " " + unit_text(t.scale);
    if (!std::isfinite(t.lower()) || !std::isfinite(t.upper()) || t.lower() <= 0.0)
        return "Threshold about " + significant(t.value(), 2) + unit +
               "; the answers do not bound it on both sides.";
    return "Threshold " + with_interval(t.value(), t.lower(), t.upper()) + unit + ", 95 % interval.";
}

NumberWithUnit number_with_unit(const std::string& text, const std::string& where) {
    const auto blank = text.rfind(' ');
    const auto number = blank == std::string::npos ? std::nullopt : number_from_file(text.substr(0, blank));
    if (!number)
        throw Refused(where, "\"" + text + "\" is not a number and a unit",
                      "write for example \"40 pct_vol\"");
    return {*number, text.substr(blank + 1)};
}

}  // namespace sipladder::cli

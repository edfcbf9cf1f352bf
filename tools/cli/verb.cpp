#include "tools/cli/verb.hpp"

#include "engine/content/location.hpp"
#include "engine/problem.hpp"
#include "engine/solution/acid.hpp"
#include "engine/text.hpp"

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <sstream>

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

std::string read_file(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    if (!in) throw Refused(file, "cannot be read", "check the name and the permissions");
    return text.str();
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

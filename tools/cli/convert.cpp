#include "engine/solution/convert.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "tools/cli/verb.hpp"

#include <memory>

namespace sipladder::cli {

namespace {

struct Options {
    std::string from;
    std::string to;
    std::string of;
    double at = 20.0;
};

solution::Unit unit_named(const std::string& name, const std::string& where) {
    if (const auto unit = solution::unit_from_name(name)) return *unit;
    std::string names;
    for (const std::string& known : solution::unit_names()) names += (names.empty() ? "" : ", ") + known;
    throw Refused(where, "\"" + name + "\" is no unit", "one of " + names);
}

void convert(const Common& common, const Options& options) {
    const NumberWithUnit from = number_with_unit(options.from, "convert");
    const solution::Unit unit = unit_named(from.unit, "convert");
    const solution::Unit to = unit_named(options.to, "convert");
    solution::Substance of;
    if (!options.of.empty()) of = substance_named(common, options.of);
    const solution::Converted result =
        solution::convert(from.value, unit, to, options.of.empty() ? nullptr : &of, Celsius{options.at});
    const std::string name = solution::unit_name(result.unit);
    if (common.json) return print({{"value", result.value}, {"unit", name}});
    const int decimals = result.unit == solution::Unit::sg_20_20 ? 5
                         : result.value < 0.1                    ? 6
                         : result.value < 100.0                  ? 3
                                                                 : 2;
    say(fixed(result.value, decimals) + " " + name);
    if (unit == solution::Unit::sg_20_20 || to == solution::Unit::sg_20_20)
        say("Specific gravity 20/20 here is the ratio of true densities; weighed in air it reads about "
            "0.00005 "
            "more at 10 °Brix.");
}

}  // namespace

void add_convert(arguments::Command app, const Common& common) {
    arguments::Command verb =
        app.add_subcommand("convert", "a strength in another unit: convert \"40 pct_vol\" pct_mass");
    auto options = std::make_shared<Options>();
    verb.add_option("from", options->from, "a number and its unit: \"40 pct_vol\"").required();
    verb.add_option("to", options->to, "the unit wanted").required();
    verb.add_option(
        "--of", options->of,
        "the substance (default: ethanol for pct_vol, sucrose for brix and sg_20_20, tartaric acid "
        "for ta_tartaric_g_per_L)");
    verb.add_option("--at", options->at, "temperature, degrees Celsius (default 20)");
    verb.on_run([&common, options] { convert(common, *options); });
}

}  // namespace sipladder::cli

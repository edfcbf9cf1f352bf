#include "engine/problem.hpp"
#include "engine/solution/dilution.hpp"
#include "engine/text.hpp"
#include "tools/cli/verb.hpp"

#include <cmath>
#include <memory>

namespace sipladder::cli {

namespace {

struct Options {
    std::string from;
    std::string to;
    std::string of;
    double volume_mL = 0.0;
    double at = 20.0;
};

solution::Dilution diluted(const Common& common, const Options& options) {
    const NumberWithUnit from = number_with_unit(options.from, "--from");
    const NumberWithUnit to = number_with_unit(options.to, "--to");
    if (from.unit != to.unit)
        throw Refused("--to", "is in " + to.unit + ", --from in " + from.unit, "give both in the same unit");
    const Millilitres volume{options.volume_mL};
    const Celsius at{options.at};
    if (from.unit == "pct_vol")
        return solution::dilute(PercentVol{from.value}, PercentVol{to.value}, volume, at);
    if (from.unit != "g_per_L")
        throw Refused("--from", "\"" + from.unit + "\" cannot be diluted by", "give pct_vol or g_per_L");
    if (options.of.empty())
        throw Refused("--of", "a stock in g_per_L needs its substance", "for example --of sucrose");
    return solution::dilute(substance_named(common, options.of), GramsPerLitre{from.value},
                            GramsPerLitre{to.value}, volume, at);
}

void dilute(const Common& common, const Options& options) {
    const solution::Dilution d = diluted(common, options);
    if (common.json)
        return print({{"from_mL", d.from_mL.value},
                      {"from_g", d.from_g.value},
                      {"water_mL", d.water_mL.value},
                      {"water_g", d.water_g.value},
                      {"total_g", d.total_g.value},
                      {"volume_change_mL", d.volume_change_mL.value}});
    say(fixed(d.from_mL.value, 1) + " mL (" + fixed(d.from_g.value, 1) + " g) of " + options.from + ", and " +
        fixed(d.water_mL.value, 1) + " mL (" + fixed(d.water_g.value, 1) + " g) of water, weigh " +
        fixed(d.total_g.value, 1) + " g together.");
    say("The mixture takes " + fixed(std::abs(d.volume_change_mL.value), 1) + " mL " +
        (d.volume_change_mL.value < 0.0 ? "less" : "more") + " than its parts did apart.");
}

}  // namespace

void add_dilute(arguments::Command app, const Common& common) {
    arguments::Command verb = app.add_subcommand("dilute", "one dilution of a spirit or a stock");
    auto options = std::make_shared<Options>();
    verb.add_option("--from", options->from, "strength at hand: \"43 pct_vol\" or \"100 g_per_L\"")
        .required();
    verb.add_option("--to", options->to, "strength wanted, in the same unit").required();
    verb.add_option("--volume-mL", options->volume_mL, "volume wanted, mL").required();
    verb.add_option("--of", options->of, "the substance of a stock in g_per_L");
    verb.add_option("--at", options->at, "temperature, degrees Celsius (default 20)");
    verb.on_run([&common, options] { dilute(common, *options); });
}

}  // namespace sipladder::cli

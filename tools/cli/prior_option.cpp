#include "tools/cli/prior_option.hpp"

#include "drills/plans.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <vector>

namespace sipladder::cli {

namespace {

/// Spread of the default prior: 0.7 in log10, as wide as content assumes where nothing is published
/// (judgement).
constexpr double spread_unknown_log10 = 0.7;
/// How far beyond the levels a flat prior reaches, log10 units (judgement: a tenth of the weakest to ten
/// times the strongest).
constexpr double flat_margin_log10 = 1.0;

/// The numbers of "normal:0.5,0.3" behind its name, or nothing if it has another name or another count of
/// them.
std::optional<std::vector<double>> numbers_of(const std::string& text, const std::string& name,
                                              std::size_t count) {
    if (!text.starts_with(name + ":")) return std::nullopt;
    std::vector<double> numbers;
    std::string rest = text.substr(name.size() + 1);
    while (true) {
        const auto comma = rest.find(',');
        const auto number = number_from_file(rest.substr(0, comma));
        if (!number) return std::nullopt;
        numbers.push_back(*number);
        if (comma == std::string::npos) break;
        rest = rest.substr(comma + 1);
    }
    if (numbers.size() != count) return std::nullopt;
    return numbers;
}

threshold::Prior around_levels(std::span<const threshold::Counts> counts) {
    threshold::Prior prior;
    prior.mean_log10 = 0.5 * (counts.front().x_log10 + counts.back().x_log10);
    prior.sd_log10 = spread_unknown_log10;
    prior.name =
        "assumed, wide: around the middle of the levels given (judgement; name the substance for its own)";
    return prior;
}

threshold::Prior location(const std::string& text, std::span<const threshold::Counts> counts, Scale scale,
                          const Common& common) {
    threshold::Prior prior;
    if (text.empty()) return around_levels(counts);
    if (text == "flat") {
        prior.kind = threshold::Prior::Kind::flat;
        prior.lower_log10 = counts.front().x_log10 - flat_margin_log10;
        prior.upper_log10 = counts.back().x_log10 + flat_margin_log10;
        prior.name = "flat, from a tenth of the weakest level to ten times the strongest";
        return prior;
    }
    if (text.starts_with("substance:")) {
        const solution::Substance substance = load_content(common).substance(text.substr(10));
        if (substance.scale != scale)
            throw Refused("--prior", substance.name + " is counted in " + unit_text(substance.scale),
                          "give the levels in that unit");
        return drills::assumed_prior(substance);
    }
    if (const auto normal = numbers_of(text, "normal", 2)) {
        prior.kind = threshold::Prior::Kind::normal;
        prior.mean_log10 = normal->at(0);
        prior.sd_log10 = normal->at(1);
        prior.name = "normal: mean " + exact(prior.mean_log10) + ", SD " + exact(prior.sd_log10) + " (log10)";
        return prior;
    }
    throw Refused("--prior", "\"" + text + "\" cannot be read", "flat, substance:ID or normal:MEAN_LOG10,SD");
}

void set_width(threshold::Prior& prior, const std::string& text, threshold::Shape shape) {
    if (text.empty()) return;
    const auto slope = numbers_of(text, "lognormal", 2);
    if (!slope || !(slope->at(1) > 0.0))
        throw Refused("--prior-slope", "\"" + text + "\" cannot be read",
                      "lognormal:MEAN_LN,SD with SD above 0");
    prior.width_ln_mean = std::log(threshold::width_in_s(shape)) - slope->at(0);
    prior.width_ln_sd = slope->at(1);
    // Wide enough that the cut takes nothing that would show in the result.
    prior.width_lower = std::exp(prior.width_ln_mean - 6.0 * prior.width_ln_sd);
    prior.width_upper = std::exp(prior.width_ln_mean + 6.0 * prior.width_ln_sd);
}

void set_lapse(threshold::Prior& prior, const PriorOptions& options) {
    if (!options.lapse_prior.empty()) {
        const auto beta = numbers_of(options.lapse_prior, "beta", 2);
        if (!beta)
            throw Refused("--prior-lapse", "\"" + options.lapse_prior + "\" cannot be read", "beta:A,B");
        prior.lapses = threshold::beta_lapses(beta->at(0), beta->at(1), 60);
    }
    if (options.lapse.empty() || options.lapse == "free") return;
    const auto fixed_lapse = number_from_file(options.lapse);
    if (!fixed_lapse)
        throw Refused("--lapse", "\"" + options.lapse + "\" cannot be read", "free, or a rate from 0 to 0.5");
    prior.lapses = {{*fixed_lapse, 1.0}};
}

}  // namespace

void add_prior_options(arguments::Command verb, PriorOptions& options) {
    verb.add_option("--prior", options.threshold,
                    "flat | substance:ID | normal:MEAN_LOG10,SD (default: wide, around the levels)");
    verb.add_option("--prior-slope", options.slope, "lognormal:MEAN_LN,SD of the slope 1/s per log10 unit");
    verb.add_option("--prior-lapse", options.lapse_prior, "beta:A,B");
    verb.add_option("--lapse", options.lapse,
                    "free | VALUE: the share of presentations answered without tasting");
}

threshold::Prior prior_from(const PriorOptions& options, std::span<const threshold::Counts> counts,
                            Scale scale, const Common& common, threshold::Shape shape) {
    threshold::Prior prior = location(options.threshold, counts, scale, common);
    set_width(prior, options.slope, shape);
    set_lapse(prior, options);
    return prior;
}

}  // namespace sipladder::cli

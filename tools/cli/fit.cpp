#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/curve_band.hpp"
#include "engine/threshold/likelihood.hpp"
#include "engine/threshold/threshold.hpp"
#include "tools/cli/answers.hpp"
#include "tools/cli/prior_option.hpp"
#include "tools/cli/task_option.hpp"
#include "tools/cli/verb.hpp"

#include <cmath>
#include <memory>
#include <numbers>

namespace sipladder::cli {

namespace {

struct Options {
    std::string file;
    std::string task = "3-afc";
    std::string method = "posterior";
    PriorOptions prior;
    double u_shared_rel = 0.0;
};

constexpr std::size_t curve_points = 61;
constexpr double curve_margin_log10 = 0.5;  // beyond the weakest and strongest level, so that both ends show

/// Finer than a window needs, so that results can be compared with outside calculations to four digits.
constexpr threshold::Grid exact_grid{1201, 0.004, 80};

/// Everything that either method has to say, in the keys of the command line.
struct Fit {
    threshold::Threshold threshold;
    double log_likelihood{};  ///< of the counts, at the curve reported
    double deviance{};
    int deviance_df{};
    Json curve = Json::array();
};

double scale_of_width(double width_log10) {
    return width_log10 / (2.0 * std::log(9.0));
}

/// ln of the binomial coefficient.
double log_choose(double n, double k) {
    return std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0);
}

double times_log(double count, double p) {
    return count == 0.0 ? 0.0 : count * std::log(p);
}

/// Log-likelihood of the counts at a curve, and its deviance from one free share a level.
void judge(Fit& fit, const Answers& answers, const threshold::Task& task) {
    const threshold::Curve curve{fit.threshold.log10, fit.threshold.width_log10, fit.threshold.lapse};
    double saturated = 0.0;
    for (const threshold::Counts& counts : answers.counts) {
        const auto n = static_cast<double>(counts.presentations);
        const auto k = static_cast<double>(counts.correct);
        const double p = threshold::right_probability(curve, task, counts.x_log10);
        const double ways = log_choose(n, k);
        fit.log_likelihood += ways + times_log(k, p) + times_log(n - k, 1.0 - p);
        saturated += ways + times_log(k, k / n) + times_log(n - k, 1.0 - k / n);
    }
    fit.deviance = 2.0 * (saturated - fit.log_likelihood);
    fit.deviance_df = static_cast<int>(answers.counts.size()) - 2;
}

std::vector<double> curve_levels(const Answers& answers) {
    const double from = answers.counts.front().x_log10 - curve_margin_log10;
    const double step =
        (answers.counts.back().x_log10 + curve_margin_log10 - from) / static_cast<double>(curve_points - 1);
    std::vector<double> xs;
    for (std::size_t i = 0; i < curve_points; ++i) xs.push_back(from + step * static_cast<double>(i));
    return xs;
}

Fit posterior_fit(const Answers& answers, const threshold::Task& task, const Options& options,
                  const Common& common) {
    const threshold::Prior prior = prior_from(options.prior, answers.counts, answers.scale, common);
    Fit fit;
    fit.threshold = threshold::threshold(answers.counts, prior, task,
                                         {.scale = answers.scale,
                                          .u_shared_log10 = options.u_shared_rel / std::numbers::ln10,
                                          .grid = exact_grid});
    judge(fit, answers, task);
    threshold::Posterior band(prior, task, threshold::band_grid);
    for (const threshold::Counts& counts : answers.counts) band.update(counts);
    for (const threshold::CurvePoint& point : threshold::curve_band(band, curve_levels(answers)))
        fit.curve.push_back(
            {{"log10", point.x_log10}, {"p", point.p}, {"lower", point.lower}, {"upper", point.upper}});
    return fit;
}

Fit likelihood_fit(const Answers& answers, const threshold::Task& task, const Options& options) {
    if (!options.prior.threshold.empty() || !options.prior.slope.empty() ||
        !options.prior.lapse_prior.empty())
        throw Refused("--method", "likelihood takes no prior",
                      "leave the --prior options out, or use --method posterior");
    threshold::LikelihoodSettings settings;
    if (options.prior.lapse == "free")
        settings.lapse.reset();
    else if (!options.prior.lapse.empty()) {
        settings.lapse = number_from_file(options.prior.lapse);
        if (!settings.lapse)
            throw Refused("--lapse", "\"" + options.prior.lapse + "\" cannot be read", "free, or a rate");
    }
    const threshold::LikelihoodFit found = threshold::maximum_likelihood(answers.counts, task, settings);
    Fit fit;
    fit.threshold = threshold::as_threshold(found, answers.scale, options.u_shared_rel / std::numbers::ln10);
    fit.log_likelihood = found.log_likelihood;
    fit.deviance = found.deviance;
    fit.deviance_df = found.deviance_df;
    if (found.separable) return fit;  // a step has no curve worth listing
    const threshold::Curve curve{found.theta_log10, found.width_log10, found.lapse};
    for (const double x : curve_levels(answers))
        fit.curve.push_back({{"log10", x}, {"p", threshold::right_probability(curve, task, x)}});
    return fit;
}

Json as_json(const Fit& fit) {
    const threshold::Threshold& t = fit.threshold;
    Json warnings = Json::array();
    for (const threshold::Warning& warning : t.warnings) warnings.push_back(warning.text);
    return {{"threshold", threshold_json(t)},
            {"width_log10", t.width_log10},
            {"slope_per_log10", number_or_null(1.0 / scale_of_width(t.width_log10))},
            {"lapse", t.lapse},
            {"log_likelihood", fit.log_likelihood},
            {"log_evidence", number_or_null(t.log_evidence)},
            {"deviance", fit.deviance},
            {"deviance_df", fit.deviance_df},
            {"curve", fit.curve},
            {"warnings", warnings},
            {"prior", t.prior}};
}

void fit(const Common& common, const Options& options) {
    const threshold::Task task = task_from(options.task);
    if (!(options.u_shared_rel >= 0.0 && options.u_shared_rel < 1.0))
        throw Refused("--u-shared-rel", "is " + exact(options.u_shared_rel), "a part from 0 to below 1");
    const Answers answers = read_answers(read_file(options.file), options.file);
    if (options.method != "posterior" && options.method != "likelihood")
        throw Refused("--method", "\"" + options.method + "\" is none", "posterior or likelihood");
    const Fit result = options.method == "posterior" ? posterior_fit(answers, task, options, common)
                                                     : likelihood_fit(answers, task, options);
    if (common.json) return print(as_json(result));
    say(threshold_text(result.threshold));
    say("Rise from 10 to 90 %: a factor of " + significant(std::pow(10.0, result.threshold.width_log10), 2) +
        ". Lapses: " + percent(result.threshold.lapse) + ".");
    if (!result.threshold.prior.empty()) say("Prior: " + result.threshold.prior + ".");
    if (answers.has_certainty) say("The certainty column was checked; this fit does not use it.");
    for (const threshold::Warning& warning : result.threshold.warnings) say("Mind: " + warning.text);
}

}  // namespace

void add_fit(CLI::App& app, const Common& common) {
    CLI::App* verb = app.add_subcommand("fit", "one person's threshold from a CSV of answers");
    auto options = std::make_shared<Options>();
    verb->add_option("file", options->file,
                     "concentration_g_per_L (or _pct_vol),presentations,correct; or one row a trial")
        ->required();
    verb->add_option("--task", options->task, "3-afc (default), 2-afc, m-afc:M, yes-no");
    verb->add_option("--method", options->method, "posterior (default) or likelihood");
    add_prior_options(*verb, options->prior);
    verb->add_option("--u-shared-rel", options->u_shared_rel, "relative uncertainty shared by all levels");
    verb->callback([&common, options] { fit(common, *options); });
}

}  // namespace sipladder::cli

#include "tools/cli/fit.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/certainty.hpp"
#include "engine/threshold/curve_band.hpp"
#include "engine/threshold/deviance_test.hpp"
#include "engine/threshold/likelihood.hpp"
#include "tools/cli/answers.hpp"
#include "tools/cli/task_option.hpp"

#include <cmath>
#include <memory>
#include <numbers>

namespace sipladder::cli {

namespace {

/// Finer than a window needs, so that results can be compared with outside calculations to four digits.
constexpr threshold::Grid exact_grid{1201, 0.004, 80};

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
        const double right = threshold::right_probability(curve, task, counts.x_log10, fit.shape);
        const double wrong = threshold::wrong_probability(curve, task, counts.x_log10, fit.shape);
        const double ways = log_choose(n, k);
        fit.log_likelihood += ways + times_log(k, right) + times_log(n - k, wrong);
        saturated += ways + times_log(k, k / n) + times_log(n - k, 1.0 - k / n);
    }
    fit.deviance = 2.0 * (saturated - fit.log_likelihood);
    fit.deviance_df = static_cast<int>(answers.counts.size()) - 2;
}

std::vector<double> levels_around(const Answers& answers) {
    return curve_levels(answers.counts.front().x_log10, answers.counts.back().x_log10);
}

Fit posterior_fit(const Answers& answers, const threshold::Task& task, const FitOptions& options,
                  const Common& common) {
    Fit fit;
    fit.shape = shape_from(options.shape);
    const threshold::Prior prior =
        prior_from(options.prior, answers.counts, answers.scale, common, fit.shape);
    fit.threshold = threshold::threshold(answers.counts, prior, task,
                                         {.scale = answers.scale,
                                          .u_shared_log10 = options.u_shared_rel / std::numbers::ln10,
                                          .grid = exact_grid,
                                          .shape = fit.shape});
    judge(fit, answers, task);
    threshold::Posterior band(prior, task, threshold::band_grid, fit.shape);
    for (const threshold::Counts& counts : answers.counts) band.update(counts);
    for (const threshold::CurvePoint& point : threshold::curve_band(band, levels_around(answers)))
        fit.curve.push_back(
            {{"log10", point.x_log10}, {"p", point.p}, {"lower", point.lower}, {"upper", point.upper}});
    return fit;
}

threshold::LikelihoodSettings likelihood_settings(const FitOptions& options) {
    if (options.prior.has_prior())
        throw Refused("--method", "likelihood takes no prior",
                      "leave the --prior options out, or use --method posterior");
    threshold::LikelihoodSettings settings;
    settings.shape = shape_from(options.shape);
    if (options.prior.lapse == "free") {
        settings.lapse.reset();
    } else if (!options.prior.lapse.empty()) {
        settings.lapse = number_from_file(options.prior.lapse);
        if (!settings.lapse)
            throw Refused("--lapse", "\"" + options.prior.lapse + "\" cannot be read", "free, or a rate");
    }
    return settings;
}

Json errors_json(const threshold::LikelihoodFit& found) {
    return {{"observed",
             {{"theta", optional_json(found.se_theta_observed)},
              {"slope", optional_json(found.se_slope_observed)},
              {"lapse", optional_json(found.se_lapse_observed)}}},
            {"expected",
             {{"theta", optional_json(found.se_theta_expected)},
              {"slope", optional_json(found.se_slope_expected)}}}};
}

void add_deviance_test(const Answers& answers, const threshold::Task& task,
                       const threshold::LikelihoodSettings& settings, const threshold::LikelihoodFit& found,
                       const FitOptions& options, Fit& fit) {
    if (options.replicates == 0) return;
    Random random{Seed{options.seed}};
    const threshold::DevianceTest test =
        threshold::deviance_test(answers.counts, task, settings, found, random, options.replicates);
    fit.deviance_p = test.p_bootstrap;
    fit.more["deviance_p"] = {{"bootstrap", test.p_bootstrap},
                              {"replicates", test.replicates},
                              {"seed", options.seed},
                              {"chi_squared", test.df > 0 ? Json(test.p_chi_squared) : Json(nullptr)}};
}

Fit likelihood_fit(const Answers& answers, const threshold::Task& task, const FitOptions& options) {
    const threshold::LikelihoodSettings settings = likelihood_settings(options);
    const threshold::LikelihoodFit found = threshold::maximum_likelihood(answers.counts, task, settings);
    Fit fit;
    fit.shape = settings.shape;
    fit.threshold = threshold::as_threshold(found, answers.scale, options.u_shared_rel / std::numbers::ln10);
    fit.log_likelihood = found.log_likelihood;
    fit.deviance = found.deviance;
    fit.deviance_df = found.deviance_df;
    fit.more["separable"] = found.separable;
    fit.more["interval_from"] = "likelihood ratio";
    fit.more["standard_errors"] = errors_json(found);
    add_deviance_test(answers, task, settings, found, options, fit);
    if (found.separable) return fit;  // a step has no curve worth listing
    const threshold::Curve curve{found.theta_log10, found.width_log10, found.lapse};
    for (const double x : levels_around(answers))
        fit.curve.push_back({{"log10", x}, {"p", threshold::right_probability(curve, task, x, fit.shape)}});
    return fit;
}

/// Certainty as part of the answer: the percepts' model is that of a 3-AFC and the logistic curve.
Fit certainty_fit(const Answers& answers, const threshold::Task& task, const FitOptions& options,
                  const Common& common) {
    std::vector<double> levels;
    for (const threshold::Counts& at : answers.counts) levels.push_back(at.x_log10);
    const threshold::Prior prior = prior_from(options.prior, answers.counts, answers.scale, common);
    const threshold::CertaintyFit found = threshold::certainty_threshold(
        ladder_of(answers.scale, levels, options.u_shared_rel), answers.trials, prior);
    Fit fit;
    fit.threshold = found.threshold;
    judge(fit, answers, task);
    const threshold::Curve curve{fit.threshold.log10, fit.threshold.width_log10, fit.threshold.lapse};
    for (const double x : levels_around(answers))
        fit.curve.push_back({{"log10", x}, {"p", threshold::right_probability(curve, task, x)}});
    fit.more["certainty"] = {{"answers", found.with_certainty}, {"informative", found.informative}};
    if (!found.text.empty()) fit.notes.push_back(found.text);
    fit.notes.emplace_back(
        "Certainty was fitted, which holds only where the taster could not know the level (served, class, "
        "sealed key). After a shuffled tray, use --certainty leave.");
    return fit;
}

/// Why the certainty column is left out; nothing where it is fitted or not there.
std::optional<std::string> why_left_out(const Answers& answers, const threshold::Task& task,
                                        const FitOptions& options) {
    if (options.certainty == "leave") return "as asked";
    if (options.method == "likelihood") return "the likelihood knows right and wrong alone";
    if (!(task == threshold::three_afc)) return "only that of a 3-AFC can be fitted";
    if (options.shape != "logistic") return "only the logistic curve is fitted with certainty";
    if (answers.trials.empty()) return "no answer came with one";
    return std::nullopt;
}

Fit counted_fit(const Common& common, const FitOptions& options) {
    const threshold::Task task = task_from(options.task);
    const Answers answers = read_answers(read_file(options.file), options.file);
    std::optional<std::string> left_out;
    if (answers.has_certainty) {
        left_out = why_left_out(answers, task, options);
        if (!left_out) return certainty_fit(answers, task, options, common);
    }
    Fit fit = options.method == "posterior" ? posterior_fit(answers, task, options, common)
                                            : likelihood_fit(answers, task, options);
    if (left_out) fit.notes.push_back("The certainty column was checked and not fitted: " + *left_out + ".");
    return fit;
}

void fit(const Common& common, const FitOptions& options) {
    if (!(options.u_shared_rel >= 0.0 && options.u_shared_rel < 1.0))
        throw Refused("--u-shared-rel", "is " + exact(options.u_shared_rel), "a part from 0 to below 1");
    if (options.method != "posterior" && options.method != "likelihood")
        throw Refused("--method", "\"" + options.method + "\" is none", "posterior or likelihood");
    if (options.certainty != "fit" && options.certainty != "leave")
        throw Refused("--certainty", "\"" + options.certainty + "\" is none", "fit or leave");
    if (options.unordered && !options.task.starts_with("rating:"))
        throw Refused("--unordered", "is for graded cups", "--task rating:K, or leave it out");
    const Fit result =
        options.task.starts_with("rating:") ? graded_fit(common, options) : counted_fit(common, options);
    if (common.json) return print(as_json(result));
    say_fit(result);
}

}  // namespace

std::vector<double> curve_levels(double weakest_log10, double strongest_log10) {
    const double from = weakest_log10 - curve_margin_log10;
    const double step = (strongest_log10 + curve_margin_log10 - from) / static_cast<double>(curve_points - 1);
    std::vector<double> xs;
    for (std::size_t i = 0; i < curve_points; ++i) xs.push_back(from + step * static_cast<double>(i));
    return xs;
}

solution::MixedLadder ladder_of(Scale scale, std::span<const double> levels_log10, double u_shared_rel) {
    solution::MixedLadder ladder;
    ladder.scale = scale;
    for (const double x : levels_log10) {
        solution::MixedLevel level;
        level.target = level.mixed = std::pow(10.0, x);
        level.u_shared_rel = u_shared_rel;
        ladder.levels.push_back(level);
    }
    return ladder;
}

Json as_json(const Fit& fit) {
    const threshold::Threshold& t = fit.threshold;
    Json warnings = Json::array();
    for (const threshold::Warning& warning : t.warnings) warnings.push_back(warning.text);
    Json result{{"threshold", threshold_json(t)},
                {"width_log10", number_or_null(t.width_log10)},
                {"slope_per_log10", number_or_null(threshold::width_in_s(fit.shape) / t.width_log10)},
                {"lapse", t.lapse},
                {"log_likelihood", fit.log_likelihood},
                {"log_evidence", number_or_null(t.log_evidence)},
                {"deviance", fit.deviance},
                {"deviance_df", fit.deviance_df}};
    for (const auto& [key, value] : fit.more.items()) result[key] = value;
    result["curve"] = fit.curve;
    result["warnings"] = warnings;
    result["notes"] = fit.notes;
    result["prior"] = t.prior;
    return result;
}

void say_fit(const Fit& fit) {
    const threshold::Threshold& t = fit.threshold;
    say(threshold_text(t));
    say("Rise from 10 to 90 %: a factor of " + significant(std::pow(10.0, t.width_log10), 2) +
        ". Lapses: " + percent(t.lapse) + ".");
    if (fit.deviance_p)
        say("Does the curve fit? Deviance " + fixed(fit.deviance, 1) + " on " +
            std::to_string(fit.deviance_df) + " degrees of freedom, p = " + significant(*fit.deviance_p, 2) +
            " by bootstrap.");
    if (!t.prior.empty()) say("Prior: " + t.prior + ".");
    for (const std::string& note : fit.notes) say(note);
    for (const threshold::Warning& warning : t.warnings) say("Mind: " + warning.text);
}

void add_fit(arguments::Command app, const Common& common) {
    arguments::Command verb = app.add_subcommand("fit", "one person's threshold from a CSV of answers");
    auto options = std::make_shared<FitOptions>();
    verb.add_option(
            "file", options->file,
            "concentration_g_per_L (or _pct_vol),presentations,correct; or one row a trial, with certainty "
            "1 to 3 if given; or rating")
        .required();
    verb.add_option("--task", options->task,
                    "3-afc (default), 2-afc, m-afc:M, yes-no, rating:K (single cups, blanks at 0)");
    verb.add_option("--method", options->method, "posterior (default) or likelihood");
    verb.add_option("--shape", options->shape, "logistic (default), gaussian or weibull");
    add_prior_options(verb, options->prior);
    verb.add_option("--certainty", options->certainty,
                    "fit (default) or leave: only where the taster could not know the level");
    verb.add_flag("--unordered", options->unordered, "ratings: the rows are not in the order of tasting");
    verb.add_option("--u-shared-rel", options->u_shared_rel, "relative uncertainty shared by all levels");
    verb.add_option("--bootstrap", options->replicates,
                    "likelihood: simulated sittings for the deviance's p (default 999, 0 for none)");
    verb.add_option("--seed", options->seed, "likelihood: of the simulated sittings (default 1)");
    verb.on_run([&common, options] { fit(common, *options); });
}

}  // namespace sipladder::cli

#include "engine/content/csv.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/graded.hpp"
#include "engine/threshold/quick_look.hpp"
#include "tools/cli/answers.hpp"
#include "tools/cli/fit.hpp"

#include <cmath>
#include <iterator>
#include <map>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

namespace sipladder::cli {

namespace {

struct Cups {
    Scale scale{};
    std::vector<threshold::GradedCounts> counts;  ///< blanks first, then levels, weakest first
    std::vector<threshold::GradedCup>
        in_order;  ///< as the rows stand; levels as in `counts`, less the blanks
};

std::size_t grades_from(const std::string& task) {
    constexpr double most = 10.0;
    const auto number = number_from_file(task.substr(std::string("rating:").size()));
    if (!number || *number < 2.0 || *number > most || *number != std::floor(*number))
        throw Refused("--task", "\"" + task + "\" is none",
                      "rating:K with K from 2 to 10 grades, 0 to K - 1");
    return static_cast<std::size_t>(*number);
}

Cups read_cups(const std::string& text, const std::string& file, std::size_t grades) {
    const content::Table table = content::read_csv(text, file);
    std::vector<Problem> problems;
    content::only_columns(table, {"concentration_g_per_L", "concentration_pct_vol", "rating"}, problems);
    const auto concentration = concentration_column(table, problems);
    const auto rating = content::wanted_column(table, "rating", problems);
    if (!problems.empty() || !concentration || !rating) throw Refused(problems);
    std::map<double, threshold::GradedCounts> pooled;
    std::vector<std::pair<double, std::size_t>> rows;
    for (const content::Table::Row& row : table.rows) {
        const auto level =
            content::number_in(table, row, concentration->column, 0.0, strongest_level, problems);
        const auto grade =
            content::integer_in(table, row, *rating, 0, static_cast<long>(grades) - 1, problems);
        if (!level || !grade) continue;
        if (*level > 0.0 && *level < weakest_level) {
            problems.push_back({content::where_in(table, row, concentration->column), "is " + exact(*level),
                                "0 for a blank, or from " + exact(weakest_level) + " up"});
            continue;
        }
        threshold::GradedCounts& counts = pooled[*level];
        counts.grades.resize(grades, 0);
        if (*level > 0.0) counts.x_log10 = std::log10(*level);
        ++counts.grades[static_cast<std::size_t>(*grade)];
        rows.emplace_back(*level, static_cast<std::size_t>(*grade));
    }
    if (!problems.empty()) throw Refused(problems);
    if (!pooled.contains(0.0))
        throw Refused(file, "holds no blanks", "rows of concentration 0; grades mean nothing without them");
    if (pooled.size() < 2) throw Refused(file, "holds blanks only", "rows of at least one level above 0");
    Cups cups{concentration->scale, {}, {}};
    for (const auto& [level, counts] : pooled) cups.counts.push_back(counts);
    for (const auto& [level, grade] : rows) {
        const auto place = static_cast<std::size_t>(std::distance(pooled.begin(), pooled.find(level)));
        cups.in_order.push_back({place > 0 ? std::optional(place - 1) : std::nullopt, grade});
    }
    return cups;
}

/// d', and the share that would be right in 3-AFC, over the levels.
Json curve_json(const threshold::Threshold& t, const Cups& cups) {
    Json points = Json::array();
    const threshold::Curve curve{t.log10, t.width_log10, t.lapse};
    for (const double x : curve_levels(*cups.counts[1].x_log10, *cups.counts.back().x_log10))
        points.push_back({{"log10", x},
                          {"p", threshold::right_probability(curve, threshold::three_afc, x)},
                          {"d_prime", threshold::perceived_distance(curve, x)}});
    return points;
}

threshold::Prior prior_of(const FitOptions& options, const Cups& cups, const Common& common) {
    std::vector<threshold::Counts> levels;
    for (const threshold::GradedCounts& at : cups.counts)
        if (at.x_log10) levels.push_back({*at.x_log10, 0, 0, 0.0});
    return prior_from(options.prior, levels, cups.scale, common, threshold::Shape::logistic);
}

constexpr const char* what_it_means =
    "The threshold is where the same cup would be picked in 3-AFC half-way between chance and always.";

/// The rows in the order of tasting: cuts that wander from cup to cup are allowed for.
Fit ordered_fit(const Cups& cups, const FitOptions& options, const Common& common, std::size_t grades) {
    std::vector<double> levels;
    for (const threshold::GradedCounts& at : cups.counts)
        if (at.x_log10) levels.push_back(*at.x_log10);
    const threshold::QuickLook found =
        threshold::quick_look(ladder_of(cups.scale, levels, options.u_shared_rel), cups.in_order,
                              prior_of(options, cups, common), grades);
    Fit fit;
    fit.threshold = found.threshold;
    const threshold::GradedFit judged = threshold::judged(
        cups.counts, {found.threshold.log10, found.threshold.width_log10, found.threshold.lapse},
        found.cut_points);
    fit.log_likelihood = judged.log_likelihood;
    fit.deviance = judged.deviance;
    fit.deviance_df = judged.deviance_df;
    fit.more["cut_points"] = found.cut_points;
    fit.more["spacing"] = found.spacing;
    fit.more["sd_ratio"] = found.sd_ratio;
    fit.more["wander_per_cup"] = found.wander_per_cup;
    fit.curve = curve_json(found.threshold, cups);
    fit.notes.emplace_back(what_it_means);
    fit.notes.emplace_back(
        "The rows were taken as the order of tasting, in which the meaning of a grade may wander; cut points "
        "are those of the last cup. Where the order is not known, use --unordered.");
    return fit;
}

}  // namespace

Fit graded_fit(const Common& common, const FitOptions& options) {
    const std::size_t grades = grades_from(options.task);
    if (options.shape != "logistic")
        throw Refused("--shape", "\"" + options.shape + "\" is not fitted to ratings", "logistic");
    const Cups cups = read_cups(read_file(options.file), options.file, grades);
    const double u_shared_log10 = options.u_shared_rel / std::numbers::ln10;
    const bool has_posterior = options.method == "posterior";
    if (!has_posterior && (options.prior.has_prior() || !options.prior.lapse.empty()))
        throw Refused("--method", "likelihood takes no prior and no lapse for ratings",
                      "leave these options out, or use --method posterior");
    if (has_posterior && !options.unordered) return ordered_fit(cups, options, common, grades);
    const threshold::GradedFit found =
        has_posterior ? threshold::graded_threshold(cups.counts, prior_of(options, cups, common), cups.scale,
                                                    u_shared_log10)
                      : threshold::graded_likelihood(cups.counts, cups.scale, u_shared_log10);
    Fit fit;
    fit.threshold = found.threshold;
    fit.log_likelihood = found.log_likelihood;
    fit.deviance = found.deviance;
    fit.deviance_df = found.deviance_df;
    fit.more["cut_points"] = found.cut_points;
    if (has_posterior) fit.curve = curve_json(found.threshold, cups);
    fit.notes.emplace_back(what_it_means);
    return fit;
}

}  // namespace sipladder::cli

#include "engine/trend/trend.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/trend/design.hpp"
#include "engine/trend/line_fit.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

// Sittings are cut into stretches where their conditions change; each stretch is one joint fit over the
// sittings behind the practice. The likelihoods of all sittings are made once and serve twice: multiplied
// with the prior alone they are the sittings' own dots, and in the joint fit the line. Mixing errors go in
// afterwards, by the weight that the fit gives to all sittings of one mix together.

namespace sipladder::trend {

namespace {

using threshold::Estimate;
using threshold::GridLikelihood;

void check(std::span<const Sitting> sittings, const threshold::Task& task, const Settings& settings) {
    std::vector<Problem> problems;
    if (sittings.empty()) problems.push_back({"sittings", "there are none", "at least one sitting"});
    for (std::size_t i = 0; i < sittings.size(); ++i) {
        const Sitting& sitting = sittings[i];
        if (!std::isfinite(sitting.week) || (i > 0 && sitting.week < sittings[i - 1].week))
            problems.push_back({"sitting of " + sitting.date, "is not after the one before it",
                                "sittings in the order of time"});
        if (!sitting.told.empty() && !(task == threshold::three_afc))
            problems.push_back({"sitting of " + sitting.date, "has certainty or grades beside another task",
                                "a threshold of 3-AFC, which is what these tell of"});
        if (sitting.counts.empty() && sitting.told.empty())
            problems.push_back({"sitting of " + sitting.date, "holds no answers", "at least one answer"});
        if (!(sitting.u_shared_log10 >= 0.0 && std::isfinite(sitting.u_shared_log10)))
            problems.push_back({"sitting of " + sitting.date,
                                "has a common mixing error of " + exact(sitting.u_shared_log10),
                                "0 or greater"});
    }
    const auto want = [&](double value, const char* where) {
        if (!(value > 0.0 && std::isfinite(value)))
            problems.push_back({where, "is " + exact(value), "above 0"});
    };
    want(settings.drift_sd_log10, "drift_sd_log10");
    want(settings.drift_most_log10, "drift_most_log10");
    want(settings.theta_step_log10, "theta_step_log10");
    if (!(settings.walk_log10 >= 0.0 && settings.jitter_log10 >= 0.0))
        problems.push_back({"walk or jitter", "is below 0", "0 or greater"});
    if (!(settings.false_alarms > 0.0 && settings.false_alarms < 0.5))
        problems.push_back({"false_alarms", "is " + exact(settings.false_alarms), "between 0 and 0.5"});
    if (!problems.empty()) throw Refused(problems);
}

std::string what_changed(const Conditions& before, const Conditions& after) {
    std::string why;
    const auto note = [&](bool changed, const char* words) {
        if (changed) why.append(why.empty() ? "" : ", ").append(words);
    };
    note(before.lot != after.lot, "new lot");
    note(before.base != after.base, "other water or base");
    note(before.blinding != after.blinding, "other blinding");
    return why;
}

std::vector<Stretch> stretches_of(std::span<const Sitting> sittings) {
    std::vector<Stretch> stretches;
    for (std::size_t i = 0; i < sittings.size(); ++i) {
        const std::string why =
            i == 0 ? "" : what_changed(sittings[i - 1].conditions, sittings[i].conditions);
        if (i == 0 || !why.empty()) {
            stretches.emplace_back();
            stretches.back().first = i;
            stretches.back().why = why;
        }
        stretches.back().last = i;
    }
    return stretches;
}

/// Theta marginal of the answers times the prior: a sitting by itself.
std::vector<double> alone(const GridLikelihood& grid, const GridLikelihood::Cells& cells) {
    std::vector<double> sum(grid.thetas().size(), 0.0);
    const double* cell = cells.values.data();
    for (const double width : grid.width_weights())
        for (const double lapse : grid.lapse_weights())
            for (double& at : sum) at += width * lapse * *cell++;
    double total = 0.0;
    for (std::size_t t = 0; t < sum.size(); ++t) total += sum[t] *= grid.theta_weights()[t];
    for (double& at : sum) at /= total;
    return sum;
}

struct Typical {
    double width_log10{};
    double lapse{};
};

Typical typical(const GridLikelihood& grid, std::span<const double> node_weights) {
    double ln = 0.0;
    double lapse = 0.0;
    for (std::size_t node = 0; node < node_weights.size(); ++node) {
        ln += node_weights[node] * std::log(grid.widths()[node / grid.lapses().size()]);
        lapse += node_weights[node] * grid.lapses()[node % grid.lapses().size()];
    }
    return {std::exp(ln), lapse};
}

std::vector<double> prior_nodes(const GridLikelihood& grid) {
    std::vector<double> weights;
    for (const double width : grid.width_weights())
        for (const double lapse : grid.lapse_weights()) weights.push_back(width * lapse);
    return weights;
}

/// What certainty and grades tell of a sitting's theta.
struct Told {
    std::vector<threshold::HabitLikelihood::Found> found;
    double information{};  ///< 1/SD²: what they take from the prior's
};

double variance_of(const GridLikelihood& grid, std::span<const double> probabilities) {
    return std::pow(threshold::estimate_of(grid.thetas(), grid.theta_step(), probabilities).sd_log10, 2);
}

Told told_of(const GridLikelihood& grid, threshold::HabitLikelihood& habits, const Sitting& sitting,
             GridLikelihood::Cells& cells) {
    Told told;
    for (const threshold::HabitAnswers& answers : sitting.told) {
        told.found.push_back(habits.of(answers));
        GridLikelihood::Cells& own = told.found.back().cells;
        told.information += std::max(
            1.0 / variance_of(grid, alone(grid, own)) - 1.0 / variance_of(grid, grid.theta_weights()), 0.0);
        threshold::multiply(cells, own);
        own = {};
    }
    return told;
}

/// Everything that the fits of one person share.
struct Record {
    std::span<const Sitting> sittings;
    const Settings& settings;
    double prior_sd{};
    GridLikelihood grid;
    std::vector<GridLikelihood::Cells> cells;
    std::vector<Told> told;
    std::vector<double> rung_errors;
    std::vector<Estimate> own;  ///< mixing included
};

Record record_of(std::span<const Sitting> sittings, const threshold::Prior& prior,
                 const threshold::Task& task, const Settings& settings) {
    check(sittings, task, settings);
    const threshold::Grid fineness{2, settings.theta_step_log10, settings.widths};
    Record record{sittings,
                  settings,
                  prior.sd_log10,
                  GridLikelihood(threshold::Posterior(prior, task, fineness)),
                  {},
                  {},
                  {},
                  {}};
    threshold::HabitLikelihood habits(prior, fineness);
    const Typical person = typical(record.grid, prior_nodes(record.grid));
    for (const Sitting& sitting : sittings) {
        record.cells.push_back(record.grid.of(sitting.counts));
        record.told.push_back(told_of(record.grid, habits, sitting, record.cells.back()));
        const std::vector<double> thetas = alone(record.grid, record.cells.back());
        record.rung_errors.push_back(threshold::rung_error(
            threshold::rung_slopes(record.grid, thetas, sitting.counts, record.told.back().found,
                                   person.width_log10, person.lapse)));
        record.own.push_back(
            threshold::widened(threshold::estimate_of(record.grid.thetas(), record.grid.theta_step(), thetas),
                               std::hypot(sitting.u_shared_log10, record.rung_errors.back())));
    }
    return record;
}

/// The sittings of a stretch that make its line.
std::vector<std::size_t> baseline(const Stretch& stretch, const Settings& settings) {
    std::vector<std::size_t> indices;
    for (std::size_t i = stretch.first; i <= stretch.last; ++i)
        if (i >= settings.practice) indices.push_back(i);
    return indices;
}

line::Fit fit_of(const Record& record, const std::vector<std::size_t>& indices) {
    std::vector<GridLikelihood::Cells> cells;
    std::vector<double> weeks;
    for (const std::size_t i : indices) {
        cells.push_back(record.cells[i]);
        weeks.push_back(record.sittings[i].week);
    }
    return line::fit(record.grid, cells, weeks, record.settings);
}

/// SD that a sitting's own answers give its threshold, where the fit sees it. The likelihood's own SD will
/// not do: with a dozen answers its far tails say more about the ladder than about the person.
double answers_sd(const Record& record, std::size_t sitting, std::span<const double> thetas,
                  const Typical& person) {
    const std::vector<double> information =
        record.grid.information(record.sittings[sitting].counts, person.width_log10, person.lapse);
    const double mean = std::inner_product(thetas.begin(), thetas.end(), information.begin(), 0.0) +
                        record.told[sitting].information;
    constexpr double least = 1e-3;  // an SD of 30 decades: nothing was learned
    return 1.0 / std::sqrt(std::max(mean, least));
}

design::Design design_of(const Record& record, const std::vector<std::size_t>& indices,
                         const line::Fit& fit) {
    std::map<std::string, std::size_t> numbers;
    std::vector<design::Sitting> sittings;
    const Typical person = typical(record.grid, fit.node_weights);
    for (std::size_t at = 0; at < indices.size(); ++at) {
        const Sitting& sitting = record.sittings[indices[at]];
        // A mix without a name is taken as one of its own.
        std::string name = sitting.mix;
        if (name.empty()) name.append(1, '\0').append(std::to_string(indices[at]));
        const std::size_t number = numbers.emplace(name, numbers.size()).first->second;
        sittings.push_back({sitting.week, answers_sd(record, indices[at], fit.smoothed[at], person), number,
                            std::hypot(sitting.u_shared_log10, record.rung_errors[indices[at]])});
    }
    return design::design(sittings, record.prior_sd, record.settings);
}

double drifting_down(const line::Fit& fit) {
    double sum = 0.0;
    const double step = fit.drifts[1] - fit.drifts[0];
    for (std::size_t d = 0; d < fit.drifts.size(); ++d)
        sum += fit.drift_weights[d] * std::clamp(0.5 - fit.drifts[d] / step, 0.0, 1.0);
    return sum;
}

Change change_of(const line::Fit& fit, const design::Design& design, double weeks, const Settings& settings) {
    Change found;
    constexpr double two_sided = 1.959963984540054;  // standard normal, 97.5 %
    found.change = line::mixture(fit.changes, design.change_mixing_sd);
    found.probability_fell = line::below_zero(fit.changes, design.change_mixing_sd);
    found.noise_log10 = two_sided * weeks * design.still_drift_se;
    found.drift = threshold::estimate_of(fit.drifts, fit.drifts[1] - fit.drifts[0], fit.drift_weights);
    found.probability_drifting = drifting_down(fit);
    found.false_alarms = settings.false_alarms;
    found.cut = design::calibrated_cut(design, found.drift.sd_log10, settings);
    found.declared = found.probability_drifting > found.cut;
    found.missed = 1.0 - design::power(design, std::min(found.change.log10, 0.0) / weeks, settings);
    found.smallest_seen_half_log10 = weeks * design::drift_seen(design, 0.5, settings);
    return found;
}

void fit_stretch(const Record& record, Stretch& stretch, std::vector<Point>& points) {
    const std::vector<std::size_t> indices = baseline(stretch, record.settings);
    if (indices.empty()) return;
    const line::Fit fit = fit_of(record, indices);
    const design::Design design = design_of(record, indices, fit);
    const std::span<const double> thetas = record.grid.thetas();
    const double step = record.grid.theta_step();
    for (std::size_t at = 0; at < indices.size(); ++at) {
        Point& point = points[indices[at]];
        point.line =
            threshold::widened(threshold::estimate_of(thetas, step, fit.line[at]), design.line_mixing_sd[at]);
        point.smoothed = threshold::widened(threshold::estimate_of(thetas, step, fit.smoothed[at]),
                                            design.smoothed_mixing_sd[at]);
    }
    const Typical person = typical(record.grid, fit.node_weights);
    stretch.width_log10 = person.width_log10;
    stretch.lapse = person.lapse;
    stretch.log_evidence = fit.log_evidence;
    const double weeks = record.sittings[indices.back()].week - record.sittings[indices.front()].week;
    if (weeks > 0.0) stretch.change = change_of(fit, design, weeks, record.settings);
}

}  // namespace

Trend trend(std::span<const Sitting> sittings, const threshold::Prior& prior, const threshold::Task& task,
            const Settings& settings) {
    const Record record = record_of(sittings, prior, task, settings);
    Trend found;
    found.scale = settings.scale;
    found.prior = prior.name;
    found.stretches = stretches_of(sittings);
    for (std::size_t i = 0; i < sittings.size(); ++i)
        found.points.push_back({.sitting = i,
                                .practice = i < settings.practice,
                                .own = record.own[i],
                                .smoothed = record.own[i],
                                .line = record.own[i]});
    for (std::size_t s = 0; s < found.stretches.size(); ++s) {
        for (std::size_t i = found.stretches[s].first; i <= found.stretches[s].last; ++i)
            found.points[i].stretch = s;
        fit_stretch(record, found.stretches[s], found.points);
    }
    const Stretch& last = found.stretches.back();
    if (sittings.size() <= settings.practice)
        found.notes.push_back("So far these are practice sittings; the line begins with the next one.");
    else if (!last.change)
        found.notes.push_back(last.why.empty()
                                  ? "One sitting makes no line; the next one begins it."
                                  : "A new stretch (" + last.why + "): one sitting of it makes no line.");
    return found;
}

threshold::Prior forecast(std::span<const Sitting> sittings, double week, bool same_mix,
                          const threshold::Prior& prior, const threshold::Task& task,
                          const Settings& settings) {
    const Record record = record_of(sittings, prior, task, settings);
    const double ahead = week - sittings.back().week;
    if (!(ahead >= 0.0))
        throw Refused("week of the next sitting", "is before the last one", "a time after the last sitting");
    const Stretch stretch = stretches_of(sittings).back();
    std::vector<std::size_t> indices = baseline(stretch, settings);
    if (indices.empty())
        for (std::size_t i = stretch.first; i <= stretch.last; ++i) indices.push_back(i);
    const line::Fit fit = fit_of(record, indices);
    const double so_far = sittings.back().week - sittings[indices.front()].week;
    threshold::Prior next = prior;
    next.kind = threshold::Prior::Kind::normal;
    next.lower_log10 = next.upper_log10 = 0.0;
    next.name = "own history up to " + sittings.back().date + " (forecast of the line over weeks)";
    double mean = 0.0;
    for (const line::End& end : fit.ends) mean += end.weight * (end.mean + end.drift * (so_far + ahead));
    double variance =
        settings.walk_log10 * settings.walk_log10 * ahead + settings.jitter_log10 * settings.jitter_log10;
    for (const line::End& end : fit.ends) {
        const double apart = end.mean + end.drift * (so_far + ahead) - mean;
        variance += end.weight * (end.variance + apart * apart);
    }
    // The next fit adds its own mix's error; of the sittings so far, only other mixes' errors are news to it.
    if (!same_mix) {
        const double mixing = design_of(record, indices, fit).line_mixing_sd.back();
        variance += mixing * mixing;
    }
    next.mean_log10 = mean;
    next.sd_log10 = std::sqrt(variance);
    double ln_mean = 0.0;
    double ln_square = 0.0;
    next.lapses.clear();
    for (const double lapse : record.grid.lapses()) next.lapses.push_back({lapse, 0.0});
    for (std::size_t node = 0; node < fit.node_weights.size(); ++node) {
        const double ln = std::log(record.grid.widths()[node / next.lapses.size()]);
        ln_mean += fit.node_weights[node] * ln;
        ln_square += fit.node_weights[node] * ln * ln;
        next.lapses[node % next.lapses.size()].weight += fit.node_weights[node];
    }
    if (prior.width_ln_sd > 0.0 && record.grid.widths().size() > 1) {
        constexpr double least_ln_sd = 0.05;  // the nodes are no finer than that
        next.width_ln_mean = ln_mean;
        next.width_ln_sd = std::max(std::sqrt(std::max(ln_square - ln_mean * ln_mean, 0.0)), least_ln_sd);
    }
    return next;
}

AgainstControl against_control(const Change& drilled, const Change& control) {
    AgainstControl found;
    found.change.log10 = drilled.change.log10 - control.change.log10;
    found.change.sd_log10 = std::hypot(drilled.change.sd_log10, control.change.sd_log10);
    found.change.lower_log10 =
        found.change.log10 - std::hypot(drilled.change.log10 - drilled.change.lower_log10,
                                        control.change.upper_log10 - control.change.log10);
    found.change.upper_log10 =
        found.change.log10 + std::hypot(drilled.change.upper_log10 - drilled.change.log10,
                                        control.change.log10 - control.change.lower_log10);
    found.probability_fell_more =
        0.5 * std::erfc(found.change.log10 / found.change.sd_log10 / std::sqrt(2.0));
    return found;
}

}  // namespace sipladder::trend

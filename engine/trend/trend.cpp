#include "engine/trend/trend.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/trend/design.hpp"
#include "engine/trend/line_fit.hpp"
#include "engine/trend/record.hpp"

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

using threshold::GridLikelihood;

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
    found.change = line::mixture(fit.changes, design.change_mixing_sd);
    found.probability_fell = line::below_zero(fit.changes, design.change_mixing_sd);
    found.noise_log10 = normal_975 * weeks * design.still_drift_se;
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

/// How many practice sittings there are, and after how many more the line begins.
std::string practice_words(std::size_t so_far, std::size_t practice) {
    const std::size_t missing = practice - so_far;
    return (so_far == 1 ? "this is a practice sitting" : "these are practice sittings") +
           std::string("; the line begins with the ") +
           (missing == 0   ? "next one."
            : missing == 1 ? "one after the next."
                           : "sitting after " + std::to_string(missing) + " more of them.");
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
        found.notes.push_back("So far " + practice_words(sittings.size(), settings.practice));
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

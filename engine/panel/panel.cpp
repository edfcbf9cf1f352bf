#include "engine/panel/panel.hpp"

#include "engine/panel/population.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/grid_likelihood.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <set>

// A person's width lies around the panel's own, and their lapses are their own; both are summed out person by
// person, so what is kept of a thousand people is a likelihood of theta and width each. All drank from the
// same bottles: the mix's common error moves the panel's value in full, and a rung's own error by the share
// that this rung has in all people's information, since it does not average out over people either.

namespace sipladder::panel {

namespace {

using threshold::GridLikelihood;

void check(std::span<const Member> members, const threshold::Task& task, const Settings& settings) {
    std::vector<Problem> problems;
    if (members.empty()) problems.push_back({"panel", "holds nobody", "at least one person with answers"});
    std::set<std::string> names;
    for (const Member& member : members) {
        if (!names.insert(member.name).second)
            problems.push_back({"panel", "has \"" + member.name + "\" twice", "a name of its own for each"});
        if (!member.told.empty() && !(task == threshold::three_afc))
            problems.push_back({"\"" + member.name + "\"", "has certainty or grades beside another task",
                                "a threshold of 3-AFC, which is what these tell of"});
        if (member.counts.empty() && member.told.empty())
            problems.push_back({"\"" + member.name + "\"", "has no answers", "at least one answer"});
    }
    const auto want = [&](double value, bool holds, const char* where, const char* right) {
        if (!holds) problems.push_back({where, "is " + exact(value), right});
    };
    want(settings.u_shared_log10, settings.u_shared_log10 >= 0.0 && std::isfinite(settings.u_shared_log10),
         "common uncertainty", "0 or greater");
    want(settings.width_between_ln_sd, settings.width_between_ln_sd > 0.0, "width_between_ln_sd",
         "above 0; one width for everybody is the mixed model's");
    want(settings.spread_scale_log10, settings.spread_scale_log10 > 0.0, "spread_scale_log10", "above 0");
    want(settings.theta_step_log10, settings.theta_step_log10 > 0.0, "theta_step_log10", "above 0");
    want(settings.false_share, settings.false_share > 0.0 && settings.false_share < 1.0, "false_share",
         "between 0 and 1");
    if (!problems.empty()) throw Refused(problems);
}

bool learns_width(const threshold::Prior& prior, const Settings& settings) {
    return settings.width_between_ln_sd < prior.width_ln_sd && prior.width_upper > prior.width_lower;
}

threshold::Grid grid_for(const threshold::Prior& prior, const Settings& settings) {
    std::size_t widths = settings.widths;
    if (learns_width(prior, settings)) {
        // Nodes closer than the spread of widths around the panel's, or that spread would be lost between
        // them.
        constexpr double most = 60.0;
        const double range = std::log(prior.width_upper / prior.width_lower);
        const double wanted = std::min(range / (1.2 * settings.width_between_ln_sd), most);
        widths = std::max(widths, static_cast<std::size_t>(std::ceil(wanted)));
    }
    return {2, settings.theta_step_log10, widths};
}

/// What is kept of everybody: lapses summed out.
struct Crowd {
    std::vector<double> cells;  // [person][width][theta]
    std::vector<double> log_scales;
    std::vector<std::vector<double>> own;  // [person]: theta probabilities, by themselves
    std::vector<double> lapses;            // posterior means
    std::vector<double> width_ln;
    std::vector<std::vector<threshold::HabitLikelihood::Found>> told;  // [person]
};

Crowd crowd_of(GridLikelihood& grid, threshold::HabitLikelihood& habits, std::span<const Member> members) {
    Crowd crowd;
    const std::size_t thetas = grid.thetas().size();
    const std::size_t widths = grid.widths().size();
    crowd.cells.assign(members.size() * widths * thetas, 0.0);
    for (std::size_t i = 0; i < members.size(); ++i) {
        GridLikelihood::Cells found = grid.of(members[i].counts);
        crowd.told.emplace_back();
        for (const threshold::HabitAnswers& answers : members[i].told) {
            crowd.told.back().push_back(habits.of(answers));
            threshold::multiply(found, crowd.told.back().back().cells);
            crowd.told.back().back().cells = {};
        }
        crowd.log_scales.push_back(found.log_scale);
        std::vector<double>& own = crowd.own.emplace_back(thetas, 0.0);
        const double* cell = found.values.data();
        double total = 0.0;
        double lapse_sum = 0.0;
        double width_sum = 0.0;
        for (std::size_t w = 0; w < widths; ++w) {
            double* row = &crowd.cells[(i * widths + w) * thetas];
            double in_width = 0.0;
            for (std::size_t l = 0; l < grid.lapses().size(); ++l) {
                const double weight = grid.lapse_weights()[l];
                double mass = 0.0;
                for (std::size_t t = 0; t < thetas; ++t, ++cell) {
                    row[t] += weight * *cell;
                    mass += *cell * grid.theta_weights()[t];
                }
                lapse_sum += grid.width_weights()[w] * weight * mass * grid.lapses()[l];
                in_width += weight * mass;
            }
            total += grid.width_weights()[w] * in_width;
            width_sum += grid.width_weights()[w] * in_width * std::log(grid.widths()[w]);
            for (std::size_t t = 0; t < thetas; ++t)
                own[t] += grid.width_weights()[w] * row[t] * grid.theta_weights()[t];
        }
        for (double& value : own) value /= total;
        crowd.lapses.push_back(lapse_sum / total);
        crowd.width_ln.push_back(width_sum / total);
    }
    return crowd;
}

/// Weights of the width nodes for people around a panel of this width.
std::vector<double> width_weights(const GridLikelihood& grid, double width_ln, double between) {
    std::vector<double> weights;
    double total = 0.0;
    for (const double width : grid.widths()) {
        const double z = (std::log(width) - width_ln) / between;
        weights.push_back(std::exp(-0.5 * z * z));
        total += weights.back();
    }
    for (double& weight : weights) weight /= total;
    return weights;
}

population::Likelihoods at_width(const GridLikelihood& grid, const Crowd& crowd,
                                 std::span<const double> weights) {
    const std::size_t thetas = grid.thetas().size();
    population::Likelihoods people(crowd.own.size() * thetas, 0.0);
    const double* cell = crowd.cells.data();
    for (std::size_t i = 0; i < crowd.own.size(); ++i)
        for (const double weight : weights) {
            double* row = &people[i * thetas];
            for (std::size_t t = 0; t < thetas; ++t) row[t] += weight * *cell++;
        }
    return people;
}

population::Input input_of(const GridLikelihood& grid, const Crowd& crowd, const threshold::Prior& prior,
                           const Settings& settings) {
    population::Input input;
    input.thetas = grid.thetas();
    input.theta_step = grid.theta_step();
    input.people = crowd.own.size();
    input.spread_scale = settings.spread_scale_log10;
    input.mean_ln_prior = [&prior](double mean) {
        const double density = threshold::theta_density(prior, mean);
        return density > 0.0 ? std::log(density) : -std::numeric_limits<double>::max() / 4.0;
    };
    if (learns_width(prior, settings)) {
        const double between = settings.width_between_ln_sd;
        const double sd = std::sqrt(prior.width_ln_sd * prior.width_ln_sd - between * between);
        input.width_ln_lower = std::log(prior.width_lower);
        input.width_ln_upper = std::log(prior.width_upper);
        input.width_ln_prior = [mean = prior.width_ln_mean, sd](double ln) {
            return -0.5 * (ln - mean) * (ln - mean) / (sd * sd);
        };
        input.at_width = [&grid, &crowd, between](double ln) {
            return at_width(grid, crowd, width_weights(grid, ln, between));
        };
    } else {
        input.width_ln_prior = [](double) { return 0.0; };
        input.at_width = [&grid, &crowd](double) { return at_width(grid, crowd, grid.width_weights()); };
    }
    return input;
}

double mean_of(std::span<const double> values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

/// What rungs' own errors do to the panel's value and to each person.
struct RungErrors {
    double panel{};
    std::vector<double> people;
};

RungErrors rung_errors(const GridLikelihood& grid, std::span<const Member> members, const Crowd& crowd,
                       const population::Fit& fit, double width_log10, double lapse) {
    RungErrors found{0.0, std::vector<double>(members.size(), 0.0)};
    struct Rung {
        double moved{};  // sum over people of d theta / d x
        double u{};
    };
    std::map<double, Rung> rungs;
    std::vector<std::vector<threshold::RungSlope>> slopes;
    double total = 0.0;
    for (std::size_t i = 0; i < members.size(); ++i) {
        slopes.push_back(threshold::rung_slopes(grid, fit.people[i].thetas, members[i].counts, crowd.told[i],
                                                width_log10, lapse));
        for (const threshold::RungSlope& at : slopes[i]) {
            Rung& rung = rungs[at.x_log10];
            rung.moved += at.slope;
            rung.u = std::max(rung.u, at.u_own_log10);
            total += at.slope;
        }
    }
    if (!(total > 0.0)) return found;
    double square = 0.0;
    for (const auto& [x, rung] : rungs) square += std::pow(rung.moved / total * rung.u, 2.0);
    found.panel = std::sqrt(square);
    for (std::size_t i = 0; i < members.size(); ++i) {
        // What a person's own answers do not hold, the panel's mean does, and it moves with its rungs.
        double own = 0.0;
        for (const threshold::RungSlope& at : slopes[i]) own += at.slope;
        const double rest = std::max(1.0 - own, 0.0);
        std::map<double, double> parts;
        for (const auto& [x, rung] : rungs) parts[x] = rest * rung.moved / total;
        for (const threshold::RungSlope& at : slopes[i]) parts[at.x_log10] += at.slope;
        double sum = 0.0;
        for (const auto& [x, part] : parts) sum += std::pow(part * rungs.at(x).u, 2.0);
        found.people[i] = std::sqrt(sum);
    }
    return found;
}

bool has_rung_errors(std::span<const Member> members) {
    const auto is_off = [](const auto& at) { return at.u_own_log10 > 0.0; };
    return std::any_of(members.begin(), members.end(), [&](const Member& member) {
        return std::any_of(member.counts.begin(), member.counts.end(), is_off) ||
               std::any_of(member.told.begin(), member.told.end(), [&](const auto& answers) {
                   return std::any_of(answers.answers.begin(), answers.answers.end(), is_off);
               });
    });
}

double log_choose(const threshold::Counts& at) {
    const auto n = static_cast<double>(at.presentations);
    const auto k = static_cast<double>(at.correct);
    return std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0);
}

/// Smallest false sign rates first, as long as their mean stays within the share allowed.
void find_who_differs(Panel& panel, double false_share) {
    std::vector<std::size_t> order(panel.people.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const auto wrong = [&](std::size_t i) {
        return std::min(panel.people[i].probability_above, 1.0 - panel.people[i].probability_above);
    };
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return wrong(a) < wrong(b); });
    for (const std::size_t i : order) {
        const double sum = panel.expected_wrong + wrong(i);
        if (sum > false_share * static_cast<double>(panel.differing + 1)) break;
        panel.expected_wrong = sum;
        ++panel.differing;
        panel.people[i].stand =
            panel.people[i].probability_above > 0.5 ? Stand::less_sensitive : Stand::more_sensitive;
    }
}

void add_notes(Panel& panel) {
    constexpr std::size_t few = 5;  // judgement
    if (panel.people.size() < few)
        panel.notes.push_back("With " + std::to_string(panel.people.size()) +
                              (panel.people.size() == 1 ? " person" : " people") +
                              " the spread between people is hardly more than an assumption.");
}

}  // namespace

Panel pooled(std::span<const Member> members, const threshold::Prior& prior, const threshold::Task& task,
             const Settings& settings) {
    check(members, task, settings);
    const threshold::Grid fineness = grid_for(prior, settings);
    GridLikelihood grid(threshold::Posterior(prior, task, fineness));
    threshold::HabitLikelihood habits(prior, fineness);
    const Crowd crowd = crowd_of(grid, habits, members);
    const population::Fit fit = population::fit(input_of(grid, crowd, prior, settings));
    Panel panel;
    panel.scale = settings.scale;
    panel.prior = prior.name;
    panel.width_log10 = std::exp(learns_width(prior, settings) ? fit.width_ln : mean_of(crowd.width_ln));
    panel.lapse = mean_of(crowd.lapses);
    RungErrors rungs{0.0, std::vector<double>(members.size(), 0.0)};
    const bool has_own_errors = has_rung_errors(members);
    if (has_own_errors) rungs = rung_errors(grid, members, crowd, fit, panel.width_log10, panel.lapse);
    panel.mixing_sd_log10 = std::hypot(settings.u_shared_log10, rungs.panel);
    panel.mean = threshold::widened(fit.mean, panel.mixing_sd_log10);
    panel.spread = fit.spread;
    panel.people_mean = threshold::widened(fit.people_mean, panel.mixing_sd_log10);
    for (std::size_t i = 0; i < members.size(); ++i) {
        Person person;
        person.name = members[i].name;
        const double own_rungs =
            has_own_errors
                ? threshold::rung_error(threshold::rung_slopes(grid, crowd.own[i], members[i].counts,
                                                               crowd.told[i], panel.width_log10, panel.lapse))
                : 0.0;
        person.own =
            threshold::widened(threshold::estimate_of(grid.thetas(), grid.theta_step(), crowd.own[i]),
                               std::hypot(settings.u_shared_log10, own_rungs));
        person.shrunken =
            threshold::widened(threshold::estimate_of(grid.thetas(), grid.theta_step(), fit.people[i].thetas),
                               std::hypot(settings.u_shared_log10, rungs.people[i]));
        person.probability_above = fit.people[i].above;
        panel.people.push_back(std::move(person));
        panel.log_likelihood += crowd.log_scales[i] + fit.people[i].log_likelihood;
        for (const threshold::Counts& at : members[i].counts) panel.log_likelihood += log_choose(at);
    }
    find_who_differs(panel, settings.false_share);
    add_notes(panel);
    return panel;
}

}  // namespace sipladder::panel

#include "engine/threshold/quick_look.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/graded_cups.hpp"
#include "engine/threshold/habit_threshold.hpp"
#include "engine/threshold/next_level.hpp"
#include "engine/threshold/percepts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>
#include <utility>

// A grade counts the cut points that a percept exceeds. First cut, spacing and the noise of clear cups differ
// between people and are learned. The cuts also drift as a person goes on ("was that a two, earlier?"): a
// walk of the first cut on its lattice, slow or quick. A fit that takes them as fixed claims too much after
// some seventy cups.

namespace sipladder::threshold {

namespace {

struct Weighted {
    double value;
    double weight;
};
// Judgement, all in units of the blank's noise; likely habits fully, others less.
constexpr double first_step = 0.25;
constexpr std::array<Weighted, 14> firsts{{{-1.25, 0.02},
                                           {-1.0, 0.03},
                                           {-0.75, 0.05},
                                           {-0.5, 0.12},
                                           {-0.25, 0.4},
                                           {0.0, 1.0},
                                           {0.25, 1.1},
                                           {0.5, 1.1},
                                           {0.75, 1.0},
                                           {1.0, 0.6},
                                           {1.25, 0.2},
                                           {1.5, 0.08},
                                           {1.75, 0.03},
                                           {2.0, 0.02}}};
constexpr std::array<Weighted, 5> spacings{{{0.4, 0.9}, {0.55, 1.1}, {0.75, 1.2}, {1.0, 1.0}, {1.35, 0.4}}};
constexpr std::array<Weighted, 2> ratios{{{1.0, 0.62}, {1.3, 0.38}}};
constexpr std::array<Weighted, 2> paces{{{0.03, 0.6}, {0.10, 0.4}}};  // SD a cup

struct Habit {
    double first{};
    double spacing{};
    double ratio{};
    double weight{};
};

/// First cuts side by side, so that a person may wander along them.
std::vector<Habit> habits() {
    std::vector<Habit> all;
    double sum = 0.0;
    for (const Weighted& spacing : spacings)
        for (const Weighted& ratio : ratios)
            for (const Weighted& first : firsts) {
                all.push_back(
                    {first.value, spacing.value, ratio.value, first.weight * spacing.weight * ratio.weight});
                sum += all.back().weight;
            }
    for (Habit& habit : all) habit.weight /= sum;
    return all;
}

double noise_of(double ratio, double distance) {
    return 1.0 + (ratio - 1.0) * std::min(1.0, 0.5 * distance);
}

void add_shares(HabitModel& model, const Habit& habit, double distance, std::size_t grades) {
    constexpr double least = 1e-6;  // a slip of the finger is never impossible
    const double noise = noise_of(habit.ratio, distance);
    double more = 1.0;
    const std::vector<double> cuts = percepts::cut_points(habit.first, habit.spacing, grades);
    for (std::size_t g = 0; g < model.lanes; ++g) {
        const double next = g < cuts.size() ? normal_below((distance - cuts[g]) / noise) : 0.0;
        model.shares.push_back(g < grades ? static_cast<float>(std::max(more - next, least)) : 0.0F);
        more = next;
    }
}

void check_cups(std::size_t levels, std::span<const GradedCup> cups, std::size_t grades) {
    for (std::size_t i = 0; i < cups.size(); ++i) {
        const std::string where = "cup " + std::to_string(i + 1);
        if (cups[i].grade >= grades)
            throw Refused(where, "has grade " + std::to_string(cups[i].grade),
                          "0 to " + std::to_string(grades - 1));
        if (cups[i].level && *cups[i].level >= levels)
            throw Refused(where, "has level " + std::to_string(*cups[i].level), "a level of the ladder");
    }
}

/// Blanks and levels counted, for the sentences that both fits of graded cups share.
std::vector<GradedCounts> counts_of(std::span<const double> levels, std::span<const GradedCup> cups,
                                    std::size_t grades) {
    std::vector<GradedCounts> counts{{std::nullopt, std::vector<std::size_t>(grades, 0)}};
    for (const double x : levels) counts.push_back({x, std::vector<std::size_t>(grades, 0)});
    for (const GradedCup& cup : cups) ++counts[cup.level ? *cup.level + 1 : 0].grades[cup.grade];
    return counts;
}

/// Means over habits, and how much of the probability lies on the outermost.
double describe(const HabitPosterior& posterior, std::size_t grades, QuickLook& look) {
    const std::vector<Habit> all = habits();
    const std::vector<double> shares = posterior.habit_marginal();
    const std::vector<double> by_pace = posterior.pace_marginal();
    look.cut_points.assign(grades - 1, 0.0);
    double outermost = 0.0;
    for (std::size_t j = 0; j < all.size(); ++j) {
        const std::vector<double> cuts = percepts::cut_points(all[j].first, all[j].spacing, grades);
        for (std::size_t k = 0; k < cuts.size(); ++k) look.cut_points[k] += shares[j] * cuts[k];
        look.spacing += shares[j] * all[j].spacing;
        look.sd_ratio += shares[j] * all[j].ratio;
        if (all[j].first == firsts.front().value || all[j].first == firsts.back().value)
            outermost += shares[j];
    }
    double square = 0.0;
    for (std::size_t p = 0; p < paces.size(); ++p) square += by_pace[p] * paces[p].value * paces[p].value;
    look.wander_per_cup = std::sqrt(square);
    return outermost;
}

void warn_of_wandering(QuickLook& look, std::size_t cups) {
    constexpr double far = 0.07;  // between the two paces
    constexpr std::size_t enough = 24;
    if (cups < enough || look.wander_per_cup < far) return;
    look.threshold.warnings.push_back(
        {Warning::Kind::fatigue,
         "What the grades mean seems to have shifted during the sitting, which the interval allows for. "
         "Taste "
         "a known blank and a known clear cup now and then, to keep the grades in place."});
}

std::shared_ptr<const HabitModel> made_model(std::size_t grades) {
    const std::vector<Habit> all = habits();
    auto model = std::make_shared<HabitModel>();
    model->edges = percepts::distance_edges();
    model->outcomes = model->asked = grades;
    model->lanes = (grades + 3) / 4 * 4;
    model->habits = all.size();
    model->run = firsts.size();
    model->hops.clear();
    double pace_weights = 0.0;
    for (const Weighted& pace : paces) pace_weights += pace.weight;
    for (const Weighted& pace : paces) {
        // Steps of either sign with this chance have the variance of the walk.
        model->hops.push_back(static_cast<float>(0.5 * std::pow(pace.value / first_step, 2)));
        for (const Habit& habit : all)
            model->prior.push_back(static_cast<float>(habit.weight * pace.weight / pace_weights));
    }
    model->shares.reserve(HabitModel::distances * all.size() * model->lanes);
    for (std::size_t d = 0; d < HabitModel::distances; ++d)
        for (const Habit& habit : all)
            add_shares(*model, habit, HabitModel::distance_step * static_cast<double>(d), grades);
    return model;
}

}  // namespace

std::vector<GradingHabit> grading_habits() {
    double pace_weights = 0.0;
    for (const Weighted& pace : paces) pace_weights += pace.weight;
    std::vector<GradingHabit> all;
    for (const Habit& habit : habits())
        for (const Weighted& pace : paces)
            all.push_back({habit.first, habit.spacing, habit.ratio, pace.value,
                           habit.weight * pace.weight / pace_weights});
    return all;
}

std::shared_ptr<const HabitModel> graded_model(std::size_t grades) {
    constexpr std::size_t most_grades = 10;
    if (grades < 2 || grades > most_grades)
        throw Refused("grades", "are " + std::to_string(grades), "2 to " + std::to_string(most_grades));
    if (grades != quick_look_grades) return made_model(grades);
    static const std::shared_ptr<const HabitModel> usual = made_model(quick_look_grades);  // dear to make
    return usual;
}

HabitPosterior graded_posterior(const Prior& prior, Fineness fineness, std::size_t grades) {
    return {graded_model(grades), prior, fineness == Fineness::coarse ? coarse_habit_grid : fine_habit_grid};
}

std::optional<NextCup> next_graded_cup(const HabitPosterior& posterior, const HabitChooser& chooser,
                                       std::span<const int> portions_left, std::span<const GradedCup> served,
                                       double draw) {
    SIPLADDER_EXPECT(chooser.levels() == portions_left.size());
    if (std::none_of(portions_left.begin(), portions_left.end(), [](int left) { return left > 0; }))
        return std::nullopt;
    if (draw < quick_look_blanks) return NextCup{};
    std::vector<std::size_t> levels;
    for (const GradedCup& cup : served)
        if (cup.level) levels.push_back(*cup.level);
    std::vector<double> entropies;
    for (const Foreseen& ahead : chooser.foresee(posterior)) entropies.push_back(ahead.entropy);
    const auto level =
        least_varied(entropies, portions_left, levels, std::vector<bool>(entropies.size(), false));
    return NextCup{level};
}

std::optional<NextCup> next_graded_cup(const HabitPosterior& posterior, std::span<const double> levels_log10,
                                       std::span<const int> portions_left, std::span<const GradedCup> served,
                                       double draw) {
    return next_graded_cup(posterior, HabitChooser(posterior, levels_log10), portions_left, served, draw);
}

GradedTray graded_tray(std::size_t levels, std::size_t cups) {
    SIPLADDER_EXPECT(levels > 0);
    GradedTray tray;
    tray.blanks = static_cast<int>(std::lround(quick_look_blanks * static_cast<double>(cups)));
    const std::size_t spiked = cups - static_cast<std::size_t>(tray.blanks);
    tray.of_level.assign(levels, static_cast<int>(spiked / levels));
    const std::size_t over = spiked % levels;
    for (std::size_t i = 0; i < over; ++i) ++tray.of_level[(levels - over) / 2 + i];
    return tray;
}

QuickLook quick_look(const solution::MixedLadder& ladder, std::span<const GradedCup> cups, const Prior& prior,
                     std::size_t grades) {
    const std::vector<double> levels = levels_log10(ladder);
    check_cups(levels.size(), cups, grades);
    const std::vector<GradedCounts> counts = counts_of(levels, cups, grades);
    const graded::Pooled pooled = graded::pooled(counts);
    HabitPosterior posterior = graded_posterior(prior, Fineness::fine, grades);
    const HabitChooser tables(posterior, levels);
    const DistanceTable blank = posterior.blank_table();
    for (const GradedCup& cup : cups)
        posterior.update(cup.level ? tables.table(*cup.level) : blank, cup.grade);
    std::vector<OutcomeCounts> outcomes;
    for (std::size_t i = 0; i < levels.size(); ++i) {
        const std::vector<std::size_t>& here = counts[i + 1].grades;
        if (std::accumulate(here.begin(), here.end(), std::size_t{0}) > 0) outcomes.push_back({i, here});
    }
    QuickLook look;
    look.threshold = threshold_of(posterior, ladder, outcomes);
    graded::warn(pooled, describe(posterior, grades, look), look.threshold);
    warn_of_wandering(look, cups.size());
    return look;
}

}  // namespace sipladder::threshold

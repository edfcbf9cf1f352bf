#include "engine/text.hpp"
#include "engine/threshold/quick_look.hpp"
#include "tools/benchmark/crossing.hpp"
#include "tools/benchmark/habit_sections.hpp"
#include "tools/benchmark/plain_habits.hpp"
#include "tools/simulate/answering.hpp"

#include <array>
#include <cmath>
#include <memory>
#include <optional>

// Single cups graded in four steps, a third of them blanks. One fit for all people; the plain reference is
// told whether the noise of clear cups has to be learned.

namespace sipladder::benchmark {

namespace {

using simulate::Estimate;
using simulate::Grading;
using simulate::Person;
using Checkpoints = std::span<const std::size_t>;

constexpr threshold::Grid sitting_grid{76, 0.04, 5};
constexpr std::array<std::size_t, 3> shown{24, 40, 72};

threshold::Prior population_prior() {
    threshold::Prior prior = matched_engine_prior();
    constexpr double reach = 1.52;
    prior.lower_log10 = -reach;
    prior.upper_log10 = reach;
    constexpr std::size_t lapses = 3;
    prior.lapses = threshold::beta_lapses(1.5, 48.5, lapses);
    return prior;
}

/// The order of cups fixed beforehand: every 12 hold the 8 rungs once and 4 blanks, shuffled.
std::vector<std::optional<std::size_t>> fixed_order(const Person& person, std::size_t cups) {
    constexpr std::size_t rungs = 8;
    constexpr std::size_t blanks = 4;
    Random random{derived(person.bottles, 21)};
    std::vector<std::optional<std::size_t>> order;
    while (order.size() < cups) {
        std::vector<std::optional<std::size_t>> block(blanks);
        for (std::size_t i = 0; i < rungs; ++i) block.emplace_back(i);
        random.shuffle(block);
        order.insert(order.end(), block.begin(), block.end());
    }
    return order;
}

class Own {
  public:
    explicit Own(const std::vector<double>& levels)
        : start_(threshold::graded_model(), population_prior(), sitting_grid),
          chooser_(start_, levels),
          levels_(levels) {}

    std::vector<Estimate> run(const Person& person, Checkpoints checkpoints, const Grading& grading,
                              bool adaptive) const {
        const std::vector<int> portions(levels_.size(), 1'000'000);
        const auto fixed = fixed_order(person, checkpoints.back());
        const threshold::DistanceTable blank = start_.blank_table();
        threshold::HabitPosterior posterior = start_;
        simulate::Grader grader(grading, person);
        std::vector<threshold::GradedCup> served;
        std::vector<Estimate> found;
        for (std::size_t number = 0; number < checkpoints.back(); ++number) {
            std::optional<std::size_t> level = fixed[number];
            if (adaptive) {
                const double draw = simulate::is_blank_cup(person, number) ? 0.0 : 0.5;
                level = next_graded_cup(posterior, chooser_, portions, served, draw)->level;
            }
            const std::size_t grade =
                grader.grade(number, level ? std::optional(levels_[*level]) : std::nullopt);
            served.push_back({level, grade});
            posterior.update(level ? chooser_.table(*level) : blank, grade);
            if (number + 1 == checkpoints[found.size()])
                found.push_back(
                    {posterior.mean(), posterior.quantile(0.025), posterior.quantile(0.975), posterior.sd()});
        }
        return found;
    }

  private:
    threshold::HabitPosterior start_;
    threshold::HabitChooser chooser_;
    std::vector<double> levels_;
};

std::vector<Estimate> run_plain(const PlainHabits& reference, const std::vector<double>& levels,
                                const Person& person, Checkpoints checkpoints, const Grading& grading,
                                bool adaptive) {
    const auto fixed = fixed_order(person, checkpoints.back());
    PlainHabits::Belief belief = reference.start();
    simulate::Grader grader(grading, person);
    std::vector<Estimate> found;
    for (std::size_t number = 0; number < checkpoints.back(); ++number) {
        std::optional<std::size_t> level = fixed[number];
        if (adaptive) {
            level.reset();
            if (!simulate::is_blank_cup(person, number)) level = reference.choose(belief);
        }
        reference.update(belief, level,
                         grader.grade(number, level ? std::optional(levels[*level]) : std::nullopt));
        if (number + 1 == checkpoints[found.size()]) found.push_back(reference.estimate(belief));
    }
    return found;
}

struct Condition {
    std::string name;
    bool adaptive = true;
    Grading grading;
    bool ratio_learned = false;  ///< by the reference
    double most_cups = 0.0;      ///< wanted to an RMSE of 0.12; 0: nothing is wanted
    double most_rmse_40 = 0.0;   ///< wanted after 40 cups; 0: nothing is wanted
};

std::vector<Condition> conditions() {
    std::vector<Condition> all;
    const auto add = [&](const char* name, bool adaptive, double most_cups, double most_rmse) -> Grading& {
        all.push_back({name, adaptive, {}, false, most_cups, most_rmse});
        return all.back().grading;
    };
    const auto varies = [](Grading& grading) -> Grading& {
        grading.spacing_lower = 0.4;
        grading.spacing_upper = 1.1;
        return grading;
    };
    varies(add("adaptive, spacing varies", true, 43.0, 0.0));
    varies(add("adaptive, spacing varies, walk 0.10", true, 52.0, 0.0)).walk = 0.10;
    add("adaptive, SD ratio 1.25", true, 53.0, 0.0).sd_ratio = 1.25;
    all.back().ratio_learned = true;
    Grading& narrow = add("adaptive, spacing 0.4", true, 43.0, 0.0);
    narrow.spacing_lower = narrow.spacing_upper = 0.4;
    varies(add("alone, spacing varies", false, 0.0, 0.165));
    varies(add("alone, spacing varies, walk 0.05", false, 0.0, 0.165)).walk = 0.05;
    add("alone, walk 0.10", false, 0.0, 0.165).walk = 0.10;
    return all;
}

std::vector<std::string> headings() {
    std::vector<std::string> names;
    for (const char* what : {"RMSE ", "coverage "})
        for (const std::size_t n : shown) names.push_back(what + std::to_string(n));
    names.emplace_back("cups to 0.12");
    names.emplace_back("more than the reference");
    return names;
}

Row row_of(const std::string& name, const Outcome& found, const Outcome& reference, Checkpoints checkpoints) {
    Row row{name, {}};
    for (const std::size_t n : shown)
        row.cells.push_back(simulate::rmse_of(found.errors[n - checkpoints.front()]));
    for (const std::size_t n : shown) row.cells.push_back(coverage_of(found, n - checkpoints.front()));
    const Crossing reached = crossing(found, checkpoints, 1.0, 0.12);
    row.cells.push_back(reached.cups);
    row.cells.push_back(cups_more(reached, crossing(reference, checkpoints, 1.0, 0.12)));
    return row;
}

void add_goals(Report& report, const Condition& condition, const Outcome& own, Checkpoints checkpoints) {
    const std::string name = "quick look, " + condition.name;
    if (condition.most_cups > 0.0)
        report.goals.push_back(at_most(name + ", cups to an RMSE of 0.12",
                                       crossing(own, checkpoints, 1.0, 0.12).cups, condition.most_cups));
    if (condition.most_rmse_40 > 0.0)
        report.goals.push_back(at_most(name + ", RMSE after 40 cups",
                                       simulate::rmse_of(own.errors[40 - checkpoints.front()]),
                                       condition.most_rmse_40));
    for (const std::size_t n : shown)
        report.goals.push_back(at_least(name + ", coverage at " + std::to_string(n) + " cups",
                                        coverage_of(own, n - checkpoints.front()), 0.93));
}

}  // namespace

void add_quick_look(Report& report, const Run& run) {
    const std::vector<double> twelve = simulate::centred_ladder(12, 1.6);
    const std::vector<double> eight = simulate::centred_ladder(8, 2.0);
    const std::vector<std::size_t> checkpoints = every(20, 72);
    const PlainPrior prior = matched_prior(0.35, 5, 3);
    const PlainHabits plain_adaptive(prior, twelve, grading_habits(false));
    const PlainHabits plain_ratio(prior, twelve, grading_habits(true));
    const PlainHabits plain_alone(prior, eight, grading_habits(false));
    const Own own_adaptive(twelve);
    const Own own_alone(eight);
    Table table{
        "quick_look",
        "Single cups graded in four steps, a third of them blanks: after so many cups",
        "Adaptive: 12 rungs of 1.6. Alone: levels fixed beforehand, 8 rungs of 2. Sipladder: one fit for "
        "all. Plain reference: spacing learned, the SD ratio learned too where it is not 1. Cups to an RMSE "
        "of "
        "0.12 by a line through the checkpoints around it; what is more than the reference's, paired.",
        headings(),
        {}};
    for (const Condition& condition : conditions()) {
        const bool adaptive = condition.adaptive;
        const Own& own = adaptive ? own_adaptive : own_alone;
        const PlainHabits& plain =
            !adaptive ? plain_alone : (condition.ratio_learned ? plain_ratio : plain_adaptive);
        const std::vector<double>& levels = adaptive ? twelve : eight;
        const std::vector<Method> methods{
            {"Sipladder", true,
             [&](const Person& person, Checkpoints at) {
                 return own.run(person, at, condition.grading, adaptive);
             }},
            {"plain reference", true, [&](const Person& person, Checkpoints at) {
                 return run_plain(plain, levels, person, at, condition.grading, adaptive);
             }}};
        const auto found = outcomes("quick look, " + condition.name, {}, methods, checkpoints, run);
        for (std::size_t m = 0; m < methods.size(); ++m)
            table.rows.push_back(
                row_of(condition.name + ": " + methods[m].name, found[m], found[1], checkpoints));
        add_goals(report, condition, found[0], checkpoints);
    }
    report.tables.push_back(std::move(table));
}

}  // namespace sipladder::benchmark

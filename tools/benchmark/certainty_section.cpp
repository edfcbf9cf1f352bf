#include "engine/text.hpp"
#include "engine/threshold/certainty.hpp"
#include "tools/benchmark/crossing.hpp"
#include "tools/benchmark/habit_sections.hpp"
#include "tools/benchmark/plain_habits.hpp"
#include "tools/simulate/answering.hpp"

#include <array>
#include <cmath>
#include <memory>
#include <optional>

// 3-AFC with certainty. One fit for all people, who differ in how they come by their certainty; the plain
// reference is given the fit that suits each of them best.

namespace sipladder::benchmark {

namespace {

using simulate::Estimate;
using simulate::Person;
using simulate::Sureness;
using Checkpoints = std::span<const std::size_t>;

constexpr double cups_each = 3.0;
constexpr threshold::Grid sitting_grid{76, 0.04, 5};
constexpr std::array<std::size_t, 3> shown{8, 16, 32};  // presentations: 24, 48, 96 cups

threshold::Prior population_prior() {
    threshold::Prior prior = matched_engine_prior();
    constexpr double reach = 1.52;
    prior.lower_log10 = -reach;
    prior.upper_log10 = reach;
    constexpr std::size_t lapses = 4;
    prior.lapses = threshold::beta_lapses(1.5, 48.5, lapses);
    return prior;
}

/// This program's fit. @param fitted  false: certainty is asked and left out, as in the shuffled tray
class Own {
  public:
    Own(const std::vector<double>& levels, bool fitted)
        : start_(threshold::certainty_model(), population_prior(), sitting_grid),
          chooser_(start_, levels),
          levels_(levels),
          fitted_(fitted) {}

    std::vector<Estimate> run(const Person& person, Checkpoints checkpoints, const Sureness& sureness) const {
        const std::vector<int> portions(levels_.size(), 1'000'000);
        threshold::HabitPosterior posterior = start_;
        std::vector<std::size_t> served;
        std::vector<Estimate> found;
        for (std::size_t number = 0; number < checkpoints.back(); ++number) {
            const std::size_t level = *next_level_varied(posterior, chooser_, portions, served);
            served.push_back(level);
            const auto answer = simulate::sure_response(sureness, person, number, levels_[level]);
            const auto word =
                fitted_ ? std::optional(static_cast<threshold::Certainty>(answer.certainty)) : std::nullopt;
            posterior.update(chooser_.table(level), threshold::outcome_of(answer.correct, word));
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
    bool fitted_;
};

std::vector<Estimate> run_plain(const PlainHabits& reference, const std::vector<double>& levels,
                                const Person& person, Checkpoints checkpoints, const Sureness& sureness) {
    PlainHabits::Belief belief = reference.start();
    std::vector<Estimate> found;
    for (std::size_t number = 0; number < checkpoints.back(); ++number) {
        const std::size_t level = reference.choose(belief);
        const auto answer = simulate::sure_response(sureness, person, number, levels[level]);
        reference.update(belief, level, (answer.correct ? 0 : 3) + answer.certainty);
        if (number + 1 == checkpoints[found.size()]) found.push_back(reference.estimate(belief));
    }
    return found;
}

enum class Plain { guarded, spacing_learned };

struct People {
    std::string name;
    Sureness sureness;
    Plain reference{};
    double most_cups = 0.0;       ///< wanted to an RMSE of 0.12; 0: nothing is wanted
    double most_more = 0.0;       ///< of these more than the reference takes: less moved by whom luck draws
    bool in_tray = false;         ///< they may know the level, so certainty is not fitted
    bool beside_silence = false;  ///< shown beside a reference that does not ask for certainty
};

std::vector<People> people() {
    std::vector<People> all;
    const auto add = [&](const char* name, Plain reference, double most_cups = 0.0,
                         double most_more = 0.0) -> Sureness& {
        all.push_back({name, {}, reference, most_cups, most_more});
        return all.back().sureness;
    };
    add("Gaussian", Plain::guarded, 56.0, 3.0);
    all.back().beside_silence = true;
    add("Gaussian, c wanders", Plain::guarded).jitter = 0.4;
    add("spacing 0.5", Plain::spacing_learned, 60.0, 4.0).spacing = 0.5;
    add("spacing 1.6", Plain::spacing_learned, 60.0, 9.0).spacing = 1.6;
    Sureness& cautious = add("very cautious", Plain::guarded);
    cautious.first_lower = cautious.first_upper = 1.8;
    add("empty", Plain::guarded, 94.0, 3.0).kind = Sureness::Kind::empty;
    all.back().beside_silence = true;
    add("certainty follows the level, in the shuffled tray", Plain::guarded).kind = Sureness::Kind::level;
    all.back().in_tray = true;
    return all;
}

std::vector<std::string> headings() {
    std::vector<std::string> names;
    for (const char* what : {"RMSE ", "coverage "})
        for (const std::size_t n : shown) names.push_back(what + std::to_string(3 * n));
    names.emplace_back("cups to 0.12");
    names.emplace_back("more than the reference");
    return names;
}

Row row_of(const std::string& name, const Outcome& found, const Outcome& reference, Checkpoints checkpoints) {
    Row row{name, {}};
    for (const std::size_t n : shown)
        row.cells.push_back(simulate::rmse_of(found.errors[n - checkpoints.front()]));
    for (const std::size_t n : shown) row.cells.push_back(coverage_of(found, n - checkpoints.front()));
    const Crossing reached = crossing(found, checkpoints, cups_each, 0.12);
    row.cells.push_back(reached.cups);
    row.cells.push_back(cups_more(reached, crossing(reference, checkpoints, cups_each, 0.12)));
    return row;
}

}  // namespace

void add_certainty(Report& report, const Run& run) {
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    const std::vector<std::size_t> checkpoints = every(8, 40);
    const PlainPrior prior = matched_prior(0.35, 5, 3);
    const PlainHabits guarded(prior, levels, guarded_habits());
    const PlainHabits learned(prior, levels, spacing_learned_habits());
    const PlainHabits unasked(prior, levels, {plain_empty(0.35, 0.35, 1.0)});  // its words tell nothing
    const Own listening(levels, true);
    const Own silent(levels, false);
    Table table{
        "certainty",
        "3-AFC with certainty in three steps, 12 rungs of 1.6: after so many cups",
        "Sipladder: one fit for all. Plain reference: guarded, or its spacing learned for spacings 0.5 "
        "and 1.6; it fits the tray's certainty too, to show what that would do. Cups to an RMSE of 0.12 by a "
        "line through the checkpoints around it; what is more than the reference's, paired.",
        headings(),
        {}};
    for (const People& who : people()) {
        const Own& own = who.in_tray ? silent : listening;
        const PlainHabits& plain = who.reference == Plain::guarded ? guarded : learned;
        std::vector<Method> methods{
            {"Sipladder", true,
             [&](const Person& person, Checkpoints at) { return own.run(person, at, who.sureness); }},
            {"plain reference", true, [&](const Person& person, Checkpoints at) {
                 return run_plain(plain, levels, person, at, who.sureness);
             }}};
        if (who.beside_silence)
            methods.push_back(
                {"plain reference, certainty not asked", true, [&](const Person& person, Checkpoints at) {
                     return run_plain(unasked, levels, person, at, who.sureness);
                 }});
        const auto found = outcomes("certainty, " + who.name, {}, methods, checkpoints, run);
        for (std::size_t m = 0; m < methods.size(); ++m)
            table.rows.push_back(row_of(who.name + ": " + methods[m].name, found[m], found[1], checkpoints));
        if (who.most_cups > 0.0) {
            const Crossing own_cups = crossing(found[0], checkpoints, cups_each, 0.12);
            const Crossing plain_cups = crossing(found[1], checkpoints, cups_each, 0.12);
            report.goals.push_back(at_most("certainty, " + who.name + ", cups to an RMSE of 0.12",
                                           own_cups.cups, who.most_cups));
            report.goals.push_back(
                at_most("certainty, " + who.name + ", of these more than the plain reference, paired",
                        cups_more(own_cups, plain_cups), who.most_more));
        }
        for (const std::size_t n : shown)
            report.goals.push_back(
                at_least("certainty, " + who.name + ", coverage at " + std::to_string(3 * n) + " cups",
                         coverage_of(found[0], n - checkpoints.front()), 0.93));
    }
    report.tables.push_back(std::move(table));
}

}  // namespace sipladder::benchmark

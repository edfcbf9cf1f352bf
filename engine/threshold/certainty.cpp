#include "engine/threshold/certainty.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/habit_threshold.hpp"
#include "engine/threshold/next_level.hpp"
#include "engine/threshold/percepts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>

// The strongest of three percepts is picked, and its lead over the second strongest says how sure one is:
//   P(right, lead > c) = ∫ φ(u) Φ(u + d' - c)² du
//   P(wrong, lead > c) = 2 ∫ φ(u) Φ(u - c) Φ(u - c - d') du
// Cut points c and c + spacing are learned. A person whose certainty says nothing is learned too: for such a
// one the shares of the three words are the same at every level, right or wrong, and only right or wrong
// counts. Which of the two it is, the answers decide: this keeps empty certainty from moving a threshold.
//
// Two priors over these habits. The likely one makes the estimate: a wider one costs everybody cups. Under it
// alone the interval of those whose certainty is empty, or who are very cautious, held 0.92 in place of 0.95
// after a few answers, so SD and interval are those of a guarded prior, over the same likelihood.

namespace sipladder::threshold {

namespace {

constexpr std::size_t words = 3;
constexpr std::size_t right_alone = 6;
constexpr std::size_t wrong_alone = 7;
constexpr std::size_t outcomes = 8;

struct Weighted {
    long hundredths;
    double likely;
    double guard;
};
// Judgement: the lead at which "leaning" begins, and how much further "sure" does, in units of the noise.
// Likely people make the estimate; the guard, which asks what else cannot be ruled out, makes its interval.
constexpr std::array<Weighted, 6> firsts{
    {{30, 0.5, 1}, {50, 1.1, 1}, {75, 1.2, 1}, {100, 1.1, 1}, {135, 0.25, 1}, {185, 0.18, 1}}};
constexpr std::array<Weighted, 5> spacings{
    {{45, 1.5, 1}, {62, 1.3, 1}, {92, 1.4, 1}, {122, 0.9, 1}, {160, 0.5, 1}}};
constexpr double empty_likely = 0.2;
constexpr double empty_guard = 0.5;

/// Right and wrong with a lead above c.
struct Beyond {
    double right{};
    double wrong{};
};

class Leads {
  public:
    Leads() {
        const double scale =
            0.01 * static_cast<double>(step) * std::numbers::inv_sqrtpi / std::numbers::sqrt2;
        for (long u = -reach; u <= reach; u += step) {
            const double z = 0.01 * static_cast<double>(u);
            weights_.push_back(scale * std::exp(-0.5 * z * z));
        }
    }
    Beyond beyond(std::size_t distance, long cut_hundredths) const {
        const auto d = static_cast<long>(2 * distance);
        Beyond sum;
        std::size_t place = 0;
        for (long u = -reach; u <= reach; u += step) {
            const double weight = weights_[place++];
            const double ahead = normal_.below(u + d - cut_hundredths);
            sum.right += weight * ahead * ahead;
            sum.wrong +=
                2.0 * weight * normal_.below(u - cut_hundredths) * normal_.below(u - cut_hundredths - d);
        }
        return sum;
    }

  private:
    static constexpr long step = 25;  // hundredths: for such bells the trapezoid rule is exact to 1e-9
    static constexpr long reach = 600;
    percepts::NormalTable normal_;
    std::vector<double> weights_;
};

/// Cuts in hundredths.
struct Habit {
    long first{};
    long spacing{};
    double likely{};
    double guard{};
};

/// All ways in which certainty may follow the lead; the one that follows nothing comes after them.
std::vector<Habit> habits() {
    std::vector<Habit> all;
    double likely = 0.0;
    double guard = 0.0;
    for (const Weighted& first : firsts)
        for (const Weighted& spacing : spacings) {
            all.push_back({first.hundredths, spacing.hundredths, first.likely * spacing.likely,
                           first.guard * spacing.guard});
            likely += all.back().likely;
            guard += all.back().guard;
        }
    for (Habit& habit : all) {
        habit.likely *= (1.0 - empty_likely) / likely;
        habit.guard *= (1.0 - empty_guard) / guard;
    }
    return all;
}

using Column = std::vector<Beyond>;  // [distance]

/// Outcomes of each habit: guessed, leaning, sure of right answers, then of wrong ones, then right and wrong
/// with nothing said.
void add_shares(HabitModel& model) {
    const Leads leads;
    std::map<long, Column> columns;
    const auto column = [&](long cut) -> const Column& {
        Column& found = columns[cut];
        for (std::size_t d = found.size(); d < HabitModel::distances; ++d)
            found.push_back(leads.beyond(d, cut));
        return found;
    };
    const auto set = [&](std::size_t habit, std::size_t distance,
                         const std::array<double, outcomes>& shares) {
        constexpr double least = 1e-9;  // a slip of the finger is never impossible
        for (std::size_t k = 0; k < outcomes; ++k)
            model.shares[(distance * model.habits + habit) * outcomes + k] =
                static_cast<float>(std::max(shares[k], least));
    };
    const Column& any = column(0);
    const std::vector<Habit> all = habits();
    for (std::size_t d = 0; d < HabitModel::distances; ++d) {
        const auto [right, wrong] = any[d];
        for (std::size_t j = 0; j < all.size(); ++j) {
            const Beyond some = column(all[j].first)[d];
            const Beyond far = column(all[j].first + all[j].spacing)[d];
            set(j, d,
                {right - some.right, some.right - far.right, far.right, wrong - some.wrong,
                 some.wrong - far.wrong, far.wrong, right, wrong});
        }
        // The posterior knows the shares of the words.
        set(all.size(), d, {right, right, right, wrong, wrong, wrong, right, wrong});
    }
}

std::shared_ptr<const HabitModel> made_model() {
    const std::vector<Habit> all = habits();
    auto model = std::make_shared<HabitModel>();
    model->edges = percepts::distance_edges();
    model->outcomes = model->lanes = outcomes;
    model->asked = 2 * words;
    model->habits = (all.size() + 1 + 3) / 4 * 4;
    model->has_empty = true;
    model->empty = all.size();
    model->labels = {0, 1, 2, 0, 1, 2, std::nullopt, std::nullopt};
    model->label_weights = {2.0, 2.0, 2.0};
    model->prior.assign(model->habits, 0.0F);
    model->guard.assign(model->habits, 0.0F);
    for (std::size_t j = 0; j < all.size(); ++j) {
        model->prior[j] = static_cast<float>(all[j].likely);
        model->guard[j] = static_cast<float>(all[j].guard);
    }
    model->prior[model->empty] = static_cast<float>(empty_likely);
    model->guard[model->empty] = static_cast<float>(empty_guard);
    model->shares.assign(HabitModel::distances * model->habits * outcomes, 0.0F);
    add_shares(*model);
    return model;
}

std::string words_for(const CertaintyFit& fit) {
    constexpr std::size_t few = 6;
    if (fit.with_certainty < few) return "";
    constexpr double much = 0.75;
    const std::string share = "about " + significant(100.0 * fit.informative, 2) + " % of it";
    if (fit.informative >= much)
        return "How sure this person was follows what was tasted (" + share +
               "), so it narrows the interval.";
    if (fit.informative <= 1.0 - much)
        return "How sure this person was says next to nothing about what was tasted (" + share +
               " follows it), so right and wrong alone decide.";
    return "How far certainty follows what was tasted is open (" + share + "), so it counts in part.";
}

}  // namespace

std::size_t outcome_of(bool correct, std::optional<Certainty> certainty) {
    if (!certainty) return correct ? right_alone : wrong_alone;
    return (correct ? 0 : words) + static_cast<std::size_t>(*certainty);
}

std::shared_ptr<const HabitModel> certainty_model() {
    static const std::shared_ptr<const HabitModel> model = made_model();  // dear to make, always the same
    return model;
}

HabitPosterior certainty_posterior(const Prior& prior, Fineness fineness) {
    return {certainty_model(), prior, fineness == Fineness::coarse ? coarse_habit_grid : fine_habit_grid};
}

std::optional<std::size_t> next_level_varied(const HabitPosterior& posterior, const HabitChooser& chooser,
                                             std::span<const int> portions_left,
                                             std::span<const std::size_t> served) {
    std::vector<double> entropies;
    std::vector<double> right;
    for (const Foreseen& ahead : chooser.foresee(posterior)) {
        entropies.push_back(ahead.entropy);
        right.push_back(ahead.shares[0] + ahead.shares[1] + ahead.shares[2]);
    }
    return least_varied(entropies, portions_left, served, clear_levels(right, three_afc.guess));
}

CertaintyFit certainty_threshold(const solution::MixedLadder& ladder, std::span<const Answered> answers,
                                 const Prior& prior) {
    HabitPosterior posterior = certainty_posterior(prior, Fineness::fine);
    const std::vector<double> levels = levels_log10(ladder);
    const HabitChooser tables(posterior, levels);
    std::map<std::size_t, OutcomeCounts> by_level;
    CertaintyFit fit;
    for (const Answered& answer : answers) {
        SIPLADDER_EXPECT(answer.level < levels.size());
        const std::size_t outcome = outcome_of(answer.correct, answer.certainty);
        posterior.update(tables.table(answer.level), outcome);
        OutcomeCounts& at = by_level[answer.level];
        at.level = answer.level;
        at.outcomes.resize(outcomes, 0);
        ++at.outcomes[outcome];
        if (answer.certainty) ++fit.with_certainty;
    }
    std::vector<OutcomeCounts> counts;
    counts.reserve(by_level.size());
    for (auto& [level, at] : by_level) counts.push_back(std::move(at));
    fit.threshold = threshold_of(posterior, ladder, counts);
    const std::vector<double> shares = posterior.habit_marginal();
    fit.informative = 1.0 - shares[posterior.model().empty];
    fit.text = words_for(fit);
    Posterior plain(prior, three_afc, Fineness::coarse);
    const std::vector<Counts> right_of = counts_of(ladder, {answers.begin(), answers.end()});
    for (const Counts& at : right_of) plain.update(at);
    fit.threshold.warnings = warnings_for(plain, right_of, ladder.scale);
    return fit;
}

}  // namespace sipladder::threshold

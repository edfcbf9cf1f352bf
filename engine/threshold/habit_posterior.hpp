#pragma once

#include "engine/threshold/posterior.hpp"

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace sipladder::threshold {

/// Ways in which a person may turn what is tasted into one of a few answers, and how likely each answer is at
/// each distance d' of the cup from a blank. Made by `certainty_model` and `graded_model`.
struct HabitModel {
    static constexpr double distance_step = 0.02;
    static constexpr std::size_t distances = 451;  ///< d' 0 to 9; beyond it every answer is as at 9

    std::vector<double> edges;  ///< (x - theta)/s half-way between neighbouring distances, ascending
    std::size_t outcomes{};     ///< of one question
    std::size_t lanes{};        ///< outcomes filled up to a multiple of 4
    std::size_t asked{};        ///< the first so many are what is foreseen when the next level is chosen
    std::size_t habits{};       ///< a multiple of 4; unused ones have no weight
    std::vector<float> prior;   ///< [pace][habit], sums to 1
    /// Weights that take the place of `prior` when SD and interval are claimed, so that people of rare habits
    /// are not promised too much; the value stays that of the likely habits. One a habit, for a model in
    /// which none wanders; empty: the prior's own.
    std::vector<float> guard;
    std::vector<float> shares;  ///< [distance][habit][lane]
    /// Habits that lie side by side, so many a run, differ by one step only; a person may wander along them
    /// from cup to cup.
    std::size_t run = 1;
    std::vector<float> hops{0.0F};  ///< [pace] probability of a step each way, before each cup but the first
    /// The last habit with weight says nothing: its labels follow the person's own shares, learned from the
    /// labels given. Each outcome's label, or none.
    bool has_empty = false;
    std::size_t empty = 0;  ///< index of that habit
    std::vector<std::optional<std::size_t>> labels;
    std::vector<double> label_weights;  ///< answers that the shares of the labels start from (Dirichlet)
};

/// Where one level's d' lies on the model's table, for each theta and width: all that a level needs.
using DistanceTable = std::vector<std::uint16_t>;

/// Probabilities on the grid of theta, width, lapse, and the person's habit of answering; they sum to 1.
/// In single precision: the tables are good to 1e-7, which is far below what an answer tells.
class HabitPosterior {
  public:
    HabitPosterior() = default;
    /// @throws Refused  for a prior that cannot be used
    HabitPosterior(std::shared_ptr<const HabitModel> model, Prior prior, const Grid& grid);

    /// Multiplies in one answer, then lets the habit wander on to the next cup.
    /// @param level  nothing: a blank
    /// @pre outcome < model().outcomes, level finite
    void update(std::optional<Log10Level> level, std::size_t outcome);
    /// The same for a level whose table was made before, on a posterior of the same grid.
    void update(const DistanceTable& level, std::size_t outcome);
    DistanceTable table(double x_log10) const;
    DistanceTable blank_table() const { return DistanceTable(thetas_.size() * widths_.size(), 0); }

    const HabitModel& model() const { return *model_; }
    const Prior& prior() const { return prior_; }
    std::size_t answers() const { return answers_; }
    std::span<const double> thetas() const { return thetas_; }  ///< cell centres, ascending, log10
    double theta_step() const { return theta_step_; }
    std::span<const double> widths() const { return widths_; }
    std::span<const double> lapses() const { return lapses_; }
    std::span<const double> theta_marginals() const { return marginal_; }
    std::vector<double> curve_marginal() const;  ///< [theta][width]
    std::vector<double> lapse_marginal() const;
    std::vector<double> habit_marginal() const;  ///< as it is for the next cup
    std::vector<double> pace_marginal() const;
    /// The theta marginal under the model's `guard`; without one, `theta_marginals`.
    std::vector<double> claimed_marginals() const;
    std::vector<double> claimed_cells() const;  ///< the same for every curve: [theta][width][lapse]
    double mean() const;                        ///< of theta
    double sd() const;                          ///< of theta about `mean`, as claimed
    double quantile(double p) const;            ///< of theta, as claimed; cell edges, linear within a cell
    double log_evidence() const { return log_evidence_; }  ///< ln of the answers' probability, in their order
    /// Probability of each outcome that is foreseen, and of this theta: [theta][outcome].
    std::vector<double> outcome_masses(const DistanceTable& level) const;
    bool operator==(const HabitPosterior& other) const {
        return answers_ == other.answers_ && prior_ == other.prior_ && cells_ == other.cells_;
    }

  private:
    double multiply(const DistanceTable& level, std::size_t outcome);
    void sum_up(float scale, bool wander);
    std::vector<float> empty_factors() const;
    std::vector<double> guard_odds() const;

    std::shared_ptr<const HabitModel> model_;
    Prior prior_;
    double theta_step_ = 0.0;
    std::vector<double> thetas_;
    std::vector<double> widths_;
    std::vector<double> lapses_;
    std::vector<float> cells_;        // [theta][width][lapse][pace][habit]
    std::vector<float> keen_;         // [theta][width][habit]: of cell · (share not lapsed)
    std::vector<float> lapsed_;       // [theta][habit]: of cell · (share lapsed)
    std::vector<double> marginal_;    // [theta]
    std::vector<std::size_t> given_;  // labels so far
    std::size_t answers_ = 0;
    double log_evidence_ = 0.0;
};

/// What is foreseen of one answer.
struct Foreseen {
    double entropy{};            ///< nats, of the theta marginal after it, expected
    std::vector<double> shares;  ///< probability of each outcome that is foreseen
};

/// Foresees answers at the levels of one ladder.
class HabitChooser {
  public:
    /// @param grid          any posterior of the model and grid that are to be used
    /// @param levels_log10  log10 of each level as mixed, ascending
    HabitChooser(const HabitPosterior& grid, std::span<const double> levels_log10);
    std::size_t levels() const { return tables_.size(); }
    const DistanceTable& table(std::size_t level) const { return tables_.at(level); }
    /// What one answer at each level is expected to do.
    std::vector<Foreseen> foresee(const HabitPosterior& posterior) const;

  private:
    std::vector<DistanceTable> tables_;
};

}  // namespace sipladder::threshold

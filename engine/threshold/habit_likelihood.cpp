#include "engine/threshold/habit_likelihood.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/certainty.hpp"
#include "engine/threshold/habit_threshold.hpp"
#include "engine/threshold/percepts.hpp"
#include "engine/threshold/quick_look.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

// A posterior with habits, less its prior of theta, width and lapse. It is in single precision and drops what
// is below 1e-30 of the whole, so the likelihood ends there too: what is less likely counts as that.

namespace sipladder::threshold {

namespace {

constexpr double least = 1e-30;

void check(const HabitAnswers& answers, std::size_t outcomes) {
    if (answers.answers.empty()) throw Refused("answers", "there are none", "at least one answer");
    for (const HabitAnswer& answer : answers.answers) {
        if (!answer.x_log10 && answers.by == HabitAnswers::By::certainty)
            throw Refused("level", "is a blank", "blanks stand beside graded cups only");
        if (answer.x_log10 && !std::isfinite(*answer.x_log10))
            throw Refused("level", "is not a finite number", "a concentration above 0");
        if (answer.outcome >= outcomes)
            throw Refused("answer", "is number " + std::to_string(answer.outcome),
                          "0 to " + std::to_string(outcomes - 1));
        if (!(answer.u_own_log10 >= 0.0 && std::isfinite(answer.u_own_log10)))
            throw Refused("level uncertainty", "is below 0 or no number", "0 or greater");
    }
}

std::vector<HabitLikelihood::Rung> rungs_of(const HabitAnswers& answers, std::size_t outcomes) {
    std::map<double, HabitLikelihood::Rung> rungs;
    for (const HabitAnswer& answer : answers.answers) {
        if (!answer.x_log10) continue;
        HabitLikelihood::Rung& rung = rungs[*answer.x_log10];
        rung.x_log10 = *answer.x_log10;
        rung.u_own_log10 = std::max(rung.u_own_log10, answer.u_own_log10);
        rung.outcomes.resize(outcomes, 0);
        ++rung.outcomes[answer.outcome];
    }
    std::vector<HabitLikelihood::Rung> ascending;
    ascending.reserve(rungs.size());
    for (auto& [x, rung] : rungs) ascending.push_back(std::move(rung));
    return ascending;
}

/// @param before  the claimed cells of the posterior before any answer
GridLikelihood::Cells cells_of(const HabitPosterior& posterior, const std::vector<double>& before) {
    const std::vector<double> after = posterior.claimed_cells();
    const std::size_t thetas = posterior.thetas().size();
    const std::size_t nodes = posterior.widths().size() * posterior.lapses().size();
    GridLikelihood::Cells cells{std::vector<double>(after.size(), 0.0), posterior.log_evidence()};
    double most = 0.0;
    for (std::size_t t = 0; t < thetas; ++t)
        for (std::size_t node = 0; node < nodes; ++node) {
            const std::size_t at = t * nodes + node;
            const double likelihood = before[at] > 0.0 ? after[at] / before[at] : 0.0;
            cells.values[node * thetas + t] = likelihood;
            most = std::max(most, likelihood);
        }
    SIPLADDER_EXPECT(most > 0.0);
    for (double& value : cells.values) value = std::max(value / most, least);
    cells.log_scale += std::log(most);
    return cells;
}

/// d(log-likelihood of the answers at one rung) / d(its x), at a theta.
class Score {
  public:
    Score(const HabitLikelihood::Found& told, double width_log10)
        : told_(told),
          scale_(width_in_s(Shape::logistic) / width_log10),
          edges_(percepts::distance_edges()) {}

    double at(const HabitLikelihood::Rung& rung, double theta) const {
        constexpr double apart = 0.05;  // log10 units each way: well above the steps of the distances
        constexpr double least_share = 1e-12;
        const double* weaker = shares(rung.x_log10 - apart - theta);
        const double* stronger = shares(rung.x_log10 + apart - theta);
        double sum = 0.0;
        for (std::size_t o = 0; o < rung.outcomes.size(); ++o)
            if (rung.outcomes[o] > 0)
                sum += static_cast<double>(rung.outcomes[o]) *
                       std::log(std::max(stronger[o], least_share) / std::max(weaker[o], least_share));
        return sum / (2.0 * apart);
    }

  private:
    const double* shares(double above_theta) const {
        const auto edge = std::upper_bound(edges_.begin(), edges_.end(), scale_ * above_theta);
        return told_.shares.data() + static_cast<std::size_t>(edge - edges_.begin()) * told_.lanes;
    }

    const HabitLikelihood::Found& told_;
    double scale_;
    std::vector<double> edges_;
};

}  // namespace

HabitLikelihood::HabitLikelihood(const Prior& prior, const Grid& grid) : prior_(prior), grid_(grid) {}

HabitLikelihood::Way& HabitLikelihood::way(HabitAnswers::By by) {
    const auto known = ways_.find(by);
    if (known != ways_.end()) return known->second;
    const auto model = by == HabitAnswers::By::certainty ? certainty_model() : graded_model();
    HabitPosterior fresh(model, prior_, grid_);
    std::vector<double> cells = fresh.claimed_cells();
    return ways_.emplace(by, Way{std::move(fresh), std::move(cells), {}}).first->second;
}

HabitLikelihood::Found HabitLikelihood::of(const HabitAnswers& answers) {
    Way& way = this->way(answers.by);
    const HabitModel& model = way.fresh.model();
    check(answers, model.outcomes);
    constexpr std::size_t most_tables = 200;
    if (way.tables.size() > most_tables) way.tables.clear();
    HabitPosterior posterior = way.fresh;
    const DistanceTable blank = posterior.blank_table();
    for (const HabitAnswer& answer : answers.answers) {
        if (!answer.x_log10) {
            posterior.update(blank, answer.outcome);
            continue;
        }
        const auto [known, is_new] = way.tables.try_emplace(*answer.x_log10);
        if (is_new) known->second = posterior.table(*answer.x_log10);
        posterior.update(known->second, answer.outcome);
    }
    return {cells_of(posterior, way.fresh_cells), mean_shares(posterior), model.lanes,
            rungs_of(answers, model.outcomes)};
}

void multiply(GridLikelihood::Cells& cells, const GridLikelihood::Cells& by) {
    SIPLADDER_EXPECT(cells.values.size() == by.values.size());
    double most = 0.0;
    for (std::size_t i = 0; i < cells.values.size(); ++i)
        most = std::max(most, cells.values[i] *= by.values[i]);
    SIPLADDER_EXPECT(most > 0.0);
    for (double& value : cells.values) value /= most;
    cells.log_scale += by.log_scale + std::log(most);
}

std::vector<RungSlope> rung_slopes(const GridLikelihood& grid, std::span<const double> theta_probabilities,
                                   std::span<const Counts> counts,
                                   std::span<const HabitLikelihood::Found> told, double width_log10,
                                   double lapse) {
    const std::vector<double> plain = sensitivities(grid, theta_probabilities, counts, width_log10, lapse);
    std::vector<RungSlope> slopes;
    for (std::size_t r = 0; r < counts.size(); ++r)
        slopes.push_back({counts[r].x_log10, counts[r].u_own_log10, plain[r]});
    for (const HabitLikelihood::Found& one : told) {
        const Score score(one, width_log10);
        for (const HabitLikelihood::Rung& rung : one.rungs) {
            double mean = 0.0;
            double slope = 0.0;
            double product = 0.0;
            for (std::size_t t = 0; t < theta_probabilities.size(); ++t) {
                const double theta = grid.thetas()[t];
                const double part = theta_probabilities[t] * score.at(rung, theta);
                mean += theta_probabilities[t] * theta;
                slope += part;
                product += part * theta;
            }
            slopes.push_back({rung.x_log10, rung.u_own_log10, product - mean * slope});
        }
    }
    return slopes;
}

double rung_error(std::span<const RungSlope> slopes) {
    std::map<double, std::pair<double, double>> rungs;  // x: slope, uncertainty
    for (const RungSlope& at : slopes) {
        auto& [slope, u] = rungs[at.x_log10];
        slope += at.slope;
        u = std::max(u, at.u_own_log10);
    }
    double square = 0.0;
    for (const auto& [x, rung] : rungs) square += std::pow(rung.first * rung.second, 2.0);
    return std::sqrt(square);
}

}  // namespace sipladder::threshold

#include "engine/threshold/habit_posterior.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/percepts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

// Brute force over cells, as in posterior.cpp, with one axis more: the habit of answering. A cup is a
// distance d' from a blank; what each habit answers there is read from a table over d', so nothing dear is
// left to do per cell. A lapsed answer is that of a blank, so each cell's answer is a mixture of two rows of
// the table, and sums over the lapse (`keen_`, `lapsed_`) foretell answers without the lapse axis.
//
// Wandering habits are a hidden Markov chain: after each cup the probabilities are spread a little to the
// neighbouring habits, which is exact for a walk on that lattice.

namespace sipladder::threshold {

namespace {

constexpr float vanished = 1e-30F;    // single precision ends at 1e-38, and subnormal numbers are slow
constexpr double least_theta = 1e-8;  // a theta below it adds nothing to an expected entropy

double entropy_term(double m) {
    return m > 0.0 ? -m * std::log(m) : 0.0;
}

/// Adds weight[habit] · shares[habit][lane] to `sums`, four habits side by side so that no sum waits for the
/// one before it.
template <std::size_t lanes>
void add_products(const float* weights, const float* shares, std::size_t habits, float* sums) {
    std::array<float, lanes> even{};
    std::array<float, lanes> odd{};
    for (std::size_t j = 0; j < habits; j += 2, shares += 2 * lanes) {
        for (std::size_t o = 0; o < lanes; ++o) even[o] += weights[j] * shares[o];
        for (std::size_t o = 0; o < lanes; ++o) odd[o] += weights[j + 1] * shares[lanes + o];
    }
    for (std::size_t o = 0; o < lanes; ++o) sums[o] += even[o] + odd[o];
}

void add_products(const float* weights, const float* shares, std::size_t habits, std::size_t lanes,
                  float* sums) {
    if (lanes == 4) return add_products<4>(weights, shares, habits, sums);
    if (lanes == 8) return add_products<8>(weights, shares, habits, sums);
    add_products<12>(weights, shares, habits, sums);
}

/// Probability of a step down and up from each habit, with no way out at the ends of a run.
struct Hops {
    std::vector<float> down;
    std::vector<float> up;
};

Hops hops_of(const HabitModel& model, float hop) {
    Hops hops;
    for (std::size_t j = 0; j < model.habits; ++j) {
        hops.down.push_back(j % model.run == 0 ? 0.0F : hop);
        hops.up.push_back((j + 1) % model.run == 0 ? 0.0F : hop);
    }
    return hops;
}

}  // namespace

HabitPosterior::HabitPosterior(std::shared_ptr<const HabitModel> model, Prior prior, const Grid& grid)
    : model_(std::move(model)), prior_(std::move(prior)), given_(model_->label_weights.size(), 0) {
    SIPLADDER_EXPECT(model_->habits % 4 == 0 && model_->habits % model_->run == 0);
    SIPLADDER_EXPECT(model_->edges.size() + 1 == HabitModel::distances);
    SIPLADDER_EXPECT(model_->lanes % 4 == 0 && model_->lanes <= 12);
    SIPLADDER_EXPECT(model_->shares.size() == HabitModel::distances * model_->habits * model_->lanes);
    SIPLADDER_EXPECT(model_->guard.empty() ||
                     (model_->guard.size() == model_->habits && model_->prior.size() == model_->habits));
    const Posterior curves(prior_, three_afc, grid);
    thetas_.assign(curves.thetas().begin(), curves.thetas().end());
    widths_.assign(curves.widths().begin(), curves.widths().end());
    lapses_.assign(curves.lapses().begin(), curves.lapses().end());
    theta_step_ = curves.theta_step();
    cells_.reserve(curves.cells().size() * model_->prior.size());
    for (const double curve : curves.cells())
        for (const float habit : model_->prior) {
            const float cell = static_cast<float>(curve) * habit;
            cells_.push_back(cell < vanished ? 0.0F : cell);
        }
    sum_up(1.0F, false);
}

DistanceTable HabitPosterior::table(double x_log10) const {
    SIPLADDER_EXPECT(model_ && std::isfinite(x_log10));
    const std::vector<double>& edges = model_->edges;
    DistanceTable table;
    table.reserve(thetas_.size() * widths_.size());
    for (const double theta : thetas_)
        for (const double width : widths_) {
            const double z = width_in_s(Shape::logistic) * (x_log10 - theta) / width;
            table.push_back(
                static_cast<std::uint16_t>(std::upper_bound(edges.begin(), edges.end(), z) - edges.begin()));
        }
    return table;
}

void HabitPosterior::update(std::optional<Log10Level> level, std::size_t outcome) {
    update(level ? table(level->value) : blank_table(), outcome);
}

void HabitPosterior::update(const DistanceTable& level, std::size_t outcome) {
    SIPLADDER_EXPECT(model_ && outcome < model_->outcomes && level.size() == thetas_.size() * widths_.size());
    const double foretold = multiply(level, outcome);
    SIPLADDER_EXPECT(foretold > 0.0);
    log_evidence_ += std::log(foretold);
    ++answers_;
    if (!model_->labels.empty() && model_->labels[outcome]) ++given_[*model_->labels[outcome]];
    sum_up(static_cast<float>(1.0 / foretold), true);
}

/// What the empty habit makes of each outcome besides right or wrong: the share of its label so far.
std::vector<float> HabitPosterior::empty_factors() const {
    std::vector<float> factors(model_->lanes, 1.0F);
    if (!model_->has_empty) return factors;
    double all = 0.0;
    for (std::size_t i = 0; i < given_.size(); ++i)
        all += static_cast<double>(given_[i]) + model_->label_weights[i];
    for (std::size_t o = 0; o < model_->outcomes; ++o)
        if (const auto label = model_->labels[o])
            factors[o] = static_cast<float>(
                (static_cast<double>(given_[*label]) + model_->label_weights[*label]) / all);
    return factors;
}

double HabitPosterior::multiply(const DistanceTable& level, std::size_t outcome) {
    const std::size_t habits = model_->habits;
    const std::size_t lanes = model_->lanes;
    const std::size_t paces = model_->hops.size();
    const float empty_factor = empty_factors()[outcome];
    const auto row_at = [&](std::size_t distance, std::vector<float>& row) {
        const float* from = model_->shares.data() + distance * habits * lanes + outcome;
        for (std::size_t j = 0; j < habits; ++j) row[j] = from[j * lanes];
        if (model_->has_empty) row[model_->empty] *= empty_factor;
    };
    std::vector<float> blank(habits);
    std::vector<float> keen(habits);
    std::vector<float> mixed(habits);
    row_at(0, blank);
    float* cell = cells_.data();
    double total = 0.0;
    for (std::size_t i = 0; i < level.size(); ++i) {
        const std::size_t block = lapses_.size() * paces * habits;
        if (marginal_[i / widths_.size()] <= 0.0) {
            cell += block;
            continue;
        }
        row_at(level[i], keen);
        std::array<float, 4> sums{};
        for (const double lapse : lapses_) {
            const auto lapsed = static_cast<float>(percepts::blank_share(lapse));
            for (std::size_t j = 0; j < habits; ++j) mixed[j] = (1.0F - lapsed) * keen[j] + lapsed * blank[j];
            for (std::size_t p = 0; p < paces; ++p, cell += habits)
                for (std::size_t j = 0; j < habits; j += 4)
                    for (std::size_t k = 0; k < 4; ++k) {
                        cell[j + k] *= mixed[j + k];
                        sums[k] += cell[j + k];
                    }
        }
        for (const float sum : sums) total += static_cast<double>(sum);
    }
    return total;
}

/// Scales, lets the habits wander where asked, and gathers what the next choice and update need.
void HabitPosterior::sum_up(float scale, bool wander) {
    const std::size_t habits = model_->habits;
    const std::size_t paces = model_->hops.size();
    std::vector<Hops> hops;
    for (const float hop : model_->hops) hops.push_back(hops_of(*model_, hop));
    keen_.assign(thetas_.size() * widths_.size() * habits, 0.0F);
    lapsed_.assign(thetas_.size() * habits, 0.0F);
    marginal_.assign(thetas_.size(), 0.0);
    std::vector<float> before(habits + 2, 0.0F);  // one more at each end, to look beyond
    float* cell = cells_.data();
    for (std::size_t i = 0; i < thetas_.size() * widths_.size(); ++i) {
        float* keen = keen_.data() + i * habits;
        float* lapsed = lapsed_.data() + i / widths_.size() * habits;
        std::array<float, 4> sums{};
        for (const double lapse : lapses_) {
            const auto blind = static_cast<float>(percepts::blank_share(lapse));
            for (std::size_t p = 0; p < paces; ++p, cell += habits) {
                if (wander && model_->hops[p] > 0.0F) {
                    std::copy(cell, cell + habits, before.begin() + 1);
                    const float* old = before.data() + 1;
                    const float* down = hops[p].down.data();
                    const float* up = hops[p].up.data();
                    for (std::size_t j = 0; j < habits; ++j)
                        cell[j] =
                            old[j] + down[j] * (*(old + j - 1) - old[j]) + up[j] * (old[j + 1] - old[j]);
                }
                for (std::size_t j = 0; j < habits; j += 4)
                    for (std::size_t k = 0; k < 4; ++k) {
                        const float value = cell[j + k] * scale;
                        const float kept = value < vanished ? 0.0F : value;
                        cell[j + k] = kept;
                        keen[j + k] += (1.0F - blind) * kept;
                        lapsed[j + k] += blind * kept;
                        sums[k] += kept;
                    }
            }
        }
        for (const float sum : sums) marginal_[i / widths_.size()] += static_cast<double>(sum);
    }
    // What rounding leaves of the sum is taken out, so that probabilities sum to 1.
    const double total = std::accumulate(marginal_.begin(), marginal_.end(), 0.0);
    for (double& mass : marginal_) mass /= total;
}

std::vector<double> HabitPosterior::outcome_masses(const DistanceTable& level) const {
    SIPLADDER_EXPECT(model_ && level.size() == thetas_.size() * widths_.size());
    const std::size_t habits = model_->habits;
    const std::size_t lanes = model_->lanes;
    const std::vector<float> factors = empty_factors();
    std::vector<double> masses(thetas_.size() * model_->asked, 0.0);
    std::vector<float> sums(lanes);
    for (std::size_t t = 0; t < thetas_.size(); ++t) {
        if (marginal_[t] < least_theta) continue;
        std::fill(sums.begin(), sums.end(), 0.0F);
        const auto add = [&](const float* weights, std::size_t distance) {
            const float* shares = model_->shares.data() + distance * habits * lanes;
            add_products(weights, shares, habits, lanes, sums.data());
            if (!model_->has_empty) return;
            const std::size_t e = model_->empty;
            for (std::size_t o = 0; o < lanes; ++o)
                sums[o] += weights[e] * shares[e * lanes + o] * (factors[o] - 1.0F);
        };
        for (std::size_t w = 0; w < widths_.size(); ++w)
            add(keen_.data() + (t * widths_.size() + w) * habits, level[t * widths_.size() + w]);
        add(lapsed_.data() + t * habits, 0);
        for (std::size_t o = 0; o < model_->asked; ++o)
            masses[t * model_->asked + o] = static_cast<double>(std::max(sums[o], 0.0F));
    }
    return masses;
}

std::vector<double> HabitPosterior::curve_marginal() const {
    const std::size_t block = lapses_.size() * model_->prior.size();
    std::vector<double> marginal(thetas_.size() * widths_.size(), 0.0);
    const float* cell = cells_.data();
    for (double& mass : marginal)
        for (std::size_t i = 0; i < block; ++i) mass += static_cast<double>(*cell++);
    return marginal;
}

std::vector<double> HabitPosterior::lapse_marginal() const {
    std::vector<double> marginal(lapses_.size(), 0.0);
    const float* cell = cells_.data();
    while (cell != cells_.data() + cells_.size())
        for (double& mass : marginal)
            for (std::size_t i = 0; i < model_->prior.size(); ++i) mass += static_cast<double>(*cell++);
    return marginal;
}

std::vector<double> HabitPosterior::habit_marginal() const {
    std::vector<double> marginal(model_->habits, 0.0);
    for (std::size_t at = 0; at < cells_.size(); at += marginal.size())
        for (std::size_t j = 0; j < marginal.size(); ++j) marginal[j] += static_cast<double>(cells_[at + j]);
    return marginal;
}

std::vector<double> HabitPosterior::pace_marginal() const {
    std::vector<double> marginal(model_->hops.size(), 0.0);
    const float* cell = cells_.data();
    while (cell != cells_.data() + cells_.size())
        for (double& mass : marginal)
            for (std::size_t j = 0; j < model_->habits; ++j) mass += static_cast<double>(*cell++);
    return marginal;
}

/// The guard's weight of each habit over the prior's.
std::vector<double> HabitPosterior::guard_odds() const {
    std::vector<double> odds(model_->habits, model_->guard.empty() ? 1.0 : 0.0);
    for (std::size_t j = 0; j < model_->guard.size(); ++j)
        if (model_->prior[j] > 0.0F)
            odds[j] = static_cast<double>(model_->guard[j]) / static_cast<double>(model_->prior[j]);
    return odds;
}

std::vector<double> HabitPosterior::claimed_marginals() const {
    if (model_->guard.empty()) return marginal_;
    const std::size_t habits = model_->habits;
    const std::vector<double> odds = guard_odds();
    std::vector<double> claimed(thetas_.size(), 0.0);
    for (std::size_t t = 0; t < thetas_.size(); ++t) {
        const float* keen = keen_.data() + t * widths_.size() * habits;
        for (std::size_t i = 0; i < widths_.size() * habits; ++i)
            claimed[t] += odds[i % habits] * static_cast<double>(keen[i]);
        for (std::size_t j = 0; j < habits; ++j)
            claimed[t] += odds[j] * static_cast<double>(lapsed_[t * habits + j]);
    }
    const double total = std::accumulate(claimed.begin(), claimed.end(), 0.0);
    for (double& mass : claimed) mass /= total;
    return claimed;
}

std::vector<double> HabitPosterior::claimed_cells() const {
    const std::size_t block = model_->prior.size();
    const std::vector<double> odds = guard_odds();
    std::vector<double> claimed(cells_.size() / block, 0.0);
    const float* cell = cells_.data();
    for (double& mass : claimed)
        for (std::size_t at = 0; at < block; at += odds.size())
            for (const double odd : odds) mass += odd * static_cast<double>(*cell++);
    return claimed;
}

double HabitPosterior::mean() const {
    return std::inner_product(marginal_.begin(), marginal_.end(), thetas_.begin(), 0.0);
}

double HabitPosterior::sd() const {
    const double centre = mean();
    const std::vector<double> claimed = claimed_marginals();
    double square = 0.0;
    for (std::size_t t = 0; t < thetas_.size(); ++t)
        square += claimed[t] * (thetas_[t] - centre) * (thetas_[t] - centre);
    return std::sqrt(square);
}

double HabitPosterior::quantile(double p) const {
    return cell_quantile(thetas_, theta_step_, claimed_marginals(), p);
}

HabitChooser::HabitChooser(const HabitPosterior& grid, std::span<const double> levels_log10) {
    for (const double x_log10 : levels_log10) tables_.push_back(grid.table(x_log10));
}

std::vector<Foreseen> HabitChooser::foresee(const HabitPosterior& posterior) const {
    const std::size_t asked = posterior.model().asked;
    std::vector<Foreseen> result;
    for (const DistanceTable& level : tables_) {
        const std::vector<double> masses = posterior.outcome_masses(level);
        Foreseen ahead{0.0, std::vector<double>(asked, 0.0)};
        for (std::size_t i = 0; i < masses.size(); ++i) {
            ahead.shares[i % asked] += masses[i];
            ahead.entropy += entropy_term(masses[i]);
        }
        for (const double share : ahead.shares) ahead.entropy -= entropy_term(share);
        result.push_back(std::move(ahead));
    }
    return result;
}

}  // namespace sipladder::threshold

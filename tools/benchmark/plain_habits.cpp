#include "tools/benchmark/plain_habits.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/discrimination.hpp"
#include "engine/threshold/posterior.hpp"
#include "engine/threshold/psychometric.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace sipladder::benchmark {

namespace {

double normal(double z) {
    return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

double term(double m) {
    return m > 0.0 ? -m * std::log(m) : 0.0;
}

double distance_at(double x, double theta, double width) {
    constexpr double farthest = 9.0;
    const double z = threshold::width_in_s(threshold::Shape::logistic) * (x - theta) / width;
    const double share = (1.0 + 2.0 / (1.0 + std::exp(-z))) / 3.0;
    return std::min(threshold::d_prime_of(threshold::DifferenceTask::afc_3, std::min(share, 1.0)), farthest);
}

/// P(right, lead > c) and P(wrong, lead > c), by Simpson's rule.
std::array<double, 2> beyond(double distance, double cut) {
    constexpr int pieces = 60;
    constexpr double reach = 6.0;
    constexpr double step = 2.0 * reach / pieces;
    std::array<double, 2> sums{};
    for (int i = 0; i <= pieces; ++i) {
        const double u = -reach + step * i;
        const double weight =
            (i == 0 || i == pieces ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0)) * std::exp(-0.5 * u * u);
        const double ahead = normal(u + distance - cut);
        sums[0] += weight * ahead * ahead;
        sums[1] += weight * 2.0 * normal(u - cut) * normal(u - cut - distance);
    }
    for (double& sum : sums) sum *= step / 3.0 / std::sqrt(2.0 * std::numbers::pi);
    return sums;
}

}  // namespace

PlainHabits::PlainHabits(const PlainPrior& prior, const std::vector<double>& levels_log10,
                         const std::vector<PlainHabit>& habits)
    : thetas_(prior.thetas), nodes_(prior.nodes), levels_(levels_log10.size()), habits_(habits.size()) {
    std::vector<double> widths;
    for (const Node& node : nodes_) {
        if (widths.empty() || widths.back() != node.width) widths.push_back(node.width);
        width_of_.push_back(widths.size() - 1);
    }
    widths_ = widths.size();
    for (const PlainHabit& habit : habits) {
        const std::vector<double> shares = habit.shares(0.0);
        outcomes_ = shares.size();
        blank_.insert(blank_.end(), shares.begin(), shares.end());
    }
    double total = 0.0;
    for (const double weight : prior.weights)
        for (const Node& node : nodes_)
            for (const PlainHabit& habit : habits) {
                start_.push_back(weight * node.weight * habit.weight);
                total += start_.back();
            }
    for (double& cell : start_) cell /= total;
    for (const double x : levels_log10) {
        std::vector<double>& level = clear_.emplace_back();
        for (const double theta : thetas_)
            for (const double width : widths) {
                const double distance = distance_at(x, theta, width);
                for (const PlainHabit& habit : habits) {
                    const std::vector<double> shares = habit.shares(distance);
                    level.insert(level.end(), shares.begin(), shares.end());
                }
            }
    }
}

std::vector<double> PlainHabits::marginal(const Belief& belief) const {
    std::vector<double> sums(thetas_.size(), 0.0);
    for (std::size_t i = 0; i < belief.cells.size(); ++i)
        sums[i / (nodes_.size() * habits_)] += belief.cells[i];
    return sums;
}

std::size_t PlainHabits::choose(const Belief& belief) const {
    constexpr double nothing = 1e-9;  // of theta
    const std::vector<double> mass = marginal(belief);
    // The lapse summed out first: what is left to answer by the cup, and what is answered as to a blank.
    std::vector<double> keen(thetas_.size() * widths_ * habits_, 0.0);
    std::vector<double> lapsed(thetas_.size() * outcomes_, 0.0);
    const double* cell = belief.cells.data();
    for (std::size_t t = 0; t < thetas_.size(); ++t)
        for (std::size_t n = 0; n < nodes_.size(); ++n) {
            const double blind = 1.5 * nodes_[n].lapse;
            double* row = keen.data() + (t * widths_ + width_of_[n]) * habits_;
            for (std::size_t h = 0; h < habits_; ++h, ++cell) {
                row[h] += (1.0 - blind) * *cell;
                for (std::size_t o = 0; o < outcomes_; ++o)
                    lapsed[t * outcomes_ + o] += blind * *cell * blank_[h * outcomes_ + o];
            }
        }
    std::size_t best = 0;
    double least = std::numeric_limits<double>::infinity();
    const std::size_t row = widths_ * habits_;
    for (std::size_t level = 0; level < levels_; ++level) {
        std::vector<double> totals(outcomes_, 0.0);
        std::vector<double> here(outcomes_);
        double entropy = 0.0;
        for (std::size_t t = 0; t < thetas_.size(); ++t) {
            if (mass[t] < nothing) continue;
            std::copy_n(lapsed.data() + t * outcomes_, outcomes_, here.begin());
            const double* share = clear_[level].data() + t * row * outcomes_;
            for (std::size_t i = t * row; i < (t + 1) * row; ++i)
                for (std::size_t o = 0; o < outcomes_; ++o) here[o] += keen[i] * *share++;
            for (std::size_t o = 0; o < outcomes_; ++o) {
                entropy += term(here[o]);
                totals[o] += here[o];
            }
        }
        for (const double total : totals) entropy -= term(total);
        constexpr double tie = 1e-12;
        if (entropy < least - tie) {
            least = entropy;
            best = level;
        }
    }
    return best;
}

void PlainHabits::update(Belief& belief, std::optional<std::size_t> level, std::size_t outcome) const {
    double total = 0.0;
    double* cell = belief.cells.data();
    for (std::size_t t = 0; t < thetas_.size(); ++t)
        for (std::size_t n = 0; n < nodes_.size(); ++n) {
            const double blind = 1.5 * nodes_[n].lapse;
            for (std::size_t h = 0; h < habits_; ++h, ++cell) {
                const double blank = blank_[h * outcomes_ + outcome];
                const double clear =
                    level ? clear_[*level][((t * widths_ + width_of_[n]) * habits_ + h) * outcomes_ + outcome]
                          : blank;
                *cell *= (1.0 - blind) * clear + blind * blank;
                total += *cell;
            }
        }
    for (double& each : belief.cells) each /= total;
}

simulate::Estimate PlainHabits::estimate(const Belief& belief) const {
    const std::vector<double> mass = marginal(belief);
    simulate::Estimate found;
    double square = 0.0;
    for (std::size_t t = 0; t < thetas_.size(); ++t) {
        found.value += mass[t] * thetas_[t];
        square += mass[t] * thetas_[t] * thetas_[t];
    }
    const double step = thetas_[1] - thetas_[0];
    found.sd = std::sqrt(std::max(square - found.value * found.value, 0.0));
    found.lower = threshold::cell_quantile(thetas_, step, mass, 0.025);
    found.upper = threshold::cell_quantile(thetas_, step, mass, 0.975);
    return found;
}

PlainHabit plain_lead(double first, double spacing, double weight, double at_random) {
    return {weight, [=](double distance) {
                const auto all = beyond(distance, 0.0);
                const auto some = beyond(distance, first);
                const auto far = beyond(distance, first + spacing);
                std::vector<double> shares;
                for (std::size_t side = 0; side < 2; ++side)
                    for (const double meant : {all[side] - some[side], some[side] - far[side], far[side]})
                        shares.push_back((1.0 - at_random) * meant + at_random * all[side] / 3.0);
                return shares;
            }};
}

PlainHabit plain_empty(double sure, double leaning, double weight) {
    return {weight, [=](double distance) {
                std::vector<double> shares;
                for (const double all : beyond(distance, 0.0))
                    for (const double word : {1.0 - sure - leaning, leaning, sure})
                        shares.push_back(all * word);
                return shares;
            }};
}

std::vector<PlainHabit> guarded_habits() {
    std::vector<PlainHabit> habits;
    for (const double first : {0.3, 0.7, 1.1}) habits.push_back(plain_lead(first, 1.0, 0.60 / 3.0));
    for (const double first : {0.4, 0.9}) habits.push_back(plain_lead(first, 1.0, 0.15 / 2.0, 0.5));
    habits.push_back(plain_empty(0.15, 0.25, 0.25 / 3.0));
    habits.push_back(plain_empty(0.35, 0.35, 0.25 / 3.0));
    habits.push_back(plain_empty(0.65, 0.25, 0.25 / 3.0));
    return habits;
}

std::vector<PlainHabit> spacing_learned_habits() {
    std::vector<PlainHabit> habits;
    for (const double first : {0.3, 0.55, 0.8, 1.05})
        for (const double spacing : {0.4, 0.7, 1.0, 1.35, 1.8})
            habits.push_back(plain_lead(first, spacing, 1.0));
    return habits;
}

std::vector<PlainHabit> grading_habits(bool ratio_learned) {
    const std::vector<double> ratios =
        ratio_learned ? std::vector<double>{0.85, 1.0, 1.2, 1.45} : std::vector<double>{1.0};
    std::vector<PlainHabit> habits;
    for (const double ratio : ratios)
        for (const double first : {-0.15, 0.1, 0.35, 0.6, 0.85, 1.1})
            for (const double spacing : {0.35, 0.55, 0.75, 1.0, 1.3})
                habits.push_back({1.0, [=](double distance) {
                                      const double noise =
                                          1.0 + (ratio - 1.0) * std::min(1.0, 0.5 * distance);
                                      std::vector<double> shares;
                                      double more = 1.0;
                                      for (int cut = 0; cut < 3; ++cut) {
                                          const double next =
                                              normal((distance - first - spacing * cut) / noise);
                                          shares.push_back(more - next);
                                          more = next;
                                      }
                                      shares.push_back(more);
                                      return shares;
                                  }});
    return habits;
}

}  // namespace sipladder::benchmark

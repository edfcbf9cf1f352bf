#include "engine/threshold/graded.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/threshold/discrimination.hpp"
#include "engine/threshold/graded_cups.hpp"
#include "engine/threshold/percepts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

// The grid is that of a 3-AFC posterior times the habits of grading. What a level adds to the log-likelihood
// depends on the curve through d' alone, so it is tabulated over d' once for each habit and lapse; a million
// cells then cost one look-up a level each.

namespace sipladder::threshold {

namespace {

constexpr double highest_d_prime = 9.0;  // d' beyond which every cup is graded highest anyway
constexpr Grid graded_grid{151, 0.03, 10};
constexpr std::size_t most_cups = 500;  // beyond it the steps between habits show in the result

std::size_t total(const std::vector<std::size_t>& grades) {
    std::size_t sum = 0;
    for (const std::size_t count : grades) sum += count;
    return sum;
}

/// First cut point and spacing as in four grades, with the weight it starts from.
struct Habit {
    double first{};
    double spacing{};
    double weight{};
};

std::vector<Habit> habits() {
    constexpr std::array<double, 11> firsts{-0.65, -0.4, -0.15, 0.1, 0.35, 0.6, 0.85, 1.1, 1.35, 1.6, 1.85};
    constexpr std::array<double, 7> spacings{0.25, 0.35, 0.55, 0.75, 1.0, 1.3, 1.7};
    constexpr double seldom = 0.25;
    std::vector<Habit> all;
    double sum = 0.0;
    for (const double first : firsts)
        for (const double spacing : spacings) {
            const bool is_common = first > -0.2 && first < 1.2 && spacing > 0.3 && spacing < 1.5;
            all.push_back({first, spacing, is_common ? 1.0 : seldom});
            sum += all.back().weight;
        }
    for (Habit& habit : all) habit.weight /= sum;
    return all;
}

std::vector<double> cuts_of(const Habit& habit, std::size_t grades) {
    return percepts::cut_points(habit.first, habit.spacing, grades);
}

/// Probability of each grade. A lapse gives the grade of a blank.
std::vector<double> grade_shares(const std::vector<double>& cuts, double distance, double blank_share) {
    const auto above = [&](std::size_t cut) {
        return (1.0 - blank_share) * normal_below(distance - cuts[cut]) +
               blank_share * normal_below(-cuts[cut]);
    };
    std::vector<double> shares;
    double more = 1.0;
    for (std::size_t j = 0; j <= cuts.size(); ++j) {
        const double next = j < cuts.size() ? above(j) : 0.0;
        shares.push_back(std::max(more - next, 1e-12));
        more = next;
    }
    return shares;
}

/// perceived_distance over z = (x - theta)/s, tabulated.
class Distances {
  public:
    Distances() {
        const long steps = std::lround((last - first) / step);
        for (long i = 0; i <= steps; ++i)
            table_.push_back(perceived_distance({0.0, width_in_s(Shape::logistic), 0.0},
                                                first + step * static_cast<double>(i)));
    }
    double at(double z) const {
        if (z <= first) return 0.0;
        const double place = (z - first) / step;
        const auto index = static_cast<std::size_t>(std::min(place, 1e6));
        if (index + 1 >= table_.size()) return table_.back();
        const double part = place - static_cast<double>(index);
        return table_[index] + part * (table_[index + 1] - table_[index]);
    }

  private:
    static constexpr double first = -12.0;
    static constexpr double last = 26.0;
    static constexpr double step = 0.1;
    std::vector<double> table_;
};

constexpr double least_ln = -60.0;  // a cell below e^-60 of the whole adds nothing
constexpr double distance_step = 0.05;
constexpr std::size_t distance_count = 182;  // 0 to 9, and one more to interpolate to

/// ln of the probability of each grade: [lapse][habit][d'][grade].
std::vector<double> share_table(std::span<const double> lapses, const std::vector<Habit>& all,
                                std::size_t grades) {
    std::vector<double> table;
    table.reserve(lapses.size() * all.size() * distance_count * grades);
    for (const double lapse : lapses)
        for (const Habit& habit : all) {
            const std::vector<double> cuts = cuts_of(habit, grades);
            for (std::size_t d = 0; d < distance_count; ++d)
                for (const double share :
                     grade_shares(cuts, distance_step * static_cast<double>(d), percepts::blank_share(lapse)))
                    table.push_back(std::log(share));
        }
    return table;
}

/// Log-likelihood that one level adds: [lapse][habit][d'].
std::vector<double> level_table(const std::vector<double>& shares, const std::vector<std::size_t>& grades) {
    std::vector<double> table(shares.size() / grades.size(), 0.0);
    for (std::size_t g = 0; g < grades.size(); ++g) {
        if (grades[g] == 0) continue;
        const auto count = static_cast<double>(grades[g]);
        for (std::size_t i = 0; i < table.size(); ++i) table[i] += count * shares[i * grades.size() + g];
    }
    return table;
}

/// Adds one level's part of log-likelihood and deviance at these shares.
void judge(const std::vector<std::size_t>& grades, const std::vector<double>& shares, GradedFit& fit) {
    double all = 0.0;
    for (const std::size_t count : grades) all += static_cast<double>(count);
    fit.log_likelihood += graded::ln_ways(grades);
    for (std::size_t g = 0; g < grades.size(); ++g) {
        const auto count = static_cast<double>(grades[g]);
        if (count == 0.0) continue;
        fit.log_likelihood += count * std::log(shares[g]);
        fit.deviance += 2.0 * count * std::log(count / (all * shares[g]));
    }
}

/// Cells of the whole posterior: [lapse][habit][theta][width], not normalised.
struct Cells {
    Posterior before;  ///< the prior's grid and weights
    std::vector<Habit> all_habits;
    std::vector<double> ln;
    double ln_evidence{};
};

/// Where one level's d' lies in its table, for each theta and width.
struct Places {
    std::vector<std::size_t> index;
    std::vector<double> part;
};

std::vector<Places> places_of(const graded::Pooled& cups, const Posterior& before) {
    const Distances distances;
    std::vector<Places> places;
    for (const auto& [x, grades] : cups.levels) {
        Places level;
        for (const double theta : before.thetas())
            for (const double width : before.widths()) {
                const double place =
                    distances.at(width_in_s(Shape::logistic) * (x - theta) / width) / distance_step;
                level.index.push_back(std::min(static_cast<std::size_t>(place), distance_count - 2));
                level.part.push_back(place - static_cast<double>(level.index.back()));
            }
        places.push_back(std::move(level));
    }
    return places;
}

Cells cells_of(const graded::Pooled& cups, const Prior& prior) {
    Cells cells{Posterior(prior, three_afc, graded_grid), habits(), {}, 0.0};
    const Posterior& before = cells.before;
    const std::span<const double> lapses = before.lapses();
    const std::vector<double> shares = share_table(lapses, cells.all_habits, cups.grades);
    const std::vector<double> blanks = level_table(shares, cups.blanks);
    std::vector<std::vector<double>> tables;
    for (const auto& [x, grades] : cups.levels) tables.push_back(level_table(shares, grades));
    std::vector<double> before_ln;  // -infinity where the prior is 0
    for (const double p : before.cells()) before_ln.push_back(std::log(p));
    const std::vector<Places> places = places_of(cups, before);
    const std::size_t curves = before.thetas().size() * before.widths().size();
    cells.ln.reserve(before.cells().size() * cells.all_habits.size());
    for (std::size_t lapse = 0; lapse < lapses.size(); ++lapse)
        for (std::size_t habit = 0; habit < cells.all_habits.size(); ++habit) {
            const std::size_t row = (lapse * cells.all_habits.size() + habit) * distance_count;
            const std::size_t first = cells.ln.size();
            const double common = std::log(cells.all_habits[habit].weight) + blanks[row];
            for (std::size_t curve = 0; curve < curves; ++curve)
                cells.ln.push_back(common + before_ln[curve * lapses.size() + lapse]);
            for (std::size_t i = 0; i < tables.size(); ++i) {
                const double* table = tables[i].data() + row;
                for (std::size_t curve = 0; curve < curves; ++curve) {
                    const double* at = table + places[i].index[curve];
                    cells.ln[first + curve] += at[0] + places[i].part[curve] * (at[1] - at[0]);
                }
            }
        }
    const double most = *std::max_element(cells.ln.begin(), cells.ln.end());
    double sum = 0.0;
    for (const double ln : cells.ln)
        if (ln - most > least_ln) sum += std::exp(ln - most);
    cells.ln_evidence = most + std::log(sum);
    return cells;
}

/// Means over the posterior, and the marginal of theta.
struct Summary {
    std::vector<double> theta;
    double ln_width{};
    double lapse{};
    std::vector<double> cuts;
    double outermost{};  ///< probability of the outermost habits
};

Summary summary_of(const Cells& cells, std::size_t grades) {
    const Posterior& before = cells.before;
    Summary summary;
    summary.theta.assign(before.thetas().size(), 0.0);
    summary.cuts.assign(grades - 1, 0.0);
    std::vector<double> by_habit(cells.all_habits.size(), 0.0);
    std::size_t cell = 0;
    for (const double lapse : before.lapses())
        for (double& habit : by_habit)
            for (double& theta : summary.theta)
                for (const double width : before.widths()) {
                    const double ln = cells.ln[cell++] - cells.ln_evidence;
                    if (ln < least_ln) continue;
                    const double p = std::exp(ln);
                    theta += p;
                    habit += p;
                    summary.ln_width += p * std::log(width);
                    summary.lapse += p * lapse;
                }
    const Habit& least = cells.all_habits.front();
    const Habit& most = cells.all_habits.back();
    for (std::size_t i = 0; i < by_habit.size(); ++i) {
        const Habit& habit = cells.all_habits[i];
        const std::vector<double> cuts = cuts_of(habit, grades);
        for (std::size_t j = 0; j < cuts.size(); ++j) summary.cuts[j] += by_habit[i] * cuts[j];
        if (habit.first == least.first || habit.first == most.first || habit.spacing == least.spacing ||
            habit.spacing == most.spacing)
            summary.outermost += by_habit[i];
    }
    return summary;
}

}  // namespace

double perceived_distance(const Curve& curve, double x_log10) {
    const double z = width_in_s(Shape::logistic) * (x_log10 - curve.theta_log10) / curve.width_log10;
    const double share = (1.0 + 2.0 * rise(z, Shape::logistic)) / 3.0;
    return std::min(d_prime_of(DifferenceTask::afc_3, std::min(share, 1.0)), highest_d_prime);
}

GradedFit graded_threshold(std::span<const GradedCounts> counts, const Prior& prior, Scale scale,
                           double u_shared_log10) {
    const graded::Pooled cups = graded::pooled(counts);
    const Cells cells = cells_of(cups, prior);
    const Summary summary = summary_of(cells, cups.grades);
    const std::span<const double> thetas = cells.before.thetas();
    GradedFit fit;
    Threshold& t = fit.threshold;
    double square = 0.0;
    for (std::size_t i = 0; i < thetas.size(); ++i) t.log10 += summary.theta[i] * thetas[i];
    for (std::size_t i = 0; i < thetas.size(); ++i)
        square += summary.theta[i] * std::pow(thetas[i] - t.log10, 2);
    t.sd_log10 = std::sqrt(square);
    const double step = cells.before.theta_step();
    t.lower_log10 = cell_quantile(thetas, step, summary.theta, 0.025);
    t.upper_log10 = cell_quantile(thetas, step, summary.theta, 0.975);
    t.width_log10 = std::exp(summary.ln_width);
    t.lapse = summary.lapse;
    t.log_evidence = cells.ln_evidence;
    t.scale = scale;
    t.prior = prior.name;
    t.theta_grid_log10.assign(thetas.begin(), thetas.end());
    t.theta_density = summary.theta;
    graded::widen(t, u_shared_log10);
    graded::warn(cups, summary.outermost, t);
    std::size_t all_cups = total(cups.blanks);
    for (const auto& [x, grades] : cups.levels) all_cups += total(grades);
    if (all_cups > most_cups)
        t.warnings.push_back(
            {Warning::Kind::grid_edge,
             "So many cups call for finer steps of the grading habits than are tried here: take "
             "the interval with care, or use the likelihood."});
    GradedFit scores = judged(counts, {t.log10, t.width_log10, t.lapse}, summary.cuts);
    scores.threshold = std::move(fit.threshold);
    return scores;
}

GradedFit judged(std::span<const GradedCounts> counts, const Curve& curve,
                 const std::vector<double>& cut_points) {
    const graded::Pooled cups = graded::pooled(counts);
    SIPLADDER_EXPECT(cut_points.size() + 1 == cups.grades);
    GradedFit fit;
    fit.cut_points = cut_points;
    judge(cups.blanks, grade_shares(fit.cut_points, 0.0, 0.0), fit);
    for (const auto& [x, grades] : cups.levels)
        judge(grades,
              grade_shares(fit.cut_points, perceived_distance(curve, x), percepts::blank_share(curve.lapse)),
              fit);
    const int habit_parameters = cups.grades > 2 ? 2 : 1;
    fit.deviance_df = static_cast<int>((cups.levels.size() + 1) * (cups.grades - 1)) - 2 - habit_parameters;
    return fit;
}

}  // namespace sipladder::threshold

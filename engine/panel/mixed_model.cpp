#include "engine/panel/mixed_model.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <set>

// Newton on the marginal log-likelihood. By Louis' formula its first derivatives are the posterior means,
// over the random effect, of the full data's scores, and its second derivatives the means of the full data's
// second derivatives plus the scores' covariance; both come from the same nodes as the likelihood itself. The
// spread is sought by its logarithm. At the answer the second derivatives are the observed information.

namespace sipladder::panel {

namespace {

constexpr int half_nodes = 80;
constexpr double reach = 8.0;  // standard deviations
constexpr double node_step = reach / half_nodes;

using Vector = std::vector<double>;
using Matrix = std::vector<Vector>;

struct Group {
    std::vector<const GroupRow*> rows;
};

struct Value {
    double ln{};
    Vector gradient;
    Matrix hessian;
    Vector effects;
    Vector effects_sd;
};

double log_choose(double n, double k) {
    return std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0);
}

/// ln p of a count and its derivatives by the linear predictor.
struct Slopes {
    double ln{};
    double first{};
    double second{};
};

Slopes slopes_of(const GroupRow& row, double eta, double guess) {
    const auto k = static_cast<double>(row.correct);
    const double m = static_cast<double>(row.presentations) - k;
    constexpr double least = 1e-300;
    const double up = 1.0 / (1.0 + std::exp(-eta));
    const double down = 1.0 / (1.0 + std::exp(eta));
    const double p = std::max(guess + (1.0 - guess) * up, least);
    const double q = std::max((1.0 - guess) * down, least);
    const double dp = (1.0 - guess) * up * down;
    const double d2p = dp * (down - up);
    // q' = -p', so wrong answers give -m p'/q = -m up.
    return {k * std::log(p) + m * std::log(q), k * dp / p - m * up,
            k * (d2p / p - dp * dp / (p * p)) - m * up * down};
}

double predictor(const GroupRow& row, std::span<const double> fixed) {
    double eta = 0.0;
    for (std::size_t c = 0; c < fixed.size(); ++c) eta += row.x[c] * fixed[c];
    return eta;
}

/// A group's share in everything; parameters are the fixed effects, then ln sd.
void add_group(const Group& group, double guess, std::span<const double> fixed, double sd, Value& value) {
    const std::size_t count = fixed.size() + 1;
    constexpr std::size_t nodes = 2 * half_nodes + 1;
    Vector ln(nodes);
    Matrix scores(nodes, Vector(count, 0.0));
    std::vector<Matrix> seconds(nodes, Matrix(count, Vector(count, 0.0)));
    double best = -std::numeric_limits<double>::infinity();
    double total_weight = 0.0;
    for (std::size_t j = 0; j < nodes; ++j) {
        const double u = node_step * (static_cast<double>(j) - half_nodes);
        ln[j] = -0.5 * u * u;
        total_weight += std::exp(-0.5 * u * u);
        for (const GroupRow* row : group.rows) {
            const Slopes at = slopes_of(*row, predictor(*row, fixed) + sd * u, guess);
            ln[j] += at.ln;
            // d eta / d ln sd = sd u, and so is its second derivative.
            Vector by(row->x);
            by.push_back(sd * u);
            for (std::size_t a = 0; a < count; ++a) {
                scores[j][a] += at.first * by[a];
                for (std::size_t b = 0; b < count; ++b) seconds[j][a][b] += at.second * by[a] * by[b];
            }
            seconds[j][count - 1][count - 1] += at.first * sd * u;
        }
        best = std::max(best, ln[j]);
    }
    double mass = 0.0;
    Vector score(count, 0.0);
    Matrix second(count, Vector(count, 0.0));
    double effect = 0.0;
    double effect_square = 0.0;
    for (std::size_t j = 0; j < nodes; ++j) {
        const double u = node_step * (static_cast<double>(j) - half_nodes);
        const double weight = std::exp(ln[j] - best);
        mass += weight;
        effect += weight * sd * u;
        effect_square += weight * sd * u * sd * u;
        for (std::size_t a = 0; a < count; ++a) {
            score[a] += weight * scores[j][a];
            for (std::size_t b = 0; b < count; ++b)
                second[a][b] += weight * (seconds[j][a][b] + scores[j][a] * scores[j][b]);
        }
    }
    value.ln += best + std::log(mass / total_weight);
    for (std::size_t a = 0; a < count; ++a) {
        value.gradient[a] += score[a] / mass;
        for (std::size_t b = 0; b < count; ++b)
            value.hessian[a][b] += second[a][b] / mass - score[a] / mass * score[b] / mass;
    }
    effect /= mass;
    value.effects.push_back(effect);
    value.effects_sd.push_back(std::sqrt(std::max(effect_square / mass - effect * effect, 0.0)));
}

Value value_at(const std::vector<Group>& groups, double guess, std::span<const double> parameters) {
    const std::size_t count = parameters.size();
    Value value;
    value.gradient.assign(count, 0.0);
    value.hessian.assign(count, Vector(count, 0.0));
    for (const Group& group : groups)
        add_group(group, guess, parameters.first(count - 1), std::exp(parameters.back()), value);
    return value;
}

/// Inverse of a symmetric matrix by Gauss and Jordan; nothing unless it is positive definite.
std::optional<Matrix> inverse(Matrix a) {
    const std::size_t count = a.size();
    Matrix result(count, Vector(count, 0.0));
    for (std::size_t i = 0; i < count; ++i) result[i][i] = 1.0;
    for (std::size_t i = 0; i < count; ++i) {
        const double pivot = a[i][i];
        if (!(pivot > 1e-12)) return std::nullopt;
        for (std::size_t c = 0; c < count; ++c) {
            a[i][c] /= pivot;
            result[i][c] /= pivot;
        }
        for (std::size_t r = 0; r < count; ++r) {
            if (r == i) continue;
            const double factor = a[r][i];
            for (std::size_t c = 0; c < count; ++c) {
                a[r][c] -= factor * a[i][c];
                result[r][c] -= factor * result[i][c];
            }
        }
    }
    return result;
}

Matrix information(const Value& value, double ridge) {
    Matrix matrix = value.hessian;
    for (std::size_t i = 0; i < matrix.size(); ++i) {
        for (double& cell : matrix[i]) cell = -cell;
        matrix[i][i] += ridge;
    }
    return matrix;
}

std::vector<Group> groups_of(std::span<const GroupRow> rows) {
    if (rows.empty()) throw Refused("mixed model", "has no rows", "at least one group with answers");
    std::map<std::size_t, Group> groups;
    for (const GroupRow& row : rows) {
        if (row.x.size() != rows.front().x.size() || row.x.empty())
            throw Refused("mixed model", "has rows of unequal length", "the same columns in every row");
        if (row.correct > row.presentations)
            throw Refused("correct", std::to_string(row.correct) + " of " + std::to_string(row.presentations),
                          "no more right answers than presentations");
        groups[row.group].rows.push_back(&row);
    }
    std::vector<Group> found;
    for (auto& [number, group] : groups) found.push_back(std::move(group));
    return found;
}

double binomial_coefficients(std::span<const GroupRow> rows) {
    double sum = 0.0;
    for (const GroupRow& row : rows)
        sum += log_choose(static_cast<double>(row.presentations), static_cast<double>(row.correct));
    return sum;
}

struct Found {
    Vector parameters;
    Value value;
    bool converged = false;
};

/// Newton uphill; where the surface is not a hill, a ridge on the diagonal shortens the step.
Found climb(const std::vector<Group>& groups, double guess, Vector start) {
    Found found{std::move(start), {}, false};
    found.value = value_at(groups, guess, found.parameters);
    double ridge = 0.0;
    constexpr int most_steps = 200;
    constexpr double most_ridge = 1e9;
    for (int step = 0; step < most_steps && ridge < most_ridge; ++step) {
        const auto covariance = inverse(information(found.value, ridge));
        if (!covariance) {
            ridge = std::max(10.0 * ridge, 1e-2);
            continue;
        }
        Vector next = found.parameters;
        double promised = 0.0;
        for (std::size_t a = 0; a < next.size(); ++a) {
            double move = 0.0;
            for (std::size_t b = 0; b < next.size(); ++b)
                move += (*covariance)[a][b] * found.value.gradient[b];
            next[a] += move;
            promised += move * found.value.gradient[a];
        }
        constexpr double nothing_left = 1e-13;
        if (promised < nothing_left) {
            found.converged = ridge < 1.0;
            break;
        }
        // Beyond these the spread is nothing, or people share nothing; there is no maximum inside.
        next.back() = std::clamp(next.back(), std::log(1e-4), std::log(1e3));
        Value value = value_at(groups, guess, next);
        if (!(value.ln > found.value.ln - nothing_left)) {
            ridge = std::max(10.0 * ridge, 1e-2);
            continue;
        }
        found.parameters = std::move(next);
        found.value = std::move(value);
        ridge = ridge < 1e-3 ? 0.0 : 0.1 * ridge;
    }
    return found;
}

RandomIntercept fitted(std::span<const GroupRow> rows, double guess, Vector start) {
    const Found found = climb(groups_of(rows), guess, std::move(start));
    RandomIntercept result;
    result.fixed.assign(found.parameters.begin(), found.parameters.end() - 1);
    result.sd = std::exp(found.parameters.back());
    result.log_likelihood = found.value.ln + binomial_coefficients(rows);
    result.effects = found.value.effects;
    result.effects_sd = found.value.effects_sd;
    result.converged = found.converged;
    if (const auto covariance = inverse(information(found.value, 0.0))) {
        for (std::size_t a = 0; a < result.fixed.size(); ++a)
            result.se_fixed.push_back(std::sqrt((*covariance)[a][a]));
        result.se_log_sd = std::sqrt(covariance->back().back());
    }
    return result;
}

}  // namespace

RandomIntercept random_intercept(std::span<const GroupRow> rows, double guess) {
    const std::size_t columns = rows.empty() ? 0 : rows.front().x.size();
    return fitted(rows, guess, Vector(columns + 1, 0.0));
}

double random_intercept_log_likelihood(std::span<const GroupRow> rows, double guess,
                                       std::span<const double> fixed, double sd) {
    Vector parameters(fixed.begin(), fixed.end());
    parameters.push_back(std::log(sd));
    const std::vector<Group> groups = groups_of(rows);
    SIPLADDER_EXPECT(fixed.size() == rows.front().x.size() && sd > 0.0);
    return value_at(groups, guess, parameters).ln + binomial_coefficients(rows);
}

MixedModel mixed_model(std::span<const Member> members, const threshold::Task& task) {
    std::set<double> levels;
    for (const Member& member : members)
        for (const threshold::Counts& at : member.counts) levels.insert(at.x_log10);
    if (levels.size() < 2)
        throw Refused("mixed model", "has answers at fewer than two levels", "answers at two or more levels");
    double centre = 0.0;
    for (const double level : levels) centre += level / static_cast<double>(levels.size());
    std::vector<GroupRow> rows;
    for (std::size_t i = 0; i < members.size(); ++i)
        for (const threshold::Counts& at : members[i].counts)
            rows.push_back({i, {1.0, at.x_log10 - centre}, at.presentations, at.correct});
    constexpr double usual_slope = 5.0;  // per log10: a start, no more
    const RandomIntercept fit = fitted(rows, task.guess, {0.0, usual_slope, 0.0});
    const double slope = fit.fixed[1];
    MixedModel model;
    model.converged = fit.converged && slope > 0.0;
    model.mean_log10 = centre - fit.fixed[0] / slope;
    model.spread_log10 = fit.sd / slope;
    model.width_log10 = threshold::width_in_s(threshold::Shape::logistic) / slope;
    model.log_likelihood = fit.log_likelihood;
    for (std::size_t i = 0; i < fit.effects.size(); ++i) {
        model.people_log10.push_back(centre - (fit.fixed[0] + fit.effects[i]) / slope);
        model.people_sd_log10.push_back(fit.effects_sd[i] / slope);
    }
    return model;
}

}  // namespace sipladder::panel

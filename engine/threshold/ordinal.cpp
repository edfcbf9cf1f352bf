#include "engine/threshold/ordinal.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/psychometric.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

// The log-likelihood is concave in cut points and coefficients together, so Newton's method with halved steps
// cannot miss; it starts from the cut points of the pooled answers. Covariates are scaled to a spread of one
// first, so that grams and milligrams converge alike. Where the answers are separated the likelihood rises
// for ever and grows flat, which the standard errors tell.

namespace sipladder::threshold {

namespace {

using Vector = std::vector<double>;
using Matrix = std::vector<Vector>;

/// A standard error beyond this, in units of the percept's noise per spread of a covariate, comes from a
/// likelihood that is flat because it has reached its limit at infinity.
constexpr double most_error = 1e3;

double probability_below(double z, Link link) {
    return rise(z, link == Link::probit ? Shape::gaussian : Shape::logistic);
}

double density(double z, Link link) {
    return std::isinf(z) ? 0.0 : rise_density(z, link == Link::probit ? Shape::gaussian : Shape::logistic);
}

/// dF'/dz.
double bend(double z, Link link) {
    if (std::isinf(z)) return 0.0;
    const double f = density(z, link);
    return link == Link::probit ? -z * f : f * (1.0 - 2.0 * probability_below(z, link));
}

/// F(high) - F(low), from the tail that keeps its digits.
double between(double low, double high, Link link) {
    const double p = low > 0.0 ? probability_below(-low, link) - probability_below(-high, link)
                               : probability_below(high, link) - probability_below(low, link);
    return std::max(p, 1e-300);
}

struct Ratings {
    const std::vector<OrdinalRow>& rows;
    Link link;
    std::size_t cuts;
    std::size_t covariates;
    Vector scales;

    std::size_t size() const { return cuts + covariates; }
    double place(const OrdinalRow& row, const Vector& at) const {
        double sum = 0.0;
        for (std::size_t i = 0; i < covariates; ++i) sum += at[cuts + i] * row.covariates[i] / scales[i];
        return sum;
    }
};

struct Value {
    double ln{};
    Vector gradient;
    Matrix information;  ///< minus the second derivatives
};

double cut_at(const Vector& at, std::size_t index, std::size_t cuts) {
    // Category j lies between cut j - 1 and cut j.
    return index == 0     ? -std::numeric_limits<double>::infinity()
           : index > cuts ? std::numeric_limits<double>::infinity()
                          : at[index - 1];
}

double log_likelihood(const Ratings& ratings, const Vector& at) {
    double ln = 0.0;
    for (const OrdinalRow& row : ratings.rows) {
        const double place = ratings.place(row, at);
        for (std::size_t j = 0; j <= ratings.cuts; ++j)
            if (row.counts[j] > 0.0)
                ln +=
                    row.counts[j] * std::log(between(cut_at(at, j, ratings.cuts) - place,
                                                     cut_at(at, j + 1, ratings.cuts) - place, ratings.link));
    }
    return ln;
}

/// What one category of one row depends on: its upper edge u, its lower edge l and how they move.
struct Edges {
    double p{};
    double by_u{};  ///< of ln p
    double by_l{};
    double uu{};
    double ll{};
    double ul{};
    Vector du;
    Vector dl;

    double slope(std::size_t i) const { return by_u * du[i] + by_l * dl[i]; }
    double bend(std::size_t i, std::size_t j) const {
        return uu * du[i] * du[j] + ll * dl[i] * dl[j] + ul * (du[i] * dl[j] + dl[i] * du[j]);
    }
};

Edges edges_of(const Ratings& ratings, const OrdinalRow& row, std::size_t category, const Vector& at) {
    const double place = ratings.place(row, at);
    const double u = cut_at(at, category + 1, ratings.cuts) - place;
    const double l = cut_at(at, category, ratings.cuts) - place;
    Edges edges;
    edges.p = between(l, u, ratings.link);
    edges.by_u = density(u, ratings.link) / edges.p;
    edges.by_l = -density(l, ratings.link) / edges.p;
    edges.uu = bend(u, ratings.link) / edges.p - edges.by_u * edges.by_u;
    edges.ll = -bend(l, ratings.link) / edges.p - edges.by_l * edges.by_l;
    edges.ul = -edges.by_u * edges.by_l;
    edges.du.assign(ratings.size(), 0.0);
    edges.dl.assign(ratings.size(), 0.0);
    if (category < ratings.cuts) edges.du[category] = 1.0;
    if (category > 0) edges.dl[category - 1] = 1.0;
    for (std::size_t i = 0; i < ratings.covariates; ++i)
        edges.du[ratings.cuts + i] = edges.dl[ratings.cuts + i] = -row.covariates[i] / ratings.scales[i];
    return edges;
}

Matrix square(std::size_t size) {
    return Matrix(size, Vector(size, 0.0));
}

Value value_at(const Ratings& ratings, const Vector& at) {
    Value value{0.0, Vector(ratings.size(), 0.0), square(ratings.size())};
    for (const OrdinalRow& row : ratings.rows)
        for (std::size_t category = 0; category <= ratings.cuts; ++category) {
            const double count = row.counts[category];
            if (count == 0.0) continue;
            const Edges edges = edges_of(ratings, row, category, at);
            value.ln += count * std::log(edges.p);
            for (std::size_t i = 0; i < ratings.size(); ++i) {
                value.gradient[i] += count * edges.slope(i);
                for (std::size_t j = 0; j < ratings.size(); ++j)
                    value.information[i][j] -= count * edges.bend(i, j);
            }
        }
    return value;
}

Matrix expected_information(const Ratings& ratings, const Vector& at) {
    Matrix information = square(ratings.size());
    for (const OrdinalRow& row : ratings.rows) {
        double all = 0.0;
        for (const double count : row.counts) all += count;
        for (std::size_t category = 0; category <= ratings.cuts; ++category) {
            const Edges edges = edges_of(ratings, row, category, at);
            for (std::size_t i = 0; i < ratings.size(); ++i)
                for (std::size_t j = 0; j < ratings.size(); ++j)
                    information[i][j] += all * edges.p * edges.slope(i) * edges.slope(j);
        }
    }
    return information;
}

/// Inverse of a positive definite matrix; empty where it is not one.
Matrix inverse_of(Matrix work) {
    const std::size_t size = work.size();
    Matrix inverse(size, Vector(size, 0.0));
    const Matrix given = work;
    for (std::size_t i = 0; i < size; ++i) inverse[i][i] = 1.0;
    for (std::size_t i = 0; i < size; ++i) {
        if (!(work[i][i] > 1e-11 * std::abs(given[i][i]))) return {};
        const double pivot = work[i][i];
        for (std::size_t j = 0; j < size; ++j) {
            work[i][j] /= pivot;
            inverse[i][j] /= pivot;
        }
        for (std::size_t k = 0; k < size; ++k) {
            if (k == i) continue;
            const double factor = work[k][i];
            for (std::size_t j = 0; j < size; ++j) {
                work[k][j] -= factor * work[i][j];
                inverse[k][j] -= factor * inverse[i][j];
            }
        }
    }
    return inverse;
}

void check(const std::vector<OrdinalRow>& rows) {
    if (rows.empty()) throw Refused("ratings", "have no rows", "one row or more");
    const OrdinalRow& first = rows.front();
    if (first.counts.size() < 2)
        throw Refused("ratings", "have " + std::to_string(first.counts.size()) + " categories",
                      "two or more");
    Vector chosen(first.counts.size(), 0.0);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::string where = "row " + std::to_string(i + 1);
        if (rows[i].counts.size() != first.counts.size() ||
            rows[i].covariates.size() != first.covariates.size())
            throw Refused(where, "has another number of categories or covariates than the first row",
                          "the same");
        for (std::size_t j = 0; j < chosen.size(); ++j) {
            if (!(rows[i].counts[j] >= 0.0) || std::isinf(rows[i].counts[j]))
                throw Refused(where, "has a count that is no number from 0 up", "counts");
            chosen[j] += rows[i].counts[j];
        }
        for (const double x : rows[i].covariates)
            if (!std::isfinite(x))
                throw Refused(where, "has a covariate that is no finite number", "numbers");
    }
    for (std::size_t j = 0; j < chosen.size(); ++j)
        if (chosen[j] == 0.0)
            throw Refused("category " + std::to_string(j + 1), "was never chosen",
                          "merge it with a neighbour");
}

Vector scales_of(const std::vector<OrdinalRow>& rows) {
    Vector scales;
    for (std::size_t i = 0; i < rows.front().covariates.size(); ++i) {
        double count = 0.0;
        double mean = 0.0;
        double squares = 0.0;
        for (const OrdinalRow& row : rows) {
            count += 1.0;
            const double off = row.covariates[i] - mean;
            mean += off / count;
            squares += off * (row.covariates[i] - mean);
        }
        const double spread = std::sqrt(squares / count);
        if (!(spread > 0.0))
            throw Refused("covariate " + std::to_string(i + 1), "is the same in every row", "leave it out");
        scales.push_back(spread);
    }
    return scales;
}

/// Cut points of the pooled answers, on the logistic scale: good enough to start from.
Vector start_of(const Ratings& ratings) {
    Vector totals(ratings.cuts + 1, 0.0);
    double all = 0.0;
    for (const OrdinalRow& row : ratings.rows)
        for (std::size_t j = 0; j < totals.size(); ++j) {
            totals[j] += row.counts[j];
            all += row.counts[j];
        }
    Vector at(ratings.size(), 0.0);
    double below = 0.0;
    for (std::size_t j = 0; j < ratings.cuts; ++j) {
        below += totals[j];
        at[j] = std::log(below / (all - below)) * (ratings.link == Link::probit ? 0.6 : 1.0);
    }
    return at;
}

bool ascends(const Vector& at, std::size_t cuts) {
    for (std::size_t j = 1; j < cuts; ++j)
        if (!(at[j] > at[j - 1])) return false;
    return true;
}

Vector climb(const Ratings& ratings) {
    Vector at = start_of(ratings);
    constexpr int most_steps = 200;
    for (int step = 0; step < most_steps; ++step) {
        const Value value = value_at(ratings, at);
        const Matrix inverse = inverse_of(value.information);
        if (inverse.empty())
            throw Refused("ratings", "leave a covariate without a place of its own",
                          "covariates that are not sums of one another, and answers that overlap");
        Vector towards(at.size(), 0.0);
        for (std::size_t i = 0; i < at.size(); ++i)
            for (std::size_t j = 0; j < at.size(); ++j) towards[i] += inverse[i][j] * value.gradient[j];
        double moved = 0.0;
        constexpr int most_halvings = 40;  // to 1e-12 of the step
        double length = 1.0;
        for (int halved = 0; halved < most_halvings; ++halved, length *= 0.5) {
            Vector next = at;
            for (std::size_t i = 0; i < at.size(); ++i) next[i] += length * towards[i];
            if (!ascends(next, ratings.cuts) || !(log_likelihood(ratings, next) > value.ln)) continue;
            for (std::size_t i = 0; i < at.size(); ++i) moved = std::max(moved, std::abs(next[i] - at[i]));
            at = next;
            break;
        }
        if (moved < 1e-12) break;
    }
    return at;
}

double saturated_log_likelihood(const std::vector<OrdinalRow>& rows) {
    double ln = 0.0;
    for (const OrdinalRow& row : rows) {
        double all = 0.0;
        for (const double count : row.counts) all += count;
        for (const double count : row.counts)
            if (count > 0.0) ln += count * std::log(count / all);
    }
    return ln;
}

}  // namespace

double OrdinalFit::standard_error(std::size_t parameter) const {
    SIPLADDER_EXPECT(parameter < covariance.size());
    return std::sqrt(covariance[parameter][parameter]);
}

OrdinalFit ordinal_regression(const std::vector<OrdinalRow>& rows, Link link) {
    check(rows);
    const Ratings ratings{rows, link, rows.front().counts.size() - 1, rows.front().covariates.size(),
                          scales_of(rows)};
    const Vector at = climb(ratings);
    OrdinalFit fit;
    fit.log_likelihood = log_likelihood(ratings, at);
    fit.deviance = std::max(2.0 * (saturated_log_likelihood(rows) - fit.log_likelihood), 0.0);
    fit.deviance_df = static_cast<int>(rows.size() * ratings.cuts) - static_cast<int>(ratings.size());
    fit.covariance = inverse_of(value_at(ratings, at).information);
    fit.covariance_expected = inverse_of(expected_information(ratings, at));
    bool is_flat = fit.covariance.empty() || fit.covariance_expected.empty();
    for (std::size_t i = 0; i < fit.covariance.size(); ++i)
        if (!(fit.covariance[i][i] < most_error * most_error)) is_flat = true;
    if (is_flat)
        throw Refused("ratings", "are separated perfectly, so that no steepness fits best",
                      "levels closer together, where the categories overlap");
    const auto scale = [&](std::size_t i) {
        return i < ratings.cuts ? 1.0 : ratings.scales[i - ratings.cuts];
    };
    for (std::size_t i = 0; i < at.size(); ++i)
        for (std::size_t j = 0; j < at.size(); ++j) {
            fit.covariance[i][j] /= scale(i) * scale(j);
            fit.covariance_expected[i][j] /= scale(i) * scale(j);
        }
    const auto cuts = static_cast<std::ptrdiff_t>(ratings.cuts);
    fit.cut_points.assign(at.begin(), at.begin() + cuts);
    for (std::size_t i = 0; i < ratings.covariates; ++i)
        fit.coefficients.push_back(at[ratings.cuts + i] / ratings.scales[i]);
    return fit;
}

}  // namespace sipladder::threshold

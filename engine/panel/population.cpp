#include "engine/panel/population.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/threshold/posterior.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>

// Given mean, spread and width, the people are independent: the answers of each have the probability sum over
// theta of Normal(theta; mean, spread) times likelihood. That is a product of two matrices, people by thetas
// and thetas by pairs of mean and spread, once for every width. A thousand people fix the mean to a
// hundredth, three leave it wide open, so the grid is laid over the whole range first and drawn in, round by
// round, to the box that still holds something.

namespace sipladder::panel::population {

namespace {

struct Axis {
    double low{};
    double high{};
    std::size_t count{};

    double step() const { return count > 1 ? (high - low) / static_cast<double>(count - 1) : 1.0; }
    double at(std::size_t i) const { return low + step() * static_cast<double>(i); }
};

struct Box {
    std::array<Axis, 3> axes;  // width (ln), mean, spread (ln)

    std::size_t pairs() const { return axes[1].count * axes[2].count; }
    std::size_t nodes() const { return axes[0].count * pairs(); }
    /// Index along one axis of a node in the order [width][mean][spread].
    std::size_t along(std::size_t axis, std::size_t node) const {
        if (axis == 2) return node % axes[2].count;
        if (axis == 1) return node / axes[2].count % axes[1].count;
        return node / pairs();
    }
};

constexpr double least_spread = 0.02;  // log10: below it people are alike for all that cups can tell
constexpr double most_spread = 2.0;
constexpr double negligible = 1e-14;

/// Mass of Normal(mean, spread) in each theta cell: [theta][pair].
std::vector<double> masses(const Input& input, std::span<const std::array<double, 2>> pairs) {
    std::vector<double> found(input.thetas.size() * pairs.size());
    for (std::size_t m = 0; m < pairs.size(); ++m) {
        const double mean = pairs[m][0];
        const double spread = pairs[m][1];
        const auto up_to = [&](double edge) { return normal_below((edge - mean) / spread); };
        double before = up_to(input.thetas.front() - 0.5 * input.theta_step);
        for (std::size_t t = 0; t < input.thetas.size(); ++t) {
            const double after = up_to(input.thetas[t] + 0.5 * input.theta_step);
            found[t * pairs.size() + m] = after - before;
            before = after;
        }
    }
    return found;
}

/// into[m] += factor · row[m]
void add(std::span<double> into, double factor, const double* row) {
    for (std::size_t m = 0; m < into.size(); ++m) into[m] += factor * row[m];
}

std::vector<std::array<double, 2>> pairs_of(const Box& box) {
    std::vector<std::array<double, 2>> pairs;
    for (std::size_t i = 0; i < box.axes[1].count; ++i)
        for (std::size_t j = 0; j < box.axes[2].count; ++j)
            pairs.push_back({box.axes[1].at(i), std::exp(box.axes[2].at(j))});
    return pairs;
}

double ln_prior(const Input& input, double width_ln, double mean, double spread) {
    const double z = spread / input.spread_scale;
    // The spread is laid out by its logarithm, which brings a factor of itself.
    return input.width_ln_prior(width_ln) + input.mean_ln_prior(mean) - 0.5 * z * z + std::log(spread);
}

/// ln of prior times probability of everybody's answers, for all nodes of the box.
std::vector<double> evaluate(const Input& input, const Box& box) {
    const auto pairs = pairs_of(box);
    const std::vector<double> mass = masses(input, pairs);
    const std::size_t thetas = input.thetas.size();
    std::vector<double> ln;
    std::vector<double> sums(pairs.size());
    for (std::size_t w = 0; w < box.axes[0].count; ++w) {
        const double width_ln = box.axes[0].at(w);
        const Likelihoods people = input.at_width(width_ln);
        std::vector<double> total(pairs.size());
        for (std::size_t m = 0; m < pairs.size(); ++m)
            total[m] = ln_prior(input, width_ln, pairs[m][0], pairs[m][1]);
        for (std::size_t i = 0; i < input.people; ++i) {
            std::fill(sums.begin(), sums.end(), 0.0);
            for (std::size_t t = 0; t < thetas; ++t)
                if (people[i * thetas + t] > negligible)
                    add(sums, people[i * thetas + t], &mass[t * pairs.size()]);
            constexpr double least = 1e-300;
            for (std::size_t m = 0; m < pairs.size(); ++m) total[m] += std::log(std::max(sums[m], least));
        }
        ln.insert(ln.end(), total.begin(), total.end());
    }
    return ln;
}

/// The part of the box that still holds something.
Box narrowed(const Box& box, std::span<const double> ln) {
    constexpr double dropped_ln = -10.0;
    const double best = *std::max_element(ln.begin(), ln.end());
    Box next = box;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const Axis& whole = box.axes[axis];
        std::size_t first = whole.count - 1;
        std::size_t last = 0;
        for (std::size_t node = 0; node < ln.size(); ++node) {
            if (ln[node] < best + dropped_ln) continue;
            first = std::min(first, box.along(axis, node));
            last = std::max(last, box.along(axis, node));
        }
        next.axes[axis].low = whole.at(first > 0 ? first - 1 : 0);
        next.axes[axis].high = whole.at(std::min(last + 1, whole.count - 1));
    }
    return next;
}

double shrinkage(const Box& before, const Box& after) {
    double part = 1.0;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const double whole = before.axes[axis].high - before.axes[axis].low;
        if (whole > 0.0) part = std::min(part, (after.axes[axis].high - after.axes[axis].low) / whole);
    }
    return part;
}

/// A box that fits the posterior.
Box box_of(const Input& input) {
    const bool has_width = input.width_ln_upper > input.width_ln_lower;
    Box box{{Axis{input.width_ln_lower, input.width_ln_upper, has_width ? 5U : 1U},
             Axis{input.thetas.front(), input.thetas.back(), 11},
             Axis{std::log(least_spread), std::log(most_spread), 7}}};
    constexpr int rounds = 8;
    constexpr double worth_it = 0.8;
    for (int round = 0; round < rounds; ++round) {
        const Box next = narrowed(box, evaluate(input, box));
        const double part = shrinkage(box, next);
        box = next;
        if (part > worth_it) break;
    }
    // Few people leave skew shapes, which want more nodes; for many people each node costs more.
    const bool is_large = input.people > 150;
    box.axes[0].count = has_width ? (is_large ? 5 : 7) : 1;
    box.axes[1].count = is_large ? 13 : 25;
    box.axes[2].count = is_large ? 9 : 13;
    return box;
}

struct Node {
    double width_ln{};
    double mean{};
    double spread{};
    double weight{};
    double people_mean{};      // of everybody's theta, given the node
    double people_variance{};  // of that mean
};

std::vector<double> weights_of(std::span<const double> ln) {
    const double best = *std::max_element(ln.begin(), ln.end());
    std::vector<double> weights;
    for (const double value : ln) weights.push_back(std::exp(value - best));
    const double total = std::accumulate(weights.begin(), weights.end(), 0.0);
    for (double& weight : weights) weight /= total;
    return weights;
}

/// Everybody's thetas at the nodes of one width, which come together; sums over nodes go into `found`.
void add_people(const Input& input, std::span<Node> nodes, std::vector<Person>& found) {
    std::vector<std::array<double, 2>> pairs;
    for (const Node& node : nodes) pairs.push_back({node.mean, node.spread});
    const std::vector<double> mass = masses(input, pairs);
    const std::size_t thetas = input.thetas.size();
    const std::size_t count = nodes.size();
    std::vector<double> above(mass.size());
    for (std::size_t t = 0; t < thetas; ++t)
        for (std::size_t m = 0; m < count; ++m)
            above[t * count + m] =
                mass[t * count + m] *
                std::clamp(0.5 + (input.thetas[t] - nodes[m].mean) / input.theta_step, 0.0, 1.0);
    const Likelihoods people = input.at_width(nodes.front().width_ln);
    std::vector<double> sum(count);
    std::vector<double> first(count);
    std::vector<double> second(count);
    std::vector<double> over(count);
    for (std::size_t i = 0; i < input.people; ++i) {
        for (auto* values : {&sum, &first, &second, &over}) std::fill(values->begin(), values->end(), 0.0);
        const double* likelihood = &people[i * thetas];
        for (std::size_t t = 0; t < thetas; ++t) {
            const double value = likelihood[t];
            if (value <= negligible) continue;
            const double theta = input.thetas[t];
            add(sum, value, &mass[t * count]);
            add(first, value * theta, &mass[t * count]);
            add(second, value * theta * theta, &mass[t * count]);
            add(over, value, &above[t * count]);
        }
        for (std::size_t m = 0; m < count; ++m) {
            constexpr double least = 1e-300;
            const double scale = 1.0 / std::max(sum[m], least);
            const double mean = first[m] * scale;
            nodes[m].people_mean += mean / static_cast<double>(input.people);
            nodes[m].people_variance += second[m] * scale - mean * mean;
            found[i].above += nodes[m].weight * over[m] * scale;
            sum[m] = nodes[m].weight * scale;
        }
        for (std::size_t t = 0; t < thetas; ++t) {
            if (likelihood[t] <= negligible) continue;
            const double* row = &mass[t * count];
            double mixed = 0.0;
            for (std::size_t m = 0; m < count; ++m) mixed += sum[m] * row[m];
            found[i].thetas[t] += likelihood[t] * mixed;
        }
    }
}

threshold::Estimate mean_of_people(std::span<const Node> nodes, std::size_t people) {
    threshold::Estimate found;
    const double squared = static_cast<double>(people) * static_cast<double>(people);
    for (const Node& node : nodes) found.log10 += node.weight * node.people_mean;
    double square = 0.0;
    for (const Node& node : nodes)
        square += node.weight * (node.people_variance / squared +
                                 (node.people_mean - found.log10) * (node.people_mean - found.log10));
    found.sd_log10 = std::sqrt(square);
    const auto below = [&](double x) {
        double sum = 0.0;
        for (const Node& node : nodes)
            sum += node.weight * normal_below((x - node.people_mean) * static_cast<double>(people) /
                                              std::sqrt(std::max(node.people_variance, 1e-18)));
        return sum;
    };
    const auto quantile = [&](double p) {
        double low = found.log10 - 8.0 * found.sd_log10;
        double high = found.log10 + 8.0 * found.sd_log10;
        constexpr int halvings = 24;
        for (int i = 0; i < halvings; ++i) {
            const double middle = 0.5 * (low + high);
            (below(middle) < p ? low : high) = middle;
        }
        return 0.5 * (low + high);
    };
    found.lower_log10 = quantile(0.025);
    found.upper_log10 = quantile(0.975);
    return found;
}

threshold::Estimate marginal(const Box& box, std::span<const double> weights, std::size_t axis) {
    std::vector<double> centres;
    std::vector<double> sums(box.axes[axis].count, 0.0);
    for (std::size_t i = 0; i < sums.size(); ++i) centres.push_back(box.axes[axis].at(i));
    for (std::size_t node = 0; node < weights.size(); ++node) sums[box.along(axis, node)] += weights[node];
    return threshold::estimate_of(centres, box.axes[axis].step(), sums);
}

threshold::Estimate spread_of(const Box& box, std::span<const double> weights) {
    const threshold::Estimate ln = marginal(box, weights, 2);
    threshold::Estimate found;
    double square = 0.0;
    for (std::size_t node = 0; node < weights.size(); ++node) {
        const double spread = std::exp(box.axes[2].at(box.along(2, node)));
        found.log10 += weights[node] * spread;
        square += weights[node] * spread * spread;
    }
    found.lower_log10 = std::exp(ln.lower_log10);
    found.upper_log10 = std::exp(ln.upper_log10);
    found.sd_log10 = std::sqrt(std::max(square - found.log10 * found.log10, 0.0));
    return found;
}

std::vector<Node> kept(const Box& box, std::span<const double> weights) {
    constexpr double least_share = 3e-4;  // of the likeliest node
    const double least = least_share * *std::max_element(weights.begin(), weights.end());
    std::vector<Node> nodes;
    double total = 0.0;
    for (std::size_t node = 0; node < weights.size(); ++node) {
        if (weights[node] < least) continue;
        nodes.push_back({box.axes[0].at(box.along(0, node)), box.axes[1].at(box.along(1, node)),
                         std::exp(box.axes[2].at(box.along(2, node))), weights[node], 0.0, 0.0});
        total += weights[node];
    }
    for (Node& node : nodes) node.weight /= total;
    return nodes;
}

void add_log_likelihoods(const Input& input, Fit& found) {
    const std::array<double, 2> pair{found.mean.log10, found.spread.log10};
    const std::vector<double> mass = masses(input, {&pair, 1});
    const Likelihoods people = input.at_width(found.width_ln);
    for (std::size_t i = 0; i < input.people; ++i)
        found.people[i].log_likelihood = std::log(std::inner_product(
            mass.begin(), mass.end(), people.begin() + static_cast<std::ptrdiff_t>(i * mass.size()), 0.0));
}

}  // namespace

Fit fit(const Input& input) {
    SIPLADDER_EXPECT(input.people > 0 && !input.thetas.empty());
    const Box box = box_of(input);
    const std::vector<double> ln = evaluate(input, box);
    const std::vector<double> weights = weights_of(ln);
    Fit found;
    found.mean = marginal(box, weights, 1);
    found.spread = spread_of(box, weights);
    found.width_ln = box.axes[0].count > 1 ? marginal(box, weights, 0).log10 : box.axes[0].low;
    found.people.assign(input.people, {std::vector<double>(input.thetas.size(), 0.0), 0.0, 0.0});
    std::vector<Node> nodes = kept(box, weights);
    for (std::size_t from = 0; from < nodes.size();) {
        std::size_t to = from;
        while (to < nodes.size() && nodes[to].width_ln == nodes[from].width_ln) ++to;
        add_people(input, std::span<Node>(nodes).subspan(from, to - from), found.people);
        from = to;
    }
    for (Person& person : found.people) {
        const double sum = std::accumulate(person.thetas.begin(), person.thetas.end(), 0.0);
        for (double& theta : person.thetas) theta /= sum;
    }
    found.people_mean = mean_of_people(nodes, input.people);
    add_log_likelihoods(input, found);
    return found;
}

}  // namespace sipladder::panel::population

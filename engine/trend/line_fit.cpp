#include "engine/trend/line_fit.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

// Width, lapse and drift are nodes; given them, the line less its drift is a plain random walk whose places
// are seen through each sitting's likelihood, blurred by the jitter and shifted by the drift so far. Nodes
// that the answers rule out are dropped first, by a cheaper walk that leaves the drift to its wandering; the
// drifts are then narrowed to where the likeliest node leaves them, so that a hundred sittings, which fix
// width and drift to a few per cent, cost no more nodes than they need.

namespace sipladder::trend::line {

namespace {

using Rows = std::vector<double>;  // [node][theta]

constexpr double least_share =
    1e-30;  // of a likelihood's greatest value: keeps contradicting sittings finite
constexpr double negligible_ln = -11.0;
constexpr std::size_t drift_nodes = 13;

struct Model {
    const threshold::GridLikelihood& grid;
    std::span<const threshold::GridLikelihood::Cells> likelihoods;
    std::vector<double> elapsed;  // weeks since the first
    const Settings& settings;
    std::vector<Rows> blurred;  // [sitting]: with the jitter
    std::vector<double> node_ln_prior;
    std::vector<Kernel> kernels;
    Kernel jitter;

    std::size_t thetas() const { return grid.thetas().size(); }
    std::size_t sittings() const { return likelihoods.size(); }
};

Model model_of(const threshold::GridLikelihood& grid,
               std::span<const threshold::GridLikelihood::Cells> likelihoods, std::span<const double> weeks,
               const Settings& settings) {
    Model model{grid, likelihoods, {}, settings,
                {},   {},          {}, normal_kernel(settings.jitter_log10, grid.theta_step())};
    for (const double week : weeks) model.elapsed.push_back(week - weeks.front());
    for (std::size_t k = 1; k < weeks.size(); ++k)
        model.kernels.push_back(
            normal_kernel(settings.walk_log10 * std::sqrt(weeks[k] - weeks[k - 1]), grid.theta_step()));
    for (const double width : grid.width_weights())
        for (const double lapse : grid.lapse_weights())
            model.node_ln_prior.push_back(std::log(width * lapse));
    const std::size_t thetas = model.thetas();
    for (const auto& cells : likelihoods) {
        Rows& rows = model.blurred.emplace_back(cells.values.size());
        for (std::size_t at = 0; at < rows.size(); at += thetas) {
            const std::span<double> row(rows.data() + at, thetas);
            convolve({cells.values.data() + at, thetas}, model.jitter, true, row);
            const double least = least_share * *std::max_element(row.begin(), row.end());
            for (double& value : row) value = std::max(value, least);
        }
    }
    return model;
}

std::span<const double> row_of(const Rows& rows, std::size_t node, std::size_t thetas) {
    return {rows.data() + node * thetas, thetas};
}

bool is_possible(const Model& model, std::size_t node) {
    return std::all_of(model.blurred.begin(), model.blurred.end(), [&](const Rows& rows) {
        const auto row = row_of(rows, node, model.thetas());
        return row.front() > 0.0;
    });
}

/// Nodes worth a full fit, likeliest first.
std::vector<std::size_t> nodes_left(const Model& model, WalkPasses& passes) {
    std::vector<Kernel> wide;
    for (std::size_t k = 1; k < model.sittings(); ++k) {
        const double gap = model.elapsed[k] - model.elapsed[k - 1];
        wide.push_back(normal_kernel(
            std::hypot(model.settings.walk_log10 * std::sqrt(gap), model.settings.drift_sd_log10 * gap),
            model.grid.theta_step()));
    }
    std::vector<double> ln(model.node_ln_prior.size(), -std::numeric_limits<double>::infinity());
    std::vector<std::span<const double>> seen(model.sittings());
    for (std::size_t node = 0; node < ln.size(); ++node) {
        if (!is_possible(model, node)) continue;
        for (std::size_t k = 0; k < seen.size(); ++k)
            seen[k] = row_of(model.blurred[k], node, model.thetas());
        ln[node] = model.node_ln_prior[node] + passes.filter({model.grid.theta_weights(), seen, wide});
    }
    std::vector<std::size_t> order(ln.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return ln[a] > ln[b]; });
    const double best = ln[order.front()];
    SIPLADDER_EXPECT(std::isfinite(best));
    constexpr double dropped_ln = -7.0;  // of the likeliest node
    while (ln[order.back()] < best + dropped_ln) order.pop_back();
    return order;
}

/// One node and drift, with what it sees.
class Walk {
  public:
    explicit Walk(const Model& model) : model_(model), rows_(model.sittings(), Rows(model.thetas())) {}

    double filter(std::size_t node, double drift) {
        seen_.clear();
        for (std::size_t k = 0; k < rows_.size(); ++k) {
            const auto row = row_of(model_.blurred[k], node, model_.thetas());
            const double by = drift * model_.elapsed[k] / model_.grid.theta_step();
            if (by == 0.0) {
                seen_.push_back(row);
                continue;
            }
            shifted(row, by, rows_[k]);
            const double least = least_share * *std::max_element(rows_[k].begin(), rows_[k].end());
            for (double& value : rows_[k]) value = std::max(value, least);
            seen_.push_back(rows_[k]);
        }
        return model_.node_ln_prior[node] + passes.filter(input());
    }
    WalkInput input() const { return {model_.grid.theta_weights(), seen_, model_.kernels}; }
    std::span<const double> seen(std::size_t k) const { return seen_[k]; }

    WalkPasses passes;

  private:
    const Model& model_;
    std::vector<Rows> rows_;
    std::vector<std::span<const double>> seen_;
};

struct Drifts {
    std::vector<double> values;
    double step{};
};

Drifts drifts_between(double low, double high) {
    Drifts drifts;
    drifts.step = (high - low) / static_cast<double>(drift_nodes - 1);
    for (std::size_t i = 0; i < drift_nodes; ++i)
        drifts.values.push_back(low + drifts.step * static_cast<double>(i));
    return drifts;
}

double drift_ln_prior(double drift, const Settings& settings) {
    const double z = drift / settings.drift_sd_log10;
    return -0.5 * z * z;
}

/// The drifts that the likeliest node leaves, on an even grid.
Drifts drifts_left(const Model& model, std::size_t node, Walk& walk) {
    if (model.sittings() < 2) return {{0.0}, 1.0};
    double low = -model.settings.drift_most_log10;
    double high = model.settings.drift_most_log10;
    constexpr int rounds = 8;
    constexpr double dropped_ln = -9.0;
    for (int round = 0; round < rounds; ++round) {
        Drifts drifts = drifts_between(low, high);
        std::vector<double> ln;
        ln.reserve(drifts.values.size());
        for (const double drift : drifts.values)
            ln.push_back(walk.filter(node, drift) + drift_ln_prior(drift, model.settings));
        const double best = *std::max_element(ln.begin(), ln.end());
        std::size_t first = 0;
        std::size_t last = drift_nodes - 1;
        while (ln[first] < best + dropped_ln) ++first;
        while (ln[last] < best + dropped_ln) --last;
        const double new_low = drifts.values[first > 0 ? first - 1 : 0];
        const double new_high = drifts.values[std::min(last + 1, drift_nodes - 1)];
        constexpr double worth_it = 0.75;
        if (new_high - new_low > worth_it * (high - low)) return drifts;
        low = new_low;
        high = new_high;
    }
    return drifts_between(low, high);
}

/// Sums over nodes and drifts of e^ln times something, whatever the size of ln.
class Sums {
  public:
    Sums(const Model& model, std::size_t nodes, const Drifts& drifts)
        : model_(model),
          without_(nodes, std::vector<double>(model.sittings() * model.thetas(), 0.0)),
          node_weights_(nodes, 0.0),
          drift_weights_(drifts.values.size(), 0.0),
          scratch_(model.thetas()) {}

    /// @return the weight of this piece; 0 where it is too small to count
    double weigh(double ln) {
        if (ln < reference_ + negligible_ln) return 0.0;
        if (ln > reference_) {
            const double scale = std::exp(reference_ - ln);
            for (auto& row : without_) scale_all(row, scale);
            scale_all(node_weights_, scale);
            scale_all(drift_weights_, scale);
            for (End& piece : changes_) piece.weight *= scale;
            for (End& piece : ends_) piece.weight *= scale;
            total_ *= scale;
            reference_ = ln;
        }
        return std::exp(ln - reference_);
    }

    void add(double weight, std::size_t slot, std::size_t drift_at, double drift, Walk& walk) {
        const std::span<const double> thetas = model_.grid.thetas();
        const double step = model_.grid.theta_step();
        total_ += weight;
        node_weights_[slot] += weight;
        drift_weights_[drift_at] += weight;
        const WalkPasses::Moments change = walk.passes.change(walk.input(), thetas);
        changes_.push_back({weight, drift, change.mean + drift * model_.elapsed.back(), change.variance});
        const threshold::Estimate end =
            threshold::estimate_of(thetas, step, walk.passes.filtered(model_.sittings() - 1));
        ends_.push_back({weight, drift, end.log10, end.sd_log10 * end.sd_log10});
        walk.passes.smooth(walk.input());
        for (std::size_t k = 0; k < model_.sittings(); ++k) {
            const double back = -drift * model_.elapsed[k] / step;
            const std::span<const double> others = walk.passes.without(k);
            const double seen = std::inner_product(others.begin(), others.end(), walk.seen(k).begin(), 0.0);
            shifted(others, back, scratch_);
            double* into = without_[slot].data() + k * thetas.size();
            const double factor = weight / seen;
            for (std::size_t i = 0; i < scratch_.size(); ++i) into[i] += factor * scratch_[i];
        }
    }

    Fit fit(const std::vector<std::size_t>& nodes, const Drifts& drifts) {
        Fit found;
        const auto normalised = [](std::vector<double> values) {
            const double total = std::accumulate(values.begin(), values.end(), 0.0);
            SIPLADDER_EXPECT(total > 0.0);
            for (double& value : values) value /= total;
            return values;
        };
        found.node_weights.assign(model_.node_ln_prior.size(), 0.0);
        for (std::size_t slot = 0; slot < nodes.size(); ++slot)
            found.node_weights[nodes[slot]] = node_weights_[slot] / total_;
        found.drifts = drifts.values;
        found.drift_weights = normalised(drift_weights_);
        for (std::size_t k = 0; k < model_.sittings(); ++k) {
            found.line.push_back(normalised(line(k, nodes)));
            found.smoothed.push_back(normalised(sitting(k, nodes)));
        }
        for (End& piece : changes_) piece.weight /= total_;
        for (End& piece : ends_) piece.weight /= total_;
        found.changes = by_drift(changes_);
        found.ends = by_drift(ends_);
        found.log_evidence = reference_ + std::log(total_);
        return found;
    }

  private:
    /// One normal a drift in place of one a node and drift: nodes differ little, and there are many.
    static std::vector<End> by_drift(const std::vector<End>& pieces) {
        std::vector<End> merged;
        for (const End& piece : pieces) {
            const auto same = std::find_if(merged.begin(), merged.end(),
                                           [&](const End& known) { return known.drift == piece.drift; });
            if (same == merged.end()) {
                merged.push_back(piece);
                continue;
            }
            const double weight = same->weight + piece.weight;
            const double share = piece.weight / weight;
            const double apart = piece.mean - same->mean;
            same->variance +=
                share * (piece.variance - same->variance) + share * (1.0 - share) * apart * apart;
            same->mean += share * apart;
            same->weight = weight;
        }
        return merged;
    }

    static void scale_all(std::vector<double>& values, double scale) {
        for (double& value : values) value *= scale;
    }

    std::vector<double> line(std::size_t k, const std::vector<std::size_t>& nodes) const {
        const std::size_t thetas = model_.thetas();
        std::vector<double> sum(thetas, 0.0);
        for (std::size_t slot = 0; slot < nodes.size(); ++slot) {
            const double* others = without_[slot].data() + k * thetas;
            const auto seen = row_of(model_.blurred[k], nodes[slot], thetas);
            for (std::size_t i = 0; i < thetas; ++i) sum[i] += others[i] * seen[i];
        }
        return sum;
    }

    std::vector<double> sitting(std::size_t k, const std::vector<std::size_t>& nodes) {
        const std::size_t thetas = model_.thetas();
        std::vector<double> sum(thetas, 0.0);
        for (std::size_t slot = 0; slot < nodes.size(); ++slot) {
            if (node_weights_[slot] <= 0.0) continue;
            convolve({without_[slot].data() + k * thetas, thetas}, model_.jitter, false, scratch_);
            const auto own = row_of(model_.likelihoods[k].values, nodes[slot], thetas);
            for (std::size_t i = 0; i < thetas; ++i) sum[i] += scratch_[i] * own[i];
        }
        return sum;
    }

    const Model& model_;
    std::vector<std::vector<double>> without_;  // [slot][sitting · theta]
    std::vector<double> node_weights_;
    std::vector<double> drift_weights_;
    std::vector<End> changes_;
    std::vector<End> ends_;
    std::vector<double> scratch_;
    double total_ = 0.0;
    double reference_ = -std::numeric_limits<double>::infinity();
};

double drift_ln_total(const Drifts& drifts, const Settings& settings) {
    if (drifts.values.size() == 1) return 0.0;
    const double sd = settings.drift_sd_log10;
    const double inside = std::erf(settings.drift_most_log10 / (sd * std::numbers::sqrt2));
    return std::log(inside * sd * std::sqrt(2.0 * std::numbers::pi) / drifts.step);
}

}  // namespace

Fit fit(const threshold::GridLikelihood& grid, std::span<const threshold::GridLikelihood::Cells> likelihoods,
        std::span<const double> weeks, const Settings& settings) {
    SIPLADDER_EXPECT(!likelihoods.empty() && likelihoods.size() == weeks.size());
    const Model model = model_of(grid, likelihoods, weeks, settings);
    Walk walk(model);
    const std::vector<std::size_t> nodes = nodes_left(model, walk.passes);
    const Drifts drifts = drifts_left(model, nodes.front(), walk);
    Sums sums(model, nodes.size(), drifts);
    for (std::size_t slot = 0; slot < nodes.size(); ++slot)
        for (std::size_t d = 0; d < drifts.values.size(); ++d) {
            const double drift = drifts.values[d];
            const double ln = walk.filter(nodes[slot], drift) + drift_ln_prior(drift, settings);
            const double weight = sums.weigh(ln);
            if (weight > 0.0) sums.add(weight, slot, d, drift, walk);
        }
    Fit found = sums.fit(nodes, drifts);
    found.log_evidence -= drift_ln_total(drifts, settings);
    for (const auto& cells : likelihoods) found.log_evidence += cells.log_scale;
    return found;
}

namespace {

double mixture_below(std::span<const End> pieces, double x, double error_sd) {
    double sum = 0.0;
    constexpr double least_sd = 1e-9;
    for (const End& piece : pieces)
        sum +=
            piece.weight * normal_below((x - piece.mean) /
                                        std::max(std::hypot(std::sqrt(piece.variance), error_sd), least_sd));
    return sum;
}

}  // namespace

threshold::Estimate mixture(std::span<const End> pieces, double error_sd) {
    threshold::Estimate found;
    double square = error_sd * error_sd;
    for (const End& piece : pieces) found.log10 += piece.weight * piece.mean;
    for (const End& piece : pieces)
        square += piece.weight * (piece.variance + (piece.mean - found.log10) * (piece.mean - found.log10));
    found.sd_log10 = std::sqrt(square);
    const auto quantile = [&](double p) {
        constexpr double reach = 8.0;  // standard deviations
        double low = found.log10 - reach * found.sd_log10;
        double high = found.log10 + reach * found.sd_log10;
        constexpr int halvings = 24;
        for (int i = 0; i < halvings; ++i) {
            const double middle = 0.5 * (low + high);
            (mixture_below(pieces, middle, error_sd) < p ? low : high) = middle;
        }
        return 0.5 * (low + high);
    };
    found.lower_log10 = quantile(0.025);
    found.upper_log10 = quantile(0.975);
    return found;
}

double below_zero(std::span<const End> pieces, double error_sd) {
    return mixture_below(pieces, 0.0, error_sd);
}

}  // namespace sipladder::trend::line

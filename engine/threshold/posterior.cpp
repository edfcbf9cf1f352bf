#include "engine/threshold/posterior.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

// Brute force over cells: every cell holds its probability, an answer multiplies each by psi or 1 - psi at
// the cell's curve, and the sum goes into the evidence. Pooled answers go through logarithms, so thousands at
// one level are safe; a cell below `vanished` is set to 0, since subnormal numbers are slow and it could
// never come back.
//
// psi is linear in F for a given lapse, so sums over the lapse (`reach_`, `lapsed_`) foretell the probability
// of an answer from theta and width alone. One answer then takes a single pass over the cells, which scales
// as it multiplies and gathers the next sums.

namespace sipladder::threshold {

namespace {

constexpr double vanished = 1e-290;  // far above the subnormal numbers, far below anything that matters
constexpr double least_probability =
    1e-300;  // keeps an impossible answer (yes-no task) from ending the posterior
constexpr std::size_t most_cells = 20'000'000;

std::vector<double> cell_centres(double lower, double upper, std::size_t count) {
    std::vector<double> centres(count);
    for (std::size_t i = 0; i < count; ++i)
        centres[i] = lower + (upper - lower) * (static_cast<double>(i) + 0.5) / static_cast<double>(count);
    return centres;
}

struct Nodes {
    std::vector<double> values;
    std::vector<double> weights;
};

Nodes width_nodes(const Prior& prior, std::size_t count) {
    if (prior.width_ln_sd == 0.0) return {{std::exp(prior.width_ln_mean)}, {1.0}};
    if (prior.width_upper <= prior.width_lower) return {{prior.width_lower}, {1.0}};
    Nodes nodes;
    for (const double ln : cell_centres(std::log(prior.width_lower), std::log(prior.width_upper), count)) {
        const double z = (ln - prior.width_ln_mean) / prior.width_ln_sd;
        nodes.values.push_back(std::exp(ln));
        nodes.weights.push_back(std::exp(-0.5 * z * z));
    }
    return nodes;
}

void check_task(const Prior& prior, const Task& task) {
    if (!(task.guess >= 0.0 && task.guess < 1.0))
        throw Refused("task guess", "is " + exact(task.guess), "0 to below 1");
    for (const Prior::LapseNode& node : prior.lapses)
        if (node.lapse >= 1.0 - task.guess)
            throw Refused("prior lapse", "is " + exact(node.lapse),
                          "below " + exact(1.0 - task.guess) + ", so that the curve rises");
}

double sum_of(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0);
}

}  // namespace

Posterior::Posterior(Prior prior, Task task, Fineness fineness, Shape shape)
    : Posterior(std::move(prior), task, fineness == Fineness::coarse ? coarse_grid : fine_grid, shape) {}

Posterior::Posterior(Prior prior, Task task, const Grid& grid, Shape shape)
    : prior_(std::move(prior)), task_(task), shape_(shape) {
    check(prior_);
    check_task(prior_, task_);
    SIPLADDER_EXPECT(grid.thetas > 0 && grid.widths > 0 && grid.theta_step_log10 > 0.0);
    const Range range = theta_range(prior_);
    const double span = range.upper - range.lower;
    const std::size_t count =
        std::max(grid.thetas, static_cast<std::size_t>(std::ceil(span / grid.theta_step_log10)));
    Nodes widths = width_nodes(prior_, grid.widths);
    SIPLADDER_EXPECT(count * widths.values.size() * prior_.lapses.size() <= most_cells);
    thetas_ = cell_centres(range.lower, range.upper, count);
    theta_step_ = span / static_cast<double>(count);
    widths_ = std::move(widths.values);
    for (const Prior::LapseNode& node : prior_.lapses) lapses_.push_back(node.lapse);
    cells_.reserve(count * widths_.size() * lapses_.size());
    for (const double theta : thetas_) {
        const double density = theta_density(prior_, theta);
        for (const double weight : widths.weights)
            for (const Prior::LapseNode& node : prior_.lapses)
                cells_.push_back(density * weight * node.weight);
    }
    const double total = sum_of(cells_);
    if (!(total > 0.0))
        throw Refused("prior", "has no probability in its range", "a range that holds its centre");
    for (double& cell : cells_) cell /= total;
    sum_up();
}

RiseTable rise_table(const Posterior& posterior, double x_log10) {
    const std::span<const double> thetas = posterior.thetas();
    const std::span<const double> widths = posterior.widths();
    RiseTable table{std::vector<double>(thetas.size() * widths.size()),
                    std::vector<double>(thetas.size() * widths.size())};
    const double factor = width_in_s(posterior.shape());
    // exp((theta - x)/s) is a geometric series along theta: one exponential serves a short run of cells,
    // which keeps the rounding at a few units in the last place.
    constexpr std::size_t run = 8;
    constexpr double most_exponent = 600.0;
    for (std::size_t w = 0; w < widths.size(); ++w) {
        const double per_log10 = factor / widths[w];
        const double step = posterior.theta_step() * per_log10;
        const bool in_runs = posterior.shape() == Shape::logistic && step * run < 100.0;
        const double ratio = in_runs ? std::exp(step) : 0.0;
        double e = 0.0;
        for (std::size_t t = 0; t < thetas.size(); ++t) {
            const double z = per_log10 * (x_log10 - thetas[t]);
            const std::size_t cell = t * widths.size() + w;
            if (!in_runs) {
                table.rise[cell] = rise(z, posterior.shape());
                table.fall[cell] = fall(z, posterior.shape());
                continue;
            }
            e = t % run == 0 ? std::exp(std::clamp(-z, -most_exponent, most_exponent)) : e * ratio;
            table.rise[cell] = 1.0 / (1.0 + e);
            table.fall[cell] = e * table.rise[cell];
        }
    }
    return table;
}

void Posterior::sum_up() {
    const std::size_t widths = widths_.size();
    reach_.assign(thetas_.size() * widths, 0.0);
    lapsed_.assign(reach_.size(), 0.0);
    marginal_.assign(thetas_.size(), 0.0);
    const double* cell = cells_.data();
    for (std::size_t i = 0; i < reach_.size(); ++i)
        for (const double lapse : lapses_) {
            reach_[i] += *cell * (1.0 - task_.guess - lapse);
            lapsed_[i] += *cell * lapse;
            marginal_[i / widths] += *cell++;
        }
}

void Posterior::rescale(double log_factor) {
    const double total = sum_of(cells_);
    SIPLADDER_EXPECT(total > 0.0);
    const double scale = 1.0 / total;
    for (double& cell : cells_) {
        cell *= scale;
        if (cell < vanished) cell = 0.0;
    }
    log_evidence_ += std::log(total) + log_factor;
    sum_up();
}

double Posterior::predicted(const RiseTable& level, bool correct) const {
    // Two running sums, since each addition waits for the one before it.
    const std::vector<double>& side = correct ? level.rise : level.fall;
    std::array<double, 2> sum{};
    std::size_t i = 0;
    for (; i + 1 < reach_.size(); i += 2) {
        sum[0] += reach_[i] * side[i] + (correct ? 0.0 : lapsed_[i]);
        sum[1] += reach_[i + 1] * side[i + 1] + (correct ? 0.0 : lapsed_[i + 1]);
    }
    if (i < reach_.size()) sum[0] += reach_[i] * side[i] + (correct ? 0.0 : lapsed_[i]);
    return sum[0] + sum[1] + (correct ? task_.guess : 0.0);
}

void Posterior::update(Log10Level level, bool correct) {
    SIPLADDER_EXPECT(!cells_.empty());
    SIPLADDER_EXPECT(std::isfinite(level.value));
    update(rise_table(*this, level.value), correct);
}

void Posterior::update(const RiseTable& level, bool correct) {
    SIPLADDER_EXPECT(!cells_.empty() && level.rise.size() == reach_.size());
    const std::vector<double>& side = correct ? level.rise : level.fall;
    const double foretold = predicted(level, correct);
    constexpr double least_foretold = 1e-9;  // below it too few digits of the sums are left
    if (foretold < least_foretold) return update(level, correct ? 1.0 : 0.0, correct ? 0.0 : 1.0);
    const double scale = 1.0 / foretold;
    const std::size_t count = lapses_.size();
    std::vector<double> floors(count);
    std::vector<double> heights(count);
    for (std::size_t l = 0; l < count; ++l) {
        floors[l] = scale * std::max(correct ? task_.guess : lapses_[l], least_probability);
        heights[l] = 1.0 - task_.guess - lapses_[l];
    }
    const std::size_t widths = widths_.size();
    double total = 0.0;
    double* cell = cells_.data();
    for (std::size_t t = 0, i = 0; t < thetas_.size(); ++t) {
        double row = 0.0;
        for (std::size_t w = 0; w < widths; ++w, ++i) {
            const double part = scale * side[i];
            double mass = 0.0;
            double reach = 0.0;
            for (std::size_t l = 0; l < count; ++l, ++cell) {
                const double value = *cell * (floors[l] + heights[l] * part);
                *cell = value < vanished ? 0.0 : value;
                mass += *cell;
                reach += *cell * heights[l];
            }
            reach_[i] = reach;
            lapsed_[i] = (1.0 - task_.guess) * mass - reach;
            row += mass;
        }
        marginal_[t] = row;
        total += row;
    }
    constexpr double rounding = 1e-12;
    log_evidence_ += std::log(foretold);
    if (std::abs(total - 1.0) > rounding) rescale(0.0);
}

void Posterior::update(const Counts& counts) {
    SIPLADDER_EXPECT(!cells_.empty());
    SIPLADDER_EXPECT(std::isfinite(counts.x_log10));
    if (counts.correct > counts.presentations)
        throw Refused("correct",
                      std::to_string(counts.correct) + " of " + std::to_string(counts.presentations),
                      "no more right answers than presentations");
    if (counts.presentations == 0) return;
    update(rise_table(*this, counts.x_log10), static_cast<double>(counts.correct),
           static_cast<double>(counts.presentations - counts.correct));
}

void Posterior::update(const RiseTable& table, double right, double wrong) {
    std::vector<double> log_likelihood(cells_.size());
    double best = -std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < table.rise.size(); ++i)
        for (std::size_t l = 0; l < lapses_.size(); ++l) {
            const std::size_t cell = i * lapses_.size() + l;
            const double height = 1.0 - task_.guess - lapses_[l];
            double ln = 0.0;
            if (right > 0.0)
                ln += right * std::log(std::max(task_.guess + height * table.rise[i], least_probability));
            if (wrong > 0.0)
                ln += wrong * std::log(std::max(lapses_[l] + height * table.fall[i], least_probability));
            log_likelihood[cell] = ln;
            if (cells_[cell] > 0.0) best = std::max(best, ln);
        }
    for (std::size_t cell = 0; cell < cells_.size(); ++cell)
        cells_[cell] *= std::exp(log_likelihood[cell] - best);
    rescale(best);
}

std::vector<double> Posterior::width_marginal() const {
    std::vector<double> marginal(widths_.size(), 0.0);
    for (std::size_t cell = 0; cell < cells_.size(); ++cell)
        marginal[cell / lapses_.size() % widths_.size()] += cells_[cell];
    return marginal;
}

std::vector<double> Posterior::lapse_marginal() const {
    std::vector<double> marginal(lapses_.size(), 0.0);
    for (std::size_t cell = 0; cell < cells_.size(); ++cell) marginal[cell % lapses_.size()] += cells_[cell];
    return marginal;
}

double Posterior::mean() const {
    const std::vector<double> marginal = theta_marginal();
    return std::inner_product(marginal.begin(), marginal.end(), thetas_.begin(), 0.0);
}

double Posterior::sd() const {
    const std::vector<double> marginal = theta_marginal();
    const double centre = std::inner_product(marginal.begin(), marginal.end(), thetas_.begin(), 0.0);
    double square = 0.0;
    for (std::size_t t = 0; t < marginal.size(); ++t)
        square += marginal[t] * (thetas_[t] - centre) * (thetas_[t] - centre);
    return std::sqrt(square);
}

double Posterior::quantile(double p) const {
    return cell_quantile(thetas_, theta_step_, theta_marginal(), p);
}

double cell_quantile(std::span<const double> centres, double step, std::span<const double> probabilities,
                     double p) {
    SIPLADDER_EXPECT(!centres.empty() && centres.size() == probabilities.size());
    SIPLADDER_EXPECT(p >= 0.0 && p <= 1.0);
    double below = 0.0;
    std::size_t last = 0;
    for (std::size_t i = 0; i < centres.size(); ++i) {
        if (probabilities[i] <= 0.0) continue;
        last = i;
        if (below + probabilities[i] >= p) return centres[i] + step * ((p - below) / probabilities[i] - 0.5);
        below += probabilities[i];
    }
    return centres[last] + 0.5 * step;  // p above the sum by rounding
}

}  // namespace sipladder::threshold

#include "engine/trend/periods.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/trend/change_words.hpp"
#include "engine/trend/random_walk.hpp"
#include "engine/trend/record.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

// Given width and lapse, a period's level has the prior times each sitting's likelihood blurred by the
// jitter, and the two periods know nothing of each other. Their difference is then summed over the nodes, on
// the lattice of differences.

namespace sipladder::trend {

namespace {

using Row = std::vector<double>;

void check(std::size_t sittings, const Period& earlier, const Period& later) {
    const bool is_within =
        earlier.first <= earlier.last && later.first <= later.last && later.last < sittings;
    if (!is_within || later.first <= earlier.last)
        throw Refused("periods",
                      "are sittings " + std::to_string(earlier.first + 1) + " to " +
                          std::to_string(earlier.last + 1) + " and " + std::to_string(later.first + 1) +
                          " to " + std::to_string(later.last + 1),
                      "one after the other, within " + counted(sittings, "sitting", "sittings"));
}

/// A period under one width and lapse.
struct Level {
    Row thetas;  ///< probabilities
    double ln_evidence{};
};

Level level_of(const Record& record, const Period& period, std::size_t node, const Kernel& jitter) {
    const std::size_t count = record.grid.thetas().size();
    Row ln(count);
    Row blurred(count);
    for (std::size_t t = 0; t < count; ++t) ln[t] = std::log(record.grid.theta_weights()[t]);
    double scale = 0.0;
    for (std::size_t sitting = period.first; sitting <= period.last; ++sitting) {
        const auto& cells = record.cells[sitting];
        convolve({cells.values.data() + node * count, count}, jitter, true, blurred);
        // What is impossible at a node stays finite, so that sittings that contradict each other meet
        // somewhere.
        constexpr double least = 1e-300;
        for (std::size_t t = 0; t < count; ++t) ln[t] += std::log(std::max(blurred[t], least));
        scale += cells.log_scale;
    }
    const double most = *std::max_element(ln.begin(), ln.end());
    Level level{Row(count), 0.0};
    for (std::size_t t = 0; t < count; ++t) level.thetas[t] = std::exp(ln[t] - most);
    const double total = std::accumulate(level.thetas.begin(), level.thetas.end(), 0.0);
    for (double& at : level.thetas) at /= total;
    level.ln_evidence = most + std::log(total) + scale;
    return level;
}

/// Everything on the grid, without the error of mixing.
struct Joint {
    Row before;
    Row after;
    Row change;  ///< on differences, from -(n - 1) to n - 1 steps
    Row node_weights;
};

Joint joint_of(const Record& record, const Period& earlier, const Period& later) {
    const Kernel jitter = normal_kernel(record.settings.jitter_log10, record.grid.theta_step());
    std::vector<Level> before;
    std::vector<Level> after;
    Joint joint;
    for (const double width : record.grid.width_weights())
        for (const double lapse : record.grid.lapse_weights()) {
            before.push_back(level_of(record, earlier, before.size(), jitter));
            after.push_back(level_of(record, later, after.size(), jitter));
            joint.node_weights.push_back(std::log(width * lapse) + before.back().ln_evidence +
                                         after.back().ln_evidence);
        }
    const double most = *std::max_element(joint.node_weights.begin(), joint.node_weights.end());
    for (double& weight : joint.node_weights) weight = std::exp(weight - most);
    const double total = std::accumulate(joint.node_weights.begin(), joint.node_weights.end(), 0.0);
    const std::size_t count = record.grid.thetas().size();
    joint.before.assign(count, 0.0);
    joint.after.assign(count, 0.0);
    joint.change.assign(2 * count - 1, 0.0);
    for (std::size_t node = 0; node < before.size(); ++node) {
        const double weight = joint.node_weights[node] /= total;
        for (std::size_t b = 0; b < count; ++b) {
            joint.before[b] += weight * before[node].thetas[b];
            joint.after[b] += weight * after[node].thetas[b];
            const double of_both = weight * before[node].thetas[b];
            for (std::size_t a = 0; a < count; ++a)
                joint.change[count - 1 + a - b] += of_both * after[node].thetas[a];
        }
    }
    return joint;
}

/// How much of each mix's error is in the levels: a sitting weighs by what it tells beside the jitter.
struct MixShares {
    double before_sd{};
    double after_sd{};
    double change_sd{};
};

MixShares mixing_of(const Record& record, const Period& earlier, const Period& later, const Joint& joint) {
    struct Share {
        double before{};
        double after{};
        double u{};
    };
    std::map<std::string, Share> mixes;
    const Typical person = typical(record.grid, joint.node_weights);
    const auto add = [&](const Period& period, const Row& thetas, double Share::*share) {
        Row weights;
        for (std::size_t i = period.first; i <= period.last; ++i) {
            const double own = answers_sd(record, i, thetas, person);
            const double jitter = record.settings.jitter_log10;
            weights.push_back(1.0 / (own * own + jitter * jitter));
        }
        const double total = std::accumulate(weights.begin(), weights.end(), 0.0);
        for (std::size_t i = period.first; i <= period.last; ++i) {
            const Sitting& sitting = record.sittings[i];
            std::string name = sitting.mix;
            if (name.empty()) name.append(1, '\0').append(std::to_string(i));  // a mix of its own
            Share& mix = mixes[name];
            mix.*share += weights[i - period.first] / total;
            mix.u = std::max(mix.u, std::hypot(sitting.u_shared_log10, record.rung_errors[i]));
        }
    };
    add(earlier, joint.before, &Share::before);
    add(later, joint.after, &Share::after);
    MixShares found;
    for (const auto& [name, mix] : mixes) {
        found.before_sd = std::hypot(found.before_sd, mix.before * mix.u);
        found.after_sd = std::hypot(found.after_sd, mix.after * mix.u);
        found.change_sd = std::hypot(found.change_sd, (mix.after - mix.before) * mix.u);
    }
    return found;
}

/// Of a normal error of this SD upon the lattice's own spread.
double below_zero(std::span<const double> lattice, std::span<const double> probabilities, double step,
                  double error_sd) {
    double sum = 0.0;
    for (std::size_t i = 0; i < lattice.size(); ++i) {
        const double part = error_sd > 0.0 ? 0.5 * std::erfc(lattice[i] / (error_sd * std::sqrt(2.0)))
                                           : std::clamp(0.5 - lattice[i] / step, 0.0, 1.0);
        sum += probabilities[i] * part;
    }
    return sum;
}

std::vector<std::string> differences(std::span<const Sitting> sittings, const Period& earlier,
                                     const Period& later) {
    std::vector<std::string> found;
    const auto note = [&](std::string Conditions::*what, const char* words) {
        const std::string& before = sittings[earlier.first].conditions.*what;
        bool differs = false;
        for (const Period& period : {earlier, later})
            for (std::size_t i = period.first; i <= period.last; ++i)
                differs = differs || sittings[i].conditions.*what != before;
        if (differs) found.emplace_back(words);
    };
    note(&Conditions::lot, "the lot of the ingredient");
    note(&Conditions::base, "the water or base");
    note(&Conditions::blinding, "the blinding");
    return found;
}

}  // namespace

PeriodsCompared compare(std::span<const Sitting> sittings, const Period& earlier, const Period& later,
                        const threshold::Prior& prior, const threshold::Task& task,
                        const Settings& settings) {
    check(sittings.size(), earlier, later);
    const Record record = record_of(sittings, prior, task, settings);
    const Joint joint = joint_of(record, earlier, later);
    const MixShares mixing = mixing_of(record, earlier, later, joint);
    const std::span<const double> thetas = record.grid.thetas();
    const double step = record.grid.theta_step();
    Row lattice(joint.change.size());
    for (std::size_t i = 0; i < lattice.size(); ++i)
        lattice[i] = step * (static_cast<double>(i) - static_cast<double>(thetas.size() - 1));
    using threshold::estimate_of;
    using threshold::widened;
    return {.earlier = earlier,
            .later = later,
            .before = widened(estimate_of(thetas, step, joint.before), mixing.before_sd),
            .after = widened(estimate_of(thetas, step, joint.after), mixing.after_sd),
            .change = widened(estimate_of(lattice, step, joint.change), mixing.change_sd),
            .probability_fell = below_zero(lattice, joint.change, step, mixing.change_sd),
            .differs = differences(sittings, earlier, later)};
}

std::optional<std::pair<Period, Period>> halves(std::size_t sittings, std::size_t practice) {
    if (sittings < practice + 2) return std::nullopt;
    const std::size_t half = (sittings - practice) / 2;
    return std::pair{Period{practice, practice + half - 1}, Period{practice + half, sittings - 1}};
}

}  // namespace sipladder::trend

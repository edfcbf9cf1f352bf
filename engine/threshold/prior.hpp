#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace sipladder::threshold {

/// What is assumed before the first answer. The report says `name`.
struct Prior {
    enum class Kind {
        assumed,  ///< wide and heavy-tailed: 0.85 Normal(mean, sd) + 0.15 Normal(mean, 0.8·sd/0.35), cut at
                  ///< mean ± 1.8·sd/0.35
        normal,   ///< Normal(mean, sd), given by the caller or carried over from own history
        flat      ///< flat over lower … upper
    };
    Kind kind = Kind::assumed;
    std::string name;  ///< "assumed for sucrose (judgement: …)", "flat", "own history of 2026-03-01"
    double mean_log10{};
    double sd_log10 = 0.45;
    double
        lower_log10{};  ///< flat: its range; other kinds: where upper > lower, the cut instead of their own
    double upper_log10{};
    double width_ln_mean = -0.254892249628790;  ///< ln 0.775
    double width_ln_sd = 0.55;                  ///< 0: the width is known
    double width_lower = 0.3;                   ///< cut, log10 units
    double width_upper = 3.0;
    struct LapseNode {
        double lapse{};
        double weight{};
        bool operator==(const LapseNode&) const = default;
    };
    std::vector<LapseNode> lapses{{0.0, 0.20},  {0.01, 0.25}, {0.03, 0.25},
                                  {0.06, 0.15}, {0.12, 0.10}, {0.22, 0.05}};

    bool operator==(const Prior&) const = default;
};

/// Range of theta that the prior allows, log10: assumed mean ± 1.8·sd/0.35, normal mean ± 6·sd, flat lower to
/// upper.
struct Range {
    double lower{};
    double upper{};
};
Range theta_range(const Prior& prior);
/// Density of the prior at theta, not normalised; 0 outside its range.
double theta_density(const Prior& prior, double theta_log10);
/// @throws Refused  naming each field of the prior that cannot be used
void check(const Prior& prior);

/// Beta(a, b) for the lapse rate, cut at `most` and cut into `nodes` cells of equal probability, each at its
/// own mean.
/// @throws Refused  unless a > 0, b > 0, 0 < most < 1, nodes 1 to 1000
std::vector<Prior::LapseNode> beta_lapses(double a, double b, std::size_t nodes = 12, double most = 0.3);

}  // namespace sipladder::threshold

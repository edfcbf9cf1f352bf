#pragma once

#include <optional>
#include <string>
#include <vector>

namespace sipladder::threshold {

/// What is assumed before the first answer. The report says `name`.
struct Prior {
    enum class Kind {
        assumed,  ///< wide and heavy-tailed: 0.85 Normal(mean, sd) + 0.15 Normal(mean, 0.8·sd/0.35)
        normal,   ///< Normal(mean, sd), given by the caller or carried over from own history
        flat      ///< flat over lower … upper
    };
    Kind kind = Kind::assumed;
    std::string name;  ///< "assumed for sucrose (judgement: …)", "flat", "own history of 2026-03-01"
    double mean_log10{};
    double sd_log10 = 0.45;
    double lower_log10{};  ///< flat only; also the range of the grid where set
    double upper_log10{};
    double width_ln_mean = -0.254892249628790;  ///< ln 0.775
    double width_ln_sd = 0.45;
    double width_lower = 0.3;  ///< cut, log10 units
    double width_upper = 2.2;
    struct LapseNode {
        double lapse{};
        double weight{};
        bool operator==(const LapseNode&) const = default;
    };
    std::vector<LapseNode> lapses{{0.0, 0.20},  {0.01, 0.25}, {0.03, 0.25},
                                  {0.06, 0.15}, {0.12, 0.10}, {0.22, 0.05}};

    bool operator==(const Prior&) const = default;
};

}  // namespace sipladder::threshold

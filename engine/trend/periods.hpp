#pragma once

#include "engine/trend/trend.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

/// Two periods of one person and substance beside each other: before and after a course, a winter, a cold.
namespace sipladder::trend {

/// Sittings next to each other.
struct Period {
    std::size_t first{};  ///< index into the sittings
    std::size_t last{};   ///< at or after it

    bool operator==(const Period&) const = default;
};

/// Below 0: the threshold is lower in the later period.
struct PeriodsCompared {
    Period earlier;
    Period later;
    threshold::Estimate before;  ///< the level that the sittings of the period vary around
    threshold::Estimate after;
    threshold::Estimate change;
    double probability_fell{};
    std::vector<std::string> differs;  ///< of what is behind them: "new lot", "other water or base"
};

/// Each period has one level, the sittings lie around it with the jitter, and both share the person's width
/// and lapse. Nothing of the one period's level is assumed of the other's. An error of a mix that was served
/// in both goes out of the change. Practice sittings count if they are within a period.
///
/// @throws Refused  unless the periods lie within the sittings, one after the other; as `trend` otherwise
/// @checked         tests/trend/periods_test.cpp
PeriodsCompared compare(std::span<const Sitting> sittings, const Period& earlier, const Period& later,
                        const threshold::Prior& prior, const threshold::Task& task,
                        const Settings& settings = {});

/// The sittings behind the practice in two halves, the earlier one not the longer; nothing with fewer than
/// two of them.
std::optional<std::pair<Period, Period>> halves(std::size_t sittings, std::size_t practice);

/// In sentences: the change with its interval, how probable, and what else is different.
std::vector<std::string> words(const PeriodsCompared& compared, std::span<const Sitting> sittings,
                               Scale scale);

}  // namespace sipladder::trend

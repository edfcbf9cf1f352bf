#pragma once

#include "engine/trend/periods.hpp"

#include <cstddef>
#include <memory>

namespace sipladder::gui {

struct Weeks;

/// Which end of the two periods is moved by a sitting.
enum class PeriodEnd { earlier_first, earlier_last, later_first, later_last };

/// Two periods of one substance, as they are compared in Weeks.
struct PeriodsShown {
    std::size_t row{};  ///< index into Weeks::entries
    trend::Period earlier;
    trend::Period later;
    std::shared_ptr<const trend::PeriodsCompared> found;
};

/// What the end would become; the same where it has no room: an end stays within the sittings and on its side
/// of the others.
PeriodsShown moved(const PeriodsShown& shown, PeriodEnd end, bool forward, std::size_t sittings);

}  // namespace sipladder::gui

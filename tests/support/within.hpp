#pragma once

#include <cmath>

namespace sipladder::tests {

/// Absolute and relative tolerance, added; NaN is never within. (doctest::Approx adds a scale of one of its
/// own.)
inline bool within(double got, double wanted, double abs, double rel = 0.0) {
    return std::abs(got - wanted) <= abs + rel * std::abs(wanted);
}

}  // namespace sipladder::tests

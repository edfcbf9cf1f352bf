#pragma once

#include <cmath>

namespace sipladder {

/// A value with its standard uncertainty in two parts, both in the unit of `Q`: what is the value's own, and
/// what it shares with everything made from the same stock, ingredient and syringe (GUM, JCGM 100:2008, 5.2).
template <class Q>
struct Measured {
    Q value{};
    Q u_own{};
    Q u_shared{};
};

/// Combined standard uncertainty: the two parts are independent, so they add in squares (GUM, 5.1.2).
template <class Q>
Q combined_uncertainty(const Measured<Q>& m) {
    return Q{std::hypot(m.u_own.value, m.u_shared.value)};
}

}  // namespace sipladder

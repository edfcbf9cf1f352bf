#pragma once

#include "drills/drill.hpp"

/// Nose closed against open: two detection measurements over the same bottles, in turn within each pair of
/// presentations, so that tiredness falls on both alike.
namespace sipladder::drills::nose {

struct Result {
    threshold::Threshold open;
    threshold::Threshold closed;
    double ratio{};        ///< closed over open: how much more it takes without the nose
    double ratio_lower{};  ///< equal-tailed 95 %; what the bottles' common stock is off by has no part in it
    double ratio_upper{};
    double closed_is_higher{};  ///< probability that it takes more with the nose closed
};
Result result(const State& drill);

}  // namespace sipladder::drills::nose

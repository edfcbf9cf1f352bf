#pragma once

#include "engine/threshold/prior.hpp"

namespace sipladder::tests {

/// One width and one lapse, so that a fit of many people is quick.
inline threshold::Prior small_prior() {
    threshold::Prior prior;
    prior.kind = threshold::Prior::Kind::normal;
    prior.sd_log10 = 0.3;
    prior.width_ln_sd = 0.0;
    prior.lapses = {{0.03, 1.0}};
    return prior;
}

}  // namespace sipladder::tests

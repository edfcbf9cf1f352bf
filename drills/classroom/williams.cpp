#include "drills/classroom/williams.hpp"

#include "engine/problem.hpp"

#include <algorithm>

// The first order zigzags 0, 1, n-1, 2, n-2 …, so that the steps from place to place are all different; the
// others add 1 to n-1 to it. For an odd n every step comes up twice one way and never the other, so the same
// orders read backwards are added.

namespace sipladder::drills::classroom {

std::vector<std::vector<std::size_t>> williams_orders(std::size_t samples) {
    SIPLADDER_EXPECT(samples >= 1 && samples <= 60);
    std::vector<std::size_t> first;
    for (std::size_t place = 0; place < samples; ++place)
        first.push_back(place % 2 == 1 ? (place + 1) / 2 : (samples - place / 2) % samples);
    std::vector<std::vector<std::size_t>> orders;
    for (std::size_t shift = 0; shift < samples; ++shift) {
        std::vector<std::size_t> order;
        for (const std::size_t sample : first) order.push_back((sample + shift) % samples);
        orders.push_back(std::move(order));
    }
    if (samples % 2 == 0 || samples == 1) return orders;
    for (std::size_t shift = 0; shift < samples; ++shift) {
        std::vector<std::size_t> backwards = orders[shift];
        std::reverse(backwards.begin(), backwards.end());
        orders.push_back(std::move(backwards));
    }
    return orders;
}

}  // namespace sipladder::drills::classroom

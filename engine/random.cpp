#include "engine/random.hpp"

#include "engine/problem.hpp"

#include <cmath>
#include <numbers>

namespace sipladder {

std::size_t Random::below(std::size_t count) {
    SIPLADDER_EXPECT(count > 0);
    const std::uint64_t n = count;
    // Draws at or above the largest multiple of n would favour small results, so they are drawn again.
    const std::uint64_t excess = (UINT64_MAX % n + 1) % n;
    std::uint64_t draw = bits();
    while (draw > UINT64_MAX - excess) draw = bits();
    return static_cast<std::size_t>(draw % n);
}

double Random::uniform() {
    return static_cast<double>(bits() >> 11) * 0x1.0p-53;
}

double Random::normal() {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
    return radius * std::cos(2.0 * std::numbers::pi * uniform());
}

Seed derived(Seed seed, std::uint64_t use) {
    std::uint64_t z = seed.value + 0x9e3779b97f4a7c15U * (use + 1);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
    return Seed{z ^ (z >> 31)};
}

}  // namespace sipladder

#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <random>
#include <utility>
#include <vector>

/// Random draws that are the same on every machine: std::mt19937_64, whose output the C++ standard fixes
/// ([rand.predef]), with draws of our own, since the distributions of <random> differ between libraries.
namespace sipladder {

struct Seed {
    std::uint64_t value{};
    bool operator==(const Seed&) const = default;
};

class Random {
  public:
    explicit Random(Seed seed) : engine_(seed.value) {}

    std::uint64_t bits() { return engine_(); }
    /// Uniform over 0 … count - 1, without modulo bias. @pre count > 0
    std::size_t below(std::size_t count);
    /// Uniform on [0, 1), in steps of 2^-53.
    double uniform();
    /// Standard normal, by Box and Muller's transform (Ann. Math. Stat. 29:610, 1958; from memory).
    double normal();

    /// Fisher-Yates shuffle.
    template <class T>
    void shuffle(std::vector<T>& items) {
        for (std::size_t left = items.size(); left > 1; --left)
            std::swap(items[left - 1], items[below(left)]);
    }

  private:
    std::mt19937_64 engine_;
};

/// A seed for one named use of another seed, so that two uses never share a stream (SplitMix64's finaliser).
Seed derived(Seed seed, std::uint64_t use);

}  // namespace sipladder

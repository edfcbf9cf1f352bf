#pragma once

#include "engine/random.hpp"
#include "engine/threshold/graded.hpp"

#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

namespace sipladder::tests {

/// Cups graded by a person with these cut points: 8 levels of ratio 2 around 0, blanks among them.
template <class Distance>
std::vector<threshold::GradedCounts> graded_cups(Distance&& distance_at, double lapse,
                                                 const std::vector<double>& cuts, std::size_t a_level,
                                                 std::size_t blanks, Random& random) {
    std::vector<threshold::GradedCounts> counts;
    const auto add = [&](std::optional<double> x, std::size_t cups, double distance) {
        threshold::GradedCounts at{x, std::vector<std::size_t>(cuts.size() + 1, 0)};
        for (std::size_t i = 0; i < cups; ++i) {
            const bool lapses = random.uniform() < 1.5 * lapse;
            const double percept = random.normal() + (lapses ? 0.0 : distance);
            std::size_t grade = 0;
            while (grade < cuts.size() && percept > cuts[grade]) ++grade;
            ++at.grades[grade];
        }
        counts.push_back(at);
    };
    add(std::nullopt, blanks, 0.0);
    for (int i = 0; i < 8; ++i) {
        const double x = (i - 3.5) * std::log10(2.0);
        add(x, a_level, distance_at(x));
    }
    return counts;
}

inline auto along(const threshold::Curve& curve) {
    return [curve](double x) { return threshold::perceived_distance(curve, x); };
}

}  // namespace sipladder::tests

#pragma once

#include "engine/chart/chart.hpp"

#include <string>
#include <vector>

namespace sipladder::chart {

/// One method: RMSE of the threshold against cups tasted.
struct BenchLine {
    enum class Kind { own, shares_population, published, limit };
    std::string name;
    Kind kind = Kind::published;
    std::vector<double> cups;  ///< ascending, above 0
    std::vector<double> rmse;  ///< log10 units, above 0, as many as cups
};

struct BenchChart {
    std::string title;
    std::string note;
    std::vector<BenchLine> lines;
};

/// Error against cups on two logarithmic axes. Each line is named at its right end; names that would touch
/// are left to the hover words. What no method can reach lies below the limits, drawn dotted.
Chart bench_chart(const BenchChart& data);

}  // namespace sipladder::chart

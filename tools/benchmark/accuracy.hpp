#pragma once

#include "tools/benchmark/methods.hpp"
#include "tools/benchmark/report.hpp"

#include <vector>

/// How near the truth, and how honest: one run over simulated people for every part.
namespace sipladder::benchmark {

/// RMSE after this many presentations, of one method: what the chart shows.
struct Curve {
    std::string name;
    bool knows_population = false;
    bool own = false;       ///< this program's method
    bool is_limit = false;  ///< no method at all, but what none can beat
    std::vector<std::size_t> presentations;
    std::vector<double> rmse;
};

/// Every method on the people that the matched prior is true of. @return the curves for the chart
std::vector<Curve> add_accuracy(Report& report, const Run& run);
/// People who are not as the model says, with the prior that ships, beside the plain reference.
void add_other_people(Report& report, const Run& run);
/// False alarms and power of every warning.
void add_warnings(Report& report, const Run& run);
/// Stopping when the claimed SD is small enough.
void add_stopping(Report& report, const Run& run);
/// A stock that ends.
void add_stock(Report& report, const Run& run);
/// Bottles that hold something else than they say.
void add_mixing(Report& report, const Run& run);

}  // namespace sipladder::benchmark

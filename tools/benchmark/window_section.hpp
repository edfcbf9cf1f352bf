#pragma once

#include "tools/benchmark/report.hpp"

#include <cstddef>

namespace sipladder::benchmark {

struct WindowBench {
    std::size_t sittings{};  ///< of one person
    std::size_t rounds{};
    double idle_s{};  ///< how long the program is watched
};

/// The window on somebody's years of sittings: opening them, each place, an answer. Where there is a display,
/// the program itself too: its first frame, and what it costs while nothing is done.
void add_window(Report& report, const WindowBench& bench);

}  // namespace sipladder::benchmark

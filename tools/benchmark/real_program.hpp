#pragma once

#include <filesystem>

namespace sipladder::benchmark {

/// The program itself, on a display.
struct ProgramRun {
    double first_frame_ms{};    ///< from its start until its first frame is shown, median of five starts
    double coldest_start_ms{};  ///< the first of them, which finds less in the machine's memory
    double idle_share{};        ///< of one processor, while nothing is done
};

/// Whether there is a display to run it on.
bool has_display();

/// Starts the program with this journal several times, waits until it has shown a frame and made the day's
/// copy, watches it and ends it.
/// @param idle_s  how long it is watched
/// @throws std::runtime_error  when it does not start, or shows nothing within a minute
ProgramRun run_program(const std::filesystem::path& program, const std::filesystem::path& journal,
                       const std::filesystem::path& content, double idle_s);

}  // namespace sipladder::benchmark

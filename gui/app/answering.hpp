#pragma once

#include "drills/step.hpp"
#include "engine/problem.hpp"
#include "gui/app/app.hpp"

#include <cstdint>
#include <optional>

/// An answer that is being given, part by part, until it can be locked.
namespace sipladder::gui {

/// What the question still wants, in the order in which it is asked; nothing: it can be locked.
std::optional<Problem> missing_in_answer(const Running& running, const drills::Serve& serve);
drills::Answer answer_so_far(const Running& running, const Instant& now);

/// When a running stop-watch stops by itself (monotonic ms).
std::optional<std::int64_t> watch_ends_ms(const Running& running);
void stop_watch_at_its_end(Running& running, const Instant& now);

}  // namespace sipladder::gui

#pragma once

#include "gui/app/app.hpp"
#include "gui/app/intent.hpp"

namespace sipladder::gui {

/// Carries an intent out: the next value is made from a copy, what is to be kept goes to the journal, then
/// the copy becomes the app. What is refused, and a world that fails, become a notice; the app stays as it
/// was.
void apply(App& app, const Intent& intent, const Instant& now) noexcept;

}  // namespace sipladder::gui

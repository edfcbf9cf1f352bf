#pragma once

#include "gui/app/intent.hpp"
#include "gui/theme/theme.hpp"
#include "gui/views/prepare.hpp"

#include <optional>

namespace sipladder::gui {

/// What hangs on a plan: sentence, tree, steps, checks, chart, budget, shopping.
void draw_plan(const PlanView& view, bool budget_open, const Theme& theme, std::optional<Intent>& intent);

}  // namespace sipladder::gui

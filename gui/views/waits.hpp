#pragma once

#include "gui/app/fit_job.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::gui {

/// What is said while a long record is read and fitted elsewhere, or why it cannot be. No lines: nothing
/// waits.
struct Waits {
    std::vector<std::string> lines;
    bool is_problem = false;

    bool operator==(const Waits&) const = default;
};

/// @param has_older  what was found before is shown meanwhile
Waits waits_for(const std::optional<Awaited>& asked, bool has_older);

}  // namespace sipladder::gui

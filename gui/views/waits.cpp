#include "gui/views/waits.hpp"

#include "engine/text.hpp"
#include "gui/app/history.hpp"

namespace sipladder::gui {

Waits waits_for(const std::optional<Awaited>& asked, bool has_older) {
    if (!asked) return {};
    if (!asked->problems.empty()) {
        Waits waits{.lines = {}, .is_problem = true};
        for (const Problem& problem : asked->problems) waits.lines.push_back(to_text(problem));
        return waits;
    }
    if (has_older)
        return {.lines = {"What was written since is being worked in; this is how it stood before."}};
    return {.lines = {counted(asked->job.history->done.size(), "drill is", "drills are") +
                      " being read, which takes some seconds. Go about meanwhile as you like."}};
}

}  // namespace sipladder::gui

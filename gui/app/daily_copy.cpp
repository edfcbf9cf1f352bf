#include "gui/app/daily_copy.hpp"

#include "engine/journal/copies.hpp"
#include "engine/journal/journal.hpp"
#include "engine/problem.hpp"

#include <utility>

namespace sipladder::gui {

DailyCopying::DailyCopying(std::filesystem::path journal, const Instant& now,
                           std::function<void()> on_problem)
    : on_problem_(std::move(on_problem)),
      thread_([this, file = std::move(journal), now] { copy(file, now); }) {}

std::optional<std::string> DailyCopying::take_problem() {
    const std::lock_guard lock(guard_);
    return std::exchange(problem_, std::nullopt);
}

/// A day without its copy is no reason to keep anybody from tasting. The journal is looked over whole first,
/// also where the day has its copy: the window may have opened it in short.
void DailyCopying::copy(const std::filesystem::path& journal, const Instant& now) {
    std::string why;
    try {
        journal::copy_daily(journal::Journal::open_existing(journal), now);
        return;
    } catch (const Failed& failed) {
        why = failed.what();
    } catch (const Refused& refused) {
        why = to_text(refused.problems().front());
    }
    {
        const std::lock_guard lock(guard_);
        problem_ = std::move(why);
    }
    on_problem_();
}

}  // namespace sipladder::gui

#pragma once

#include "engine/instant.hpp"

#include <filesystem>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace sipladder::gui {

/// Makes a journal's copy of the day on a thread and a connection of its own, so that a long record does not
/// keep the first frame waiting. Destroying it waits for the copy.
class DailyCopying {
  public:
    /// @param on_problem  called on that thread when the copy could not be made
    DailyCopying(std::filesystem::path journal, const Instant& now, std::function<void()> on_problem);

    /// Why there is no copy, once.
    std::optional<std::string> take_problem();

  private:
    void copy(const std::filesystem::path& journal, const Instant& now);

    std::function<void()> on_problem_;
    std::mutex guard_;
    std::optional<std::string> problem_;
    std::jthread thread_;  // last: joined before what it uses goes
};

}  // namespace sipladder::gui

#pragma once

#include "gui/app/app.hpp"
#include "gui/app/intent.hpp"

#include <cstdint>
#include <functional>
#include <mutex>
#include <optional>
#include <thread>

namespace sipladder::gui {

/// The one thread for what takes over 10 ms. Gets a job by value, gives its result back as an intent.
class Worker {
  public:
    /// @param on_ready  called on the worker's thread when a result waits
    explicit Worker(std::function<void()> on_ready) : on_ready_(std::move(on_ready)) {}

    /// Starts what the app has to have done, unless it is being done. A newer job replaces an older one.
    void look_at(const App& app);
    /// The result that waits, once.
    std::optional<PlanReady> take();

  private:
    std::function<void()> on_ready_;
    std::mutex guard_;
    std::optional<PlanReady> ready_;
    std::uint64_t generation_ = 0;
    std::jthread thread_;  // last: joined before what it uses goes
};

}  // namespace sipladder::gui

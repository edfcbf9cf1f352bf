#pragma once

#include "gui/app/app.hpp"
#include "gui/app/intent.hpp"

#include <condition_variable>
#include <cstdint>
#include <functional>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>

namespace sipladder::gui {

/// The one thread for what takes over 10 ms. Gets a job by value, gives its result back as an intent. Nobody
/// waits for it: while one job runs, newer ones replace each other and only the newest is done next.
class Worker {
  public:
    /// @param on_ready  called on the worker's thread when a result waits
    explicit Worker(std::function<void()> on_ready);

    /// Asks for what the app has to have done, unless it was asked for already.
    void look_at(const App& app);
    /// The result that waits, once.
    std::optional<PlanReady> take();

  private:
    void work(const std::stop_token& stop);

    std::function<void()> on_ready_;
    std::mutex guard_;
    std::condition_variable_any has_job_;
    std::optional<PlanJob> wanted_;
    std::optional<PlanReady> ready_;
    std::uint64_t generation_ = 0;
    std::jthread thread_;  // last: joined before what it uses goes
};

}  // namespace sipladder::gui

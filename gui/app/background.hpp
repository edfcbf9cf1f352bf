#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <utility>

namespace sipladder::gui {

/// A thread for work that takes over 10 ms. Gets a job by value and keeps its result until it is fetched.
/// Nobody waits for it: while one job runs, newer ones replace each other and only the newest is done next.
template <class Job, class Result>
class Background {
  public:
    /// @param work      done on that thread; must not throw. Once the token asks to stop, nobody takes its
    ///                  result any more
    /// @param on_ready  called there when a result waits
    using Work = std::function<Result(const Job&, const std::stop_token&)>;
    Background(Work work, std::function<void()> on_ready)
        : work_(std::move(work)),
          on_ready_(std::move(on_ready)),
          thread_([this](const std::stop_token& stop) { run(stop); }) {}

    void ask(Job job) {
        {
            const std::lock_guard lock(guard_);
            wanted_ = std::move(job);
        }
        has_job_.notify_one();
    }
    /// The result that waits, once.
    std::optional<Result> take() {
        const std::lock_guard lock(guard_);
        return std::exchange(ready_, std::nullopt);
    }

  private:
    void run(const std::stop_token& stop) {
        while (true) {
            std::optional<Job> job;
            {
                std::unique_lock lock(guard_);
                if (!has_job_.wait(lock, stop, [this] { return wanted_.has_value(); })) return;
                job = std::exchange(wanted_, std::nullopt);
            }
            Result result = work_(*job, stop);
            if (stop.stop_requested()) return;
            {
                const std::lock_guard lock(guard_);
                if (wanted_) continue;  // what it was about has changed since
                ready_ = std::move(result);
            }
            on_ready_();
        }
    }

    Work work_;
    std::function<void()> on_ready_;
    std::mutex guard_;
    std::condition_variable_any has_job_;
    std::optional<Job> wanted_;
    std::optional<Result> ready_;
    std::jthread thread_;  // last: joined before what it uses goes
};

}  // namespace sipladder::gui

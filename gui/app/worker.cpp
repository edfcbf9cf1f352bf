#include "gui/app/worker.hpp"

#include "gui/app/planning.hpp"

#include <utility>

namespace sipladder::gui {

Worker::Worker(std::function<void()> on_ready)
    : on_ready_(std::move(on_ready)), thread_([this](const std::stop_token& stop) { work(stop); }) {}

void Worker::look_at(const App& app) {
    if (!app.bench.job || app.bench.job->generation == generation_) return;
    generation_ = app.bench.job->generation;
    {
        const std::lock_guard lock(guard_);
        wanted_ = *app.bench.job;
    }
    has_job_.notify_one();
}

void Worker::work(const std::stop_token& stop) {
    while (true) {
        std::optional<PlanJob> job;
        {
            std::unique_lock lock(guard_);
            if (!has_job_.wait(lock, stop, [this] { return wanted_.has_value(); })) return;
            job = std::exchange(wanted_, std::nullopt);
        }
        PlanReady ready = plan_for(*job);
        {
            const std::lock_guard lock(guard_);
            if (wanted_) continue;  // of a form that was changed since
            ready_ = std::move(ready);
        }
        on_ready_();
    }
}

std::optional<PlanReady> Worker::take() {
    const std::lock_guard lock(guard_);
    return std::exchange(ready_, std::nullopt);
}

}  // namespace sipladder::gui

#include "gui/app/worker.hpp"

#include "gui/app/planning.hpp"

namespace sipladder::gui {

void Worker::look_at(const App& app) {
    if (!app.bench.job || app.bench.job->generation == generation_) return;
    generation_ = app.bench.job->generation;
    thread_ = std::jthread([this, job = *app.bench.job](const std::stop_token& stop) {
        PlanReady ready = plan_for(job);
        if (stop.stop_requested()) return;
        {
            const std::lock_guard lock(guard_);
            ready_ = std::move(ready);
        }
        on_ready_();
    });
}

std::optional<PlanReady> Worker::take() {
    const std::lock_guard lock(guard_);
    return std::exchange(ready_, std::nullopt);
}

}  // namespace sipladder::gui

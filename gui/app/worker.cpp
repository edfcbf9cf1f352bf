#include "gui/app/worker.hpp"

#include "gui/app/planning.hpp"
#include "gui/app/sitting.hpp"

#include <algorithm>
#include <utility>

namespace sipladder::gui {

Worker::Worker(std::function<void()> on_ready)
    : on_ready_(std::move(on_ready)), thread_([this](const std::stop_token& stop) { work(stop); }) {}

void Worker::look_at(const App& app) {
    // One after another, in the order of the ladders; the first that waits is the one in work.
    const auto waits = [](const Bench* bench) { return bench->job.has_value(); };
    const std::vector<const Bench*> all = benches(app);
    const auto first = std::ranges::find_if(all, waits);
    if (first == all.end() || (*first)->job->generation == generation_) return;
    generation_ = (*first)->job->generation;
    {
        const std::lock_guard lock(guard_);
        wanted_ = *(*first)->job;
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

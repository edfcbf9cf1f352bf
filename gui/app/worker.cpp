#include "gui/app/worker.hpp"

#include "gui/app/planning.hpp"
#include "gui/app/sitting.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace sipladder::gui {

Worker::Worker(const std::function<void()>& on_ready)
    : plans_([](const PlanJob& job) { return plan_for(job); }, on_ready),
      classes_(
          [](const ClassJob& job) {
              return ClassReady{job.generation, run(job)};
          },
          on_ready) {}

void Worker::look_at(const App& app) {
    if (const auto& job = app.classroom.job; job && job->generation != class_generation_) {
        class_generation_ = job->generation;
        classes_.ask(*job);
    }
    // One after another, in the order of the ladders; the first that waits is the one in work.
    const auto waits = [](const Bench* bench) { return bench->job.has_value(); };
    const std::vector<const Bench*> all = benches(app);
    const auto first = std::ranges::find_if(all, waits);
    if (first == all.end() || (*first)->job->generation == generation_) return;
    generation_ = (*first)->job->generation;
    plans_.ask(*(*first)->job);
}

std::optional<Intent> Worker::take() {
    if (std::optional<PlanReady> ready = plans_.take()) return std::move(*ready);
    if (std::optional<ClassReady> ready = classes_.take()) return std::move(*ready);
    return std::nullopt;
}

}  // namespace sipladder::gui

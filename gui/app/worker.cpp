#include "gui/app/worker.hpp"

#include "gui/app/planning.hpp"
#include "gui/app/sitting.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace sipladder::gui {

namespace {

/// What a long record holds, or why it cannot be read.
template <class Found>
auto fitting(Found (*fit)(const FitJob&, const std::stop_token&)) {
    return [fit](const FitJob& job, const std::stop_token& stop) -> Fitted<Found> {
        try {
            return {job.generation, std::make_shared<const Found>(fit(job, stop))};
        } catch (const Refused& refused) {
            return {job.generation, refused.problems()};
        } catch (const Failed& failed) {
            return {job.generation, std::vector<Problem>{{"journal", failed.what(),
                                                          "put it right, and choose the person anew (F2)"}}};
        }
    };
}

/// Whether this one is to be given to its thread: not twice, and not again where it met problems.
bool is_new(const std::optional<Awaited>& asked, std::uint64_t& last) {
    if (!asked || !asked->problems.empty() || asked->job.generation == last) return false;
    last = asked->job.generation;
    return true;
}

}  // namespace

Worker::Worker(const std::function<void()>& on_ready)
    : plans_([](const PlanJob& job, const std::stop_token&) { return plan_for(job); }, on_ready),
      classes_(
          [](const ClassJob& job, const std::stop_token&) {
              return ClassReady{job.generation, run(job)};
          },
          on_ready),
      palates_(fitting(palate_of), on_ready),
      weeks_(fitting(weeks_of), on_ready),
      records_(fitting(records_of), on_ready) {}

void Worker::look_at(const App& app) {
    if (const auto& job = app.classroom.job; job && job->generation != class_generation_) {
        class_generation_ = job->generation;
        classes_.ask(*job);
    }
    if (is_new(app.palate_awaited, palate_generation_)) palates_.ask(app.palate_awaited->job);
    if (is_new(app.weeks_awaited, weeks_generation_)) weeks_.ask(app.weeks_awaited->job);
    if (is_new(app.records_awaited, records_generation_)) records_.ask(app.records_awaited->job);
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
    if (std::optional<PalateReady> ready = palates_.take()) return std::move(*ready);
    if (std::optional<WeeksReady> ready = weeks_.take()) return std::move(*ready);
    if (std::optional<RecordsReady> ready = records_.take()) return std::move(*ready);
    return std::nullopt;
}

}  // namespace sipladder::gui

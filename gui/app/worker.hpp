#pragma once

#include "gui/app/app.hpp"
#include "gui/app/background.hpp"
#include "gui/app/intent.hpp"

#include <cstdint>
#include <functional>
#include <optional>

namespace sipladder::gui {

/// What the window has done elsewhere: plans of ladders, all that a class takes long for, and the reading and
/// fitting of a long record.
class Worker {
  public:
    /// @param on_ready  called on a worker's thread when a result waits
    explicit Worker(const std::function<void()>& on_ready);

    /// Asks for what the app has to have done, unless it was asked for already.
    void look_at(const App& app);
    /// A result that waits, once: PlanReady, ClassReady, PalateReady, WeeksReady or RecordsReady.
    std::optional<Intent> take();

  private:
    std::uint64_t generation_ = 0;
    std::uint64_t class_generation_ = 0;
    std::uint64_t palate_generation_ = 0;
    std::uint64_t weeks_generation_ = 0;
    std::uint64_t records_generation_ = 0;
    Background<PlanJob, PlanReady> plans_;
    Background<ClassJob, ClassReady> classes_;
    Background<FitJob, PalateReady> palates_;
    Background<FitJob, WeeksReady> weeks_;
    Background<FitJob, RecordsReady> records_;
};

}  // namespace sipladder::gui

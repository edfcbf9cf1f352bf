#pragma once

#include "engine/content/content.hpp"
#include "gui/app/apply.hpp"
#include "gui/app/planning.hpp"

#include <filesystem>
#include <memory>
#include <string>
#include <utility>
#include <vector>

/// Somebody at the window, without the window: intents, a clock that is set by hand, the worker's job done at
/// once.
namespace sipladder::tests {

inline std::shared_ptr<const content::Content> shipped_content() {
    static const auto content = std::make_shared<const content::Content>(
        content::load(std::filesystem::path{SIPLADDER_SOURCE_DIR} / "content"));
    return content;
}

inline std::shared_ptr<const drills::Demo> shipped_demo() {
    static const auto demo = std::make_shared<const drills::Demo>(
        drills::load_demo(std::filesystem::path{SIPLADDER_SOURCE_DIR} / "content"));
    return demo;
}

struct AtWindow {
    std::shared_ptr<journal::Journal> journal =
        std::make_shared<journal::Journal>(journal::Journal::in_memory());
    Instant now{.utc_ms = 1'790'000'000'000, .offset_min = 60, .monotonic_ms = 5'000};
    gui::App app = begin(Seed{7});

    gui::App begin(Seed seed) const {
        return gui::start({.content = shipped_content(),
                           .demo = shipped_demo(),
                           .journal = journal,
                           .sheets = {},
                           .seed = seed},
                          now);
    }
    void pass(std::int64_t milliseconds) {
        now.utc_ms += milliseconds;
        now.monotonic_ms += milliseconds;
    }
    void want(const gui::Intent& intent) {
        pass(10);
        gui::apply(app, intent, now);
    }
    void settle() {
        if (app.bench.job) want(gui::plan_for(*app.bench.job));
    }
    void arrive(const std::string& name = "Ana", const std::vector<std::string>& reasons = {}) {
        want(gui::TypeName{name});
        want(gui::AddPerson{});
        for (const std::string& reason : reasons) want(gui::TickReason{reason, true});
        want(gui::ReadCautions{});
    }
    /// From nothing to a kept mix of the form as it is first met.
    void prepare() {
        settle();
        want(gui::KeepMix{});
    }
    void start_drill() {
        want(gui::StartDrill{});
        want(gui::Acquainted{});
        want(gui::Poured{});
    }
    void answer(std::size_t place) {
        want(gui::PickCup{place});
        want(gui::PickCertainty{drills::Certainty::leaning});
        want(gui::LockAnswer{});
    }
    void look_beneath(std::size_t place) {
        want(gui::FoundSign{place});
        want(gui::LockSign{});
    }
    void rest() {
        want(gui::Poured{});
        pass(600'000);
        want(gui::Tick{});
    }
    std::size_t rows() const { return journal->rows(); }
};

}  // namespace sipladder::tests

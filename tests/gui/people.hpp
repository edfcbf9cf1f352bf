#pragma once

#include "drills/classroom/class_file.hpp"
#include "drills/drill.hpp"
#include "engine/problem.hpp"
#include "gui/app/apply.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/planning.hpp"
#include "gui/app/sitting.hpp"
#include "gui/views/taste.hpp"
#include "tests/support/shipped_content.hpp"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

/// Somebody at the window, without the window: intents, a clock that is set by hand, the worker's job done at
/// once.
namespace sipladder::tests {

std::shared_ptr<const drills::Demo> shipped_demo();
std::shared_ptr<const drills::classroom::ClassChoice> shipped_class();

struct AtWindow {
    AtWindow();
    AtWindow(const AtWindow&);
    AtWindow(AtWindow&&) noexcept;
    AtWindow& operator=(const AtWindow&);
    AtWindow& operator=(AtWindow&&) noexcept;
    ~AtWindow();

    std::filesystem::path sheets;
    std::shared_ptr<journal::Journal> journal =
        std::make_shared<journal::Journal>(journal::Journal::in_memory());
    Instant now{.utc_ms = 1'790'000'000'000, .offset_min = 60, .monotonic_ms = 5'000};
    gui::App app = begin(Seed{7});

    gui::App begin(Seed seed) const;
    void pass(std::int64_t milliseconds);
    void want(const gui::Intent& intent);
    /// The worker's jobs are done, of every ladder.
    void settle();
    void arrive(const std::string& name = "Ana", const std::vector<std::string>& reasons = {});
    /// From nothing to a kept mix of the form as it is first met.
    void prepare();
    /// Another mix, of this substance.
    void prepare(const std::string& substance);
    /// The same person with the same mixes at another window, with a journal of its own.
    AtWindow apart(Seed seed) const;
    /// Chooses a drill of the Taste screen, and who pours.
    void choose(drills::Kind kind, drills::Order order, drills::Blinding blinding);
    void start_drill();
    void answer(std::size_t place);
    /// Gives every part of the answer that the screen asks for, each time somewhat differently, and locks it.
    void answer_what_is_asked(std::size_t number);
    void look_beneath(std::size_t place);
    void rest();
    /// What somebody sees who looks beneath: on a tray always the left cup, with a sealed key the first mark
    /// of which not all cups have been found.
    std::size_t seen_beneath() const;
    /// Does what the screen asks for until an answer is wanted or the drill is over.
    void go_to_answer();
    std::size_t rows() const;
};

/// Every drill with every blinding that the window offers.
struct Case {
    drills::Kind kind{};
    drills::Order order{};
    drills::Blinding blinding{};
};
extern const std::vector<Case> every_case;

std::string name_of(const Case& one);

/// Somebody who has mixed sucrose and tartaric acid.
const AtWindow& with_two_mixes();

}  // namespace sipladder::tests

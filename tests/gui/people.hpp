#pragma once

#include "drills/blinding/sealed_key.hpp"
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
#include <utility>
#include <vector>

/// Somebody at the window, without the window: intents, a clock that is set by hand, the worker's job done at
/// once.
namespace sipladder::tests {

inline std::shared_ptr<const drills::Demo> shipped_demo() {
    static const auto demo = std::make_shared<const drills::Demo>(
        drills::load_demo(std::filesystem::path{SIPLADDER_SOURCE_DIR} / "content"));
    return demo;
}

inline std::shared_ptr<const drills::classroom::ClassChoice> shipped_class() {
    static const auto choice =
        std::make_shared<const drills::classroom::ClassChoice>(drills::classroom::read_class_file(
            (std::filesystem::path{SIPLADDER_SOURCE_DIR} / "content/demo/class.json").string(),
            *shipped_content()));
    return choice;
}

struct AtWindow {
    std::filesystem::path sheets;
    std::shared_ptr<journal::Journal> journal =
        std::make_shared<journal::Journal>(journal::Journal::in_memory());
    Instant now{.utc_ms = 1'790'000'000'000, .offset_min = 60, .monotonic_ms = 5'000};
    gui::App app = begin(Seed{7});

    gui::App begin(Seed seed) const {
        return gui::start({.content = shipped_content(),
                           .demo = shipped_demo(),
                           .journal = journal,
                           .sheets = sheets,
                           .seed = seed,
                           .demo_class = shipped_class()},
                          now);
    }
    void pass(std::int64_t milliseconds) {
        now.utc_ms += milliseconds;
        now.monotonic_ms += milliseconds;
    }
    void want(const gui::Intent& intent) {
        pass(10);
        // Made once for all cases: under the sanitizers it takes eight seconds.
        static std::shared_ptr<const journal::Journal> demo;
        if (app.demo && !demo && intent.as<gui::LookAtDemo>()) demo = gui::made_demo(app);
        app.untouched_demo = demo;
        gui::apply(app, intent, now);
    }
    /// The worker's jobs are done, of every ladder.
    void settle() {
        for (std::size_t ladder = 0; ladder <= app.beside.size(); ++ladder)
            if (const auto job = gui::bench_at(app, ladder).job) want(gui::plan_for(*job));
        if (const auto job = app.classroom.job) want(gui::ClassReady{job->generation, gui::run(*job)});
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
    /// Another mix, of this substance.
    void prepare(const std::string& substance) {
        gui::Setup setup = app.bench.setup;
        setup.substance = substance;
        setup.ingredient.clear();
        want(gui::ChangeSetup{setup});
        prepare();
    }
    /// The same person with the same mixes at another window, with a journal of its own.
    AtWindow apart(Seed seed) const {
        AtWindow other = *this;
        other.journal = std::make_shared<journal::Journal>(journal::Journal::in_memory());
        for (const journal::Person& person : journal->people()) {
            other.journal->append(person);
            for (const journal::Fact& fact : journal->facts(person.id)) other.journal->append(fact);
        }
        other.app = other.begin(seed);
        other.want(gui::ChooseMix{0});
        return other;
    }
    /// Chooses a drill of the Taste screen, and who pours.
    void choose(drills::Kind kind, drills::Order order, drills::Blinding blinding) {
        for (std::size_t i = 0; i < gui::offers().size(); ++i)
            if (gui::offers()[i].kind == kind && gui::offers()[i].order == order) want(gui::ChooseOffer{i});
        want(gui::ChooseBlinding{blinding});
        if (kind == drills::Kind::recognition)
            for (std::size_t mix = 0; mix < app.history->mixes.size(); ++mix) want(gui::TickOther{mix, true});
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
    /// Gives every part of the answer that the screen asks for, each time somewhat differently, and locks it.
    void answer_what_is_asked(std::size_t number) {
        const gui::DrillView view = gui::drill_view(app);
        for (std::size_t i = 0; i < view.set.size(); ++i) want(gui::PutNext{(i + number) % view.set.size()});
        if (view.watch == gui::DrillView::Watch::ready) {
            want(gui::PressWatch{});
            pass(1'000 + 700 * static_cast<std::int64_t>(number));
            want(gui::PressWatch{});
        }
        if (!view.tiles.empty()) want(gui::PickCup{number % view.tiles.size()});
        if (!view.mouth.empty()) want(gui::TickMouth{number % view.mouth.size()});
        if (view.line) want(gui::SetMark{5.0 + 9.0 * static_cast<double>(number % 10)});
        if (!view.words.empty()) want(gui::TickWord{number % view.words.size()});
        if (view.asks_certainty) want(gui::PickCertainty{drills::Certainty::leaning});
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
    /// What somebody sees who looks beneath: on a tray always the left cup, with a sealed key the first mark
    /// of which not all cups have been found.
    std::size_t seen_beneath() const {
        const drills::State& state = app.running->state;
        if (state.plan.blinding != drills::Blinding::sealed_key) return 0;
        const std::size_t marks = drills::sealed_key::pour_list(state.plan).size();
        for (std::size_t mark = 0; mark < marks; ++mark) {
            try {
                drills::reveal(state, mark, now);
                return mark;
            } catch (const Refused&) {
                continue;
            }
        }
        return 0;
    }
    /// Does what the screen asks for until an answer is wanted or the drill is over.
    void go_to_answer() {
        constexpr int most_steps = 2'000;  // a refusal that goes on for ever fails rather than hangs
        for (int step = 0; app.running && step < most_steps; ++step) {
            switch (gui::phase_of(*app.running)) {
                case gui::Phase::acquaint:
                    want(gui::Acquainted{});
                    break;
                case gui::Phase::pour:
                    want(gui::Poured{});
                    break;
                case gui::Phase::reveal:
                    look_beneath(seen_beneath());
                    break;
                case gui::Phase::rest:
                    rest();
                    break;
                case gui::Phase::answer:
                case gui::Phase::done:
                    return;
            }
        }
    }
    std::size_t rows() const { return journal->rows(); }
};

/// Every drill with every blinding that the window offers.
struct Case {
    drills::Kind kind{};
    drills::Order order{};
    drills::Blinding blinding{};
};
inline const std::vector<Case> every_case{
    {drills::Kind::detection, drills::Order::adaptive, drills::Blinding::served},
    {drills::Kind::detection, drills::Order::adaptive, drills::Blinding::shuffled_tray},
    {drills::Kind::detection, drills::Order::ascending, drills::Blinding::served},
    {drills::Kind::quick_look, drills::Order::adaptive, drills::Blinding::served},
    {drills::Kind::quick_look, drills::Order::adaptive, drills::Blinding::sealed_key},
    {drills::Kind::recognition, drills::Order::adaptive, drills::Blinding::served},
    {drills::Kind::recognition, drills::Order::adaptive, drills::Blinding::sealed_key},
    {drills::Kind::difference, drills::Order::adaptive, drills::Blinding::served},
    {drills::Kind::difference, drills::Order::adaptive, drills::Blinding::shuffled_tray},
    {drills::Kind::nose, drills::Order::adaptive, drills::Blinding::served},
    {drills::Kind::nose, drills::Order::adaptive, drills::Blinding::shuffled_tray},
    {drills::Kind::tray_check, drills::Order::adaptive, drills::Blinding::shuffled_tray}};

inline std::string name_of(const Case& one) {
    return drills::name_of(one.kind) + ", blinding " + std::to_string(static_cast<int>(one.blinding)) +
           (one.order == drills::Order::ascending ? ", ascending" : "");
}

/// Somebody who has mixed sucrose and tartaric acid.
inline const AtWindow& with_two_mixes() {
    static const AtWindow at = [] {
        AtWindow made;
        made.arrive();
        made.prepare("tartaric_acid");
        made.prepare("sucrose");
        return made;
    }();
    return at;
}

}  // namespace sipladder::tests

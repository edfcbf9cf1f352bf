#pragma once

#include "drills/demo.hpp"
#include "drills/detection.hpp"
#include "engine/content/content.hpp"
#include "engine/instant.hpp"
#include "engine/journal/journal.hpp"
#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/solution/mix_plan.hpp"
#include "gui/app/history.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

/// What the window is about, as one value. `apply` is the only writer; views are made from it and nothing
/// else.
namespace sipladder::gui {

enum class Place { first_start, prepare, taste, palate };

/// What lies over the place, if anything.
enum class Dialog { none, people, cautions, settings };

/// A sentence for the person, with what to do about it where something was refused.
struct Notice {
    std::vector<std::string> lines;
    bool is_problem = false;
    bool can_retry = false;  ///< the world failed: the same may work again

    bool operator==(const Notice&) const = default;
};

enum class Rungs { six_of_three, eight_of_two, around_mine, own };

/// The Prepare form as it stands, typed text included.
struct Setup {
    std::string substance;
    std::string ingredient;
    std::string base;
    std::string kitchen;
    Rungs rungs = Rungs::six_of_three;
    std::string own_rungs;  ///< as typed: numbers with blanks between
    drills::Blinding blinding = drills::Blinding::shuffled_tray;
    std::size_t presentations = 12;
    std::string cup_mL = "10";

    bool operator==(const Setup&) const = default;
};

/// A plan that is to be found; done by the worker, returned as the intent PlanReady.
struct PlanJob {
    std::uint64_t generation{};
    solution::PlanRequest request;
};

/// What became of the plan: steps done, what the scale showed.
struct Bench {
    Setup setup;
    std::optional<PlanJob> job;  ///< being worked on
    std::optional<solution::MixPlan> plan;
    std::vector<Problem> problems;  ///< why there is no plan, field by field
    std::set<std::size_t> ticked;
    std::map<std::size_t, std::string> typed;  ///< readings as typed, by step
};

/// The phases of one presentation as the screen shows them.
enum class Phase { acquaint, pour, answer, reveal, rest, done };

/// A drill under way.
struct Running {
    Uuid sitting;
    Uuid drill;
    Instant started;
    drills::detection::State state;
    int next_number{};
    bool acquainted = false;  ///< the known clear cup and the known blank were tasted
    bool poured = false;
    bool rest_over = true;
    std::int64_t rest_ends_ms{};  ///< monotonic
    std::optional<std::size_t> picked{};
    std::optional<drills::Certainty> certainty{};
    std::optional<std::size_t> found{};  ///< where the sign was seen
    bool stop_asked = false;
};

Phase phase_of(const Running& running);
/// The step under way once rests are over; a Rest while it runs.
drills::Step step_of(const Running& running);

/// What may spoil a sitting; asked for once and kept with it.
struct Spoilers {
    std::set<std::string> ticked;
    bool closed_nose = false;
};

struct App {
    std::shared_ptr<const content::Content> content;
    std::shared_ptr<const drills::Demo> demo;  ///< the invented person; nothing: none is shipped
    std::shared_ptr<journal::Journal> journal;
    std::shared_ptr<journal::Journal> own_journal;  ///< while the demo is looked at: the one to come back to
    std::filesystem::path sheets;                   ///< where sheets are printed to
    Random chance{Seed{}};                          ///< for ids and drill seeds
    Instant now;                                    ///< of the last intent

    std::vector<journal::Person> people;
    std::optional<Uuid> person;
    std::shared_ptr<const History> history;  ///< of `person`

    Place place = Place::first_start;
    Dialog dialog = Dialog::none;
    bool help_open = false;
    bool dark = false;
    double scale = 1.0;
    std::optional<Notice> notice;
    std::string typed_name;
    std::set<std::string> ticked_reasons;  ///< who does not take part in ethanol drills

    Bench bench;
    std::vector<Setup> earlier_setups;  ///< for taking back
    std::uint64_t generation = 0;

    std::optional<std::size_t> chosen_mix;  ///< index into History::mixes
    drills::Blinding chosen_blinding = drills::Blinding::shuffled_tray;
    std::size_t chosen_presentations = 12;
    Millilitres chosen_cup{10.0};
    Spoilers spoilers;
    std::optional<Running> running;
    std::optional<Uuid> just_done;        ///< the drill whose finding is shown
    std::optional<std::size_t> open_row;  ///< index into History::palate

    bool is_demo() const { return own_journal != nullptr; }
};

/// What a start of the program hands in.
struct Beginning {
    std::shared_ptr<const content::Content> content;
    std::shared_ptr<const drills::Demo> demo;
    std::shared_ptr<journal::Journal> journal;
    std::filesystem::path sheets;
    Seed seed;
};
/// The first value: people and unfinished drills read from the journal.
App start(Beginning beginning, const Instant& now);

/// When the app next changes by itself (monotonic ms); nothing while it only waits for the person.
std::optional<std::int64_t> next_wake(const App& app);

}  // namespace sipladder::gui

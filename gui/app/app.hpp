#pragma once

#include "drills/demo.hpp"
#include "drills/drill.hpp"
#include "drills/plans.hpp"
#include "drills/sheets/paper.hpp"
#include "engine/content/content.hpp"
#include "engine/instant.hpp"
#include "engine/journal/journal.hpp"
#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "gui/app/bench.hpp"
#include "gui/app/charts_seen.hpp"
#include "gui/app/class_state.hpp"
#include "gui/app/history.hpp"
#include "gui/app/own_things.hpp"
#include "gui/app/palate.hpp"
#include "gui/app/periods.hpp"
#include "gui/app/records.hpp"
#include "gui/app/usual.hpp"
#include "gui/app/weeks.hpp"

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

enum class Place { first_start, prepare, taste, palate, weeks, classroom, records };

/// What lies over the place, if anything.
enum class Dialog { none, people, cautions, settings, handbook };

/// A sentence for the person, with what to do about it where something was refused.
struct Notice {
    std::vector<std::string> lines;
    bool is_problem = false;
    bool can_retry = false;  ///< the world failed: the same may work again

    bool operator==(const Notice&) const = default;
};

/// The phases of one presentation as the screen shows them.
enum class Phase { acquaint, pour, answer, reveal, rest, done };

/// What is answered so far beside a choice, as far as the question asks for it.
struct AnswerParts {
    std::vector<std::size_t> order;       ///< places of the cups, weakest first
    std::optional<double> mark;           ///< 0 to 100
    std::vector<std::size_t> places;      ///< in the mouth, ascending
    std::vector<std::size_t> words;       ///< ascending
    std::optional<std::int64_t> spat_ms;  ///< monotonic: the watch runs since then
    std::optional<double> seconds;        ///< once it was stopped
};

/// A drill under way.
struct Running {
    Uuid sitting;
    Uuid drill;
    Instant started;
    drills::State state;
    int next_number{};
    bool acquainted = false;  ///< the known cups were tasted
    bool poured = false;      ///< sealed key: all the cups stand there with their codes
    bool rest_over = true;
    std::int64_t rest_ends_ms{};          ///< monotonic
    std::optional<std::size_t> picked{};  ///< of Question::choices
    std::optional<drills::Certainty> certainty{};
    std::optional<std::size_t> found{};  ///< of Reveal::choices
    AnswerParts parts{};
    bool stop_asked = false;
};

Phase phase_of(const Running& running);
/// Cups tasted so far, the known ones too.
std::size_t cups_tasted(const Running& running);
/// The step under way once rests are over; a Rest while it runs.
drills::Step step_of(const Running& running);

/// What may spoil a sitting; asked for once and kept with it.
struct Spoilers {
    std::set<std::string> ticked;
    bool closed_nose = false;
    std::string temperature;  ///< of the cups, as typed, degC; empty: not measured
};

/// The bottle whose finish is timed, as typed.
struct OwnWine {
    std::string name;
    std::string strength;  ///< % vol
    bool is_open = false;  ///< the fields are shown
};

/// A sitting that goes on: another drill joins it, with one budget and what was noted once.
struct OpenSitting {
    Uuid id;
    std::size_t drills_done = 0;
    std::int64_t last_ms{};  ///< monotonic, of the end of the last drill
};

/// The parts of Settings.
enum class SettingsPart { window, equipment, ladders, substances };

/// Everything there is. Its copies and its end are written out once, in frame.cpp.
struct App {
    App();
    App(const App&);
    App(App&&) noexcept;
    App& operator=(const App&);
    App& operator=(App&&) noexcept;
    ~App();

    std::shared_ptr<const content::Content> content;  ///< with what is the person's own
    std::shared_ptr<const content::Content> shipped;  ///< without: what a class is made of
    std::shared_ptr<const drills::Demo> demo;         ///< the invented person; nothing: none is shipped
    std::shared_ptr<const drills::classroom::ClassChoice> demo_class;  ///< the invented class
    std::shared_ptr<const journal::Journal> untouched_demo;  ///< once it was made; copies are looked at
    std::shared_ptr<journal::Journal> journal;
    std::shared_ptr<journal::Journal> own_journal;  ///< while the demo is looked at: the one to come back to
    std::optional<Instant> invented_until;          ///< the newest moment of the demo, as it was made
    std::filesystem::path sheets;                   ///< where sheets are printed to
    Random chance{Seed{}};                          ///< for ids and drill seeds
    Instant now;                                    ///< of the last intent

    std::vector<journal::Person> people;
    std::optional<Uuid> person;
    std::shared_ptr<const History> history;             ///< of `person`
    std::shared_ptr<const PalateFound> palate;          ///< once it was looked at
    std::optional<Awaited> palate_awaited;              ///< a newer one is on its way
    std::shared_ptr<const PalateOpened> palate_opened;  ///< the row that is open
    std::shared_ptr<const Weeks> weeks;      ///< once they were looked at; nothing while a drill is left open
    std::optional<Awaited> weeks_awaited;    ///< newer ones are on their way
    std::optional<PeriodsShown> periods;     ///< compared in Weeks
    std::shared_ptr<const Records> records;  ///< once they were looked at
    std::optional<Awaited> records_awaited;  ///< newer ones are on their way
    std::shared_ptr<const RecordOpened> record_opened;  ///< the sitting that is open there

    std::size_t chapter = 0;  ///< of the handbook

    Place place = Place::first_start;
    Dialog dialog = Dialog::none;
    drills::PalateQuestion question{};  ///< the tab of the Palate
    bool help_open = false;
    bool dark = false;
    double scale = 1.0;
    drills::sheets::Paper paper = drills::sheets::Paper::a4;  ///< of everything that is printed
    Usual usual;                                              ///< what a new form begins with
    SettingsPart settings_part{};
    std::vector<OwnThing> own;                   ///< of the person, oldest first
    std::optional<OwnForm> own_form;             ///< being filled in
    std::optional<std::string> typed_usual_cup;  ///< nothing: as it holds
    std::optional<Notice> notice;
    std::string typed_name;
    std::set<std::string> ticked_reasons;  ///< who does not take part in ethanol drills

    Bench bench;                                    ///< of the ladder that is open
    std::vector<Bench> beside;                      ///< of the other ladders of the same sitting, in order
    std::size_t open_ladder = 0;                    ///< the place of `bench` among all of them
    std::vector<drills::record::MixDraft> earlier;  ///< forms with their notes, for taking back
    bool budget_open = false;                       ///< the error budget is shown, level by level
    std::string kitchen_path;                       ///< as typed: the file of a person's own equipment
    std::uint64_t generation = 0;

    bool own_choice = false;                ///< another drill than the next of the sitting that was prepared
    std::size_t chosen_offer = 0;           ///< index into `offers`
    std::optional<std::size_t> chosen_mix;  ///< index into History::mixes
    std::set<std::size_t> chosen_others;    ///< recognition: the mixes beside it
    drills::Blinding chosen_blinding = drills::Blinding::shuffled_tray;
    std::size_t chosen_presentations = 12;
    Millilitres chosen_cup{10.0};
    std::string chosen_condition;  ///< of a sitting that was prepared: how the other cups are called
    std::optional<drills::PriorChoice> chosen_prior;  ///< nothing: own history where there is one
    Spoilers spoilers;
    std::string typed_words;  ///< own words between commas; empty: those of the last such drill, or the usual
    OwnWine own_wine;
    std::optional<OpenSitting> sitting;
    std::optional<Running> running;
    std::optional<Uuid> just_done;        ///< the drill whose finding is shown
    std::string typed_goal;               ///< of the row that is open
    std::optional<std::size_t> open_row;  ///< of the Palate: index into the rows of `question`
    Classroom classroom;
    RecordsLook records_look;
    ChartsSeen charts_seen;

    bool is_demo() const { return own_journal != nullptr; }
};

/// The sitting that another drill would join; nothing: it would begin one. A pause of two hours ends a
/// sitting.
const OpenSitting* sitting_to_join(const App& app);
/// From the journal, so that a start of the program or another person in between does not end it, and its
/// caps hold.
void find_sitting(App& app);

/// What a start of the program hands in.
struct Beginning {
    std::shared_ptr<const content::Content> content;
    std::shared_ptr<const drills::Demo> demo;
    std::shared_ptr<journal::Journal> journal;
    std::filesystem::path sheets;
    Seed seed;
    std::shared_ptr<const drills::classroom::ClassChoice> demo_class = {};
    Usual usual = {};
};
/// The first value: people and unfinished drills read from the journal.
App start(Beginning beginning, const Instant& now);

/// The invented person's weeks and class, in memory: takes a second, and is always the same.
/// @pre app.demo
std::shared_ptr<const journal::Journal> made_demo(const App& app);

/// When the app next changes by itself (monotonic ms); nothing while it only waits for the person.
std::optional<std::int64_t> next_wake(const App& app);

}  // namespace sipladder::gui

#pragma once

#include "drills/plan.hpp"
#include "drills/presentation.hpp"
#include "drills/reckoned.hpp"
#include "drills/step.hpp"
#include "engine/instant.hpp"
#include "engine/random.hpp"
#include "engine/threshold/habit_posterior.hpp"
#include "engine/threshold/posterior.hpp"
#include "engine/threshold/threshold.hpp"

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

/// Every drill is one value and moves by these verbs; what differs from kind to kind stands in drills/rules
/// and in each drill's own file.
namespace sipladder::drills {

/// What the question asks for is filled, the rest stays empty.
struct Answer {
    std::size_t choice{};   ///< index into Question::choices: a place (0 left), a grade, a name
    Certainty certainty{};  ///< where it is asked
    Instant at;
    std::vector<std::size_t> order = {};   ///< places of the cups (0 left), weakest first
    std::optional<double> mark = {};       ///< 0 to 100
    std::vector<std::size_t> places = {};  ///< indices into Question::places, ascending
    std::optional<double> seconds = {};    ///< from spitting to gone; the most there may be: not gone by then
    std::vector<std::size_t> words = {};   ///< indices into Question::words, ascending

    bool operator==(const Answer&) const = default;
};

struct Trial {
    Presentation shown;
    std::size_t level{};  ///< as served, in the ladder of its line; sealed key: once read in
    /// Where the level stood (0 for a single cup). Served, class: known when served. Shuffled tray, sealed
    /// key: once revealed.
    std::optional<std::size_t> place;
    std::optional<Answer> given;
    std::optional<Instant> revealed_at;
    std::size_t series{};   ///< which set of answers it belongs to; see `series_count`
    bool is_blank = false;  ///< a single cup of the base alone; level and series then say nothing
    /// A set of cups: what stood under each, left to right; sealed key: as far as it was read in. Level,
    /// series and is_blank then say nothing, and place is 0 once all are known.
    std::vector<std::optional<Held>> held = {};

    Held single() const { return {series, level, is_blank}; }
    bool is_done() const { return place.has_value() && given.has_value(); }
    bool operator==(const Trial&) const = default;
};

/// A rest that the person cut short, knowingly.
struct RestCut {
    std::size_t before{};  ///< number of the presentation that followed
    long seconds_left{};

    bool operator==(const RestCut&) const = default;
};

/// The drill is gone on with in another sitting, or on another day: what counts against the caps from here on
/// is what was taken in that one.
struct GoneOn {
    std::size_t before{};               ///< number of the presentation that followed
    safety::Intake taken_this_sitting;  ///< by drills of the new sitting
    safety::Intake taken_today;         ///< by all drills of the day, this one's cups of the day included

    bool operator==(const GoneOn&) const = default;
};

/// What the done trials tell: years of drills are read and few of them are asked.
struct Beliefs {
    Reckoned<std::vector<threshold::Posterior>> posteriors;
    Reckoned<std::shared_ptr<const threshold::HabitPosterior>> habits;
};

struct State {
    Plan plan;
    Seed seed;
    std::vector<Trial> trials;  ///< the last one may be locked but not yet revealed; sealed key: all of them
    std::optional<std::string> stopped;  ///< why the person ended it early
    std::vector<RestCut> rests_cut;
    std::vector<GoneOn> gone_on{};
    Beliefs beliefs{};  ///< behind the two below

    /// One a series, on the coarse grid: chooses.
    const std::vector<threshold::Posterior>& posteriors() const;
    const threshold::Posterior& posterior() const { return posteriors().front(); }
    /// With habits of answering: chooses where a helper serves a quick look, or (from rule 3 on) detection;
    /// else nothing.
    const std::shared_ptr<const threshold::HabitPosterior>& habits() const;
};

/// "detection", "quick_look", …: the kind of journal rows.
std::string name_of(Kind kind);
constexpr Kind every_kind[] = {Kind::detection, Kind::quick_look, Kind::recognition, Kind::difference,
                               Kind::nose,      Kind::tray_check, Kind::naming,      Kind::ranking,
                               Kind::scaling,   Kind::balance,    Kind::mouth_map,   Kind::persistence,
                               Kind::weight};

/// @param no_ethanol_reasons  what the person ticked; any refuses a drill whose cups hold ethanol, spat or
///                            not
/// @throws Refused when the plan cannot be carried out (ladder without portions, caps crossed by the worst
/// case …)
State begin(Plan plan, Seed seed, std::span<const std::string> no_ethanol_reasons = {});
/// What to do now; the same state gives the same step, and nothing changes. A Rest step follows every done
/// trial but the last; the caller keeps the clock and goes on with `next_after_rest`.
Step next(const State& drill);
Step next_after_rest(const State& drill);
/// What is on the table now, with what only the pourer may know; nothing unless an answer is wanted. For
/// pourer, record and simulated assessor, never for a screen.
struct Served {
    Presentation shown;
    std::size_t level{};
    std::optional<std::size_t>
        place;  ///< served: from the card; shuffled tray, sealed key: not known before it is looked at
    std::size_t series{};
    bool is_blank = false;
    std::vector<Held> held = {};  ///< a set of cups, left to right; sealed key: not known
};
std::optional<Served> serving(const State& drill);

/// The assessor's answer. Served: the trial is done. Shuffled tray: Reveal comes next; sealed key: after all
/// cups.
/// @throws Refused when nothing is being served, and for an answer that does not answer the question
State lock(State drill, const Answer& given);
/// What `Reveal` asked for, by its choices: where the sign was found, or what stood beneath the cup.
/// @throws Refused when nothing waits for it, there is no such choice, or more cups are said to hold this
/// than
///                 were poured
State reveal(State drill, std::size_t choice, const Instant& at);
/// Notes that the rest before the next presentation was cut short.
State cut_rest(State drill, long seconds_left);
/// Goes on in another sitting. @param with.before  is set here
/// @throws Refused when what is left of the drill could cross a cap there
State go_on(State drill, GoneOn with);
/// Ends the drill early and keeps what was done.
State stop(State drill, std::string why);
/// From the journal: trusts the trials, not the rule.
State resume(Plan plan, Seed seed, std::vector<Trial> trials,
             std::optional<std::string> stopped = std::nullopt, std::vector<RestCut> rests_cut = {},
             std::vector<GoneOn> gone_on = {});

bool is_finished(const State& drill);

/// One row of the helper's printed card: when the screen shows `letter`, pour `bottle` into the cup with the
/// code at `place`, and what goes beside it into the others.
struct CardRow {
    std::string letter;
    std::string bottle;  ///< "base" for a blank; empty for a set
    std::size_t level{};
    std::size_t place{};
    std::vector<BlindCode> codes;
    std::vector<std::string> contents = {};  ///< what goes into each cup, left to right: a bottle or "base"
};
/// The whole card for a served drill, sorted by letter: enough one-time letters for every portion of every
/// rung.
std::vector<CardRow> pour_card(const Plan& plan, Seed seed);

/// Answers for the fits of one series: every done trial, in order. Right or wrong; not for graded cups.
std::vector<threshold::Answered> answered(const State& drill, std::size_t series = 0);
/// The threshold of one series so far, certainty counted where it may be; warnings included.
threshold::Threshold threshold_so_far(const State& drill, std::size_t series = 0);
/// The codes that cups bear: of every presentation so far, and with a sealed key of all that were poured.
std::vector<BlindCode> codes_of(const State& drill);
/// Cups served so far in presentations.
std::size_t cups(const State& drill);
/// The same with the known cups, which are tasted before the first answer and count with it, as in `intake`.
std::size_t cups_tasted(const State& drill);
/// Intake so far if all was swallowed.
safety::Intake intake(const State& drill);
/// The same of one day, "2026-03-01", and what was tasted on that day: a drill may span two.
safety::Intake intake_on(const State& drill, const std::string& date);
std::size_t cups_on(const State& drill, const std::string& date);

/// What a drill found, in one shape for all of them; each drill's own header has its typed result.
struct Finding {
    struct Named {
        std::string name;  ///< "detection", "recognition of sugar", "nose closed"
        threshold::Threshold threshold;
    };
    struct Measure {
        std::string name;  ///< "Weber fraction"
        double value{};
        double lower{};  ///< equal-tailed 95 %
        double upper{};
        std::string unit;       ///< empty: a plain number
        bool by_ratio = false;  ///< half and double are equally far from it
        bool is_said = false;   ///< a sentence has it already
    };
    std::vector<Named> thresholds;
    std::vector<Measure> measures;
    std::vector<std::string> sentences;
};
Finding finding(const State& drill);

}  // namespace sipladder::drills

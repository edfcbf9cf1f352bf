#pragma once

#include "drills/detection.hpp"
#include "drills/presentation.hpp"
#include "drills/record_draft.hpp"
#include "engine/problem.hpp"
#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

/// The Prepare form, the plan that it stands for, and what was noted while mixing it.
namespace sipladder::gui {

enum class Rungs {
    six_of_three,
    eight_of_two,
    around_mine,
    from_end_to_end,  ///< lowest rung, ratio and number set, or its ends dragged
    own,              ///< typed one by one
    pedestal,         ///< for difference: what every cup holds, and small steps above it
    written,          ///< as the programme names it
    kept              ///< a ladder of one's own: `Setup::ladder`
};

/// Who pours, as it is asked for before the drill's own blinding follows from it.
enum class Pours { alone, helper, as_written };

/// The Prepare form as it stands for one ladder, typed text included. What all ladders of a sitting share
/// stands in each of them alike: drill, programme, base, kitchen, who pours, how many, cup and people.
struct Setup {
    std::string drill = "detection";  ///< id of the offer; says nothing while a programme is chosen
    std::string programme;            ///< id; empty: one drill
    std::string ladder;               ///< of Rungs::written and Rungs::kept: id in content
    std::string substance;
    std::string ingredient;
    std::string strength;  ///< of this pack, as typed, in the ingredient's unit; empty: as content has it
    std::string strength_within;  ///< its half-width, likewise
    std::string base;
    std::string
        base_of_its_own;      ///< of Rungs::written: this ladder stands in that base; empty: as the others
    std::string bicarbonate;  ///< of the water, mg/L from its label, as typed; empty: as content has it
    std::string kitchen;
    std::string kitchen_file;  ///< a person's own equipment: the file it came from
    Rungs rungs = Rungs::six_of_three;
    std::string own_rungs;  ///< as typed: numbers with blanks between
    std::string lowest;     ///< of Rungs::from_end_to_end, as typed
    std::string ratio;
    std::string count;
    Pours pours = Pours::alone;
    std::size_t presentations = 12;
    std::string cup_mL = "10";
    std::string people = "1";

    bool operator==(const Setup&) const = default;
};

/// `own` with everything that the ladders of a sitting share taken from `common`.
Setup shared_from(Setup own, const Setup& common);

/// The form as texts by field, as a draft keeps it, and back; what is unknown or missing is left as it is in
/// `otherwise`.
std::map<std::string, std::string> form_of(const Setup& setup);
Setup setup_from(const std::map<std::string, std::string>& form, Setup otherwise);

/// A plan that is to be found; done by the worker, returned as the intent PlanReady.
struct PlanJob {
    std::uint64_t generation{};
    solution::PlanRequest request;
};

enum class Fate { as_written, skipped, spilled };

/// What was said of one step.
struct StepNote {
    bool ticked = false;
    std::string reading;  ///< as typed
    Fate fate = Fate::as_written;
    std::string left;  ///< as typed: what a spill left, in the step's unit

    bool operator==(const StepNote&) const = default;
};

struct BenchNotes {
    std::map<std::size_t, StepNote> steps;
    std::map<std::string, std::string> checks;  ///< what was read, as typed, by the check's words

    bool empty() const { return steps.empty() && checks.empty(); }
    bool operator==(const BenchNotes&) const = default;
};

/// What became of the plan.
struct Bench {
    Setup setup;
    std::optional<PlanJob> job;                            ///< being worked on
    std::shared_ptr<const solution::MixPlan> plan;         ///< of this setup
    std::shared_ptr<const solution::MixPlan> former_plan;  ///< of the setup before, shown while the job runs
    std::vector<Problem> problems;                         ///< why there is no plan, field by field
    BenchNotes notes;
    /// Notes of an earlier session or form, to be taken up once their plan is there again.
    std::optional<drills::record::MixDraft> waiting;
    std::optional<std::int64_t> unsaved_since_ms;  ///< monotonic: notes that the journal does not hold yet
};

/// Form and notes in the words that the journal keeps.
drills::record::MixDraft draft_of(const Bench& bench);

/// What is being planned or was planned for this form; nothing where the form is not complete.
const solution::PlanRequest* request_in(const Bench& bench);

}  // namespace sipladder::gui

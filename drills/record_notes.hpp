#pragma once

#include "drills/plan.hpp"
#include "engine/journal/journal.hpp"

#include <optional>
#include <string>
#include <vector>

/// Bodies of the rows that stand beside the drills: cautions read, the circumstances of a sitting, notes to
/// it, a rest cut short.
namespace sipladder::drills::record {

/// That a person has read the cautions, and what keeps them from ethanol drills.
struct CautionsRead {
    std::vector<std::string> cautions;            ///< ids of the cautions that were shown
    std::vector<std::string> no_ethanol_reasons;  ///< as ticked; any keeps them from ethanol drills

    bool operator==(const CautionsRead&) const = default;
};
std::string body_of(const CautionsRead& read);
/// @throws Refused naming the row whose body cannot be read
CautionsRead read_cautions_read(const journal::Fact& fact);

/// What was asked once before a sitting and is kept with it.
struct Circumstances {
    std::vector<std::string> spoilers;  ///< coffee, toothpaste, smoke, a cold: as ticked
    bool closed_nose = false;
    std::string blinding;  ///< "served", "shuffled_tray", "sealed_key" or "class_service"
    std::optional<double> temperature_degC = {};  ///< of the cups, where it was noted

    bool operator==(const Circumstances&) const = default;
};
std::string body_of(const Circumstances& circumstances);
/// @throws Refused naming the row whose body cannot be read
Circumstances read_circumstances(const journal::Sitting& sitting);

/// What was worth writing down about a sitting, then or later (a fact of kind "sitting_note"): a cold, a new
/// pack.
struct SittingNote {
    Uuid sitting;
    std::string text;

    bool operator==(const SittingNote&) const = default;
};
constexpr const char* sitting_note = "sitting_note";
std::string body_of(const SittingNote& note);
/// @throws Refused naming the row whose body cannot be read
SittingNote read_sitting_note(const journal::Fact& fact);

/// What a mix was made for: the drills of a sitting, in order (a fact of kind "sitting_plan").
struct PlannedDrill {
    Kind kind{};
    Order order{};
    Blinding blinding{};
    std::size_t presentations{};
    std::vector<Uuid> mixes;  ///< facts of kind "mix"
    /// Balance, persistence: how the other cups are called; with one mix, the same bottles otherwise
    /// ("cool").
    std::string condition = {};

    bool operator==(const PlannedDrill&) const = default;
};
struct SittingPlan {
    std::string name;  ///< of the programme; empty: drills of one's own choice
    Millilitres cup;
    std::vector<PlannedDrill> drills;

    bool operator==(const SittingPlan&) const = default;
};
std::string body_of(const SittingPlan& plan);
/// Nothing where it names a drill that a later program knows.
/// @throws Refused naming the row whose body cannot be read
std::optional<SittingPlan> read_sitting_plan(const journal::Fact& fact);

/// The detection threshold that a person wants to come down to (a fact of kind "goal"); the newest counts.
struct Goal {
    std::string substance;  ///< id
    std::string base_name;
    std::optional<double> value;  ///< on the substance's scale, > 0; nothing: no goal any more

    bool operator==(const Goal&) const = default;
};
std::string body_of(const Goal& goal);
/// @throws Refused naming the row whose body cannot be read
Goal read_goal(const journal::Fact& fact);

/// A rest that was cut short, knowingly.
std::string body_of_rest_cut(long seconds_left);
/// @throws Refused naming the row whose body cannot be read
long read_rest_cut(const journal::Entry& entry);

}  // namespace sipladder::drills::record

#pragma once

#include "engine/journal/journal.hpp"

#include <cstddef>
#include <map>
#include <string>
#include <vector>

/// A mix that is being made and is not kept yet: what was ticked and read at the bench survives the program.
/// A draft is a fact of its own (kind "mix_draft"); the newest one counts until a mix is kept.
namespace sipladder::drills::record {

/// What was said of one step. The step's words stand with it, so that a plan that comes out different later
/// is noticed instead of giving a reading to the wrong step.
struct DraftStep {
    std::size_t number{};  ///< from 0
    std::string text;      ///< of the step
    bool ticked = false;
    std::string reading;  ///< as typed
    std::string fate;     ///< "", "skipped" or "spilled"
    std::string left;     ///< as typed: what a spill left

    bool operator==(const DraftStep&) const = default;
};

struct MixDraft {
    std::map<std::string, std::string> form;    ///< the choices that the plan rests on, as typed
    std::vector<DraftStep> steps;               ///< those of which something was said
    std::map<std::string, std::string> checks;  ///< what was read before tasting, by check
    std::vector<MixDraft> beside{};             ///< of the other ladders of the same sitting, in order
    std::size_t place = 0;                      ///< of this one among them

    bool operator==(const MixDraft&) const = default;
};

std::string body_of(const MixDraft& draft);
/// @throws Refused naming the row whose body cannot be read
MixDraft read_mix_draft(const journal::Fact& fact);

}  // namespace sipladder::drills::record

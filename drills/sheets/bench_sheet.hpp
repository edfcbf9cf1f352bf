#pragma once

#include "drills/sheets/paper.hpp"
#include "engine/instant.hpp"
#include "engine/safety/intake.hpp"
#include "engine/solution/mix_plan.hpp"
#include "engine/volume.hpp"

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

namespace sipladder::drills::sheets {

/// What the sheet says beyond the plan.
struct SheetInfo {
    std::string for_whom;        ///< a name or "a class of 24"; may be empty
    std::string blinding;        ///< "alone, shuffled tray"; may be empty
    Instant made;                ///< printed as its local date, and the moment that the file states
    std::size_t cups{};          ///< cups of one drill; 0: not said
    int minutes{};               ///< of one drill, rests included; 0: not said
    safety::Intake most_intake;  ///< if all is swallowed and every cup is the strongest
    std::vector<std::string>
        cautions;  ///< in full; those of the plan are added where they are not among them
    VolumeUnit volume = VolumeUnit::mL;  ///< of what is got ready; steps and levels stay in g and mL
};

/// The plan to pin above the sink: what to get ready, numbered steps to tick with room for readings, the
/// levels with their uncertainty, the error budget, checks before tasting, what a drill costs, and the
/// cautions. No step or row is split between pages. The same plan and info give the same bytes.
std::string bench_sheet_pdf(const solution::MixPlan& plan, const SheetInfo& info, Paper paper);

/// One sheet for all ladders of a sitting: what the sitting is and costs, everything to get ready in one
/// list, then each ladder from a page of its own, and the cautions once.
struct SittingInfo {
    std::string name;                 ///< "Acid and sugar"
    std::vector<std::string> drills;  ///< in order, a line each
    SheetInfo info;
};
/// @param plans  one or more
std::string bench_sheet_pdf(const std::vector<const solution::MixPlan*>& plans, const SittingInfo& sitting,
                            Paper paper);
/// @throws Failed  when the file cannot be written; nothing is half-written
void write_bench_sheet(const solution::MixPlan& plan, const SheetInfo& info, Paper paper,
                       const std::filesystem::path& path);

void write_bench_sheet(const std::vector<const solution::MixPlan*>& plans, const SittingInfo& sitting,
                       Paper paper, const std::filesystem::path& path);

}  // namespace sipladder::drills::sheets

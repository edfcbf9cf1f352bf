#pragma once

#include "drills/drill.hpp"
#include "drills/record.hpp"
#include "drills/record_draft.hpp"
#include "drills/record_notes.hpp"
#include "engine/content/content.hpp"
#include "engine/journal/journal.hpp"
#include "engine/safety/intake.hpp"

#include <optional>
#include <string>
#include <vector>

/// What the journal tells about one person, read whole after every write that could change it.
namespace sipladder::gui {

struct PastDrill {
    Uuid sitting;
    Uuid drill;
    Instant started;
    Instant last;  ///< of its last row
    int rows{};
    drills::State state;
};

/// The newest measurement of one substance in one base.
struct PalateEntry {
    PastDrill past;
    threshold::Threshold threshold;
};

/// What the newest mixes were made for.
struct PlannedSitting {
    Instant at;
    drills::record::SittingPlan plan;
};

struct History {
    std::vector<drills::record::KeptMix> mixes;     ///< newest first
    std::optional<drills::record::MixDraft> draft;  ///< of a mix that is not kept yet
    std::optional<PlannedSitting> planned;
    std::vector<PastDrill> done;              ///< newest first
    std::vector<PastDrill> unfinished;        ///< newest first
    std::vector<drills::record::Goal> goals;  ///< newest of each substance and base
    std::vector<PalateEntry> palate;          ///< detection, in the order of the content's substances
    bool cautions_read = false;
    std::vector<std::string>
        no_ethanol_reasons;  ///< ticked by the person; any keeps them from ethanol drills
    std::string today;       ///< the local date when it was read: what was taken and tasted since midnight
    safety::Intake taken_today;
    std::size_t cups_today = 0;
    long seconds_today = 0;
};

History read_history(const journal::Journal& journal, const content::Content& content, const Uuid& person,
                     const Instant& now);

}  // namespace sipladder::gui

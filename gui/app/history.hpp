#pragma once

#include "drills/drill.hpp"
#include "drills/record.hpp"
#include "drills/record_draft.hpp"
#include "drills/record_notes.hpp"
#include "engine/content/content.hpp"
#include "engine/journal/journal.hpp"
#include "engine/safety/intake.hpp"
#include "gui/app/late.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// What the journal tells about one person, read again after every write that could change it. Lists at once;
/// drills that are done and mixes each when they are first asked for.
namespace sipladder::gui {

/// What is known of a drill without its plan and answers.
struct PastLine {
    Uuid sitting;
    Uuid drill;
    std::string kind;
    Instant started;
    Instant last;  ///< of its last row
    int rows{};
    bool is_mended = false;  ///< a row of it was struck out once

    bool operator==(const PastLine&) const = default;
};

struct PastDrill {
    Uuid sitting;
    Uuid drill;
    Instant started;
    Instant last;  ///< of its last row
    int rows{};
    drills::State state;
};

struct MixLine {
    Uuid id;
    Instant at;

    bool operator==(const MixLine&) const = default;
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

struct DetectionsFound;

struct History {
    Late<MixLine, drills::record::KeptMix> mixes;   ///< newest first
    std::optional<drills::record::MixDraft> draft;  ///< of a mix that is not kept yet
    std::optional<PlannedSitting> planned;
    Late<PastLine, PastDrill> done;           ///< newest first
    std::vector<PastDrill> unfinished;        ///< newest first
    std::vector<drills::record::Goal> goals;  ///< newest of each substance and base
    bool cautions_read = false;
    std::vector<std::string>
        no_ethanol_reasons;  ///< ticked by the person; any keeps them from ethanol drills
    std::string today;       ///< the local date when it was read: what was taken and tasted since midnight
    safety::Intake taken_today;
    std::size_t cups_today = 0;
    long seconds_today = 0;
    std::shared_ptr<DetectionsFound> detections;  ///< behind `newest_detection`
};

/// @param before  what was read earlier of the same person, if anything: what has not changed since is taken
///                over from it
/// @throws Refused naming the row of a drill that is not done, or of today, which cannot be read
History read_history(const std::shared_ptr<const journal::Journal>& journal, const content::Content& content,
                     const Uuid& person, const Instant& now, const History* before = nullptr);

/// Whether the content has this substance: bottles of another cannot be served.
bool is_in(const content::Content& content, std::string_view substance);
/// What a later program has written of other drills is left to it.
bool is_known_kind(std::string_view kind);
/// The drill that is done, by its id; nothing: there is none. Reads it and no other.
const PastDrill* done_drill(const History& history, const Uuid& drill);
/// The drills of one sitting, done and left open, newest first.
std::vector<const PastDrill*> drills_in(const History& history, const Uuid& sitting);
/// Index into the mixes.
std::optional<std::size_t> mix_of_id(const History& history, const Uuid& mix);
/// The newest detection of a substance in a base, by id and name; nothing where none has an answer. Drills
/// whose rows cannot be read are passed over.
const PalateEntry* newest_detection(const History& history, std::string_view substance,
                                    std::string_view base_name);

}  // namespace sipladder::gui

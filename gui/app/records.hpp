#pragma once

#include "drills/record_notes.hpp"
#include "engine/journal/journal.hpp"
#include "gui/app/fit_job.hpp"

#include <cstddef>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

/// What the Records place is about: every sitting as it stands in the journal, what is struck out included.
namespace sipladder::gui {

struct App;

enum class RecordsPart { sittings, exchange, erase, own_things };

struct RecordDrill {
    Uuid id;
    std::string name;                     ///< "detection"; of a later program: its kind as it stands there
    std::string about;                    ///< "tartaric acid in still water"
    std::vector<std::string> substances;  ///< names, of the filter
    std::string blinding;                 ///< in words
    std::size_t presentations{};          ///< answered, less what was struck out
    bool is_open = false;                 ///< left open: none of its answers may be told
    std::optional<journal::Struck> struck;
};

struct RecordNote {
    Uuid fact;
    std::string text;
    std::optional<journal::Struck> struck;
};

struct RecordSitting {
    Uuid id;
    Instant started;
    drills::record::Circumstances circumstances;
    std::vector<RecordDrill> drills;  ///< in order
    std::vector<RecordNote> notes;    ///< oldest first
    std::optional<journal::Struck> struck;
};

struct RecordListView;

/// What the journal held of a person when it was last looked at.
struct Records {
    Uuid person;
    std::size_t journal_rows{};
    std::vector<RecordSitting> sittings;  ///< newest first
    /// The list as it was shown last: years of it are not made anew for every frame. The view's own.
    mutable std::shared_ptr<const RecordListView> shown = {};
};

struct RecordAnswer {
    Uuid row;                        ///< its lock
    std::vector<std::string> cells;  ///< as the columns say
    Instant at;
    std::optional<journal::Struck> struck;
};

struct RecordAnswers {
    Uuid drill;
    std::vector<std::string> columns;
    std::vector<RecordAnswer> answers;  ///< none while it is open
    std::string problem;                ///< why they cannot be shown; empty: nothing
};

/// The sitting that is open, answer by answer.
struct RecordOpened {
    Uuid sitting;
    std::size_t journal_rows{};
    std::vector<RecordAnswers> drills;  ///< in the order of the sitting's
};

/// What is chosen and typed there.
struct RecordsLook {
    RecordsPart part = RecordsPart::sittings;
    bool keep_ours = false;     ///< on import, where the two disagree
    bool everyone = false;      ///< on export
    bool puts_back = false;     ///< `asked` is struck out
    std::optional<Uuid> open;   ///< a sitting
    std::optional<Uuid> asked;  ///< the row to be struck out or put back, once a reason is there
    std::string substance;      ///< a name; empty: all
    std::string drill;          ///< a name; empty: all
    std::string text;
    std::string from;  ///< a date as typed; empty: the first
    std::string to;    ///< a date as typed; empty: the last
    std::string reason;
    std::string note;
    std::string path;        ///< of a file to import
    std::string typed_name;  ///< of the person to erase
};

/// Reads the sittings anew if another person is there or the journal has grown, and the answers of the one
/// that is open.
/// A long record that was never read is asked for (App::records_awaited).
/// @pre the history is that of the person
void look_at_records(App& app);

/// Reads, for any thread.
/// @param stop  once it asks for that, what comes back is not whole and of no use
Records records_of(const FitJob& job, const std::stop_token& stop = {});

}  // namespace sipladder::gui

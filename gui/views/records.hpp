#pragma once

#include "engine/uuid.hpp"
#include "gui/app/records.hpp"
#include "gui/views/shown.hpp"
#include "gui/views/waits.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace sipladder::gui {

struct App;

/// One drill in the list; a sitting without any has one line too.
struct RecordLine {
    Uuid sitting;
    std::string date;  ///< empty below the first line of its sitting
    std::string what;  ///< "detection, tartaric acid in still water"
    std::string blinding;
    std::string presentations;
    std::string struck;  ///< reason and date; empty: it counts
    bool is_open = false;
};

struct RecordListView {
    std::vector<Choice> substances;  ///< the first: all
    std::vector<Choice> drills;      ///< the first: all
    std::string text;
    std::string substance;  ///< as chosen; empty: all
    std::string drill;
    Field from;                ///< a date as typed; empty, or wrong: from the first
    Field to;                  ///< the same: to the last
    bool is_filtered = false;  ///< something is chosen or typed
    std::string count;         ///< how many sittings and drills are shown
    std::string empty;         ///< why none is
    std::vector<RecordLine> lines;
};

struct RecordRowView {
    Uuid row;
    std::vector<std::string> cells;
    std::string struck;
};

struct RecordDrillView {
    Uuid id;
    std::string title;
    std::string how;     ///< blinding, presentations
    std::string hidden;  ///< why no answer is shown
    std::string struck;
    std::vector<std::string> columns;
    std::vector<RecordRowView> answers;
};

/// What is about to be struck out or put back.
struct RecordAskedView {
    std::string title;
    std::string explains;
    std::string reason;
    std::string label;  ///< of the button
};

struct RecordOpenView {
    Uuid id;
    std::string title;
    std::vector<std::string> facts;  ///< as noted once before the sitting
    std::string struck;
    std::vector<RecordRowView> notes;
    std::string note;  ///< being typed
    std::vector<RecordDrillView> drills;
    std::optional<RecordAskedView> asked;
};

struct RecordExchangeView {
    std::string person;
    std::string folder;  ///< where exports go
    std::string path;    ///< of the import, as typed
    bool everyone = false;
    bool keep_ours = false;
    std::string copies_note;
    std::vector<std::string> copies;  ///< newest first
};

struct RecordEraseView {
    std::string person;
    std::string typed;
    std::vector<std::string> sentences;  ///< what goes, what is out of reach
    bool is_right = false;               ///< the name is typed to the letter
};

struct OwnListView;

struct RecordsView {
    RecordsPart part{};
    std::vector<Choice> parts;
    Waits waits;
    std::shared_ptr<const RecordListView> list;  ///< nothing: another part, or an open sitting
    std::optional<RecordOpenView> open;
    std::optional<RecordExchangeView> exchange;
    std::optional<RecordEraseView> erase;
    std::shared_ptr<const OwnListView> own;  ///< behind a pointer: it is made of parts of this file
};

RecordsView records_view(const App& app);
/// With the button and the reason typed so far; title and explanation are yet to come.
/// "struck out 2026-11-30: sold"; empty for what counts.
std::string struck_text(const std::optional<journal::Struck>& struck);
RecordAskedView asked_for(const RecordsLook& look);

}  // namespace sipladder::gui

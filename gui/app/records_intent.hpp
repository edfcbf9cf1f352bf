#pragma once

#include "engine/uuid.hpp"
#include "gui/app/records.hpp"

#include <optional>
#include <string>

/// What a person wants in the Records place.
namespace sipladder::gui {

using RecordsReady = Fitted<Records>;
struct ShowRecords {
    RecordsPart part{};
};
struct FilterRecords {  ///< names, words and dates as typed; empty: all
    std::string substance = {};
    std::string drill = {};
    std::string text = {};
    std::string from = {};
    std::string to = {};
};
struct OpenRecord {  ///< a sitting; nothing: the list again
    std::optional<Uuid> sitting;
};
struct AskToStrike {  ///< a sitting, drill, answer or note; nothing: let it be
    std::optional<Uuid> row;
    bool puts_back = false;
};
struct TypeReason {
    std::string text;
};
struct StrikeOut {};  ///< or put back, as asked
struct TypeNote {
    std::string text;
};
struct AddNote {};
struct ExportRecords {
    bool is_csv = false;
};
struct TickEveryone {
    bool on{};
};
struct TypeImportPath {
    std::string text;
};
struct TickKeepOurs {
    bool on{};
};
struct ImportRecords {};
struct CopyNow {};
struct TypeNameToErase {
    std::string text;
};
struct ErasePerson {};

}  // namespace sipladder::gui

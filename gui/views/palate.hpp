#pragma once

#include "drills/palate.hpp"
#include "drills/palate_detail.hpp"
#include "gui/app/app.hpp"
#include "gui/views/shown.hpp"
#include "gui/views/waits.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::gui {

struct PalateNumberView {
    std::string what;  ///< "detection"
    Shown number;
    std::string age = {};  ///< "12 days ago", where it has one of its own
};

/// One thing that can be said under the open question.
struct PalateRowView {
    std::string title;  ///< "sucrose in still water"
    std::optional<solution::Component> component;
    std::vector<PalateNumberView> numbers;
    std::vector<drills::PalatePicture> pictures;
    std::vector<std::string> sentences;
    std::vector<std::string> warnings;
    std::string reported;  ///< "Papers, in water: detection 2.3 g/L …", or that none was found; may be empty
    std::string age;       ///< "12 days ago"; empty: each number has its own
};

/// A picture of an opened row, as much of it as is seen.
struct PalatePictureView {
    drills::PalatePicture picture;
    std::optional<chart::Axis>
        whole;  ///< its x axis; nothing: it has none that could be looked at from nearer
};

/// One row opened: what its numbers rest on.
struct PalateDetailView {
    std::string title;
    std::optional<solution::Component> component;
    std::vector<PalateNumberView> numbers;
    std::vector<PalatePictureView> pictures;
    std::vector<std::string> sentences;
    std::vector<std::string> warnings;
    std::vector<PalateNumberView> facts;
    std::vector<drills::PalateTable> tables;
    std::string age;
    std::optional<Field> goal;  ///< of a threshold: where the person wants to come down to
};

struct PalateView {
    std::vector<Choice> questions;  ///< the six tabs
    std::string explains;           ///< how to read the rows of this tab
    std::vector<PalateRowView> rows;
    Waits waits;
    std::string empty;      ///< which drill would fill the tab
    std::string offer;      ///< the button that prepares it
    std::string left_open;  ///< a drill that is not part of it
    std::optional<PalateDetailView> open;
    std::vector<std::string> next;  ///< what to drill next, at most three sentences
    std::string next_note;
    std::string foot;
};

PalateView palate_view(const App& app);

/// "today", "yesterday", "12 days ago", by local dates.
std::string age_of(const Instant& then, const Instant& now);

}  // namespace sipladder::gui

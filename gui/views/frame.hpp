#pragma once

#include "gui/app/app.hpp"
#include "gui/views/classroom.hpp"
#include "gui/views/handbook.hpp"
#include "gui/views/palate.hpp"
#include "gui/views/prepare.hpp"
#include "gui/views/records.hpp"
#include "gui/views/settings.hpp"
#include "gui/views/shown.hpp"
#include "gui/views/taste.hpp"
#include "gui/views/weeks.hpp"

#include <string>
#include <vector>

namespace sipladder::gui {

struct PlaceView {
    Place place{};
    std::string label;
    std::string key;
    bool is_here = false;
};

/// Who tastes, and who else could.
struct PeopleView {
    struct One {
        Uuid id;
        std::string name;
        bool is_here = false;
    };
    std::vector<One> people;
    std::string typed_name;
    bool asks_for_name = false;
};

struct CautionsView {
    std::vector<std::string> texts;
    std::vector<Choice> reasons;
    bool already_read = false;
    bool has_person = false;
};

struct HelpView {
    std::string title;
    std::vector<std::string> paragraphs;
    std::vector<std::pair<std::string, std::string>> keys;  ///< key and what it does
};

/// Everything that one frame needs. Made when something changed, not on every frame. Its copies and its end
/// are written out once, not in every file that draws or looks.
struct FrameView {
    FrameView();
    FrameView(const FrameView&);
    FrameView(FrameView&&) noexcept;
    FrameView& operator=(const FrameView&);
    FrameView& operator=(FrameView&&) noexcept;
    ~FrameView();

    Place place{};
    Dialog dialog{};
    bool is_demo = false;
    bool dark = false;
    double scale = 1.0;
    std::string title;  ///< of the window; tells no level
    std::vector<PlaceView> places;
    std::string person;
    bool can_leave = true;  ///< no drill is under way
    bool can_take_back = false;
    std::vector<Shown>
        status;  ///< journal file, last write, cups and minutes, intake when no drill is running
    std::optional<Notice> notice;
    std::optional<HelpView> help;
    std::optional<HandbookView> handbook;
    std::optional<SettingsView> settings;
    PeopleView people;
    CautionsView cautions;
    std::optional<PrepareView> prepare;
    std::optional<TasteView> taste;
    std::optional<PalateView> palate;
    std::shared_ptr<const WeeksView> weeks;
    std::optional<ClassroomView> classroom;
    std::optional<RecordsView> records;
};

FrameView frame_view(const App& app);
HelpView help_view(const App& app);

}  // namespace sipladder::gui

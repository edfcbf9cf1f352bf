#pragma once

#include "gui/app/own_form.hpp"
#include "gui/views/records.hpp"
#include "gui/views/shown.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::gui {

struct App;

/// One of a person's own things in a list.
struct OwnLine {
    Uuid fact;
    std::string kind;  ///< "equipment", "ladder", "substance"
    std::string name;
    std::string about;    ///< what is in it, in a line
    std::string since;    ///< the date it was added
    std::string struck;   ///< reason and date; empty: it counts
    std::string problem;  ///< why it is not offered; empty: nothing
    bool can_change = false;
};

struct OwnListView {
    std::vector<OwnLine> lines;
    std::string empty;  ///< said where there is none
    std::optional<RecordAskedView> asked;
};
/// @param kind  nothing: of every kind, what is struck out included
OwnListView own_list(const App& app, std::optional<content::OwnKind> kind);

struct OwnFieldView {
    OwnPlace place;
    std::string label;
    Field field;                  ///< typed; its usual value where it is empty
    std::vector<Choice> choices;  ///< none: it is typed
    std::vector<std::string> values;
    std::string explains;
    bool begins = false;  ///< the form goes on here
};
struct OwnGroupView {
    std::string title;
    OwnList list{};
    std::size_t index{};
    bool can_remove = false;
    std::vector<OwnFieldView> fields;
};
struct OwnAdds {
    OwnList list{};
    std::string label;
};
struct OwnFormView {
    std::string title;
    std::string explains;
    std::vector<OwnGroupView> groups;
    std::vector<OwnAdds> adds;          ///< scales and vessels that can be added
    std::vector<std::string> problems;  ///< of the whole
    std::string label;                  ///< of the button that keeps it
    std::string leaves;                 ///< of the one that does not
    int times_begun = 0;                ///< when it has grown, a field begins anew
};
OwnFormView own_form_view(const App& app);

}  // namespace sipladder::gui

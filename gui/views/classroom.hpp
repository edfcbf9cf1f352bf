#pragma once

#include "drills/classroom/entry.hpp"
#include "engine/chart/chart.hpp"
#include "gui/app/class_intent.hpp"
#include "gui/views/shown.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace sipladder::gui {

struct App;

struct ClassStepView {
    ClassStep step{};
    std::string label;
    bool is_here = false;
    bool can_go = false;
};

struct RosterView {
    struct Row {
        std::string name;
        bool agrees{};
        bool no_ethanol{};
    };
    std::vector<Row> rows;
    std::string typed;
    std::string erasing;  ///< who is asked about; empty: nobody
    std::string typed_erase;
    std::string note;
    std::string unticked;     ///< how many are not ticked as agreeing; empty: nobody is
    bool has_design = false;  ///< seats are given out: the roster is not what is served any more
};

struct ClassPlanView {
    struct Drill {
        std::string name;
        std::string question;
        std::string each;  ///< "5 cups a person"
        std::vector<Choice> tasks;
        std::vector<Choice> ladders;
        std::vector<std::string> ladder_ids;
        std::vector<Choice> times;
        std::vector<Choice> cups;
        std::vector<std::size_t> cup_mL;
        std::vector<Choice> bases;
        std::vector<std::string> base_ids;
        std::string left_out;  ///< who sits it out; empty: nobody
    };
    std::vector<Drill> drills;
    std::vector<Choice> kitchens;
    std::vector<std::string> kitchen_ids;
    std::string kitchen_note;  ///< what the chosen one holds
    std::vector<Choice> spares;
    std::vector<std::size_t> spare_counts;
    std::vector<Choice> groups;
    std::vector<std::size_t> group_counts;
    std::string costs;    ///< cups, litres, pouring minutes
    std::string beside;   ///< what a threshold for everybody would take
    std::string problem;  ///< why it cannot be kept; empty: nothing known
    bool can_add = false;
    bool has_design = false;
};

struct ClassSheetsView {
    std::vector<std::string> facts;  ///< people, cups, bottles
    std::vector<std::string> cautions;
};

struct ClassEntryView {
    enum class Mark { empty, filled, here, differs };
    struct Line {
        std::string text;
        Mark mark{};
        drills::classroom::Cell cell;
    };
    struct Row {
        std::size_t seat{};
        std::string name;
        bool came = true;
        std::string why_not;  ///< is nothing typed in for them; empty: a spare seat, or it is
        bool is_here = false;
        std::vector<Line> lines;  ///< of the drill that is shown; none: they sit it out
    };
    struct Differs {
        std::string where;
        std::string first;
        std::string second;
        drills::classroom::Cell cell;
    };
    std::string pass;      ///< "First pass", "Second pass, to find what was mistyped"
    std::string progress;  ///< "37 of 192 lines"
    std::vector<Choice> drills;
    std::size_t drill = 0;  ///< shown
    std::string where;      ///< "Seat 3, Noor Ravensbourne: In order (drill 1), line 2"; or that all is typed
    std::string asks;       ///< what may be typed now
    std::string typed;      ///< so far
    std::string complaint;
    std::string passed_over;  ///< who is not typed in, and why; empty: nobody
    std::vector<Row> rows;
    std::vector<Differs> differs;
    bool is_second = false;
    bool is_full = false;                                          ///< the pass has come to its end
    bool is_nobody = false;                                        ///< to type in: nobody agrees, or came
    std::optional<std::size_t> seat;                               ///< under the finger
    bool came = true;                                              ///< of that seat
    std::optional<drills::classroom::Cell> up, down, left, right;  ///< where the arrows lead
};

struct ClassResultsView {
    struct Table {
        std::vector<std::string> columns;
        std::vector<std::vector<std::string>> rows;
    };
    struct Drill {
        std::string name;
        std::string question;
        std::vector<std::string> sentences;
        std::optional<chart::Chart> chart;
        double chart_lines{};  ///< height, in lines of small text
        std::vector<Table> tables;
        std::string note;
    };
    std::vector<Drill> drills;
    std::vector<std::string> missing;  ///< no-shows and empty lines
    bool for_the_wall = false;
};

struct ClassroomView {
    std::vector<Choice> classes;  ///< of this journal, while none is open
    std::vector<Uuid> ids;
    std::string typed_title;
    std::string title;  ///< of the one that is open; empty: none
    std::vector<ClassStepView> steps;
    std::string waits_for;  ///< what is being worked out; empty: nothing
    std::optional<RosterView> roster;
    std::optional<ClassPlanView> plan;
    std::optional<ClassSheetsView> sheets;
    std::optional<ClassEntryView> entry;
    std::optional<ClassResultsView> results;
    std::string written_to;            ///< by the last job that wrote files; empty: none did
    std::vector<std::string> written;  ///< those files, with what they are for
};

ClassroomView classroom_view(const App& app);

}  // namespace sipladder::gui

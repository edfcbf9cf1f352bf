#pragma once

#include "engine/chart/chart.hpp"
#include "gui/app/app.hpp"
#include "gui/views/shown.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::gui {

/// Before a drill: what is in bottles, what was left open, and what is asked once.
struct TasteStartView {
    struct Open {
        Uuid drill;
        std::string text;  ///< "tartaric acid in still water, of 2026-03-01: 5 presentations done"
        bool is_too_old = false;
    };
    std::vector<Open> unfinished;
    std::string prepared;  ///< "Your sitting: Acid and sugar", where something was prepared and is not done
    struct Stage {
        std::string text;
        std::string state;  ///< "done", "next", "then"
    };
    std::vector<Stage> stages;   ///< its drills in order
    std::string follows;         ///< what is next in it, while another drill is chosen; empty: nothing
    std::string sitting;         ///< that another drill joins it; empty: a new one begins
    std::vector<Choice> offers;  ///< in the order of `offers`
    std::string offer_note;
    std::vector<Choice> mixes;   ///< newest first
    std::string older_mixes;     ///< that there are more; may be empty
    std::vector<Choice> others;  ///< recognition: ticked beside the first
    std::vector<std::size_t> other_mixes;
    std::string others_note;
    std::vector<Choice> blindings;
    std::vector<drills::Blinding> blinding_kinds;
    std::string blinding_note;
    std::vector<Choice> presentations;
    std::vector<std::size_t> presentation_counts;
    std::vector<Choice> priors;  ///< what the threshold starts from, in the order of `prior_choices`
    std::vector<drills::PriorChoice> prior_choices;
    std::string prior_note;        ///< the chosen one in full
    std::vector<Choice> spoilers;  ///< none while a sitting goes on: they were noted with it
    bool asks_for_closed_nose = false;
    bool nose_is_closed = false;
    Field temperature;
    Field words;  ///< own words with commas between, where the drill asks for some
    bool asks_words = false;
    std::string words_note;
    struct Wine {  ///< whose finish is timed
        bool is_open = false;
        Field name;
        Field strength;
        std::string will_take;
        std::string against;
        bool can_start = false;
    };
    Wine wine;
    std::string will_take;  ///< cups and minutes
    std::vector<std::string> against;
    bool can_start = false;
};

/// One of what a question offers.
struct Tile {
    std::string name;  ///< "left", a blind code, "perhaps", "tartaric acid", a bottle's letter
    std::optional<solution::Component> component;

    bool operator==(const Tile&) const = default;
};

/// One of several that can be ticked.
struct Part {
    std::string name;
    bool is_on = false;

    bool operator==(const Part&) const = default;
};

/// While a drill runs. There is no field for a level, a place that is right, or an estimate, so none can be
/// shown.
struct DrillView {
    Phase phase{};
    std::string heading;  ///< "Presentation 7 of 12"
    std::string cups;     ///< "18 cups so far"
    std::vector<std::string> instruction;
    std::vector<std::string> codes;  ///< sealed key: of all the cups, to be set on top
    std::string nose;                ///< "Nose closed": how this one is tasted, where the drill says it
    std::string question;            ///< "Which cup holds the acid?"
    std::vector<Tile> tiles;
    bool tiles_are_cups = false;   ///< left to right, else words
    bool tiles_by_letter = false;  ///< marks of bottles: each by its own letter
    bool asks_certainty = false;
    std::vector<std::string> set;      ///< codes of cups that are put in order, as they stand
    std::vector<std::size_t> ordered;  ///< places in `set`, weakest first, so far
    std::string least;                 ///< which end the order begins with: "the least sugar"
    std::optional<drills::MarkLine> line;
    std::optional<double> mark;  ///< on the line
    std::string mark_text;
    std::vector<Part> mouth;  ///< places, in the order of chart::MouthPart
    std::vector<Part> words;  ///< any number of them fit
    enum class Watch { none, ready, running, stopped };
    Watch watch = Watch::none;
    std::string watch_text;             ///< "12 s"; nothing while it runs: a clock would be watched
    std::optional<std::size_t> picked;  ///< in the answer, or what was found beneath
    std::optional<drills::Certainty> certainty;
    bool can_lock = false;
    std::string hint;         ///< what is missing before it can be locked
    std::string locked;       ///< "Locked: middle."
    std::string rest_left;    ///< "1:48"
    double rest_share = 0.0;  ///< of the rest that is left, 0 to 1
    bool pours_meanwhile = false;
    bool is_poured = false;
    bool can_stop = true;  ///< not while a key is read in: all is answered
    bool stop_asked = false;
    std::string stop_text;     ///< what stopping would mean
    bool prints_card = false;  ///< a helper needs the pour card

    bool operator==(const DrillView&) const = default;
};

/// At the end.
struct FindingView {
    std::string title;     ///< substance and base
    std::string sentence;  ///< what was found, with its interval
    Shown number;
    std::string rests_on;           ///< prior and number of answers
    std::vector<std::string> more;  ///< other figures and what they say
    struct Curve {
        std::string name;  ///< where there are several
        chart::Chart chart;
    };
    std::vector<Curve> curves;
    std::vector<std::string> warnings;
    std::vector<std::string> next;
    bool sitting_goes_on = false;
    std::string next_drill;  ///< of the sitting that was prepared; empty: none is left
};

struct TasteView {
    std::optional<TasteStartView> start;
    std::optional<DrillView> drill;
    std::optional<FindingView> finding;
};

TasteView taste_view(const App& app);
/// Of the drill under way. @pre there is one
DrillView drill_view(const App& app);

}  // namespace sipladder::gui

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
    };
    std::vector<Open> unfinished;
    std::vector<Choice> mixes;  ///< newest first
    std::string older_mixes;    ///< that there are more; may be empty
    std::vector<Choice> blindings;
    std::string blinding_note;
    std::vector<Choice> priors;  ///< what the threshold starts from, in the order of `prior_choices`
    std::vector<drills::PriorChoice> prior_choices;
    std::string prior_note;  ///< the chosen one in full
    std::vector<Choice> spoilers;
    bool asks_for_closed_nose = false;
    bool nose_is_closed = false;
    std::string will_take;  ///< cups and minutes
    std::vector<std::string> against;
    bool can_start = false;
};

/// While a drill runs. There is no field for a level, a place that is right, or an estimate, so none can be
/// shown.
struct DrillView {
    Phase phase{};
    std::string heading;  ///< "Presentation 7 of 12"
    std::string cups;     ///< "18 cups so far"
    std::vector<std::string> instruction;
    std::string question;                ///< "Which cup holds the acid?"
    std::vector<std::string> cup_names;  ///< "left" …, or the blind codes, left to right
    std::optional<std::size_t> picked;   ///< in the answer, or where the sign was found
    std::optional<drills::Certainty> certainty;
    bool can_lock = false;
    std::string locked;       ///< "Locked: middle."
    std::string rest_left;    ///< "1:48"
    double rest_share = 0.0;  ///< of the rest that is left, 0 to 1
    bool is_poured = false;
    bool stop_asked = false;
    bool prints_card = false;  ///< a helper needs the pour card

    bool operator==(const DrillView&) const = default;
};

/// At the end.
struct FindingView {
    std::string title;     ///< substance and base
    std::string sentence;  ///< what was found, with its interval
    Shown number;
    std::string rests_on;  ///< prior and number of answers
    chart::Chart curve;
    std::vector<std::string> warnings;
    std::vector<std::string> next;
};

struct TasteView {
    std::optional<TasteStartView> start;
    std::optional<DrillView> drill;
    std::optional<FindingView> finding;
};

TasteView taste_view(const App& app);

}  // namespace sipladder::gui

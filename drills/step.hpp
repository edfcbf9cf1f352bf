#pragma once

#include "drills/presentation.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace sipladder::drills {

/// A line from 0 to 100 to put a mark on.
struct MarkLine {
    std::string text;  ///< "How sweet is it?"
    std::string none;  ///< what 0 stands for
    std::string most;  ///< what 100 stands for

    bool operator==(const MarkLine&) const = default;
};

/// What is asked about the cups: the same for every presentation of a drill.
struct Question {
    std::string text;                  ///< "Which cup holds the acid?"
    std::vector<std::string> choices;  ///< in the order of Answer::choice; none: no choice is asked for
    bool about_places = false;         ///< the choices are the cups, left to right; else words
    bool asks_certainty = false;       ///< guessed, leaning, sure
    bool asks_order = false;           ///< the cups, weakest first
    std::optional<MarkLine> mark = {};
    std::vector<std::string> places =
        {};                         ///< in the mouth: any number of them, in the order of Answer::places
    bool first_is_nothing = false;  ///< the first choice says that nothing was felt: nowhere, mark 0
    int most_seconds = 0;           ///< a stop-watch, up to so long; 0: none
    std::vector<std::string> words = {};  ///< any number of them, in the order of Answer::words

    bool operator==(const Question&) const = default;
};

struct Serve {
    std::size_t number{};  ///< 0-based presentation number
    Presentation shown;
    std::string before;  ///< what to taste first, with the answer known; empty but for the first presentation
    Question question{};
};
/// Shuffled tray: only now is it read in where the sign was. Sealed key: once all cups are answered, what
/// stands beneath each of them.
struct Reveal {
    std::size_t number{};  ///< of the presentation that is revealed
    std::string ask;
    std::vector<std::string> choices{};  ///< what `reveal` takes, by its index
};
struct Rest {
    std::chrono::seconds length{};
    std::string why;
};
struct Finished {
    std::string why;
};
using Step = std::variant<Serve, Reveal, Rest, Finished>;

}  // namespace sipladder::drills

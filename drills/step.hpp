#pragma once

#include "drills/presentation.hpp"

#include <chrono>
#include <string>
#include <variant>

namespace sipladder::drills {

struct Serve {
    std::size_t number{};  ///< 0-based presentation number
    Presentation shown;
    std::string before;  ///< what to taste first, with the answer known; empty but for the first presentation
};
/// Shuffled tray: only now is it read in where the sign was.
struct Reveal {
    std::size_t number{};
    std::string ask;
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

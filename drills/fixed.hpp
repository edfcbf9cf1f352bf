#pragma once

#include "drills/blinding/sealed_key.hpp"
#include "drills/rules.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// Drills whose cups are drawn before the first one: what is on the helper's card, under the sealed key and
/// on a seat's tray. Inside drills only.
namespace sipladder::drills::fixed {

/// What so many single cups hold, each rung and the blanks as evenly as can be (naming: each substance and
/// the blanks); a set holds every rung once.
std::vector<sealed_key::Identity> shares(const Plan& plan, std::size_t presentations);

/// One line of the helper's card.
struct Card {
    std::string letter;
    std::vector<BlindCode> codes;  ///< left to right
    std::vector<Held> held;        ///< left to right
};
/// In the order in which they are served: drawn, and for sets balanced over places and neighbours as far as
/// their number allows.
std::vector<Card> cards(const Plan& plan, Seed seed);

/// What every fixed drill wants of its plan.
void check(const Plan& plan, Problems& problems);

/// The done trials, in order.
std::vector<Trial> done(const State& drill);

}  // namespace sipladder::drills::fixed

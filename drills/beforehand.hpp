#pragma once

#include "drills/blinding/sealed_key.hpp"
#include "drills/rules.hpp"
#include "engine/perception/strength.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// Drills whose cups are drawn before the first one: what is on the helper's card, under the sealed key and
/// on a seat's tray. Inside drills only.
namespace sipladder::drills::beforehand {

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

/// What every set that is put in order wants of its plan.
void check_set(const Plan& plan, Problems& problems);

/// What a drill with and without something else wants of its other line.
void check_condition(const Plan& plan, Problems& problems);

/// The bottles of one condition or two, as the fits of engine/perception take them; rungs of all lines one
/// after the other.
perception::Levels levels_of(const Plan& plan);
/// Where a cup's rung stands among them.
std::size_t rung_of(const Plan& plan, const Held& held);

/// The done trials, in order.
std::vector<Trial> done(const State& drill);

}  // namespace sipladder::drills::beforehand

#pragma once

#include "drills/palate.hpp"
#include "drills/record_notes.hpp"
#include "engine/trend/advice.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

/// What to drill next, said so that it can be weighed: what it would bring and what it costs.
namespace sipladder::drills {

struct NextDrill {
    std::string substance;        ///< id
    std::string base;             ///< id
    bool has_own = false;         ///< a ladder around the own estimate; else the wide first one
    Blinding blinding{};          ///< as last time
    std::size_t presentations{};  ///< as many as the caps allow, 12 at most
    trend::Advice advice;
    std::string sentence;  ///< what it would bring, cups, minutes and intake, how old it is
};

/// How many are told.
constexpr std::size_t most_next_drills = 3;

/// Detection of what was measured before, best gain a cup first, and last the one substance that was never
/// measured and would gain most.
/// What does not fit into a sitting, or is kept from the person, is left out.
/// @param done   what the palate was made of
/// @param goals  of the person: what lies above one weighs more
/// @checked      tests/drills/palate_test.cpp
std::vector<NextDrill> next_drills(const Palate& palate, std::span<const Tasted> done,
                                   const content::Content& content, const Instant& now,
                                   std::span<const std::string> no_ethanol_reasons,
                                   std::span<const record::Goal> goals = {});

/// The goal of one substance in one base; nothing: none is set.
std::optional<double> goal_of(std::span<const record::Goal> goals, const std::string& substance,
                              const std::string& base_name);

}  // namespace sipladder::drills

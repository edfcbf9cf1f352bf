#pragma once

#include "drills/drill.hpp"
#include "engine/perception/confusion.hpp"

#include <span>
#include <string>
#include <vector>

/// Naming: single cups that are clearly noticed, of several substances and of the base alone: "what is it?"
/// What a person takes for what.
namespace sipladder::drills::naming {

/// The names that may be given: those of the substances, and last "the base alone".
std::vector<std::string> names(const Plan& plan);

/// What is assumed of people, for the bits of information (judgement).
perception::NamingPrior assumed_prior();

/// Ethanol called bitter: it does taste bitter to many before it warms, so this is no plain mistake.
/// @source mattes_2001
bool is_known_overlap(const Plan& plan, std::size_t row, std::size_t name);

/// One rung: how often its cups were named right.
struct AtLevel {
    std::size_t line{};
    std::size_t level{};
    std::size_t right{};
    std::size_t served{};
};

struct Result {
    std::vector<std::string> names;
    perception::Counts counts;                 ///< row: what was served, column: what it was called
    std::vector<threshold::ExactShare> right;  ///< of each row; nothing served: 0 to 1
    threshold::ExactShare right_in_all;
    std::size_t known_overlaps{};  ///< of the mistakes
    perception::Estimate bits;
    double most_bits{};  ///< if every cup were named right
    std::vector<perception::TakenFor> taken_for;
    std::vector<AtLevel> levels;
};
/// @pre at least one cup is done
Result result(const State& drill);
/// Several drills of the same names, in whatever order, as one: names and `levels` are those of the first.
/// @pre at least one cup of each is done
Result joined(std::span<const State* const> drills);
/// In words; the plan is that of the first drill.
Finding finding_of(const Plan& plan, const Result& result);

}  // namespace sipladder::drills::naming

#pragma once

#include "drills/classroom/service.hpp"
#include "engine/content/csv.hpp"
#include "engine/threshold/psychometric.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Filled ballots of a class, held against the service that they were printed from.
namespace sipladder::drills::classroom {

/// One line of a ballot, or one ranking.
struct BallotAnswer {
    std::size_t seat{};     ///< index into Service::seats
    std::size_t drill{};    ///< index into ClassPlan::drills
    std::size_t serving{};  ///< index into the seat's servings
    /// which_of_three: the cup picked, from left; graded, naming: index into ClassDrill::choices; ranking:
    /// the cups of the serving, weakest first.
    std::vector<std::size_t> picked;
    std::optional<threshold::Certainty> certainty;  ///< where a box was ticked

    bool operator==(const BallotAnswer&) const = default;
};

struct Ballots {
    std::vector<BallotAnswer> answers;  ///< by seat, drill and serving
    std::vector<std::size_t> no_shows;  ///< seats of people without any answer; spare seats never are
    std::vector<std::string> gaps;      ///< "seat 3, Sugar: line 4 is empty"
};

/// Reads `seat,drill,line,answer` and perhaps `certainty`: seat, drill and line as printed, from 1; the
/// answer is the code picked, the words ticked, or the codes from weakest to strongest with blanks between.
/// @throws Refused  with every problem, by line: a seat, drill or line that is not in the service, a code
/// that
///                  does not stand there, words that were not on the ballot, a ranking that misses or repeats
///                  a code, a line answered twice
/// @checked tests/classroom/ballots_test.cpp
Ballots read_ballots(const content::Table& table, const Service& service);

/// As read_ballots reads it, with the certainties where there are any.
std::string ballots_csv(const Ballots& ballots, const Service& service);

/// Ballots of these answers: sorted, with their gaps and no-shows.
/// @pre one answer a line at most, each of a line of the service
Ballots ballots_of(std::vector<BallotAnswer> answers, const Service& service);

/// "seat 3, Sugar, line 4"
std::string place_words(const Service& service, std::size_t seat, std::size_t drill, std::size_t serving);
/// What stands on the ballot, for a person to compare with paper: "417, sure", "sweet", "417 528 903".
std::string answer_words(const BallotAnswer& answer, const Service& service);

/// Where two readings of the same ballots differ: what to look up on paper.
struct Difference {
    std::string where;  ///< "seat 3, Sugar, line 4"
    std::string first;  ///< as read the first time; empty where nothing was
    std::string second;
};
std::vector<Difference> differences(const Ballots& first, const Ballots& second, const Service& service);

/// A which_of_three drill by person and rung.
struct Count {
    std::size_t seat{};
    std::size_t sample{};
    std::size_t presentations{};
    std::size_t correct{};
};
std::vector<Count> counts(const Ballots& ballots, const Service& service, std::size_t drill);

/// A ranking drill: one row a person who ranked, ranks by sample, 1 weakest.
struct Ranks {
    std::vector<std::size_t> seats;
    std::vector<std::vector<double>> by_sample;
};
Ranks ranks(const Ballots& ballots, const Service& service, std::size_t drill);

/// A graded or naming drill: how often each sample was given each choice, [sample][choice].
std::vector<std::vector<std::size_t>> confusion(const Ballots& ballots, const Service& service,
                                                std::size_t drill);

}  // namespace sipladder::drills::classroom

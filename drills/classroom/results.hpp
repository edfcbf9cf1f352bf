#pragma once

#include "drills/classroom/ballots.hpp"
#include "engine/content/content.hpp"
#include "engine/panel/panel.hpp"
#include "engine/perception/draws.hpp"
#include "engine/solution/substance.hpp"
#include "engine/threshold/best_estimate.hpp"
#include "engine/threshold/discrimination.hpp"
#include "engine/threshold/prior.hpp"
#include "engine/threshold/ranking.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <variant>
#include <vector>

/// What the filled ballots of a class tell, of the class and of each person in it.
namespace sipladder::drills::classroom {

/// One rung of a which_of_three drill over all people.
struct RungShare {
    std::size_t sample{};
    std::size_t presentations{};
    std::size_t correct{};
    threshold::Discrimination test;  ///< against guessing, 3-AFC
};

struct ThresholdResult {
    solution::Component component{};
    std::vector<std::size_t> seats;  ///< of pooled.people, in their order
    panel::Panel pooled;
    std::vector<RungShare> rungs;  ///< weakest first
    /// Best-estimate thresholds of those who answered each rung once, by place in `seats`; nothing for who
    /// did not, or where rungs were served more often.
    std::vector<std::optional<threshold::BestEstimate>> best;
    std::optional<threshold::GroupEstimate> best_of_class;  ///< nothing where `best` holds none
};

/// One single cup and what was ticked.
struct SingleAnswer {
    std::size_t seat{};
    std::size_t sample{};
    std::size_t choice{};
};

/// Single cups, named or graded.
struct SinglesResult {
    std::vector<SingleAnswer> answers;             ///< by seat, in the order of tasting
    std::vector<std::vector<std::size_t>> counts;  ///< [sample][choice], over all people
    /// Naming, where each sample has its right name.
    struct Named {
        std::size_t right{};
        std::size_t answers{};
    };
    std::optional<Named> named;
    std::optional<perception::Estimate> bits;  ///< of a name, each right name equally often served
    double most_bits{};                        ///< what always right would give
    /// Graded, choices in ascending order: how far each sample lies above the first without a level, in units
    /// of the noise, all people's grades in one ordinal probit; nothing where grades set it apart wholly or
    /// not at all.
    struct Distance {
        std::size_t sample{};
        std::optional<double> d_prime;
        double standard_error{};
    };
    std::vector<Distance> distances;
};

struct RankingResult {
    Ranks ranks;
    std::optional<threshold::Friedman> friedman;  ///< two people or more
    std::optional<threshold::Page> page;          ///< two people or more
    /// Kendall's tau-b of each person's order with the order of the levels; nothing below three samples.
    std::vector<std::optional<double>> tau;
    std::vector<std::size_t> neighbours_swapped;  ///< by person: neighbouring levels in the wrong order
};

using DrillResult = std::variant<ThresholdResult, SinglesResult, RankingResult>;

struct ClassResults {
    std::vector<std::string> names;  ///< by seat: as shown, each once
    std::vector<std::size_t> seats;  ///< who answered anything
    std::vector<std::size_t> no_shows;
    std::vector<DrillResult> drills;  ///< as ClassPlan::drills
    std::vector<std::string> gaps;
};

/// What is assumed of a ladder's substance before the first answer, and its component.
struct Assumed {
    threshold::Prior prior;
    solution::Component component{};
};

/// A drill that nobody answered has an empty result.
///
/// @param names    by seat; missing or empty: "seat 7". Names given twice get their seat added
/// @param assumed  of a substance's id
/// @param seed     for the draws behind `bits`
/// @throws Refused as panel::pooled
/// @checked tests/classroom/results_test.cpp
ClassResults results(const Ballots& ballots, const Service& service, const std::vector<std::string>& names,
                     const std::function<Assumed(const std::string&)>& assumed, Seed seed);

/// The same with what is assumed of the content's substances, and the draws that belong to the service.
ClassResults class_results(const Service& service, const Ballots& ballots,
                           const std::vector<std::string>& names, const content::Content& content);

/// A name for the wall for each seat: two consonants, drawn, so that it tells neither name nor seat.
std::vector<std::string> wall_names(std::size_t seats, Seed seed);

}  // namespace sipladder::drills::classroom

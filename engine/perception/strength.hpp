#pragma once

#include "engine/perception/draws.hpp"

#include <cstddef>
#include <optional>
#include <vector>

/// How what is felt grows with what is in the cup, and how another thing in it changes that: marks on a line,
/// seconds, and words.
namespace sipladder::perception {

/// One level as mixed: where it stands on the log10 axis and what it may be off by, all log10 units.
struct Rung {
    double x_log10{};
    double u_own_log10{};
    std::size_t condition = 0;  ///< 0 plain, 1 with something else
};
/// The levels of one or two conditions.
struct Levels {
    std::vector<Rung> rungs;
    /// What all the rungs of a condition are off by together. Two conditions from the same bottles have one
    /// error, which does not move them apart: 0 for the second then.
    double u_shared_log10[2] = {0.0, 0.0};
    bool has_two_conditions = false;
    bool same_bottles = false;
};

/// One answer about one cup.
struct Felt {
    enum class Side { inside, below, above };
    std::size_t rung{};
    double y_log10{};          ///< log10 of the mark or the seconds
    Side side = Side::inside;  ///< beyond an end of the scale, which stands in y: which one
    /// Log10 of the level of the cup before, as mixed; nothing: none, or a blank.
    std::optional<double> before_log10 = {};
};

/// What is assumed of a person of whom nothing is known; each a normal distribution: mean and SD.
struct GrowthPrior {
    struct Normal {
        double mean{};
        double sd{};
    };
    Normal centre;    ///< y in the middle of the ladder
    Normal slope;     ///< of y against x, log10 on log10: the exponent of a power law
    Normal shift;     ///< what the second condition does; see shift_is_of_level
    Normal ln_noise;  ///< ln of the standard deviation of one answer in y
    /// The shift is in x: cups of the second condition are felt as plain ones of 10^-shift times the level.
    /// Otherwise it is in y: they are felt 10^shift times as strong or long.
    bool shift_is_of_level = false;
    /// How far y is pulled by each decade that the cup before lay above the middle; nothing: not at all.
    std::optional<Normal> pull = {};
};

struct Growth {
    double middle_log10{};  ///< of the ladder: where `centre` is meant
    Draws draws;
    Estimate centre;
    Estimate slope;
    std::optional<Estimate> shift;
    std::optional<Estimate> pull;
    Estimate noise;
};
/// y = centre + slope (x - middle) + shift and noise, ends of the scale cut off as they are; the bottles may
/// be off by what they claim.
/// @throws Refused  for no answers, or rungs that are not there
/// @checked         tests/perception/perception_test.cpp
Growth growth(const Levels& levels, const std::vector<Felt>& felt, const GrowthPrior& prior, Seed seed);
/// The middle between the weakest and the strongest rung.
double middle_of(const Levels& levels);

/// One answer in words.
struct Said {
    std::size_t rung{};
    std::size_t word{};  ///< 0 the weakest
};

/// What is assumed of a person's words (judgement): limits that are spread over the ladder.
struct WordsPrior {
    double first_sd = 0.4;         ///< of the first limit, log10 units, about the lower end of the ladder
    double ln_gap_sd = 0.7;        ///< of the ln of the distance of two limits
    double ln_noise_mean = -2.12;  ///< ln of 0.12 log10 units
    double ln_noise_sd = 0.5;
    double shift_sd = 0.25;  ///< of what the second condition does
    double lapse = 0.02;     ///< share of words that are said at random
};
/// Where limits stand by this prior, log10 units: the first one's mean, and the gap's median.
struct WordsStart {
    double first{};
    double gap{};
};
WordsStart words_start(const Levels& levels, std::size_t words);

struct WordLimits {
    std::vector<Estimate> log10;  ///< from one word to the next, ascending, plain condition
    Estimate noise;
    std::optional<Estimate> shift;         ///< the limits of the second condition stand so much higher
    std::optional<Estimate> middle_log10;  ///< of the word asked for, between its limits
    std::optional<Estimate> middle_of_other_log10;  ///< the same in the second condition
};
/// Ordinal probit: a word is said where the felt level, Normal(x, noise), lies between its limits.
/// @param words     how many there are, 2 to 12
/// @param middle_of a word with a limit on either side, whose middle is wanted
/// @throws Refused  for no answers, rungs or words that are not there
/// @source          mccullagh_1980
/// @checked         tests/perception/perception_test.cpp
WordLimits word_limits(const Levels& levels, std::size_t words, const std::vector<Said>& said,
                       const WordsPrior& prior, Seed seed, std::optional<std::size_t> middle_of = {});

}  // namespace sipladder::perception

#include "engine/solution/ladder.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <cmath>
#include <utility>

namespace sipladder::solution {

namespace {

constexpr std::size_t fewest_levels = 2;
constexpr std::size_t most_levels = 40;

/// Read back from its text, so that 0.30000000000000004 never reaches a label.
double with_two_digits(double value) {
    return number_from_file(significant(value, 2)).value_or(value);
}

}  // namespace

Ladder::Ladder(std::string id, std::string substance, Scale scale, std::vector<double> targets,
               const std::string& where)
    : id_(std::move(id)), substance_(std::move(substance)), scale_(scale), targets_(std::move(targets)) {
    std::vector<Problem> problems;
    if (targets_.size() < fewest_levels || targets_.size() > most_levels)
        problems.push_back(
            {where, "has " + std::to_string(targets_.size()) + " levels", "2 to 40 levels are wanted"});
    for (std::size_t i = 0; i < targets_.size(); ++i) {
        const std::string here = where + "/levels/" + std::to_string(i);
        if (!(targets_[i] > 0.0) || !std::isfinite(targets_[i]))
            problems.push_back({here, "is " + exact(targets_[i]), "a level above 0 is wanted"});
        else if (i > 0 && targets_[i] <= targets_[i - 1])
            problems.push_back({here,
                                "is " + exact(targets_[i]) + ", not more than the level before it (" +
                                    exact(targets_[i - 1]) + ")",
                                "levels run weakest to strongest"});
    }
    if (scale_ == Scale::pct_vol && !targets_.empty() && targets_.back() > 100.0)
        problems.push_back(
            {where, "reaches " + exact(targets_.back()) + " % vol", "at most 100 % vol is possible"});
    if (!problems.empty()) throw Refused(problems);
}

Ladder ladder_around(std::string id, std::string substance, Scale scale, double centre, std::size_t rungs,
                     double ratio) {
    if (!(centre > 0.0) || !std::isfinite(centre))
        throw Refused("centre of the ladder", "is " + exact(centre), "a level above 0 is wanted");
    if (!(ratio >= 1.1 && ratio <= 10.0))
        throw Refused("ratio of the ladder", "is " + exact(ratio), "1.1 to 10 is wanted");
    if (rungs < fewest_levels || rungs > most_levels)
        throw Refused("rungs of the ladder", "are " + std::to_string(rungs), "2 to 40 are wanted");
    std::vector<double> targets;
    const double middle = 0.5 * static_cast<double>(rungs - 1);
    for (std::size_t i = 0; i < rungs; ++i)
        targets.push_back(with_two_digits(centre * std::pow(ratio, static_cast<double>(i) - middle)));
    return Ladder(std::move(id), std::move(substance), scale, std::move(targets));
}

}  // namespace sipladder::solution

#include "tests/threshold/people.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <numbers>
#include <string>
#include <vector>

// How often does the 95 % interval hold the truth, for people drawn from the shipped prior, levels chosen
// adaptively, and bottles that hold something else than they say? SIPLADDER_LONG=1 asks 4000 people in place
// of 300.

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

namespace {

struct Tally {
    int people = 0;
    int held = 0;
    double square = 0.0;
    double claimed = 0.0;
    double off = 0.0;

    double coverage() const { return static_cast<double>(held) / people; }
    /// Of a coverage of 0.95 with this many people.
    double standard_error() const { return std::sqrt(0.95 * 0.05 / people); }
    double rmse() const { return std::sqrt(square / people); }
    double bias() const { return off / people; }
};

int people_asked() {
    return std::getenv("SIPLADDER_LONG") != nullptr ? 4000 : 300;
}

Tally run(const solution::MixedLadder& ladder, std::size_t presentations, std::uint64_t seed) {
    const Prior prior;
    Tally tally;
    for (int person = 0; person < people_asked(); ++person) {
        Random random{derived(Seed{seed}, static_cast<std::uint64_t>(person))};
        const Curve truth = person_from(prior, random);
        const double common = ladder.levels.front().u_shared_rel / std::numbers::ln10 * random.normal();
        std::vector<double> errors;
        for (const solution::MixedLevel& level : ladder.levels)
            errors.push_back(common + level.u_own_rel / std::numbers::ln10 * random.normal());
        const std::vector<Answered> answers = sitting(ladder, prior, truth, presentations, random, errors);
        const Threshold found = threshold::threshold(ladder, answers, prior, three_afc);
        const double off = found.log10 - truth.theta_log10;
        ++tally.people;
        if (found.lower_log10 <= truth.theta_log10 && truth.theta_log10 <= found.upper_log10) ++tally.held;
        tally.square += off * off;
        tally.off += off;
        tally.claimed += found.sd_log10;
    }
    return tally;
}

void check(const std::string& what, const Tally& tally) {
    MESSAGE(what, ": coverage ", tally.coverage(), " (SE ", tally.standard_error(), "), RMSE ", tally.rmse(),
            ", mean claimed SD ", tally.claimed / tally.people, ", bias ", tally.bias(), ", ", tally.people,
            " people");
    constexpr double far = 3.5;  // standard errors: one false alarm in two thousand runs
    CHECK(std::abs(tally.coverage() - 0.95) < far * tally.standard_error());
    CHECK(std::abs(tally.bias()) < far * tally.rmse() / std::sqrt(tally.people));
}

}  // namespace

TEST_CASE(
    "twelve presentations on the first ladder, well mixed: the interval holds the truth 95 times in 100") {
    check("6 rungs of ratio 3, 12 presentations", run(exact_ladder(6, 3.0, 0.01, 0.01), 12, 1));
}

TEST_CASE("twenty-four presentations of a ladder mixed badly: the mixing error is in the interval") {
    check("8 rungs of ratio 2, 24 presentations, 15 % own and 20 % common error",
          run(exact_ladder(8, 2.0, 0.15, 0.20), 24, 2));
}

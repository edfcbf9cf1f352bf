// The demo sitting over many seeds: each invents another person and other errors of the bottles, and the 95 %
// interval should hold the truth 95 times in 100. SIPLADDER_LONG=1 asks 1,000 seeds in place of 200.

#include "drills/demo.hpp"
#include "tools/benchmark/demo_weeks.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>

using namespace sipladder;
using namespace sipladder::drills;

TEST_CASE("the interval of the demo sitting holds the true threshold about 95 times in 100") {
    const int seeds = std::getenv("SIPLADDER_LONG") == nullptr ? 200 : 1000;
    const std::filesystem::path folder = std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content";
    const content::Content content = content::load(folder);
    const Demo demo = load_demo(folder);
    const solution::MixPlan mix = demo_mix(content, demo);
    int held = 0;
    for (int seed = 0; seed < seeds; ++seed)
        held +=
            demo_sitting(content, demo, mix, Seed{static_cast<std::uint64_t>(seed)}).interval_holds_truth()
                ? 1
                : 0;
    const double share = static_cast<double>(held) / seeds;
    MESSAGE(held << " of " << seeds << " intervals hold the truth");
    const double three_sd =
        3.0 * std::sqrt(0.95 * 0.05 / seeds);  // 200 seeds: 90.4 to 99.6 %, 1,000: 92.9 to 97.1 %
    CHECK(std::abs(share - 0.95) < three_sd);
}

TEST_CASE("the bands of the demo's eight weeks hold the true threshold about 95 times in 100") {
    const std::size_t seeds = std::getenv("SIPLADDER_LONG") == nullptr ? 24 : 1000;
    const benchmark::DemoWeeks found = benchmark::demo_weeks(seeds, Seed{1}, 0, true);
    MESSAGE(found.held.value << " (SE " << found.held.standard_error << ") of the bands of " << found.seeds
                             << " seeds hold the truth");
    CHECK(found.seeds > seeds / 2);
    CHECK(std::abs(found.held.value - 0.95) < 0.02 + 3.0 * found.held.standard_error);
}

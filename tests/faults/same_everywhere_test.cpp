// The same plan and seed give the same sitting, record and fit on every build: the figures below were
// computed by an optimised build and hold in the one that the sanitizers watch, which is not optimised. A pin
// changes only in a commit that says why.

#include "drills/demo.hpp"
#include "drills/exchange.hpp"
#include "drills/record.hpp"
#include "engine/journal/exchange.hpp"
#include "engine/journal/journal.hpp"
#include "engine/text.hpp"

#include <doctest/doctest.h>

#include <cstdint>
#include <string>

using namespace sipladder;

namespace {

/// FNV-1a, 64 bits (from memory; published by Fowler, Noll and Vo).
std::string digest(const std::string& text) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char byte : text) hash = (hash ^ static_cast<unsigned char>(byte)) * 1099511628211ULL;
    std::string hex;
    for (int nibble = 15; nibble >= 0; --nibble) hex += "0123456789abcdef"[hash >> (4 * nibble) & 15u];
    return hex;
}

std::string steps_of(const solution::MixPlan& plan) {
    std::string text;
    for (const solution::Step& step : plan.steps) text.append(step.text).append("\n");
    return text;
}

}  // namespace

TEST_CASE("plan, sitting, record, table and fit of a seed are the same on every build") {
    const content::Content content = content::load(SIPLADDER_SOURCE_DIR "/content");
    const drills::Demo demo = drills::load_demo(SIPLADDER_SOURCE_DIR "/content");
    journal::Journal journal = journal::Journal::in_memory();
    const drills::DemoSitting made = drills::demo_sitting(journal, content, demo, Seed{20260301});
    CHECK(digest(steps_of(made.plan)) == "b5741373115ae5c6");
    CHECK(digest(journal::exchange_json(journal::contents(journal))) == "1b3d09515f336a26");
    CHECK(digest(drills::answers_csv(journal)) == "82d7733cc82d31ad");
    // A fit sums thousands of terms: nine digits are pinned, which another build's last bit does not reach.
    constexpr int digits = 9;
    const std::string fit = significant(made.found.log10, digits) + " " +
                            significant(made.found.sd_log10, digits) + " " +
                            significant(made.found.upper(), digits);
    CHECK(fit == "-0.0191727121 0.207232682 2.62920755");
}

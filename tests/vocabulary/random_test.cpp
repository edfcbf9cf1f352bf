#include "engine/random.hpp"

#include "engine/uuid.hpp"

#include <doctest/doctest.h>

#include <array>
#include <numeric>
#include <vector>

using namespace sipladder;

TEST_CASE("the engine gives the 10000th draw that the C++ standard prints for mt19937_64") {
    // ISO/IEC 14882, [rand.predef]: the 10000th invocation of a default-seeded mt19937_64 is
    // 9981545732273789042.
    Random random{Seed{std::mt19937_64::default_seed}};
    std::uint64_t draw = 0;
    for (int i = 0; i < 10000; ++i) draw = random.bits();
    CHECK(draw == 9981545732273789042U);
}

TEST_CASE("bounded draws are uniform and stay below the bound") {
    Random random{Seed{7}};
    std::array<int, 3> seen{};
    for (int i = 0; i < 30000; ++i) ++seen.at(random.below(3));
    for (const int count : seen) CHECK(std::abs(count - 10000) < 400);  // 5 SD of a binomial(30000, 1/3)
}

TEST_CASE("a shuffle is the same for the same seed and keeps every item") {
    std::vector<int> items(20);
    std::iota(items.begin(), items.end(), 0);
    auto first = items;
    auto second = items;
    Random{Seed{3}}.shuffle(first);
    Random{Seed{3}}.shuffle(second);
    CHECK(first == second);
    CHECK(first != items);
    std::sort(first.begin(), first.end());
    CHECK(first == items);
}

TEST_CASE("a drawn id is a version 4 UUID of RFC 9562") {
    Random random{Seed{1}};
    const Uuid id = uuid_from(random);
    CHECK(is_uuid(id.text));
    CHECK(id.text[14] == '4');
    CHECK(std::string("89ab").find(id.text[19]) != std::string::npos);
    CHECK_FALSE(is_uuid("not-an-id"));
}

#include "drills/blind_code.hpp"

#include "engine/problem.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>

using namespace sipladder;
using namespace sipladder::drills;

TEST_CASE("all blind codes there are have three digits, no pattern and no leading zero") {
    Random random{Seed{5}};
    const auto codes = blind_codes(random, most_blind_codes);
    std::set<std::string> seen;
    for (const BlindCode& code : codes) {
        CAPTURE(code.digits);
        REQUIRE(code.digits.size() == 3);
        CHECK(code.digits[0] != '0');
        CHECK(std::set<char>(code.digits.begin(), code.digits.end()).size() == 3);
        CHECK(std::string("0123456789").find(code.digits) == std::string::npos);
        CHECK(std::string("9876543210").find(code.digits) == std::string::npos);
        seen.insert(code.digits);
    }
    CHECK(seen.size() == most_blind_codes);
    CHECK_THROWS_AS(blind_codes(random, most_blind_codes + 1), Refused);
}

TEST_CASE("every blind code comes first equally often") {
    Random random{Seed{6}};
    int first_digit_below_5 = 0;
    for (int i = 0; i < 2000; ++i)
        if (blind_codes(random, 1).front().digits[0] < '5') ++first_digit_below_5;
    // 281 of the 633 codes begin with 1 to 4 (72 each, less 123, 234, 345, 456, 210, 321 and 432): 0.4439
    // 0.4439
    CHECK(std::abs(first_digit_below_5 - 888) < 112);  // 5 SD
}

#include "engine/volume.hpp"

#include "tests/support/within.hpp"

#include <doctest/doctest.h>

using namespace sipladder;

TEST_CASE("a US fluid ounce is a gallon of 231 cubic inches by 128") {
    const double cubic_inch_mL = 2.54 * 2.54 * 2.54;
    CHECK(tests::within(231.0 * cubic_inch_mL / 128.0, mL_per_us_fl_oz, 1e-12));
    // NIST SP 811 (2008), appendix B.8, prints 2.957 353 E+01 for mL (its seven digits are from memory).
    CHECK(tests::within(mL_per_us_fl_oz, 29.57353, 5e-6));
    CHECK(in_us_fl_oz(Millilitres{29.5735295625}) == 1.0);
}

TEST_CASE("volumes are shown in mL, or in US fluid ounces with the mL beside them") {
    CHECK(volume_text(Millilitres{10.0}, VolumeUnit::mL) == "10 mL");
    CHECK(volume_text(Millilitres{10.0}, VolumeUnit::us_fl_oz) == "0.338 US fl oz (10 mL)");
    CHECK(volume_text(Millilitres{12.5}, VolumeUnit::us_fl_oz) == "0.423 US fl oz (12.5 mL)");
    CHECK(volume_text(Millilitres{1500.0}, VolumeUnit::us_fl_oz, "1.5 L") == "50.7 US fl oz (1.5 L)");
    CHECK(volume_text(Millilitres{1500.0}, VolumeUnit::mL, "1.5 L") == "1.5 L");
    CHECK(us_fl_oz_text(Millilitres{29.5735295625}) == "1");
}

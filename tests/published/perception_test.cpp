#include "engine/perception/confusion.hpp"
#include "engine/perception/mouth.hpp"
#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <optional>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::perception;

namespace {

Counts counts_of(const PublishedCase& c) {
    Counts counts;
    for (const std::vector<double>& row : c.data("counts").rows()) {
        counts.emplace_back();
        for (const double one : row) counts.back().push_back(static_cast<std::size_t>(one));
    }
    return counts;
}

}  // namespace

TEST_CASE("bits of a table are those of Shannon, and less the first-order bias those of Miller") {
    const PublishedCase channel = published("perception.json", "binary_channel");
    CAPTURE(channel.source_text());
    CHECK(within(channel.data("symbols").number() * plug_in_bits(counts_of(channel)),
                 channel.expected("bits_a_second")));
    const PublishedCase names = published("perception.json", "four_names");
    CAPTURE(names.source_text());
    CHECK(within(plug_in_bits(counts_of(names)), names.expected("plug_in_bits")));
    CHECK(within(corrected_bits(counts_of(names)), names.expected("corrected_bits")));
}

TEST_CASE("agreement of observers with gaps is that of Krippendorff") {
    const PublishedCase c = published("perception.json", "four_observers");
    CAPTURE(c.source_text());
    std::vector<std::vector<std::optional<int>>> values;
    for (const std::vector<double>& row : c.data("coders_by_units").rows()) {
        values.emplace_back();
        for (const double one : row)
            values.back().push_back(one < 0.0 ? std::nullopt : std::optional(static_cast<int>(one)));
    }
    const double alpha = krippendorff_nominal(values);
    CHECK(within(alpha, c.expected("nominal_printed")));
    CHECK(within(alpha, c.expected("nominal")));
}

TEST_CASE("exact limits of a share are those of Clopper and Pearson") {
    const PublishedCase c = published("perception.json", "exact_limits");
    CAPTURE(c.source_text());
    const threshold::ExactShare share =
        threshold::exact_share(static_cast<std::uint64_t>(c.data("hits").integer()),
                               static_cast<std::uint64_t>(c.data("trials").integer()));
    CHECK(within(std::vector<double>{share.lower, share.upper}, c.expected("limits")));
}

#include "engine/threshold/discrimination.hpp"

#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::threshold;

namespace {

DifferenceTask task_of(const PublishedCase& c) {
    const std::map<std::string, DifferenceTask> tasks{
        {"2-afc", DifferenceTask::afc_2},       {"3-afc", DifferenceTask::afc_3},
        {"4-afc", DifferenceTask::afc_4},       {"triangle", DifferenceTask::triangle},
        {"duo-trio", DifferenceTask::duo_trio}, {"tetrad", DifferenceTask::tetrad}};
    return tasks.at(c.data("task").text());
}

void check_functions(const PublishedCase& c) {
    const DifferenceTask task = task_of(c);
    std::vector<double> shares;
    std::vector<double> slopes;
    std::vector<double> factors;
    for (const double d : c.data("d_prime").numbers()) {
        shares.push_back(share_right(task, d));
        if (d == 0.0) continue;
        slopes.push_back(share_right_slope(task, d));
        factors.push_back(shares.back() * (1.0 - shares.back()) / std::pow(slopes.back(), 2));
    }
    std::vector<double> distances;
    for (const double share : c.data("shares").numbers()) distances.push_back(d_prime_of(task, share));
    CHECK(within(shares, c.expected("share_right")));
    CHECK(within(slopes, c.expected("slope_beyond_0")));
    CHECK(within(factors, c.expected("variance_factor_B_beyond_0")));
    CHECK(within(distances, c.expected("d_prime_of_shares")));
    if (c.expects("share_right_at_1_printed"))
        CHECK(within(share_right(task, 1.0), c.expected("share_right_at_1_printed")));
}

void check_counts(const std::vector<std::vector<double>>& rows, double chance,
                  const std::vector<double>& alphas, double sides) {
    for (const std::vector<double>& row : rows) {
        CAPTURE(row.at(0));
        REQUIRE(row.size() == alphas.size() + 1);
        for (std::size_t i = 0; i < alphas.size(); ++i)
            CHECK(
                minimum_correct(static_cast<std::uint64_t>(row[0]), chance, alphas[i] / sides).value_or(0) ==
                static_cast<std::uint64_t>(row[i + 1]));
    }
}

}  // namespace

TEST_CASE("shares right, slopes and distances of six difference tasks agree with published formulas") {
    int checked = 0;
    for (const PublishedCase& c : published("discrimination.json")) {
        if (!c.id().starts_with("thurstone_")) continue;
        CAPTURE(c.id());
        CAPTURE(c.source_text());
        check_functions(c);
        ++checked;
    }
    CHECK(checked == 6);
}

TEST_CASE("smallest significant counts agree with exact and with printed tables") {
    int checked = 0;
    for (const PublishedCase& c : published("discrimination.json")) {
        if (!c.id().starts_with("minimum_correct_")) continue;
        CAPTURE(c.id());
        CAPTURE(c.source_text());
        const double chance = chance_of(task_of(c));
        check_counts(c.expected("rows").value.rows(), chance, c.data("alpha").numbers(), 1.0);
        if (c.expects("two_sided_rows"))
            check_counts(c.expected("two_sided_rows").value.rows(), chance,
                         c.data("alpha_two_sided").numbers(), 2.0);
        ++checked;
        if (!c.expects("tails")) continue;
        std::vector<double> tails;
        for (std::size_t i = 0; i < c.data("tails_n").size(); ++i)
            tails.push_back(chance_p(static_cast<std::uint64_t>(c.data("tails_correct").at(i).integer()),
                                     static_cast<std::uint64_t>(c.data("tails_n").at(i).integer()), chance));
        CHECK(within(tails, c.expected("tails")));
    }
    CHECK(checked == 4);
}

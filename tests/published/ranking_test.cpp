#include "engine/threshold/ranking.hpp"

#include "engine/normal.hpp"
#include "engine/threshold/rank_distribution.hpp"
#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <numeric>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::threshold;

namespace {

PublishedCase ranking_case(const std::string& id) {
    return published("ranking.json", id);
}

std::vector<double> one_to(std::size_t count) {
    std::vector<double> row(count);
    std::iota(row.begin(), row.end(), 1.0);
    return row;
}

std::size_t whole(double value) {
    return static_cast<std::size_t>(value);
}

}  // namespace

TEST_CASE("Page's L and its p agree with published examples, ties and all") {
    for (const char* id : {"page_tutorial", "page_cotton", "page_craig"}) {
        const PublishedCase c = ranking_case(id);
        CAPTURE(c.source_text());
        const Rankings rankings = rankings_of(c.data("rows").rows());
        const Page found = page(rankings);
        CHECK(within(found.statistic, c.expected("L")));
        CHECK(found.is_exact);
        CHECK(within(found.p, c.expected("p")));
        CHECK(within(normal_above(found.z), c.expected("p_normal")));
        if (c.expects("z")) CHECK(within(found.z, c.expected("z")));
        if (c.expects("rank_sums")) CHECK(within(friedman(rankings).rank_sums, c.expected("rank_sums")));
        CHECK(found.has_ties == c.expects("tail_at_134"));
        if (c.expects("tail_at_134")) CHECK(within(page_tail(10, 3, 134.0), c.expected("tail_at_134")));
    }
}

TEST_CASE("critical values of Page's L are exact, also where the printed table is not") {
    for (const PublishedCase& c : published("ranking.json")) {
        if (!c.id().starts_with("page_critical_")) continue;
        CAPTURE(c.source_text());
        const std::size_t samples = whole(c.data("samples").number());
        const std::vector<double> alphas = c.data("alpha").numbers();
        for (const std::vector<double>& row : c.expected("rows").value.rows())
            for (std::size_t i = 0; i < alphas.size(); ++i) {
                CAPTURE(samples);
                CAPTURE(row[0]);
                CHECK(page_critical(whole(row[0]), samples, alphas[i]).value_or(0.0) == row[i + 1]);
            }
    }
    const PublishedCase c = ranking_case("page_table_misprints");
    std::vector<double> tails;
    for (std::size_t i = 0; i < c.data("L").size(); ++i)
        tails.push_back(page_tail(whole(c.data("persons").at(i).number()),
                                  whole(c.data("samples").at(i).number()), c.data("L").at(i).number()));
    CHECK(within(tails, c.expected("tails")));
}

TEST_CASE("Friedman's F with ties and ISO 8587's rank sums agree with R") {
    const PublishedCase c = ranking_case("friedman_rounding");
    CAPTURE(c.source_text());
    const Friedman found = friedman(rankings_of(c.data("rows").rows()));
    CHECK(found.has_ties);
    CHECK(found.df == 2);
    CHECK(within(found.statistic, c.expected("F")));
    CHECK(within(found.p, c.expected("p")));
    CHECK(within(found.statistic, c.expected("F_printed")));
    CHECK(within(found.p, c.expected("p_printed")));

    const PublishedCase iso = ranking_case("friedman_iso_8587");
    CAPTURE(iso.source_text());
    const std::vector<double> sums = iso.data("rank_sums").numbers();
    const double statistic = friedman_statistic(sums, whole(iso.data("assessors").number()));
    CHECK(within(statistic, iso.expected("F")));
    CHECK(within(ranks::chi_squared_tail(statistic, 4), iso.expected("p")));
    CHECK(within(
        friedman(rankings_of(std::vector<std::vector<double>>(8, one_to(5)))).least_significant_difference,
        iso.expected("least_significant_difference")));
    double ordered = 0.0;
    for (std::size_t i = 0; i < sums.size(); ++i) ordered += static_cast<double>(i + 1) * sums[i];
    CHECK(within(ordered, iso.expected("L_in_this_order")));
}

TEST_CASE("exact tails of Friedman's F agree with R") {
    const PublishedCase c = ranking_case("friedman_exact");
    CAPTURE(c.source_text());
    std::vector<double> at_05;
    std::vector<double> at_01;
    for (const std::vector<double>& row : c.data("rows").rows()) {
        at_05.push_back(friedman_tail(whole(row[1]), whole(row[0]), row[2]).value());
        at_01.push_back(row[4] == 0.0 ? 0.0 : friedman_tail(whole(row[1]), whole(row[0]), row[4]).value());
    }
    at_05.insert(at_05.end(), at_01.begin(), at_01.end());
    CHECK(within(at_05, c.expected("p")));
}

TEST_CASE("Kendall's tau and Spearman's rho agree with published and recomputed values") {
    const PublishedCase tuna = ranking_case("correlation_tuna");
    CAPTURE(tuna.source_text());
    const RankCorrelation tau = kendall_tau(tuna.data("x").numbers(), tuna.data("y").numbers());
    CHECK(tau.is_exact);
    CHECK(within(tau.value, tuna.expected("tau")));
    CHECK(within(tau.p_one_sided, tuna.expected("tau_p_one_sided")));
    CHECK(within(tau.p_one_sided, tuna.expected("tau_p_one_sided_printed")));
    CHECK(within(tau.p_two_sided, tuna.expected("tau_p_two_sided")));
    CHECK(within(normal_above(tau.z), tuna.expected("tau_p_one_sided_large_sample")));
    const RankCorrelation rho = spearman_rho(tuna.data("x").numbers(), tuna.data("y").numbers());
    CHECK(rho.is_exact);
    CHECK(within(rho.value, tuna.expected("rho")));
    CHECK(within(rho.p_two_sided, tuna.expected("rho_p_two_sided")));

    const PublishedCase tied = ranking_case("correlation_tied");
    const RankCorrelation other = kendall_tau(tied.data("x").numbers(), tied.data("y").numbers());
    CHECK(!other.is_exact);
    CHECK(within(other.value, tied.expected("tau")));
    CHECK(within(other.z, tied.expected("tau_z")));
    CHECK(within(other.p_two_sided, tied.expected("tau_p_two_sided")));
}

TEST_CASE("smallest significant taus and rhos have the tails that R gives") {
    const PublishedCase kendall = ranking_case("kendall_critical");
    std::vector<double> taus;
    std::vector<double> tails;
    for (const std::vector<double>& row : kendall.data("rows").rows()) {
        const double pairs = 0.5 * row[0] * (row[0] - 1.0);
        taus.push_back(row[1] / pairs);
        tails.push_back(2.0 * ranks::concordant_pairs(whole(row[0])).at_least(0.5 * (pairs + row[1])));
    }
    CHECK(within(taus, kendall.expected("tau")));
    CHECK(within(tails, kendall.expected("p_two_sided")));

    const PublishedCase spearman = ranking_case("spearman_critical");
    std::vector<double> rho_tails;
    for (const std::vector<double>& row : spearman.data("rows").rows()) {
        const double n = row[0];
        const double place_sum = row[1] * n * (n * n - 1.0) / 12.0 + 0.25 * n * (n + 1.0) * (n + 1.0);
        rho_tails.push_back(2.0 * ranks::twice_place_sum(one_to(whole(n))).at_least(2.0 * place_sum - 0.5));
    }
    CHECK(within(rho_tails, spearman.expected("p_two_sided")));
}

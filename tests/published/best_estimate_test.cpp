#include "engine/threshold/best_estimate.hpp"

#include "engine/threshold/likelihood.hpp"
#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::threshold;

namespace {

std::vector<bool> answers_of(const std::vector<double>& row) {
    std::vector<bool> answers;
    for (const double answer : row) answers.push_back(answer == 1.0);
    return answers;
}

double sign_of(SeriesEnd end) {
    return end == SeriesEnd::below ? -1.0 : end == SeriesEnd::above ? 1.0 : 0.0;
}

std::vector<double> log10_of(const std::vector<double>& levels) {
    std::vector<double> logs;
    for (const double level : levels) logs.push_back(std::log10(level));
    return logs;
}

/// The panel rebuilt from its counts: all that the rule looks at is the strongest level missed.
std::vector<BestEstimate> panel(const PublishedCase& c, EndStep beyond) {
    const std::vector<double> levels = log10_of(c.data("levels").numbers());
    const std::vector<double> people = c.data("people_by_strongest_missed").numbers();
    std::vector<BestEstimate> members;
    for (std::size_t missed = 0; missed < people.size(); ++missed) {
        std::vector<bool> answers(levels.size(), true);
        if (missed > 0) answers[missed - 1] = false;
        members.insert(members.end(), static_cast<std::size_t>(people[missed]),
                       best_estimate(levels, answers, beyond));
    }
    return members;
}

}  // namespace

TEST_CASE("best-estimate thresholds of single persons follow the rule of ASTM E679, at both ends too") {
    const PublishedCase c = published("best_estimate.json", "e679_rule_cases");
    CAPTURE(c.source_text());
    std::vector<double> values;
    std::vector<double> ends;
    for (const std::vector<double>& row : c.data("answers").rows()) {
        const BestEstimate found = best_estimate(c.data("levels_log10").numbers(), answers_of(row));
        values.push_back(found.log10);
        ends.push_back(sign_of(found.end));
    }
    CHECK(within(values, c.expected("log10")));
    CHECK(within(ends, c.expected("end")));
}

TEST_CASE("the best estimate of a panel of 193 is the geometric mean of its members") {
    const PublishedCase c = published("best_estimate.json", "astringency_panel");
    CAPTURE(c.source_text());
    const std::vector<BestEstimate> members = panel(c, EndStep::local);
    std::vector<double> distinct;
    for (const BestEstimate& member : members) {
        const double value = std::pow(10.0, member.log10);
        if (distinct.empty() || distinct.back() != value) distinct.push_back(value);
    }
    CHECK(within(distinct, c.expected("value_by_strongest_missed")));
    const GroupEstimate local = group_estimate(members);
    CHECK(local.people == 193);
    CHECK(local.below == 7);
    CHECK(local.above == 3);
    CHECK(within(local.log10, c.expected("mean_log10_local_step")));
    CHECK(within(local.sd_log10.value(), c.expected("sd_log10_local_step")));
    CHECK(within(local.se_log10.value(), c.expected("se_log10_local_step")));
    CHECK(within(std::pow(10.0, local.log10), c.expected("group_local_step")));
    const GroupEstimate mean = group_estimate(panel(c, EndStep::mean));
    CHECK(within(mean.log10, c.expected("mean_log10_mean_step")));
    CHECK(within(std::pow(10.0, mean.log10), c.expected("group_mean_step")));
}

TEST_CASE("a panel's shares give the published interpolated and logit-line thresholds") {
    const PublishedCase c = published("best_estimate.json", "astringency_panel");
    CAPTURE(c.source_text());
    const std::vector<double> levels = log10_of(c.data("levels").numbers());
    std::vector<double> shares;
    for (const double right : c.data("right_per_level").numbers())
        shares.push_back(right / c.data("people").number());
    const double guess = c.data("guess").number();
    CHECK(within(std::pow(10.0, interpolated_threshold(levels, shares, guess).value()),
                 c.expected("interpolated")));
    const LogitLine line = logit_line(levels, shares, guess).value();
    CHECK(within(line.intercept, c.expected("logit_line_intercept")));
    CHECK(within(line.slope, c.expected("logit_line_slope")));
    CHECK(within(std::pow(10.0, line.threshold_log10()), c.expected("logit_line_threshold")));
}

TEST_CASE("the threshold between a dilution missed and one noticed is their geometric mean") {
    const PublishedCase c = published("best_estimate.json", "odour_index_step");
    CAPTURE(c.source_text());
    // As concentrations, the thinner of the two comes first.
    const std::vector<double> levels{-std::log10(c.data("wrong_at_dilution").number()),
                                     -std::log10(c.data("right_at_dilution").number())};
    const double dilution = -best_estimate(levels, {false, true}).log10;
    CHECK(within(dilution, c.expected("dilution_log10")));
    CHECK(within(dilution, c.expected("dilution_log10_exact")));
}

TEST_CASE("a group's threshold by ISO 13301 is the geometric mean of its persons' logistic fits") {
    const PublishedCase c = published("best_estimate.json", "iso_13301_group");
    CAPTURE(c.source_text());
    const std::vector<double> levels = log10_of(c.data("levels").numbers());
    const auto presentations = static_cast<std::size_t>(c.data("presentations").integer());
    std::vector<BestEstimate> members;
    for (const std::vector<double>& row : c.data("correct").rows()) {
        std::vector<Counts> counts;
        for (std::size_t i = 0; i < levels.size(); ++i)
            counts.push_back({levels[i], presentations, static_cast<std::size_t>(row.at(i)), 0.0});
        members.push_back(
            {maximum_likelihood(counts, Task{c.data("guess").number()}).theta_log10, SeriesEnd::inside});
    }
    const GroupEstimate group = group_estimate(members);
    CHECK(within(std::pow(10.0, group.log10), c.expected("group")));
    CHECK(within(group.sd_log10.value(), c.expected("sd_log10")));
}

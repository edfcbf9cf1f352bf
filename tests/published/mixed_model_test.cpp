#include "engine/panel/mixed_model.hpp"

#include "engine/trend/random_walk.hpp"
#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

std::vector<panel::GroupRow> cbpp_rows(const PublishedCase& c) {
    const std::vector<double> herd = c.data("herd").numbers();
    const std::vector<double> period = c.data("period").numbers();
    const std::vector<double> cases = c.data("cases").numbers();
    const std::vector<double> size = c.data("size").numbers();
    std::vector<panel::GroupRow> rows;
    for (std::size_t i = 0; i < herd.size(); ++i) {
        const auto in = [&](double wanted) { return period[i] == wanted ? 1.0 : 0.0; };
        rows.push_back({static_cast<std::size_t>(herd[i]),
                        {1.0, in(2), in(3), in(4)},
                        static_cast<std::size_t>(size[i]),
                        static_cast<std::size_t>(cases[i])});
    }
    return rows;
}

panel::Member member_of(const std::string& pattern, const std::vector<double>& levels, std::string name) {
    panel::Member member{std::move(name), {}};
    for (std::size_t i = 0; i < levels.size(); ++i)
        member.counts.push_back({std::log10(levels[i]), 1, pattern[i] == '1' ? std::size_t{1} : 0});
    return member;
}

}  // namespace

TEST_CASE("a random intercept for each group is what a mixed-model package finds") {
    const PublishedCase c = published("mixed_model.json", "cbpp_logit");
    CAPTURE(c.source_text());
    const std::vector<panel::GroupRow> rows = cbpp_rows(c);
    const panel::RandomIntercept found = panel::random_intercept(rows, 0.0);
    CHECK(found.converged);
    CHECK(within(found.fixed, c.expected("fixed")));
    CHECK(within(found.fixed, c.expected("fixed_by_quadrature")));
    CHECK(within(found.sd, c.expected("sd")));
    CHECK(within(found.sd, c.expected("sd_by_quadrature")));
    CHECK(within(found.log_likelihood, c.expected("log_likelihood")));
    CHECK(within(found.se_fixed, c.expected("se_fixed")));
    CHECK(within(found.se_log_sd, c.expected("se_log_sd")));
    CHECK(within(found.effects, c.expected("effects")));
    CHECK(within(found.effects_sd, c.expected("effects_sd")));
    std::vector<double> profile;
    for (const double sd : {0.2, 0.4, 0.6, 0.8, 1.0})
        profile.push_back(panel::random_intercept_log_likelihood(rows, 0.0, found.fixed, sd));
    CHECK(within(profile, c.expected("log_likelihood_at_sd_02_04_06_08_10")));
}

TEST_CASE("a panel of 193 people is pooled as a mixed-model package does it") {
    const PublishedCase c = published("mixed_model.json", "astringency_3afc");
    CAPTURE(c.source_text());
    const std::vector<double> levels = c.data("levels").numbers();
    const std::vector<std::string> patterns = c.data("patterns").texts();
    const std::vector<double> people = c.data("people").numbers();
    std::vector<panel::Member> members;
    std::map<std::string, std::size_t> first;
    for (std::size_t p = 0; p < patterns.size(); ++p)
        for (int i = 0; i < static_cast<int>(people[p]); ++i) {
            first.emplace(patterns[p], members.size());
            members.push_back(member_of(patterns[p], levels, std::to_string(members.size())));
        }
    REQUIRE(members.size() == 193);
    const threshold::Task task{c.data("guess").number()};
    const panel::MixedModel found = panel::mixed_model(members, task);
    CHECK(found.converged);
    CHECK(within(found.log_likelihood, c.expected("log_likelihood")));
    CHECK(within(found.mean_log10, c.expected("mean_log10")));
    CHECK(within(found.spread_log10, c.expected("spread_log10")));
    CHECK(within(found.width_log10, c.expected("width_log10")));
    CHECK(within(found.width_log10, c.expected("width_log10_by_quadrature")));
    std::vector<double> shown;
    std::vector<double> shown_sd;
    for (const std::string& pattern : c.data("shown_people").texts()) {
        shown.push_back(found.people_log10.at(first.at(pattern)));
        shown_sd.push_back(found.people_sd_log10.at(first.at(pattern)));
    }
    CHECK(within(shown, c.expected("shown_people_log10")));
    CHECK(within(shown_sd, c.expected("shown_people_sd_log10")));

    // The pooled fit integrates what the package sets to its best value, lets widths differ and people lapse.
    // So many people leave little for that to matter: less than half of the package's own standard error.
    threshold::Prior prior;
    prior.mean_log10 = -0.9;
    prior.sd_log10 = 0.6;
    prior.lapses = {{0.0, 1.0}};
    const panel::Panel pooled = panel::pooled(members, prior, task, {.width_between_ln_sd = 0.1});
    CHECK(std::abs(pooled.mean.log10 - found.mean_log10) < 0.5 * pooled.mean.sd_log10);
    CHECK(std::abs(pooled.spread.log10 - found.spread_log10) < 0.5 * pooled.spread.sd_log10);
    CHECK(std::abs(std::log(pooled.width_log10 / found.width_log10)) < 0.1);
}

TEST_CASE("a small panel is pooled as the exact marginal likelihood says") {
    const PublishedCase c = published("mixed_model.json", "simulated_3afc");
    CAPTURE(c.source_text());
    const std::vector<double> levels = c.data("levels").numbers();
    const auto presentations = static_cast<std::size_t>(c.data("presentations").integer());
    std::vector<panel::Member> members;
    double centre = 0.0;
    for (const double level : levels) centre += std::log10(level) / static_cast<double>(levels.size());
    for (const std::vector<double>& row : c.data("right").rows()) {
        panel::Member member{std::to_string(members.size()), {}};
        for (std::size_t i = 0; i < levels.size(); ++i)
            member.counts.push_back({std::log10(levels[i]), presentations, static_cast<std::size_t>(row[i])});
        members.push_back(std::move(member));
    }
    const panel::MixedModel found = panel::mixed_model(members, threshold::Task{c.data("guess").number()});
    CHECK(within(found.log_likelihood, c.expected("log_likelihood")));
    CHECK(within(found.mean_log10 - centre, c.expected("mean_x")));
    CHECK(within(found.spread_log10, c.expected("spread_log10")));
    CHECK(within(found.width_log10, c.expected("width_log10")));
    std::vector<double> people;
    for (const double person : found.people_log10) people.push_back(person - centre);
    CHECK(within(people, c.expected("people_x")));
}

TEST_CASE("the walk on a grid is Kalman's filter and smoother where everything is normal") {
    const PublishedCase c = published("local_level.json", "nile");
    CAPTURE(c.source_text());
    const std::vector<double> y = c.data("y").numbers();
    constexpr double step = 10.0;
    constexpr std::size_t count = 241;  // -200 to 2200
    std::vector<double> lattice;
    for (std::size_t i = 0; i < count; ++i) lattice.push_back(-200.0 + step * static_cast<double>(i));
    const double variance = c.data("variance_of_observation").number();
    std::vector<std::vector<double>> rows;
    for (const double seen : y) {
        std::vector<double>& row = rows.emplace_back();
        for (const double at : lattice) row.push_back(std::exp(-0.5 * (at - seen) * (at - seen) / variance));
    }
    const std::vector<std::span<const double>> likelihoods(rows.begin(), rows.end());
    const std::vector<trend::Kernel> kernels(
        y.size() - 1, trend::normal_kernel(std::sqrt(c.data("variance_of_step").number()), step));
    const std::vector<double> start(count, 1.0 / count);  // as good as nothing known
    const trend::WalkInput input{start, likelihoods, kernels};
    trend::WalkPasses passes;
    const double ln = passes.filter(input);
    passes.smooth(input);
    std::vector<threshold::Estimate> predicted;
    std::vector<threshold::Estimate> filtered;
    std::vector<threshold::Estimate> smoothed;
    for (std::size_t k = 0; k < y.size(); ++k) {
        const auto estimate = [&](std::span<const double> row) {
            return threshold::estimate_of(lattice, step, row);
        };
        predicted.push_back(estimate(passes.predicted(k)));
        filtered.push_back(estimate(passes.filtered(k)));
        std::vector<double> all(passes.without(k).begin(), passes.without(k).end());
        double total = 0.0;
        for (std::size_t i = 0; i < count; ++i) total += all[i] *= rows[k][i];
        for (double& value : all) value /= total;
        smoothed.push_back(estimate(all));
    }
    std::vector<double> levels[4];
    std::vector<double> variances[2];
    for (const double at : c.data("at_1_based").numbers()) {
        const auto k = static_cast<std::size_t>(at) - 1;
        if (k > 0) levels[0].push_back(predicted[k].log10);
        levels[1].push_back(filtered[k].log10);
        levels[2].push_back(smoothed[k].log10);
        variances[0].push_back(filtered[k].sd_log10 * filtered[k].sd_log10);
        variances[1].push_back(smoothed[k].sd_log10 * smoothed[k].sd_log10);
    }
    for (const threshold::Estimate& at : smoothed) levels[3].push_back(at.log10);
    CHECK(within(levels[0], c.expected("predicted_level")));
    CHECK(within(levels[1], c.expected("filtered_level")));
    CHECK(within(levels[2], c.expected("smoothed_level")));
    CHECK(within(levels[3], c.expected("all_smoothed_levels")));
    CHECK(within(variances[0], c.expected("filtered_variance")));
    CHECK(within(variances[1], c.expected("smoothed_variance")));
    // Kalman's likelihood starts with the second value; each of ours still wants its normalising constant.
    const double constant = std::sqrt(2.0 * std::acos(-1.0) * variance);
    const double first = std::log(constant / (step * count));
    const double constants = std::log(constant) * static_cast<double>(y.size() - 1);
    CHECK(within(ln - first - constants, c.expected("log_likelihood")));
}

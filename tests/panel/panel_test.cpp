#include "engine/panel/panel.hpp"

#include "engine/panel/mixed_model.hpp"
#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/threshold/certainty.hpp"
#include "engine/threshold/grid_likelihood.hpp"
#include "engine/threshold/threshold.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using threshold::Counts;
using threshold::three_afc;

namespace {

/// Ladder of 8 rungs of ratio 2 around 1, so many presentations of each.
std::vector<Counts> tasted(double theta, std::size_t each, Random& random) {
    std::vector<Counts> counts;
    for (int rung = -4; rung < 4; ++rung) {
        Counts at{0.30103 * (rung + 0.5), each, 0};
        const double p = threshold::right_probability({theta, 0.775, 0.03}, three_afc, at.x_log10);
        for (std::size_t n = 0; n < each; ++n)
            if (random.uniform() < p) ++at.correct;
        counts.push_back(at);
    }
    return counts;
}

std::vector<panel::Member> class_of(std::size_t people, double spread, std::size_t each, std::uint64_t seed) {
    Random random{Seed{seed}};
    std::vector<panel::Member> members;
    for (std::size_t i = 0; i < people; ++i) {
        const double theta = spread * random.normal();
        members.push_back({std::string("P").append(std::to_string(i)), tasted(theta, each, random)});
    }
    return members;
}

threshold::Prior narrow_prior() {
    threshold::Prior prior;
    prior.kind = threshold::Prior::Kind::normal;
    prior.mean_log10 = 0.05;
    prior.sd_log10 = 0.3;
    prior.width_ln_sd = 0.0;  // the width is known
    prior.lapses = {{0.0, 0.5}, {0.05, 0.5}};
    return prior;
}

}  // namespace

TEST_CASE("the likelihood on the grid is the posterior less its prior") {
    Random random{Seed{5}};
    for (const std::size_t each : {std::size_t{2}, std::size_t{40}}) {
        const std::vector<Counts> counts = tasted(0.1, each, random);
        const threshold::Posterior start(threshold::Prior{}, three_afc, threshold::Grid{2, 0.05, 5});
        threshold::GridLikelihood likelihood(start);
        const auto cells = likelihood.of(counts);
        threshold::Posterior posterior = start;
        for (const Counts& at : counts) posterior.update(at);
        double total = 0.0;
        std::vector<double> theta(start.thetas().size(), 0.0);
        std::size_t cell = 0;
        for (const double width : likelihood.width_weights())
            for (const double lapse : likelihood.lapse_weights())
                for (std::size_t t = 0; t < theta.size(); ++t) {
                    const double mass = width * lapse * likelihood.theta_weights()[t] * cells.values[cell++];
                    theta[t] += mass;
                    total += mass;
                }
        for (std::size_t t = 0; t < theta.size(); ++t)
            CHECK(within(theta[t] / total, posterior.theta_marginals()[t], 1e-9));
        CHECK(within(std::log(total) + cells.log_scale, posterior.log_evidence(), 1e-8));
    }
}

TEST_CASE("a panel of three is what summing over everything says") {
    const std::vector<panel::Member> members = class_of(3, 0.3, 2, 11);
    const threshold::Prior prior = narrow_prior();
    panel::Settings settings;
    settings.theta_step_log10 = 0.02;
    const panel::Panel found = panel::pooled(members, prior, three_afc, settings);
    // Plainly: curves at points of theta, mean and spread on a wide fixed grid.
    std::vector<std::vector<double>> likelihoods;
    std::vector<double> thetas;
    for (int t = -180; t <= 180; ++t) thetas.push_back(0.05 + 0.01 * t);
    for (const panel::Member& member : members) {
        std::vector<double>& row = likelihoods.emplace_back();
        for (const double theta : thetas) {
            double sum = 0.0;
            for (const double lapse : {0.0, 0.05}) {
                double product = 1.0;
                for (const Counts& at : member.counts) {
                    const double p =
                        threshold::right_probability({theta, 0.775, lapse}, three_afc, at.x_log10);
                    product *= std::pow(p, static_cast<double>(at.correct)) *
                               std::pow(1.0 - p, static_cast<double>(at.presentations - at.correct));
                }
                sum += 0.5 * product;
            }
            row.push_back(sum);
        }
    }
    double total = 0.0;
    double mean_sum = 0.0;
    double spread_sum = 0.0;
    std::vector<double> people(3, 0.0);
    std::vector<double> above(3, 0.0);
    for (int m = -60; m <= 60; ++m)
        for (int k = 0; k < 70; ++k) {
            const double mean = 0.05 + 0.03 * m;
            const double spread = 0.02 * std::pow(100.0, (k + 0.5) / 70.0);  // 0.02 to 2
            double weight = spread * std::exp(-0.5 * std::pow((mean - 0.05) / 0.3, 2.0)) *
                            std::exp(-0.5 * std::pow(spread / 0.5, 2.0));
            std::vector<double> means;
            std::vector<double> aboves;
            for (const auto& row : likelihoods) {
                double mass = 0.0;
                double first = 0.0;
                double over = 0.0;
                double normal = 0.0;
                for (std::size_t t = 0; t < thetas.size(); ++t) {
                    const double density = std::exp(-0.5 * std::pow((thetas[t] - mean) / spread, 2.0));
                    normal += density;
                    mass += density * row[t];
                    first += density * row[t] * thetas[t];
                    if (thetas[t] > mean) over += density * row[t];
                }
                weight *= mass / (spread * 250.66);  // Normal's constant, on this grid
                means.push_back(first / mass);
                aboves.push_back(over / mass);
            }
            total += weight;
            mean_sum += weight * mean;
            spread_sum += weight * spread;
            for (std::size_t i = 0; i < 3; ++i) {
                people[i] += weight * means[i];
                above[i] += weight * aboves[i];
            }
        }
    CHECK(within(found.mean.log10, mean_sum / total, 0.006));
    CHECK(within(found.spread.log10, spread_sum / total, 0.015));
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(within(found.people[i].shrunken.log10, people[i] / total, 0.006));
        CHECK(within(found.people[i].probability_above, above[i] / total, 0.03));
    }
}

TEST_CASE("people lend each other strength, and their own values do not know of it") {
    const std::vector<panel::Member> members = class_of(12, 0.15, 2, 3);
    threshold::Prior prior;
    const panel::Panel found = panel::pooled(members, prior, three_afc);
    double own_sd = 0.0;
    double shrunken_sd = 0.0;
    for (const panel::Person& person : found.people) {
        own_sd += person.own.sd_log10;
        shrunken_sd += person.shrunken.sd_log10;
        // Drawn towards the panel's mean.
        CHECK(std::abs(person.shrunken.log10 - found.mean.log10) <=
              std::abs(person.own.log10 - found.mean.log10) + 0.03);
    }
    CHECK(shrunken_sd < 0.85 * own_sd);
    for (std::size_t i = 0; i < members.size(); ++i) {
        threshold::Posterior alone(prior, three_afc, threshold::Grid{2, 0.04, 9});
        for (const Counts& at : members[i].counts) alone.update(at);
        CHECK(within(found.people[i].own.log10, alone.mean(), 1e-6));
        CHECK(within(found.people[i].own.lower_log10, alone.quantile(0.025), 1e-5));
    }
}

TEST_CASE("the order of people does not matter, and a shift of all levels shifts all results") {
    std::vector<panel::Member> members = class_of(6, 0.3, 2, 8);
    threshold::Prior prior;
    const panel::Panel found = panel::pooled(members, prior, three_afc);
    std::vector<panel::Member> turned(members.rbegin(), members.rend());
    constexpr double shift = 0.7;
    for (panel::Member& member : turned)
        for (Counts& at : member.counts) at.x_log10 += shift;
    prior.mean_log10 += shift;
    const panel::Panel again = panel::pooled(turned, prior, three_afc);
    CHECK(within(again.mean.log10, found.mean.log10 + shift, 1e-8));
    CHECK(within(again.spread.log10, found.spread.log10, 1e-8));
    CHECK(within(again.people[0].shrunken.upper_log10, found.people[5].shrunken.upper_log10 + shift, 1e-8));
    CHECK(within(again.log_likelihood, found.log_likelihood, 1e-6));
}

TEST_CASE("the mix's common error is in the panel value once, however many people drank from it") {
    const std::vector<panel::Member> members = class_of(30, 0.1, 4, 21);
    panel::Settings settings;
    const panel::Panel exact = panel::pooled(members, threshold::Prior{}, three_afc, settings);
    settings.u_shared_log10 = 0.05;
    const panel::Panel mixed = panel::pooled(members, threshold::Prior{}, three_afc, settings);
    CHECK(within(mixed.mixing_sd_log10, 0.05, 1e-12));
    CHECK(within(mixed.mean.sd_log10, std::hypot(exact.mean.sd_log10, 0.05), 1e-9));
    CHECK(within(mixed.people_mean.sd_log10, std::hypot(exact.people_mean.sd_log10, 0.05), 1e-9));
    CHECK(mixed.spread == exact.spread);
    CHECK(mixed.people[3].probability_above == exact.people[3].probability_above);
    CHECK(
        within(mixed.people[3].shrunken.sd_log10, std::hypot(exact.people[3].shrunken.sd_log10, 0.05), 1e-9));
}

TEST_CASE("rungs' own errors move the panel as far as the panel follows its rungs") {
    std::vector<panel::Member> members = class_of(30, 0.1, 4, 22);
    const panel::Panel before = panel::pooled(members, threshold::Prior{}, three_afc);
    const auto with_errors = [](std::vector<panel::Member> people) {
        for (panel::Member& member : people)
            for (Counts& at : member.counts) at.u_own_log10 = 0.05;
        return people;
    };
    const panel::Panel found = panel::pooled(with_errors(members), threshold::Prior{}, three_afc);
    // Plainly: each rung of everybody moved by its error, one after the other.
    double square = 0.0;
    for (std::size_t rung = 0; rung < 8; ++rung) {
        std::vector<panel::Member> moved = members;
        for (panel::Member& member : moved) member.counts[rung].x_log10 += 0.05;
        square +=
            std::pow(panel::pooled(moved, threshold::Prior{}, three_afc).mean.log10 - before.mean.log10, 2.0);
    }
    CHECK(found.mixing_sd_log10 > 0.8 * std::sqrt(square));
    CHECK(found.mixing_sd_log10 < 1.25 * std::sqrt(square));
    CHECK(found.mixing_sd_log10 < 0.05);  // eight rungs, each with a part
}

namespace {

/// The same answers, said to be right or wrong without a word of certainty.
std::vector<panel::Member> as_told(std::vector<panel::Member> members) {
    for (panel::Member& member : members) {
        threshold::HabitAnswers told;
        for (const Counts& at : member.counts)
            for (std::size_t n = 0; n < at.presentations; ++n)
                told.answers.push_back(
                    {at.x_log10, threshold::outcome_of(n < at.correct, std::nullopt), at.u_own_log10});
        member.counts.clear();
        member.told.push_back(std::move(told));
    }
    return members;
}

}  // namespace

TEST_CASE("a class whose certainty is told is pooled as its right and wrong answers, and sharper") {
    std::vector<panel::Member> members = class_of(6, 0.3, 2, 41);
    for (panel::Member& member : members)
        for (Counts& at : member.counts) at.u_own_log10 = 0.05;
    const panel::Panel plain = panel::pooled(members, narrow_prior(), three_afc);
    const panel::Panel told = panel::pooled(as_told(members), narrow_prior(), three_afc);
    CHECK(within(told.mean.log10, plain.mean.log10, 0.005));
    CHECK(within(told.spread.log10, plain.spread.log10, 0.005));
    CHECK(within(told.mixing_sd_log10, plain.mixing_sd_log10, 0.05 * plain.mixing_sd_log10));
    for (std::size_t i = 0; i < members.size(); ++i) {
        CHECK(within(told.people[i].shrunken.log10, plain.people[i].shrunken.log10, 0.008));
        CHECK(within(told.people[i].own.sd_log10, plain.people[i].own.sd_log10, 0.005));
    }
    // One of each kind in one class, and one person with both.
    std::vector<panel::Member> both = as_told(members);
    both[0].counts = members[0].counts;
    const panel::Panel mixed = panel::pooled(both, narrow_prior(), three_afc);
    CHECK(mixed.people[0].own.sd_log10 < 0.85 * plain.people[0].own.sd_log10);
    CHECK_THROWS_AS(panel::pooled(both, narrow_prior(), threshold::two_afc), Refused);
}

TEST_CASE("who differs is said where it is so, and of people all alike nobody") {
    std::vector<panel::Member> members = class_of(15, 0.05, 6, 31);
    Random random{Seed{77}};
    members.push_back({"Ada", tasted(-0.8, 6, random)});
    members.push_back({"Bo", tasted(0.9, 6, random)});
    const panel::Panel found = panel::pooled(members, threshold::Prior{}, three_afc);
    CHECK(found.people[15].stand == panel::Stand::more_sensitive);
    CHECK(found.people[16].stand == panel::Stand::less_sensitive);
    CHECK(found.expected_wrong <= 0.05 * static_cast<double>(found.differing));
    std::vector<panel::Member> alike;
    for (int i = 0; i < 12; ++i)
        alike.push_back({std::string("P").append(std::to_string(i)), members[0].counts});
    CHECK(panel::pooled(alike, threshold::Prior{}, three_afc).differing == 0);
    const std::vector<std::string> words = panel::words(found);
    const auto says = [&](const std::string& part) {
        return std::any_of(words.begin(), words.end(),
                           [&](const std::string& line) { return line.find(part) != std::string::npos; });
    };
    CHECK(says("Ada"));
    CHECK(says("may be on the wrong side"));
}

TEST_CASE("a panel that cannot be pooled is refused with everything that is wrong") {
    CHECK_THROWS_WITH_AS(panel::pooled({}, threshold::Prior{}, three_afc),
                         "panel: holds nobody; at least one person with answers", Refused);
    std::vector<panel::Member> members = class_of(2, 0.1, 1, 1);
    members[1].name = members[0].name;
    members.push_back({"Cy", {}});
    try {
        panel::pooled(members, threshold::Prior{}, three_afc);
        FAIL("was not refused");
    } catch (const Refused& refused) {
        CHECK(refused.problems().size() == 2);
    }
    members.resize(1);
    members[0].counts[0].correct = 9;
    CHECK_THROWS_AS(panel::pooled(members, threshold::Prior{}, three_afc), Refused);
    CHECK_THROWS_AS(panel::mixed_model({}, three_afc), Refused);
}

TEST_CASE("even one person makes a panel, with a note, and a hundred make a sharp one") {
    const panel::Panel one = panel::pooled(class_of(1, 0.1, 3, 2), threshold::Prior{}, three_afc);
    CHECK(one.notes.size() == 1);
    CHECK(one.spread.upper_log10 > 0.5);
    const panel::Panel many = panel::pooled(class_of(200, 0.25, 2, 2), threshold::Prior{}, three_afc);
    CHECK(std::abs(many.mean.log10) < 4.0 * many.mean.sd_log10);
    CHECK(many.mean.sd_log10 < 0.06);
    CHECK(many.spread.lower_log10 < 0.27);
    CHECK(many.spread.upper_log10 > 0.2);
}

#include "engine/trend/trend.hpp"

#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/threshold/graded.hpp"
#include "engine/trend/advice.hpp"
#include "engine/trend/random_walk.hpp"
#include "engine/trend/rota.hpp"
#include "tests/support/within.hpp"
#include "tests/trend/small_prior.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::trend;
using threshold::Counts;
using threshold::three_afc;

namespace {

std::vector<Counts> tasted(double theta, std::size_t each, Random& random) {
    std::vector<Counts> counts;
    for (int rung = -3; rung < 3; ++rung) {
        Counts at{0.2 * (rung + 0.5), each, 0};
        const double p = threshold::right_probability({theta, 0.775, 0.03}, three_afc, at.x_log10);
        for (std::size_t n = 0; n < each; ++n)
            if (random.uniform() < p) ++at.correct;
        counts.push_back(at);
    }
    return counts;
}

std::vector<trend::Sitting> weekly(std::size_t sittings, double drift, std::uint64_t seed,
                                   std::size_t each = 3) {
    Random random{Seed{seed}};
    std::vector<trend::Sitting> made;
    for (std::size_t k = 0; k < sittings; ++k) {
        trend::Sitting sitting;
        sitting.date = std::string("2026-03-").append(k < 9 ? "0" : "").append(std::to_string(k + 1));
        sitting.week = static_cast<double>(k);
        sitting.counts = tasted(0.2 + drift * sitting.week + 0.08 * random.normal(), each, random);
        sitting.mix = "first";
        made.push_back(std::move(sitting));
    }
    return made;
}

Settings without_practice() {
    Settings settings;
    settings.practice = 0;
    return settings;
}

double normal_density(double x, double sd) {
    return std::exp(-0.5 * x * x / (sd * sd)) / (sd * std::sqrt(2.0 * std::acos(-1.0)));
}

bool says(const std::vector<std::string>& lines, const std::string& part) {
    return std::any_of(lines.begin(), lines.end(),
                       [&](const std::string& line) { return line.find(part) != std::string::npos; });
}

}  // namespace

TEST_CASE("a kernel keeps its variance on any lattice, and a shift its cubic") {
    for (const double sd : {0.0, 0.003, 0.011, 0.02, 0.03, 0.05, 0.2}) {
        const Kernel kernel = normal_kernel(sd, 0.04);
        double total = kernel[0];
        double square = 0.0;
        for (std::size_t i = 1; i < kernel.size(); ++i) {
            total += 2.0 * kernel[i];
            square += 2.0 * kernel[i] * std::pow(0.04 * static_cast<double>(i), 2.0);
        }
        CHECK(within(total, 1.0, 1e-12));
        CHECK(within(square, sd * sd, 1e-12, 2e-3));
    }
    std::vector<double> cubic;
    for (int i = 0; i < 20; ++i) cubic.push_back(5.0 + 0.3 * i - 0.02 * i * i + 0.001 * i * i * i);
    std::vector<double> out(20);
    for (const double by : {0.0, 0.3, -2.7, 4.0}) {
        shifted(cubic, by, out);
        const double x = 10.0 + by;
        CHECK(within(out[10], 5.0 + 0.3 * x - 0.02 * x * x + 0.001 * x * x * x, 1e-12));
    }
    shifted(cubic, -1000.0, out);
    CHECK(out[19] == cubic[0]);
    shifted(cubic, 1e9, out);
    CHECK(out[0] == cubic[19]);
}

TEST_CASE("filter, smoother and the moments of a change are what adding up all paths says") {
    const std::vector<double> lattice{0.0, 1.0, 2.0, 3.0, 4.0};
    const std::vector<double> start{0.1, 0.3, 0.2, 0.3, 0.1};
    const std::vector<std::vector<double>> rows{
        {0.1, 0.9, 0.3, 0.2, 0.1}, {0.5, 0.4, 0.6, 0.1, 0.2}, {0.2, 0.2, 0.1, 0.7, 0.9}};
    const std::vector<std::span<const double>> likelihoods(rows.begin(), rows.end());
    const std::vector<Kernel> kernels{{0.5, 0.25}, {0.6, 0.15, 0.05}};
    const auto step = [&](std::size_t k, std::size_t from, std::size_t to) {
        const std::size_t apart = from > to ? from - to : to - from;
        return apart < kernels[k].size() ? kernels[k][apart] : 0.0;
    };
    double total = 0.0;
    double first = 0.0;
    double second = 0.0;
    std::vector<double> middle(5, 0.0);
    std::vector<double> last(5, 0.0);
    for (std::size_t a = 0; a < 5; ++a)
        for (std::size_t b = 0; b < 5; ++b)
            for (std::size_t c = 0; c < 5; ++c) {
                const double path =
                    start[a] * rows[0][a] * step(0, a, b) * rows[1][b] * step(1, b, c) * rows[2][c];
                const double change = lattice[c] - lattice[a];
                total += path;
                first += path * change;
                second += path * change * change;
                middle[b] += path;
                last[c] += path;
            }
    const WalkInput input{start, likelihoods, kernels};
    WalkPasses passes;
    CHECK(within(passes.filter(input), std::log(total), 1e-12));
    const auto change = passes.change(input, lattice);
    CHECK(within(change.mean, first / total, 1e-12));
    CHECK(within(change.variance, second / total - std::pow(first / total, 2.0), 1e-12));
    passes.smooth(input);
    double smoothed = 0.0;
    for (std::size_t i = 0; i < 5; ++i) smoothed += passes.without(1)[i] * rows[1][i];
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(within(passes.without(1)[i] * rows[1][i] / smoothed, middle[i] / total, 1e-12));
        CHECK(within(passes.filtered(2)[i], last[i] / total, 1e-12));
    }
}

TEST_CASE("a trend of two sittings is what summing over line, jitter and drift says") {
    const std::vector<trend::Sitting> sittings = weekly(2, -0.3, 4);
    Settings settings = without_practice();
    settings.theta_step_log10 = 0.02;
    const Trend found = trend::trend(sittings, small_prior(), three_afc, settings);
    // Plainly, on points 0.025 apart: first line value, drift, second line value, both sittings' values.
    constexpr double step = 0.025;
    std::vector<double> points;
    for (int i = -60; i <= 60; ++i) points.push_back(step * i);
    std::vector<std::vector<double>> blurred(2, std::vector<double>(points.size(), 0.0));
    std::vector<std::vector<double>> own = blurred;
    for (std::size_t k = 0; k < 2; ++k)
        for (std::size_t t = 0; t < points.size(); ++t) {
            own[k][t] = 1.0;
            for (const Counts& at : sittings[k].counts) {
                const double p =
                    threshold::right_probability({points[t], 0.775, 0.03}, three_afc, at.x_log10);
                own[k][t] *= std::pow(p, static_cast<double>(at.correct)) *
                             std::pow(1.0 - p, static_cast<double>(at.presentations - at.correct));
            }
        }
    for (std::size_t k = 0; k < 2; ++k)
        for (std::size_t i = 0; i < points.size(); ++i)
            for (std::size_t t = 0; t < points.size(); ++t)
                blurred[k][i] += step * own[k][t] * normal_density(points[t] - points[i], 0.08);
    double total = 0.0;
    double mean_change = 0.0;
    double fell = 0.0;
    double drifting = 0.0;
    double last_line = 0.0;
    double first_sitting = 0.0;
    for (int d = -15; d <= 15; ++d) {
        const double drift = 0.01 * d;
        for (std::size_t a = 0; a < points.size(); ++a)
            for (std::size_t b = 0; b < points.size(); ++b) {
                const double path = normal_density(points[a], 0.3) * normal_density(drift, 0.05) *
                                    normal_density(points[b] - points[a] - drift, 0.03) * blurred[1][b];
                if (path < 1e-12) continue;
                const double weight = path * blurred[0][a];
                total += weight;
                mean_change += weight * (points[b] - points[a]);
                fell += weight * (b < a ? 1.0 : b == a ? 0.5 : 0.0);
                drifting += weight * (d < 0 ? 1.0 : d == 0 ? 0.5 : 0.0);
                last_line += weight * points[b];
                for (std::size_t t = 0; t < points.size(); ++t)
                    first_sitting +=
                        path * step * own[0][t] * normal_density(points[t] - points[a], 0.08) * points[t];
            }
    }
    const Change& change = *found.stretches.at(0).change;
    CHECK(within(change.change.log10, mean_change / total, 0.002));
    CHECK(within(change.probability_fell, fell / total, 0.01));
    CHECK(within(change.probability_drifting, drifting / total, 0.005));
    CHECK(within(found.points[1].line.log10, last_line / total, 0.003));
    CHECK(within(found.points[0].smoothed.log10, first_sitting / total, 0.003));
}

TEST_CASE("a sitting's own dot knows of no other sitting") {
    std::vector<trend::Sitting> sittings = weekly(5, 0.0, 9);
    const Trend before = trend::trend(sittings, threshold::Prior{}, three_afc, without_practice());
    Random random{Seed{99}};
    for (std::size_t k = 0; k < 5; ++k)
        if (k != 2) sittings[k].counts = tasted(-0.5, 6, random);
    const Trend after = trend::trend(sittings, threshold::Prior{}, three_afc, without_practice());
    CHECK(after.points[2].own == before.points[2].own);
    CHECK(after.points[2].smoothed.log10 < before.points[2].smoothed.log10 - 0.05);
    threshold::Posterior alone(threshold::Prior{}, three_afc, threshold::Grid{2, 0.04, 9});
    for (const Counts& at : sittings[2].counts) alone.update(at);
    CHECK(within(after.points[2].own.log10, alone.mean(), 1e-6));
}

TEST_CASE("practice sittings stand outside the line") {
    std::vector<trend::Sitting> sittings = weekly(6, 0.0, 12);
    const Trend before = trend::trend(sittings, threshold::Prior{}, three_afc);
    Random random{Seed{98}};
    sittings[0].counts = tasted(1.0, 6, random);
    sittings[1].counts = tasted(1.0, 6, random);
    const Trend after = trend::trend(sittings, threshold::Prior{}, three_afc);
    CHECK(after.points[0].practice);
    CHECK(after.points[1].practice);
    CHECK_FALSE(after.points[2].practice);
    CHECK(after.points[1].line == after.points[1].own);
    for (std::size_t k = 2; k < 6; ++k) CHECK(after.points[k].line == before.points[k].line);
    CHECK(after.stretches[0].change->change == before.stretches[0].change->change);
    CHECK(says(trend::words(after, sittings), "practice"));
    const std::vector<trend::Sitting> two(sittings.begin(), sittings.begin() + 2);
    const Trend early = trend::trend(two, threshold::Prior{}, three_afc);
    CHECK_FALSE(early.stretches[0].change.has_value());
    CHECK(says(trend::words(early, two), "practice sittings; the line begins with the next one"));
    const std::vector<trend::Sitting> one(sittings.begin(), sittings.begin() + 1);
    CHECK(says(trend::words(trend::trend(one, threshold::Prior{}, three_afc), one),
               "a practice sitting; the line begins with the one after the next"));
}

TEST_CASE("a new lot, another base or another blinding starts a stretch of its own") {
    std::vector<trend::Sitting> sittings = weekly(9, 0.0, 13);
    for (std::size_t k = 4; k < 9; ++k) sittings[k].conditions.lot = "second pack";
    for (std::size_t k = 7; k < 9; ++k) {
        sittings[k].conditions.base = "other water";
        sittings[k].conditions.blinding = "served";
    }
    const Trend found = trend::trend(sittings, threshold::Prior{}, three_afc);
    REQUIRE(found.stretches.size() == 3);
    CHECK(found.stretches[1].first == 4);
    CHECK(found.stretches[1].why == "new lot");
    CHECK(found.stretches[2].why == "other water or base, other blinding");
    CHECK(found.points[6].stretch == 1);
    // The last stretch is fitted from its own sittings alone.
    std::vector<trend::Sitting> alone(sittings.begin() + 7, sittings.end());
    const Trend last = trend::trend(alone, threshold::Prior{}, three_afc, without_practice());
    CHECK(last.points[1].line == found.points[8].line);
    CHECK(says(trend::words(found, sittings), "began anew with the sitting of 2026-03-08"));
}

TEST_CASE("the error of one mix is in every value once and in no change, that of two mixes in the change") {
    std::vector<trend::Sitting> sittings = weekly(6, 0.0, 14);
    const Trend exact = trend::trend(sittings, threshold::Prior{}, three_afc, without_practice());
    for (trend::Sitting& sitting : sittings) sitting.u_shared_log10 = 0.05;
    const Trend one = trend::trend(sittings, threshold::Prior{}, three_afc, without_practice());
    for (trend::Sitting& sitting : sittings) sitting.mix = sitting.date;
    const Trend six = trend::trend(sittings, threshold::Prior{}, three_afc, without_practice());
    const auto added = [&](const Trend& mixed, std::size_t k) {
        return std::sqrt(std::pow(mixed.points[k].line.sd_log10, 2.0) -
                         std::pow(exact.points[k].line.sd_log10, 2.0));
    };
    CHECK(within(added(one, 2), 0.05, 0.004));  // in full, but for what the prior holds
    CHECK(added(six, 2) < 0.035);               // six mixes' errors average out
    CHECK(within(one.points[2].own.sd_log10, std::hypot(exact.points[2].own.sd_log10, 0.05), 1e-9));
    const auto change_sd = [](const Trend& of) { return of.stretches[0].change->change.sd_log10; };
    CHECK(within(change_sd(one), change_sd(exact), 1e-3));
    CHECK(change_sd(six) > change_sd(exact) + 0.002);
}

TEST_CASE("quick looks stand on one line with right and wrong answers, and fall with it") {
    // Cuts 0.5, 1.2, 1.9, every third cup a blank.
    const auto looked_at = [](double theta, Random& random) {
        threshold::HabitAnswers told{threshold::HabitAnswers::By::grades, {}};
        for (int cup = 0; cup < 24; ++cup) {
            const bool is_blank = cup % 3 == 0;
            const double x = 0.2 * ((cup / 3 * 2 + cup % 3) % 6 - 2.5);
            const double distance = is_blank ? 0.0 : threshold::perceived_distance({theta, 0.775, 0.0}, x);
            const double percept = distance + random.normal();
            const std::size_t grade =
                (percept > 0.5 ? 1U : 0U) + (percept > 1.2 ? 1U : 0U) + (percept > 1.9 ? 1U : 0U);
            told.answers.push_back({is_blank ? std::nullopt : std::optional(x), grade, 0.0});
        }
        return told;
    };
    Random random{Seed{9}};
    std::vector<trend::Sitting> sittings = weekly(6, -0.2, 23);
    for (const std::size_t k : {std::size_t{1}, std::size_t{3}, std::size_t{5}}) {
        sittings[k].counts.clear();
        sittings[k].told = {looked_at(0.2 - 0.2 * sittings[k].week, random)};
    }
    const Trend found = trend::trend(sittings, small_prior(), three_afc, without_practice());
    for (const Point& point : found.points) {
        CHECK(std::abs(point.smoothed.log10 - (0.2 - 0.2 * sittings[point.sitting].week)) <
              3.0 * std::hypot(point.smoothed.sd_log10, 0.08));
        CHECK(point.smoothed.sd_log10 < point.own.sd_log10);
    }
    REQUIRE(found.stretches[0].change);
    CHECK(found.stretches[0].change->probability_fell > 0.95);
    // A sitting that tells both is surer than with either.
    std::vector<trend::Sitting> both = weekly(6, -0.2, 23);
    both[3].told = sittings[3].told;
    const Trend more = trend::trend(both, small_prior(), three_afc, without_practice());
    CHECK(more.points[3].own.sd_log10 < found.points[3].own.sd_log10);
    const Trend less = trend::trend(weekly(6, -0.2, 23), small_prior(), three_afc, without_practice());
    CHECK(more.points[3].own.sd_log10 < less.points[3].own.sd_log10);
    CHECK(more.stretches[0].change->noise_log10 < less.stretches[0].change->noise_log10);
    CHECK_THROWS_AS(trend::trend(both, small_prior(), threshold::two_afc), Refused);
}

TEST_CASE("a steady fall is seen, and no fall is not") {
    const Trend falls =
        trend::trend(weekly(10, -0.07, 15, 5), threshold::Prior{}, three_afc, without_practice());
    const Change& change = *falls.stretches[0].change;
    CHECK(change.probability_fell > 0.99);
    CHECK(change.declared);
    CHECK(change.change.upper_log10 < 0.0);
    CHECK(within(change.drift.log10, -0.07, 0.03));
    CHECK(change.missed < 0.3);
    const std::vector<trend::Sitting> still = weekly(10, 0.0, 21, 5);
    const Trend stays = trend::trend(still, threshold::Prior{}, three_afc, without_practice());
    CHECK_FALSE(stays.stretches[0].change->declared);
    CHECK(std::abs(stays.stretches[0].change->change.log10) < stays.stretches[0].change->noise_log10);
    const std::vector<std::string> words = trend::words(stays, still);
    CHECK(says(words, "since 2026-03-01"));
    CHECK(says(words, "may be noise"));
    const AgainstControl more = against_control(change, *stays.stretches[0].change);
    CHECK(more.probability_fell_more > 0.9);
    CHECK(more.probability_fell_more < change.probability_fell);
    CHECK(within(more.change.log10, change.change.log10 - stays.stretches[0].change->change.log10, 1e-12));
}

TEST_CASE("levels and weeks have no zero of their own") {
    std::vector<trend::Sitting> sittings = weekly(6, -0.05, 16);
    const Trend found = trend::trend(sittings, threshold::Prior{}, three_afc, without_practice());
    threshold::Prior prior;
    prior.mean_log10 += 0.4;
    for (trend::Sitting& sitting : sittings) {
        sitting.week += 2000.0;
        for (Counts& at : sitting.counts) at.x_log10 += 0.4;
    }
    const Trend again = trend::trend(sittings, prior, three_afc, without_practice());
    for (std::size_t k = 0; k < 6; ++k) {
        CHECK(within(again.points[k].line.log10, found.points[k].line.log10 + 0.4, 1e-7));
        CHECK(within(again.points[k].smoothed.lower_log10, found.points[k].smoothed.lower_log10 + 0.4, 1e-7));
    }
    CHECK(within(again.stretches[0].change->probability_fell, found.stretches[0].change->probability_fell,
                 1e-7));
}

TEST_CASE("sittings that contradict one another are fitted, not refused") {
    std::vector<trend::Sitting> sittings = weekly(4, 0.0, 17, 40);
    for (Counts& at : sittings[1].counts) at.correct = at.presentations;
    for (Counts& at : sittings[2].counts) at.correct = at.presentations / 3;
    const Trend found = trend::trend(sittings, threshold::Prior{}, three_afc, without_practice());
    for (const Point& point : found.points) CHECK(std::isfinite(point.smoothed.log10));
    CHECK(found.points[1].own.log10 < found.points[2].own.log10);
}

TEST_CASE("a sitting of the same day and hours later still make a line") {
    std::vector<trend::Sitting> sittings = weekly(3, 0.0, 18);
    sittings[1].week = sittings[0].week;
    sittings[2].week = 0.02;
    const Trend found = trend::trend(sittings, threshold::Prior{}, three_afc, without_practice());
    CHECK(found.stretches[0].change.has_value());
    sittings[2].week = 0.0;
    CHECK_FALSE(trend::trend(sittings, threshold::Prior{}, three_afc, without_practice())
                    .stretches[0]
                    .change.has_value());
}

TEST_CASE("the forecast spreads with the weeks ahead, and knows which mix comes next") {
    std::vector<trend::Sitting> sittings = weekly(5, -0.05, 19);
    for (trend::Sitting& sitting : sittings) sitting.u_shared_log10 = 0.08;
    const threshold::Prior prior;
    const threshold::Prior soon = forecast(sittings, 5.0, true, prior, three_afc);
    const threshold::Prior late = forecast(sittings, 15.0, true, prior, three_afc);
    const threshold::Prior other = forecast(sittings, 5.0, false, prior, three_afc);
    CHECK(soon.kind == threshold::Prior::Kind::normal);
    CHECK(soon.sd_log10 < prior.sd_log10);
    CHECK(soon.sd_log10 > 0.08);  // never surer than the jitter
    CHECK(late.sd_log10 > soon.sd_log10 + 0.05);
    CHECK(other.sd_log10 > std::hypot(soon.sd_log10, 0.05));
    CHECK(soon.width_ln_sd < prior.width_ln_sd);
    threshold::check(soon);
    const Trend found = trend::trend(sittings, prior, three_afc);
    CHECK(std::abs(soon.mean_log10 - found.points[4].line.log10) < 0.1);
    CHECK(soon.name.find("2026-03-05") != std::string::npos);
    CHECK_THROWS_AS(forecast(sittings, 3.0, true, prior, three_afc), Refused);
    // Practice alone is better than nothing to place the next sitting from.
    sittings.resize(1);
    CHECK(forecast(sittings, 1.0, true, prior, three_afc).sd_log10 < prior.sd_log10);
}

TEST_CASE("a trend that cannot be made is refused with everything that is wrong") {
    CHECK_THROWS_WITH_AS(trend::trend({}, threshold::Prior{}, three_afc),
                         "sittings: there are none; at least one sitting", Refused);
    std::vector<trend::Sitting> sittings = weekly(3, 0.0, 1);
    sittings[1].week = -1.0;
    sittings[2].counts.clear();
    try {
        trend::trend(sittings, threshold::Prior{}, three_afc);
        FAIL("was not refused");
    } catch (const Refused& refused) {
        CHECK(refused.problems().size() == 2);
        CHECK(refused.problems()[0].where == "sitting of 2026-03-02");
    }
}

TEST_CASE("what a rota could show grows finer with sittings, presentations and one mix") {
    const Smallest usual = smallest_fall({});
    const auto with = [](auto change) {
        Rota rota;
        change(rota);
        return smallest_fall(rota);
    };
    CHECK(usual.half_log10 < usual.four_in_five_log10);
    CHECK(with([](Rota& r) { r.sittings = 4; }).half_log10 > usual.half_log10);
    CHECK(with([](Rota& r) { r.presentations = 24; }).half_log10 < usual.half_log10);
    CHECK(with([](Rota& r) { r.width_log10 = 1.2; }).half_log10 > usual.half_log10);
    const Smallest mixes = with([](Rota& r) { r.u_mix_log10 = 0.1; });
    CHECK(mixes.half_log10 > usual.half_log10);
    const Smallest one_mix = with([](Rota& r) {
        r.u_mix_log10 = 0.1;
        r.one_mix = true;
    });
    CHECK(within(one_mix.half_log10, usual.half_log10, 0.01));
    // 2.76 s / sqrt(N) at the best place without lapses, less what placing costs.
    CHECK(within(measurement_sd_log10(16, 0.775, 0.0), 0.122 / std::sqrt(0.85), 0.001));
    CHECK(words(usual) ==
          "With this rota, a fall of less than 52 % would probably go unseen; one of 67 % would show four "
          "times "
          "in five.");
    CHECK_THROWS_AS(smallest_fall({.sittings = 1}), Refused);
}

TEST_CASE("what next weighs precision, staleness, goal and cost, and says so") {
    Standing fresh;
    fresh.name = "sucrose in water";
    fresh.log10 = 0.1;
    fresh.sd_log10 = 0.12;
    fresh.minutes = 55.0;
    Standing stale = fresh;
    stale.name = "grape tannin in water";
    stale.sd_log10 = 0.2;
    stale.weeks_since = 23.0 / 7.0;
    stale.minutes = 70.0;
    Standing never = fresh;
    never.name = "ethanol in water";
    never.log10.reset();
    never.sd_log10 = 0.7;
    never.cups = 360;
    const std::vector<Advice> found = what_next({fresh, stale, never});
    REQUIRE(found.size() == 3);
    CHECK(found[0].standing == 1);
    CHECK(found[2].standing == 2);  // it would tell most, but at ten times the cups
    CHECK(found[2].gain > found[0].gain);
    CHECK(
        found[0].words ==
        "grape tannin in water: 12 presentations would take it from ±0.23 to about ±0.14 (36 cups, 70 min); "
        "last done 23 days ago.");
    CHECK(found[0].stale_share > 0.1);
    CHECK(found[2].words.find("never measured") != std::string::npos);
    Standing wanted = fresh;
    wanted.goal_log10 = 0.1 - 0.301;
    const std::vector<Advice> again = what_next({fresh, wanted});
    CHECK(again[0].standing == 1);
    CHECK(within(again[0].gain, 2.0 * again[1].gain, 1e-9));
    CHECK(again[0].words.find("a factor of 2.0 above the goal") != std::string::npos);
    wanted.sd_log10 = 0.0;
    CHECK_THROWS_AS(what_next({wanted}), Refused);
}

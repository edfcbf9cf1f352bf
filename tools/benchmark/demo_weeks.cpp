// The weeks of the demo over many seeds, nothing left out: planned for its kitchen, mixed a little off,
// tasted through the drill, kept in a journal, read from it and fitted as the Weeks screen does. Each seed
// draws other errors of the bottles, other days and other answers.

#include "tools/benchmark/demo_weeks.hpp"

#include "drills/demo.hpp"
#include "drills/history.hpp"
#include "drills/plans.hpp"
#include "engine/content/location.hpp"
#include "engine/problem.hpp"
#include "engine/trend/trend.hpp"
#include "tools/simulate/parallel.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace sipladder::benchmark {

namespace {

/// The courses of eight weeks; what is perceived beside them has no trend.
drills::Demo eight_weeks(drills::Demo demo) {
    constexpr std::size_t weeks = 8;
    demo.sittings.clear();
    std::erase_if(demo.courses, [](const drills::DemoCourse& one) { return one.weeks.size() != weeks; });
    return demo;
}

/// Another person for each seed, drawn from what is assumed of people and of how they change.
void draw_person(drills::Demo& demo, const content::Content& content, Seed seed) {
    Random random{seed};
    for (drills::DemoCourse& course : demo.courses) {
        drills::Plan plan;
        plan.prior = drills::assumed_prior(content.substance(course.substance));
        const threshold::Curve truth = drills::drawn_assessor(plan, random).truth;
        const trend::Settings assumed;
        course.threshold_first_week = std::pow(10.0, truth.theta_log10);
        course.width_log10 = truth.width_log10;
        course.lapse = truth.lapse;
        course.day_sd_log10 = assumed.jitter_log10;
        do course.drift_log10_per_week = assumed.drift_sd_log10 * random.normal();
        while (std::abs(course.drift_log10_per_week) > assumed.drift_most_log10);
    }
}

/// Share of the sittings behind the practice whose band holds the line's true place.
double held_in(const drills::Followed& followed, const drills::DemoCourse& course) {
    trend::Settings settings;
    settings.scale = followed.scale;
    const trend::Trend found =
        trend::trend(followed.sittings, followed.prior, threshold::three_afc, settings);
    double held = 0.0;
    double asked = 0.0;
    for (const trend::Point& point : found.points) {
        if (point.practice) continue;
        const double weeks = followed.sittings[point.sitting].week - followed.sittings.front().week;
        const double truth = std::log10(course.threshold_first_week) + course.drift_log10_per_week * weeks;
        asked += 1.0;
        if (point.line.lower_log10 <= truth && truth <= point.line.upper_log10) held += 1.0;
    }
    return asked > 0.0 ? held / asked : 0.0;
}

/// Over the courses of one seed; nothing where a ladder around what was found cannot be mixed.
std::optional<double> held_by(const drills::Demo& demo, const content::Content& content, Seed seed) {
    journal::Journal journal = journal::Journal::in_memory();
    try {
        drills::make_demo(journal, content, demo, seed);
    } catch (const Refused&) {
        return std::nullopt;
    }
    double held = 0.0;
    const std::vector<drills::Followed> all = drills::followed(journal, journal.people().front().id);
    for (const drills::Followed& followed : all) {
        const auto course = std::find_if(
            demo.courses.begin(), demo.courses.end(),
            [&](const drills::DemoCourse& one) { return one.substance == followed.substance.id; });
        held += held_in(followed, *course) / static_cast<double>(all.size());
    }
    return held;
}

}  // namespace

DemoWeeks demo_weeks(std::size_t seeds, Seed first, std::size_t threads, bool as_drawn,
                     const std::function<void(std::size_t done)>& progress) {
    const content::Content content = content::load(content::locate(""));
    const drills::Demo shipped = eight_weeks(drills::load_demo(content::locate("")));
    std::vector<std::optional<double>> all(seeds);
    simulate::for_each_index(
        seeds, threads,
        [&](std::size_t i) {
            const Seed seed{first.value + i};
            drills::Demo demo = shipped;
            if (as_drawn) draw_person(demo, content, derived(seed, 77));
            all[i] = held_by(demo, content, seed);
        },
        progress);
    std::vector<double> held;
    for (const std::optional<double>& one : all)
        if (one) held.push_back(*one);
    return {simulate::mean_of(held), held.size()};
}

}  // namespace sipladder::benchmark

#pragma once

#include "drills/assessor.hpp"
#include "drills/detection.hpp"
#include "engine/content/content.hpp"
#include "engine/journal/journal.hpp"
#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

/// An invented person whose weeks are made by the simulated assessor through the real planner, drill and
/// journal.
namespace sipladder::drills {

/// What is true of the invented person for one substance, and when it is drilled.
struct DemoCourse {
    std::string substance;
    std::string ladder;
    std::string ingredient;
    Blinding blinding{};
    std::vector<int> weeks;         ///< 1 for the first
    int day{};                      ///< after the first evening's weekday, 0 to 6
    int minute{};                   ///< after the first evening's time of day
    double threshold_first_week{};  ///< on the substance's scale
    double drift_log10_per_week{};
    double day_sd_log10{};
    double width_log10{};
    double lapse{};
};

/// One evening of drills that a helper serves, from freshly mixed ladders.
struct DemoSittingPlan {
    int week{};    ///< 1 for the first
    int day{};     ///< after the first evening's weekday, 0 to 6
    int minute{};  ///< after the first evening's time of day
    std::vector<content::ProgrammeDrill> drills;
};

struct Demo {
    std::string person;
    std::string place;
    std::string note;  ///< says that all of it is invented
    Instant starts;
    std::string kitchen;
    std::string base;
    std::size_t presentations{};
    Millilitres cup;
    std::vector<DemoCourse> courses;        ///< the first is the one of demo_sitting
    std::vector<DemoSittingPlan> sittings;  ///< of what is perceived
};

/// Reads demo/demo.json of a content folder. @throws Refused with every problem found
Demo load_demo(const std::filesystem::path& content_folder);

/// Writes the invented person's weeks into a journal, one transaction a sitting. The same seed writes the
/// same rows, so a second time changes nothing.
void make_demo(journal::Journal& journal, const content::Content& content, const Demo& demo, Seed seed);

/// One whole sitting, with the truth that only a simulation can know.
struct DemoSitting {
    solution::MixPlan plan;
    solution::Readings readings;  ///< what the invented scale showed
    solution::MixedLadder mixed;
    detection::State state;  ///< finished
    Assessor assessor;
    threshold::Threshold found;

    bool interval_holds_truth() const;
};

/// The recipe of the demo sitting; the same for every seed.
solution::MixPlan demo_mix(const content::Content& content, const Demo& demo);
/// Every seed invents another person, drawn from the assumed prior, before bottles whose errors are drawn
/// from the uncertainties that the recipe claims. Who repeats it over many seeds learns how often the
/// interval is right.
DemoSitting demo_sitting(const content::Content& content, const Demo& demo, Seed seed);
/// The same with a recipe made before: planning does not depend on the seed.
DemoSitting demo_sitting(const content::Content& content, const Demo& demo, solution::MixPlan mix, Seed seed);
/// The same, row by row into a journal: person, mix, sitting, drill and every answer before the next cup.
DemoSitting demo_sitting(journal::Journal& journal, const content::Content& content, const Demo& demo,
                         Seed seed);

}  // namespace sipladder::drills

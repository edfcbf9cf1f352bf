// Nothing here is a shortcut: each sitting is planned for the demo kitchen, mixed with readings a little off
// the planned ones, kept, tasted through the drill and written row by row as the window does it. Only the
// person and the clock are invented.

#include "drills/demo.hpp"

#include "drills/demo_parts.hpp"
#include "drills/plans.hpp"
#include "drills/record.hpp"
#include "drills/record_notes.hpp"
#include "engine/content/field.hpp"
#include "engine/content/json_file.hpp"
#include "engine/problem.hpp"
#include "engine/solution/as_mixed.hpp"
#include "engine/solution/planner.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace sipladder::drills {

namespace {

using content::Field;
using demo_parts::day_ms;
using demo_parts::later;
using demo_parts::minute_ms;
using demo_parts::mixing_ms;
using demo_parts::simulated_readings;
using demo_parts::tasting_ms;

enum Use : std::uint64_t {
    person_use = 1,
    readings_use,
    drill_use,
    answers_use,
    first_sitting_use = 100,
    first_perceived_use = 10'000
};

constexpr int practice_sittings =
    2;  // on the first ladder; after them the ladder is put around what was found
constexpr std::size_t later_rungs = 5;
constexpr double later_ratio = 2.0;

DemoCourse read_course(const Field& field) {
    field.only({"substance", "ladder", "ingredient", "blinding", "weeks", "day", "minute", "truth"});
    DemoCourse course;
    course.substance = field.at("substance").id();
    course.ladder = field.at("ladder").id();
    course.ingredient = field.at("ingredient").id();
    course.blinding = field.at("blinding").one_of({"served", "shuffled_tray"}) == "served"
                          ? Blinding::served
                          : Blinding::shuffled_tray;
    for (const Field& week : field.at("weeks").each())
        course.weeks.push_back(static_cast<int>(week.integer(1, 52)));
    course.day = static_cast<int>(field.at("day").integer(0, 6));
    course.minute = static_cast<int>(field.at("minute").integer(0, 180));
    const Field truth = field.at("truth");
    truth.only({"threshold_first_week", "drift_log10_per_week", "day_sd_log10", "width_log10", "lapse"});
    course.threshold_first_week = truth.at("threshold_first_week").number(1e-6, 1000.0);
    course.drift_log10_per_week = truth.at("drift_log10_per_week").number(-0.2, 0.2);
    course.day_sd_log10 = truth.at("day_sd_log10").number(0.0, 0.5);
    course.width_log10 = truth.at("width_log10").number(0.1, 3.0);
    course.lapse = truth.at("lapse").number(0.0, 0.3);
    return course;
}

solution::MixPlan planned(const content::Content& content, const Demo& demo, const DemoCourse& course,
                          const solution::Ladder& ladder) {
    solution::Demand demand;
    demand.presentations = demo.presentations;
    demand.cup = demo.cup;
    return solution::plan({.ladder = ladder,
                           .substance = content.substance(course.substance),
                           .ingredient = content.ingredient(course.ingredient),
                           .base = content.base(demo.base),
                           .equipment = content.kitchen(demo.kitchen),
                           .demand = demand});
}

/// One step of the display or the graduation that a step is read on; 0 where the equipment does not say.
double resolution_of(const solution::Equipment& equipment, const std::string& id) {
    for (const solution::Balance& balance : equipment.balances)
        if (balance.id == id) return balance.resolution.value;
    for (const solution::Vessel& vessel : equipment.vessels)
        if (vessel.id == id) return vessel.graduation.value;
    return 0.0;
}

/// One sitting of an invented person, as far as it is known before the first cup.
struct Opening {
    Uuid person;
    Instant start;
    const solution::MixPlan& mix;
    const solution::Readings& readings;
    const solution::MixedLadder& mixed;
};

/// Keeps the mix, the sitting and the drill. @return the id of the drill
Uuid keep_opening(journal::Journal& journal, const Opening& opening, const detection::State& state,
                  Random& ids) {
    journal.append(journal::Fact{uuid_from(ids),
                                 opening.person,
                                 "mix",
                                 later(opening.start, -mixing_ms),
                                 record::body_of_mix(opening.mix, opening.readings, opening.mixed),
                                 {}});
    record::Circumstances circumstances;
    circumstances.closed_nose = state.plan.substance.closed_nose;
    circumstances.blinding = state.plan.blinding == Blinding::served ? "served" : "shuffled_tray";
    const Uuid sitting = uuid_from(ids);
    journal.append(
        journal::Sitting{sitting, opening.person, opening.start, record::body_of(circumstances), {}});
    const Uuid drill = uuid_from(ids);
    journal.append(journal::Drill{
        drill, sitting, "detection", opening.start, record::body_of(state.plan, state.seed), {}});
    return drill;
}

/// The simulated answers, each row in the journal before the state moves on.
detection::State keep_answers(journal::Journal& journal, detection::State state, const Uuid& drill,
                              const Assessor& assessor, Instant now, Random& answers, Random& ids) {
    int number = 0;
    while (!detection::is_finished(state)) {
        now = later(now, tasting_ms + state.plan.rest_s * 1000);
        detection::State after = taste(state, assessor, answers, now);
        for (const journal::Entry& entry : record::entries_between(state, after, drill, number, now, ids)) {
            journal.append(entry);
            ++number;
        }
        state = std::move(after);
    }
    return state;
}

/// Writes the sittings of one invented person.
class Weeks {
  public:
    Weeks(journal::Journal& journal, const content::Content& content, const Demo& demo, Seed seed)
        : journal_(journal), content_(content), demo_(demo), seed_(seed), random_(derived(seed, person_use)) {
        person_ = uuid_from(random_);
    }

    void write_person() {
        journal_.together([&] {
            journal_.append(journal::Person{person_, demo_.person, true, demo_.starts});
            record::CautionsRead read;
            for (const safety::Caution& caution : content_.cautions.texts)
                read.cautions.push_back(caution.id);
            journal_.append(journal::Fact{
                uuid_from(random_), person_, "cautions_read", demo_.starts, record::body_of(read), {}});
        });
    }

    void write_course(const DemoCourse& course) {
        std::vector<double> found_log10;
        for (const int week : course.weeks)
            journal_.together([&] { found_log10.push_back(write_sitting(course, week, found_log10)); });
    }

    void write_perceived(const DemoSittingPlan& sitting) {
        journal_.together([&] {
            demo_parts::write_sitting(journal_, content_, demo_, sitting, person_,
                                      derived(seed_, first_perceived_use + perceived_++));
        });
    }

  private:
    solution::Ladder ladder_for(const DemoCourse& course, const std::vector<double>& found_log10) const {
        const solution::Ladder& first = content_.ladder(course.ladder);
        if (static_cast<int>(found_log10.size()) < practice_sittings) return first;
        return solution::ladder_around(course.substance + "_own", course.substance, first.scale(),
                                       std::pow(10.0, found_log10.back()), later_rungs, later_ratio);
    }

    /// @return the threshold found, log10
    double write_sitting(const DemoCourse& course, int week, const std::vector<double>& found_log10) {
        Random random(derived(seed_, first_sitting_use + sittings_++));
        const Instant start =
            later(demo_.starts, (7 * (week - 1) + course.day) * day_ms + course.minute * minute_ms);
        const solution::MixPlan plan = planned(content_, demo_, course, ladder_for(course, found_log10));
        const solution::Readings readings = simulated_readings(plan, random);
        const solution::MixedLadder mixed = solution::as_mixed(plan, readings);
        DetectionOptions options;
        options.blinding = course.blinding;
        options.presentations = demo_.presentations;
        options.cup = demo_.cup;
        detection::State state =
            detection::begin(detection_plan(content_, mixed, options), Seed{random.bits()});

        const Uuid drill = keep_opening(journal_, {person_, start, plan, readings, mixed}, state, random);
        const Assessor assessor = person_of(course, week, mixed, random);
        state = keep_answers(journal_, std::move(state), drill, assessor, start, random, random);
        return detection::result(state).log10;
    }

    static Assessor person_of(const DemoCourse& course, int week, const solution::MixedLadder& mixed,
                              Random& random) {
        Assessor assessor;
        assessor.truth.theta_log10 = std::log10(course.threshold_first_week) +
                                     course.drift_log10_per_week * (week - 1) +
                                     course.day_sd_log10 * random.normal();
        assessor.truth.width_log10 = course.width_log10;
        assessor.truth.lapse = course.lapse;
        return with_drawn_mixing_errors(std::move(assessor), mixed, random);
    }

    journal::Journal& journal_;
    const content::Content& content_;
    const Demo& demo_;
    Seed seed_;
    Random random_;
    Uuid person_;
    std::uint64_t sittings_ = 0;
    std::uint64_t perceived_ = 0;
};

}  // namespace

namespace demo_parts {

solution::Readings simulated_readings(const solution::MixPlan& plan, Random& random) {
    constexpr double usual_miss_rel = 0.01;
    solution::Readings readings;
    for (std::size_t i = 0; i < plan.steps.size(); ++i) {
        const solution::Step& step = plan.steps[i];
        const double resolution = resolution_of(plan.request.equipment, step.with_id);
        if (!step.takes_reading || resolution <= 0.0) continue;
        const double shown = std::round(step.reading * (1.0 + usual_miss_rel * random.normal()) / resolution);
        readings[i] = std::max(shown, 1.0) * resolution;
    }
    return readings;
}

Instant later(Instant at, std::int64_t ms) {
    at.utc_ms += ms;
    at.monotonic_ms += ms;
    return at;
}

}  // namespace demo_parts

Demo load_demo(const std::filesystem::path& content_folder) {
    std::vector<Problem> problems;
    const std::filesystem::path file = content_folder / "demo" / "demo.json";
    const auto document = content::read_json_file(file, problems);
    if (!document) throw Refused(std::move(problems));
    const Field root(*document, file.string(), problems);
    root.only({"schema", "note", "person", "place", "starts", "kitchen", "base", "presentations", "cup_mL",
               "courses", "sittings"});
    root.at("schema").one_of({"sipladder-demo/1"});
    Demo demo;
    demo.note = root.at("note").text();
    demo.person = root.at("person").text();
    demo.place = root.at("place").text();
    const std::string starts = root.at("starts").text();
    demo.kitchen = root.at("kitchen").id();
    demo.base = root.at("base").id();
    demo.presentations = static_cast<std::size_t>(root.at("presentations").integer(1, 60));
    demo.cup = Millilitres{root.at("cup_mL").number(1.0, 50.0)};
    for (const Field& course : root.at("courses").each()) demo.courses.push_back(read_course(course));
    for (const Field& sitting : root.at("sittings").each())
        demo.sittings.push_back(demo_parts::read_sitting(sitting));
    if (!problems.empty()) throw Refused(std::move(problems));
    demo.starts = instant_from_iso8601(starts, root.at("starts").where());
    return demo;
}

void make_demo(journal::Journal& journal, const content::Content& content, const Demo& demo, Seed seed) {
    Weeks weeks(journal, content, demo, seed);
    weeks.write_person();
    for (const DemoCourse& course : demo.courses) weeks.write_course(course);
    for (const DemoSittingPlan& sitting : demo.sittings) weeks.write_perceived(sitting);
}

bool DemoSitting::interval_holds_truth() const {
    return found.lower_log10 <= assessor.truth.theta_log10 && assessor.truth.theta_log10 <= found.upper_log10;
}

solution::MixPlan demo_mix(const content::Content& content, const Demo& demo) {
    const DemoCourse& course = demo.courses.front();
    return planned(content, demo, course, content.ladder(course.ladder));
}

DemoSitting demo_sitting(const content::Content& content, const Demo& demo, Seed seed) {
    return demo_sitting(content, demo, demo_mix(content, demo), seed);
}

namespace {

/// The sitting before its first cup: readings, bottles, the drill begun, the person drawn.
DemoSitting begun_sitting(const content::Content& content, const Demo& demo, solution::MixPlan mix, Seed seed,
                          Random& answers) {
    Random readings_random(derived(seed, readings_use));
    solution::Readings readings = simulated_readings(mix, readings_random);
    solution::MixedLadder mixed = solution::as_mixed(mix, readings);
    DetectionOptions options;
    options.blinding = demo.courses.front().blinding;
    options.presentations = demo.presentations;
    options.cup = demo.cup;
    detection::State state =
        detection::begin(detection_plan(content, mixed, options), derived(seed, drill_use));
    Assessor assessor = drawn_assessor(state.plan, answers);
    return {std::move(mix), std::move(readings), std::move(mixed), std::move(state), std::move(assessor), {}};
}

}  // namespace

DemoSitting demo_sitting(const content::Content& content, const Demo& demo, solution::MixPlan mix,
                         Seed seed) {
    Random answers(derived(seed, answers_use));
    DemoSitting sitting = begun_sitting(content, demo, std::move(mix), seed, answers);
    Instant now = demo.starts;
    while (!detection::is_finished(sitting.state)) {
        now = later(now, tasting_ms + sitting.state.plan.rest_s * 1000);
        sitting.state = taste(std::move(sitting.state), sitting.assessor, answers, now);
    }
    sitting.found = detection::result(sitting.state);
    return sitting;
}

DemoSitting demo_sitting(journal::Journal& journal, const content::Content& content, const Demo& demo,
                         Seed seed) {
    Random answers(derived(seed, answers_use));
    Random ids(derived(seed, person_use));
    DemoSitting sitting = begun_sitting(content, demo, demo_mix(content, demo), seed, answers);
    const Uuid person = uuid_from(ids);
    journal.append(journal::Person{person, "Taster of seed " + std::to_string(seed.value) + " (invented)",
                                   true, demo.starts});
    const Uuid drill = keep_opening(
        journal, {person, demo.starts, sitting.plan, sitting.readings, sitting.mixed}, sitting.state, ids);
    sitting.state =
        keep_answers(journal, std::move(sitting.state), drill, sitting.assessor, demo.starts, answers, ids);
    sitting.found = detection::result(sitting.state);
    return sitting;
}

}  // namespace sipladder::drills

#include "drills/demo.hpp"

#include "drills/record.hpp"

#include <doctest/doctest.h>

#include <set>

using namespace sipladder;
using namespace sipladder::drills;

namespace {

const std::filesystem::path folder = std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content";

}  // namespace

TEST_CASE("the demo is eight weeks of an invented person, and each of its drills can be read and fitted") {
    const content::Content content = content::load(folder);
    const Demo demo = load_demo(folder);
    CHECK(demo.note.find("invented") != std::string::npos);
    journal::Journal journal = journal::Journal::in_memory();
    make_demo(journal, content, demo, Seed{8});
    REQUIRE(journal.people().size() == 1);
    const journal::Person person = journal.people().front();
    CHECK(person.invented);
    CHECK(person.name.find("invented") != std::string::npos);

    std::size_t wanted = 0;
    for (const DemoCourse& course : demo.courses) wanted += course.weeks.size();
    const auto sittings = journal.sittings(person.id);
    CHECK(sittings.size() == wanted + demo.sittings.size());
    CHECK(sittings.back().started.utc_ms - sittings.front().started.utc_ms > 49LL * 24 * 3600 * 1000);
    std::set<std::string> substances;
    std::set<Kind> kinds;
    for (const journal::Sitting& sitting : sittings)
        for (const journal::Drill& drill : journal.drills(sitting.id)) {
            const State state = record::read(drill, journal.entries(drill.id));
            CHECK(is_finished(state));
            kinds.insert(state.plan.kind);
            if (state.plan.kind != Kind::detection) continue;
            CHECK(detection::answered(state).size() == demo.presentations);
            substances.insert(state.plan.substance.id);
        }
    CHECK(substances.size() == 4);
    for (const Kind kind : {Kind::recognition, Kind::difference, Kind::naming, Kind::ranking, Kind::scaling,
                            Kind::balance, Kind::mouth_map, Kind::persistence})
        CHECK(kinds.contains(kind));
    std::size_t mixes = 0;
    for (const journal::Fact& fact : journal.facts(person.id))
        if (fact.kind == "mix") {
            CHECK_FALSE(record::read_mix(fact).ladder.levels.empty());
            ++mixes;
        }
    CHECK(mixes > wanted);
    const std::size_t rows = journal.rows();
    make_demo(journal, content, demo, Seed{8});  // the same rows again: nothing new
    CHECK(journal.rows() == rows);
}

TEST_CASE("a demo sitting is the same for the same seed and invents another person for another") {
    const content::Content content = content::load(folder);
    const Demo demo = load_demo(folder);
    const DemoSitting one = demo_sitting(content, demo, Seed{1});
    const DemoSitting again = demo_sitting(content, demo, Seed{1});
    const DemoSitting other = demo_sitting(content, demo, Seed{2});
    CHECK(one.state.trials == again.state.trials);
    CHECK(one.found.log10 == again.found.log10);
    CHECK(one.assessor.truth.theta_log10 != other.assessor.truth.theta_log10);
    CHECK(detection::cups(one.state) == 36);
    CHECK_FALSE(one.readings.empty());
    CHECK(detection::is_finished(one.state));
}

#include "gui/views/weeks.hpp"

#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

TEST_CASE("Weeks is empty with a word of why until a threshold is measured, and while a drill is left open") {
    AtWindow at;
    at.arrive();
    at.want(GoTo{Place::weeks});
    CHECK(weeks_view(at.app).rows.empty());
    CHECK(weeks_view(at.app).empty.find("No threshold is measured yet") == 0);
    at.want(GoTo{Place::prepare});
    at.prepare();
    at.start_drill();
    for (int i = 0; i < 4; ++i) {
        at.answer(static_cast<std::size_t>(i) % 3);
        at.go_to_answer();
    }
    // The program is ended with the drill open: what it adds must not be seen.
    at.app = at.begin(Seed{3});
    at.want(GoTo{Place::weeks});
    CHECK(weeks_view(at.app).rows.empty());
    CHECK(weeks_view(at.app).empty.find("left open") != std::string::npos);
    at.want(GoTo{Place::taste});
    at.want(CloseOpen{at.app.history->unfinished.front().drill});
    at.want(GoTo{Place::weeks});
    const WeeksView view = weeks_view(at.app);
    REQUIRE(view.rows.size() == 1);
    CHECK(view.rows.front().title.find("sucrose in ") == 0);
    CHECK(!view.rows.front().sentence.empty());
}

TEST_CASE("Weeks says of the demo's person what the trend over the journal says, on one axis of time") {
    AtWindow at;
    at.want(LookAtDemo{});
    at.want(GoTo{Place::weeks});
    const WeeksView view = weeks_view(at.app);
    const auto followed = drills::followed(*at.app.journal, *at.app.person);
    REQUIRE(view.rows.size() == followed.size());
    for (std::size_t i = 0; i < followed.size(); ++i) {
        trend::Settings settings;
        settings.scale = followed[i].scale;
        const trend::Trend trend =
            trend::trend(followed[i].sittings, followed[i].prior, threshold::three_afc, settings);
        const auto said = trend::words(trend, followed[i].sittings);
        REQUIRE(!said.empty());
        CHECK(view.rows[i].sentence == said.front());
        CHECK(view.rows[i].more.size() == said.size() - 1);
        CHECK(view.rows[i].chart.x.from == view.rows.front().chart.x.from);
        CHECK(view.rows[i].chart.x.to == view.rows.front().chart.x.to);
    }
}

TEST_CASE("lines are fitted once, and anew when the journal has grown or another person is there") {
    AtWindow at;
    at.want(LookAtDemo{});
    at.want(GoTo{Place::weeks});
    const auto first = at.app.weeks;
    REQUIRE(first);
    at.want(ToggleHelp{});
    at.want(GoTo{Place::weeks});
    CHECK(at.app.weeks == first);
    at.want(TypeName{"Ben"});
    at.want(AddPerson{});
    at.want(ReadCautions{});
    at.want(GoTo{Place::weeks});
    REQUIRE(at.app.weeks);
    CHECK(at.app.weeks != first);
    CHECK(at.app.weeks->entries.empty());
}

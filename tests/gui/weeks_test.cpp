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

TEST_CASE("two periods of the demo are compared in Weeks as the engine compares them, and their ends move") {
    AtWindow at;
    at.want(LookAtDemo{});
    at.want(GoTo{Place::weeks});
    at.want(ComparePeriods{0});
    REQUIRE(at.app.periods);
    const drills::Followed followed = at.app.weeks->entries.front().followed;
    const auto halves = trend::halves(followed.sittings.size(), trend::Settings{}.practice);
    REQUIRE(halves);
    CHECK(at.app.periods->earlier == halves->first);
    WeeksRowView row = weeks_view(at.app).rows.front();
    REQUIRE(row.periods);
    trend::Settings settings;
    settings.scale = followed.scale;
    CHECK(row.periods->sentences ==
          trend::words(trend::compare(followed.sittings, halves->first, halves->second, followed.prior,
                                      threshold::three_afc, settings),
                       followed.sittings, followed.scale));
    CHECK(row.periods->ends.front().date == followed.sittings[2].date);
    // The periods touch: neither goes beyond the other, nor beyond the sittings.
    CHECK(!row.periods->ends[1].can_go_on);
    CHECK(!row.periods->ends[2].can_go_back);
    CHECK(!row.periods->ends[3].can_go_on);
    at.want(MovePeriod{PeriodEnd::earlier_last, true});
    CHECK(at.app.periods->earlier == halves->first);
    at.want(MovePeriod{PeriodEnd::later_first, true});
    CHECK(at.app.periods->later.first == halves->second.first + 1);
    at.want(MovePeriod{PeriodEnd::earlier_first, false});
    CHECK(at.app.periods->earlier.first == 1);  // practice, if it is wanted
    CHECK(weeks_view(at.app).rows.front().periods->ends[1].can_go_on);
    at.want(ComparePeriods{0});
    CHECK(!at.app.periods);
    at.want(ComparePeriods{1});
    CHECK(weeks_view(at.app).rows[1].periods.has_value());
    CHECK(!weeks_view(at.app).rows[0].periods);
}

TEST_CASE("a goal stands in Weeks with how probable it is that it is reached") {
    AtWindow at;
    at.want(LookAtDemo{});
    at.want(GoTo{Place::weeks});
    const std::size_t before = weeks_view(at.app).rows.front().more.size();
    const drills::Followed followed = at.app.weeks->entries.front().followed;
    const auto said_of = [&](double goal) {
        const drills::record::Goal wanted{followed.substance.id, followed.sittings.back().conditions.base,
                                          goal};
        at.app.journal->append(journal::Fact{.id = uuid_from(at.app.chance),
                                             .person = *at.app.person,
                                             .kind = "goal",
                                             .at = at.now,
                                             .body = drills::record::body_of(wanted),
                                             .struck = {}});
        at.want(SwitchPerson{*at.app.person});
        at.want(GoTo{Place::weeks});
        return weeks_view(at.app).rows.front().more;
    };
    const auto easy = said_of(1000.0);
    REQUIRE(easy.size() == before + 1);
    CHECK(easy.back() == "Your goal is 1000 g/L: more than 99 of 100 that you are there.");
    CHECK(said_of(1e-6).back().find("fewer than 1 of 100") != std::string::npos);
}

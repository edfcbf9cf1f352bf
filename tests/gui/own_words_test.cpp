#include "drills/persistence.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

namespace {

std::string shipped_reason() {
    return tests::shipped_content()->cautions.no_ethanol_reasons.front();
}

}  // namespace

TEST_CASE("a person's own words are asked for, kept with the drill, and offered again the next time") {
    AtWindow at;
    at.arrive();
    at.prepare();
    for (std::size_t i = 0; i < offers().size(); ++i)
        if (offers()[i].kind == drills::Kind::scaling) at.want(ChooseOffer{i});
    at.want(ChooseBlinding{drills::Blinding::served});
    const TasteStartView before = *taste_view(at.app).start;
    const std::string against = before.against.empty() ? std::string() : before.against.front();
    CAPTURE(against);
    REQUIRE(before.asks_words);
    CHECK(!before.words.text.empty());  // the usual ones
    at.want(TypeWords{"flat, flat"});
    CHECK(!taste_view(at.app).start->can_start);
    CHECK(taste_view(at.app).start->against.front().find("alike") != std::string::npos);
    at.want(TypeWords{"flat, lively,  sharp , too sharp"});
    at.start_drill();
    REQUIRE(at.app.running);
    const std::vector<std::string> own{"flat", "lively", "sharp", "too sharp"};
    CHECK(at.app.running->state.plan.words == own);
    at.answer_what_is_asked(1);
    at.want(StopDrill{});
    at.want(LeaveFinding{});
    at.want(EndSitting{});
    at.app = at.begin(Seed{77});
    at.want(GoTo{Place::taste});
    for (std::size_t i = 0; i < offers().size(); ++i)
        if (offers()[i].kind == drills::Kind::scaling) at.want(ChooseOffer{i});
    at.want(ChooseMix{0});
    CHECK(taste_view(at.app).start->words.text == "flat, lively, sharp, too sharp");
}

TEST_CASE(
    "the finish of one's own wine is timed without a mix, within the cap, and never by who takes no "
    "alcohol") {
    AtWindow at;
    at.arrive();
    at.want(GoTo{Place::taste});
    at.want(ShowOwnWine{true});
    CHECK(!taste_view(at.app).start->wine.can_start);
    at.want(TypeWine{"the red of the year", "40"});
    CHECK(taste_view(at.app).start->wine.strength.problem.find("0.1 to 18") != std::string::npos);
    at.want(StartOwnWine{});
    CHECK(at.app.notice->is_problem);
    at.want(TypeWine{"the red of the year", "13,5"});
    CHECK(taste_view(at.app).start->wine.can_start);
    at.want(StartOwnWine{});
    REQUIRE(at.app.running);
    CHECK(drills::persistence::is_own_wine(at.app.running->state.plan));
    for (std::size_t number = 0; at.app.running && number < 40; ++number) {
        at.go_to_answer();
        if (at.app.running) at.answer_what_is_asked(number);
    }
    REQUIRE(taste_view(at.app).finding);
    CHECK(taste_view(at.app).finding->sentence.find("flavour lasts") != std::string::npos);
    AtWindow dry;
    dry.arrive("Ben", {shipped_reason()});
    dry.want(TypeWine{"", "12"});
    dry.want(StartOwnWine{});
    CHECK(!dry.app.running);
    CHECK(dry.app.notice->is_problem);
}

#include "drills/sheets/class_report.hpp"

#include "drills/classroom/invented.hpp"
#include "tests/classroom/classes.hpp"
#include "tests/support/pdf_pages.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;
using sheets::Paper;

namespace {

const sheets::ClassInfo info{"Evening class, invented", {}, {}, {}, {1'772'388'300'000, 60, 0}};

classroom::Assumed wide(const std::string& /*substance*/) {
    threshold::Prior prior;
    prior.mean_log10 = 0.4;
    prior.sd_log10 = 0.7;
    prior.name = "wide";
    return {prior, solution::Component::sweet};
}

struct Class {
    classroom::Service service;
    classroom::Ballots ballots;

    explicit Class(std::size_t people) : service(classroom::design(plan(people), Seed{7})) {
        ballots = classroom::invented_answers(service, {std::log10(2.5)}, Seed{1});
    }
    static classroom::ClassPlan plan(std::size_t people) {
        classroom::ClassPlan plan = class_of(people);
        for (std::size_t i = 0; i < 4; ++i) plan.drills[1].samples[i].right = i;
        return plan;
    }
    classroom::ClassResults results(const std::vector<std::string>& names) const {
        return classroom::results(ballots, service, names, wide, Seed{1});
    }
};

}  // namespace

TEST_CASE("the reports of a class repeat byte for byte, with a page for each person who was there") {
    Class evening(24);
    std::erase_if(evening.ballots.answers, [](const auto& answer) { return answer.seat == 5; });
    evening.ballots.no_shows = {5};
    const classroom::ClassResults found = evening.results({"Ada, invented"});
    for (const Paper paper : {Paper::a4, Paper::us_letter}) {
        const std::string report = sheets::class_report_pdf(found, evening.service, info, paper);
        CHECK(report == sheets::class_report_pdf(found, evening.service, info, paper));
        CHECK(pages_of(report) >= 2);
        CHECK(pages_of(sheets::personal_pages_pdf(found, evening.service, info, {}, paper)) == 23);
    }
}

TEST_CASE("a report for the wall does not change with anybody's name, and a personal page does") {
    const Class evening(6);
    const std::vector<std::string> wall = classroom::wall_names(8, Seed{3});
    const auto on_the_wall = evening.results(wall);
    sheets::ClassInfo named = info;
    named.names = {"Ada, invented", "Bo, invented"};
    CHECK(sheets::class_report_pdf(on_the_wall, evening.service, info, Paper::a4) ==
          sheets::class_report_pdf(on_the_wall, evening.service, named, Paper::a4));
    CHECK(sheets::personal_pages_pdf(evening.results({}), evening.service, info, wall, Paper::a4) !=
          sheets::personal_pages_pdf(evening.results(named.names), evening.service, named, wall, Paper::a4));
}

TEST_CASE("a class of one, and one whose ballots are all empty, are reported without a word too many") {
    const Class alone(1);
    CHECK(pages_of(sheets::class_report_pdf(alone.results({}), alone.service, info, Paper::a4)) >= 1);
    const classroom::ClassResults nobody =
        classroom::results({{}, {0}, {}}, alone.service, {}, wide, Seed{1});
    CHECK(pages_of(sheets::class_report_pdf(nobody, alone.service, info, Paper::a4)) == 1);
}

#include "drills/sheets/class_sheets.hpp"

#include "engine/problem.hpp"
#include "tests/classroom/classes.hpp"
#include "tests/support/example_plan.hpp"
#include "tests/support/pdf_pages.hpp"

#include <doctest/doctest.h>

#include <map>
#include <string>

using namespace sipladder;
using namespace sipladder::drills;
using namespace sipladder::tests;
using sheets::Paper;

namespace {

const sheets::ClassInfo info{"Evening class, invented",
                             {"Ada, invented"},
                             {"Spit, rinse, and stop whenever something feels off.", "Keep stocks apart."},
                             {"Spit, rinse, and stop whenever something feels off."},
                             {1'772'388'300'000, 60, 0}};

std::string refusal(const drills::LabelGrid& grid, Paper paper) {
    try {
        sheets::labels_pdf({{"417", {}}}, grid, paper, "labels", info.made);
    } catch (const Refused& refused) {
        return refused.what();
    }
    return "";
}

}  // namespace

TEST_CASE("every sheet of a class repeats byte for byte, and each ballot begins a page") {
    const classroom::Service service = classroom::design(class_of(24), Seed{7});
    for (const auto make :
         {sheets::ballots_pdf, sheets::key_pdf, sheets::pour_list_pdf, sheets::tray_maps_pdf})
        for (const Paper paper : {Paper::a4, Paper::us_letter}) {
            const std::string once = make(service, info, paper);
            CHECK(once == make(service, info, paper));
            CHECK(tests::pages_of(once) > 1);
        }
    classroom::ClassPlan short_plan{24, 2, 0, {which_cup(3)}};
    const classroom::Service brief = classroom::design(short_plan, Seed{7});
    CHECK(tests::pages_of(sheets::ballots_pdf(brief, info, Paper::a4)) == 26);
}

TEST_CASE("ballots and tray maps do not change with what a cup holds, and the key does") {
    const classroom::Service service = classroom::design(class_of(6), Seed{7});
    classroom::Service other = service;
    for (classroom::Seat& seat : other.seats) {
        for (classroom::Serving& serving : seat.servings[0])
            for (classroom::Cup& cup : serving.cups) cup.is_blank = !cup.is_blank;
        for (classroom::Serving& serving : seat.servings[1])
            for (classroom::Cup& cup : serving.cups) cup.sample = 3 - cup.sample;
    }
    CHECK(sheets::ballots_pdf(service, info, Paper::a4) == sheets::ballots_pdf(other, info, Paper::a4));
    CHECK(sheets::tray_maps_pdf(service, info, Paper::a4) == sheets::tray_maps_pdf(other, info, Paper::a4));
    CHECK(sheets::key_pdf(service, info, Paper::a4) != sheets::key_pdf(other, info, Paper::a4));
}

TEST_CASE("there is one label for every cup that the pour list wants") {
    const classroom::Service service = classroom::design(class_of(24), Seed{7});
    std::map<std::string, std::size_t> labels;
    for (const sheets::Label& label : sheets::cup_labels(service)) ++labels[label.large];
    std::size_t cups = 0;
    for (const classroom::PourLine& line : classroom::pour_lines(service)) {
        cups += line.cups;
        if (!line.code.digits.empty()) CHECK(labels[line.code.digits] == line.cups);
    }
    std::size_t all = 0;
    for (const auto& [large, count] : labels) all += count;
    CHECK(all == cups);
    CHECK(cups == classroom::costs(class_of(24)).cups);
    CHECK(tests::pages_of(sheets::labels_pdf(sheets::cup_labels(service), {}, Paper::a4, "labels",
                                             info.made)) == (cups + 23) / 24);
}

TEST_CASE("a label grid that cannot be is refused with what would do") {
    CHECK(refusal({}, Paper::a4).empty());
    CHECK(refusal({.columns = 4}, Paper::a4).find("reaches to 265.0") != std::string::npos);
    CHECK(refusal({.rows = 0}, Paper::a4).find("at least one column and row") != std::string::npos);
    CHECK(refusal({.across_mm = 60.0}, Paper::a4).find("overlap") != std::string::npos);
    CHECK(refusal({.width_mm = 5.0, .across_mm = 5.0}, Paper::a4).find("12 by 8") != std::string::npos);
}

TEST_CASE("bottle labels name every bottle once, tell no level, and forbid tasting a stock") {
    const solution::MixPlan plan = example_plan();
    const std::vector<sheets::Label> labels = sheets::bottle_labels(plan, info.made);
    REQUIRE(labels.size() == plan.levels.size() + plan.stocks.size() + 1);
    std::map<std::string, int> seen;
    for (const sheets::Label& label : labels) {
        CHECK(++seen[label.large] == 1);
        CHECK(label.lines.front().find("2026-03-01") != std::string::npos);
    }
    for (std::size_t i = 0; i < plan.levels.size(); ++i) CHECK(labels[i].lines == labels[0].lines);
    for (std::size_t i = 1; i < plan.levels.size(); ++i) CHECK(labels[i - 1].large < labels[i].large);
    for (std::size_t i = plan.levels.size(); i + 1 < labels.size(); ++i)
        CHECK(labels[i].lines.back().find("NOT for tasting") != std::string::npos);
}

TEST_CASE("every sheet of a class carries its cautions, and every label its own") {
    const classroom::Service service = classroom::design(class_of(4), Seed{7});
    sheets::ClassInfo bare = info;
    bare.cautions.clear();
    bare.taster_cautions.clear();
    for (const auto make :
         {sheets::ballots_pdf, sheets::key_pdf, sheets::pour_list_pdf, sheets::tray_maps_pdf})
        CHECK(make(service, info, Paper::a4) != make(service, bare, Paper::a4));
    for (const sheets::Label& label : sheets::cup_labels(service))
        CHECK(label.lines.back().find("spit") != std::string::npos);
    bool has_stock = false;
    for (const sheets::Label& label : sheets::bottle_labels(tests::example_plan(), info.made)) {
        const bool is_stock = label.large.find("stock") != std::string::npos;
        has_stock = has_stock || is_stock;
        CHECK(label.lines.back().find("keep from children") != std::string::npos);
        CHECK((label.lines.back().find("NOT for tasting") != std::string::npos) == is_stock);
    }
    CHECK(has_stock);
}

TEST_CASE("a bottle's label names what has to be known of its contents, alike on every bottle of a ladder") {
    solution::MixPlan plan = tests::example_plan();
    const auto cautions_with = [&](const std::string& word) {
        std::size_t found = 0;
        for (const sheets::Label& label : sheets::bottle_labels(plan, info.made))
            found += label.lines.back().find(word) != std::string::npos ? 1U : 0U;
        return found;
    };
    const std::size_t made = plan.levels.size() + plan.stocks.size();
    plan.request.ingredient.allergens.clear();
    CHECK(cautions_with("alcohol") + cautions_with("caffeine") + cautions_with("allergens") == 0);
    plan.request.ingredient.allergens = "Some hold sulphites.";
    CHECK(cautions_with("allergens") == made);
    plan.request.substance.component = solution::Component::bitter;  // whatever it is called
    CHECK(cautions_with("caffeine") == made);
    plan.request.substance.component = solution::Component::alcohol;
    plan.request.substance.scale = Scale::pct_vol;
    CHECK(cautions_with("alcohol") == made);  // not the base, which is water
    plan.request.base.ethanol = PercentVol{5.0};
    CHECK(cautions_with("alcohol") == made + 1);
}

TEST_CASE("volumes of a class are printed in US fluid ounces where that is wanted, and codes stay") {
    const classroom::Service service = classroom::design(class_of(4), Seed{7});
    sheets::ClassInfo ounces = info;
    ounces.volume = VolumeUnit::us_fl_oz;
    CHECK(sheets::pour_list_pdf(service, ounces, sheets::Paper::a4) !=
          sheets::pour_list_pdf(service, info, sheets::Paper::a4));
    CHECK(sheets::key_pdf(service, ounces, sheets::Paper::a4) ==
          sheets::key_pdf(service, info, sheets::Paper::a4));
    CHECK(sheets::tray_maps_pdf(service, ounces, sheets::Paper::a4) ==
          sheets::tray_maps_pdf(service, info, sheets::Paper::a4));
}

TEST_CASE("who sits a drill out has no cup of it on any sheet, and their ballot says so") {
    classroom::ClassPlan plan = class_of(4);
    const classroom::Service all = classroom::design(plan, Seed{7});
    plan.drills.front().sits_out = {1};
    const classroom::Service less = classroom::design(plan, Seed{7});
    CHECK(less.seats[1].servings.front().empty());
    CHECK(less.seats[0].servings.front().size() == all.seats[0].servings.front().size());
    const auto cups_of = [](const classroom::Service& service) {
        std::size_t cups = 0;
        for (const classroom::PourLine& line : classroom::pour_lines(service)) cups += line.cups;
        return cups;
    };
    CHECK(cups_of(less) < cups_of(all));
    CHECK(sheets::cup_labels(less).size() == cups_of(less));
    CHECK(classroom::costs(less.plan).cups == cups_of(less));
    CHECK(sheets::ballots_pdf(less, info, Paper::a4) != sheets::ballots_pdf(all, info, Paper::a4));
}

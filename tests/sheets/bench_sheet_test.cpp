#include "drills/sheets/bench_sheet.hpp"

#include "drills/sheets/bench_words.hpp"
#include "drills/sheets/surface.hpp"
#include "engine/problem.hpp"
#include "tests/support/example_plan.hpp"
#include "tests/support/pdf_pages.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

using namespace sipladder;
using drills::sheets::Paper;
using tests::example_info;
using tests::example_plan;
using tests::pages_of;

TEST_CASE("a bench sheet repeats byte for byte, and follows the moment it is given") {
    const std::string once = drills::sheets::bench_sheet_pdf(example_plan(), example_info(), Paper::a4);
    CHECK(once.starts_with("%PDF-"));
    CHECK(once == drills::sheets::bench_sheet_pdf(example_plan(), example_info(), Paper::a4));
    drills::sheets::SheetInfo later = example_info();
    later.made.utc_ms += 86'400'000;
    CHECK(once != drills::sheets::bench_sheet_pdf(example_plan(), later, Paper::a4));
}

TEST_CASE("a plan of 12 steps takes three pages at most, one of 60 steps goes on over more") {
    for (const Paper paper : {Paper::a4, Paper::us_letter}) {
        const std::size_t shorter =
            pages_of(drills::sheets::bench_sheet_pdf(example_plan(5), example_info(), paper));
        const std::size_t longer =
            pages_of(drills::sheets::bench_sheet_pdf(example_plan(29), example_info(), paper));
        CHECK(example_plan(5).steps.size() == 12);
        CHECK(example_plan(29).steps.size() == 60);
        CHECK(shorter >= 1);
        CHECK(shorter <= 3);
        CHECK(longer >= 4);
        CHECK(longer <= 7);
    }
}

TEST_CASE("each paper has its own page size") {
    const std::string a4 = drills::sheets::bench_sheet_pdf(example_plan(), example_info(), Paper::a4);
    const std::string letter =
        drills::sheets::bench_sheet_pdf(example_plan(), example_info(), Paper::us_letter);
    CHECK(a4.find("/MediaBox [ 0 0 595.276") != std::string::npos);
    CHECK(letter.find("/MediaBox [ 0 0 612 792 ]") != std::string::npos);
}

TEST_CASE("a sheet without steps, checks, costs or cautions is still a sheet") {
    solution::MixPlan plan = example_plan();
    plan.steps.clear();
    plan.checks.clear();
    plan.cautions.clear();
    plan.shopping.clear();
    plan.stocks.clear();
    CHECK(pages_of(drills::sheets::bench_sheet_pdf(plan, {}, Paper::a4)) == 1);
}

TEST_CASE("a step of any length stays on one page") {
    solution::MixPlan plan = example_plan();
    for (int i = 0; i < 60; ++i) plan.steps[3].text += " and once more with care";
    CHECK(pages_of(drills::sheets::bench_sheet_pdf(plan, example_info(), Paper::a4)) >= 2);
}

TEST_CASE("a sheet replaces an older one, and what cannot be written leaves nothing behind") {
    const tests::TemporaryFolder folder;
    const auto path = folder / "bench sheet.pdf";
    drills::sheets::write_whole(path, "an older one");
    drills::sheets::write_bench_sheet(example_plan(), example_info(), Paper::a4, path);
    CHECK(std::filesystem::file_size(path) > 5000);
    const auto nowhere = folder / "missing/sheet.pdf";
    CHECK_THROWS_AS(drills::sheets::write_bench_sheet(example_plan(), example_info(), Paper::a4, nowhere),
                    Failed);
    std::filesystem::create_directories(folder / "taken/by a folder");
    CHECK_THROWS_AS(
        drills::sheets::write_bench_sheet(example_plan(), example_info(), Paper::a4, folder / "taken"),
        Failed);
    std::size_t left = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path()))
        left += entry.path().extension() == ".part";
    CHECK(left == 0);
}

TEST_CASE("the words of a bench sheet say what was planned") {
    const solution::MixPlan plan = example_plan();
    CHECK(drills::sheets::sheet_title(plan) == "Bench sheet: tartaric acid in still water");
    CHECK(drills::sheets::mix_summary(plan) ==
          "6 levels, 1 stock, 14 steps. Every level to ±\u00a02.8\u00a0% or better (one standard "
          "uncertainty; wanted "
          "5.0\u00a0%); up to ±\u00a01.9\u00a0% of it is common to all levels.");
    CHECK(drills::sheets::uncertainty_percent(0.0283) == "2.8 %");
    CHECK(drills::sheets::uncertainty_percent(0.00041) == "0.04 %");
    CHECK(drills::sheets::uncertainty_percent(0.000061) == "< 0.01 %");
    CHECK(drills::sheets::range_percent(0.000061, 0.02) == "< 0.01 to 2.0 %");
    CHECK(drills::sheets::ingredient_text(plan.request.ingredient) ==
          "tartaric acid powder, food grade, 99.0 % by mass");
    CHECK(drills::sheets::base_text(plan.request.base) == "still water, hydrogen carbonate 120 mg/L");
    CHECK(drills::sheets::cost_text(example_info()) ==
          "36 cups · about 55 min · 0.40 g acid at most, if all is swallowed");
    CHECK(drills::sheets::cost_text({}).empty());
    CHECK(drills::sheets::amount_text(2.43) == "2.43");
    CHECK(drills::sheets::amount_text(0.1 + 0.2) == "0.3000");
    CHECK(drills::sheets::planned_text(plan.levels.front()) == "0.01004");
    CHECK(drills::sheets::reading_words(plan.steps[0]) == "scale showed");
    CHECK(drills::sheets::reading_words(plan.steps[2]) == "measured");
}

TEST_CASE("causes of uncertainty are summed up over the levels, the largest first, the negligible left out") {
    solution::MixPlan plan = example_plan();
    plan.levels[2].budget.push_back({"a breath of air", 0.0001, false});
    const auto parts = drills::sheets::contributions(plan);
    REQUIRE(parts.size() == 3);
    CHECK(parts[0].what == "syringe of 5 mL: reading");
    CHECK(drills::sheets::range_percent(parts[0].least_rel, parts[0].most_rel) == "0.33 to 2.0 %");
    CHECK(drills::sheets::range_percent(parts[1].least_rel, parts[1].most_rel) == "1.2 %");
}

TEST_CASE("every caution is on the sheet once") {
    const auto cautions = drills::sheets::all_cautions(example_plan(), example_info());
    CHECK(cautions.size() == 4);
    CHECK(drills::sheets::all_cautions(example_plan(), {}) == example_plan().cautions);
}

#include "tests/support/program.hpp"
#include "tests/support/temporary_folder.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <string>

using namespace sipladder::tests;
using nlohmann::json;

namespace {

/// An invented evening class: a sweet ladder, a naming task and a ranking.
json evening_class() {
    json rungs = json::array();
    const double levels[] = {0.5, 1.0, 2.0, 4.0, 8.0, 16.0};
    for (int i = 0; i < 6; ++i)
        rungs.push_back({{"bottle", std::string(1, static_cast<char>('P' + i))},
                         {"substance", "sucrose"},
                         {"level", levels[i]}});
    const json named = {{{"bottle", "A"}, {"substance", "sucrose"}, {"level", 10}, {"times", 2}},
                        {{"bottle", "B"}, {"substance", "tartaric_acid"}, {"level", 0.5}, {"times", 2}},
                        {{"bottle", "base"}, {"times", 2}}};
    const json ranked = {{{"bottle", "F"}, {"substance", "sucrose"}, {"level", 5}},
                         {{"bottle", "G"}, {"substance", "sucrose"}, {"level", 10}},
                         {{"bottle", "H"}, {"substance", "sucrose"}, {"level", 20}}};
    return {{"schema", "sipladder-class/1"},
            {"title", "Evening class, invented"},
            {"people", 24},
            {"drills",
             {{{"name", "Sugar"},
               {"question", "Which cup holds the sugar?"},
               {"task", "which_of_three"},
               {"cup_mL", 10},
               {"samples", rungs}},
              {{"name", "What is it?"},
               {"question", "What does the cup taste of?"},
               {"task", "naming"},
               {"cup_mL", 10},
               {"choices", {"sweet", "sour", "nothing"}},
               {"samples", named}},
              {{"name", "Order"},
               {"question", "Put the cups in order, weakest first."},
               {"task", "ranking"},
               {"cup_mL", 10},
               {"samples", ranked}}}}};
}

struct ClassRun {
    TemporaryFolder folder;

    Ran operator()(const json& plan, const std::string& more = "") const {
        const std::string file = (folder / "class.json").string();
        std::ofstream(file) << plan.dump(1);
        return cli("--json sheets --plan '" + file + "' --out '" + (folder / "out").string() +
                   "' --date 2026-03-05 " + more);
    }
};

}  // namespace

TEST_CASE("a class of 24 is put on paper whole, and its cups are counted") {
    const ClassRun class_run;
    const Ran ran = class_run(evening_class());
    CHECK(ran.err.empty());
    REQUIRE(ran.exit_code == 0);
    const json found = json::parse(ran.out);
    CHECK(found.at("cups_a_person") == 6 * 3 + 2 + 6 + 3);
    CHECK(found.at("cups") == 29 * 26);  // 24 people and two spare seats
    CHECK(found.at("files").size() == 5);
    for (const json& file : found.at("files")) {
        std::ifstream in(file.get<std::string>());
        std::string start(5, ' ');
        in.read(start.data(), 5);
        CHECK(start == "%PDF-");
    }
    CHECK(class_run(evening_class(), "--paper letter --seed 9").exit_code == 0);
}

TEST_CASE("a class that cannot be is refused by name, and nothing is written") {
    const ClassRun class_run;
    const auto refused_with = [&](const json& plan, const std::string& words) {
        const Ran ran = class_run(plan);
        CAPTURE(ran.err);
        CHECK(ran.exit_code == 1);
        CHECK(ran.err.find(words) != std::string::npos);
        CHECK(!std::filesystem::exists(class_run.folder / "out"));
    };
    json plan = evening_class();
    plan["people"] = 0;
    refused_with(plan, "/people");
    plan = evening_class();
    plan["drills"][0]["samples"][5]["level"] = 1e6;
    refused_with(plan, "/drills/0/samples/5/level");
    plan = evening_class();
    plan["drills"][1]["samples"][1]["substance"] = "moonlight";
    refused_with(plan, "no substance of the content");
    plan = evening_class();
    plan["drills"][1]["samples"][1]["times"] = 60;
    plan["drills"][1]["samples"][0]["times"] = 1;
    plan["drills"][1]["samples"].erase(2);
    refused_with(plan, "/drills");  // sixty sour cups cross the cap on them
    plan = evening_class();
    plan["labels"] = {{"columns", 9}, {"rows", 8},    {"width_mm", 64},  {"height_mm", 33},
                      {"left_mm", 9}, {"top_mm", 16}, {"across_mm", 64}, {"down_mm", 33}};
    refused_with(plan, "label grid");
    CHECK(cli("sheets --plan nowhere.json --out x --date 2026-03-05").exit_code == 1);
}

TEST_CASE("a class that carries its equipment is mixed with it by a script too") {
    const ClassRun class_run;
    std::ifstream file(std::filesystem::path{SIPLADDER_SOURCE_DIR} / "content/equipment.json");
    json kitchen = json::parse(file).at("equipment").at(0);
    kitchen["id"] = "own_kitchen";
    kitchen["name"] = "the instructor's kitchen";
    json plan = evening_class();
    plan["equipment"] = kitchen;
    plan["drills"] = {{{"name", "Order"},
                       {"question", "Put the cups in order, the least sweet first."},
                       {"task", "ranking"},
                       {"cup_mL", 10},
                       {"ladders", {"sucrose_ranking"}}}};
    const Ran ran = class_run(plan);
    CHECK(ran.err.empty());
    REQUIRE(ran.exit_code == 0);
    CHECK(json::parse(ran.out).at("files").size() == 7);  // bench sheet and bottle labels beside the five
    plan["equipment"]["balances"][0]["resolution_g"] = "fine";
    const Ran refused = class_run(plan);
    CHECK(refused.exit_code == 1);
    CHECK(refused.err.find("class.json: /equipment/balances/0/resolution_g: is \"fine\"") !=
          std::string::npos);
}

TEST_CASE("ballots that cannot be theirs are refused, and a good one becomes a table for panel") {
    const ClassRun class_run;
    REQUIRE(class_run(evening_class()).exit_code == 0);
    const std::string plan = " --plan '" + (class_run.folder / "class.json").string() + "' --out '" +
                             (class_run.folder / "tables").string() + "'";
    const std::string naming = (class_run.folder / "naming.csv").string();
    std::ofstream(naming) << "seat,drill,line,answer\n1,2,1,sweet\n1,2,2,nothing\n";
    const Ran ran = cli("--json ballots '" + naming + "'" + plan);
    CHECK(ran.err.empty());
    REQUIRE(ran.exit_code == 0);
    const json found = json::parse(ran.out);
    CHECK(found.at("answers") == 2);
    CHECK(found.at("no_shows").size() == 23);
    CHECK(found.at("gaps").size() == 6 + 6 + 1 - 2);
    CHECK(text_of(class_run.folder / "tables" / "threshold_1.csv") ==
          "assessor,concentration_g_per_L,presentations,correct\n");
    std::ofstream(naming) << "seat,drill,line,answer\n1,2,1,sour\n1,2,2,nothing\n";
    const std::string second = (class_run.folder / "second.csv").string();
    std::ofstream(second) << "seat,drill,line,answer\n1,2,1,sweet\n1,2,2,nothing\n";
    const Ran differs = cli("ballots '" + naming + "'" + plan + " --second '" + second + "'");
    CHECK(differs.exit_code == 1);
    CHECK(differs.err.find("seat 1, What is it?, line 1") != std::string::npos);
}

TEST_CASE(
    "a class's results are those of panel and rank on its tables, and its reports name nobody on the wall") {
    const TemporaryFolder folder;
    REQUIRE(cli("demo --seed 3 --out '" + (folder / "demo").string() + "'").exit_code == 0);
    const std::string ballots = "'" + (folder / "demo" / "class" / "ballots.csv").string() + "'";
    const std::string plan = " --plan '" + (folder / "demo" / "class" / "class.json").string() +
                             "' --seed 3 --out '" + (folder / "out").string() + "' --date 2026-03-05";
    const Ran ran = cli("--json ballots " + ballots + plan + " --for-the-wall");
    CHECK(ran.err.empty());
    REQUIRE(ran.exit_code == 0);
    const json found = json::parse(ran.out);
    REQUIRE(found.at("results").size() == 3);
    const json& threshold = found.at("results").at(0);
    const std::string tables = "'" + (folder / "out" / "threshold_1.csv").string() + "'";
    const json panel =
        json::parse(cli("--json panel " + tables + " --task 3-afc --prior substance:sucrose").out);
    CHECK(within(threshold.at("panel").at("log10").get<double>(), panel.at("panel").at("mean_log10"), 1e-9));
    REQUIRE(threshold.at("assessors").size() == 24);
    for (std::size_t i = 0; i < 24; ++i)
        CHECK(within(threshold.at("assessors").at(i).at("log10").get<double>(),
                     panel.at("assessors").at(i).at("log10"), 1e-9));
    const std::string orders = "'" + (folder / "out" / "ranks_3.csv").string() + "'";
    const json rank = json::parse(cli("--json rank " + orders + " --expected").out);
    const json& ranking = found.at("results").at(2);
    CHECK(within(ranking.at("friedman").at("F").get<double>(), rank.at("friedman").at("F"), 1e-9));
    CHECK(within(ranking.at("page").at("L").get<double>(), rank.at("page").at("L"), 1e-9));
    CHECK(within(ranking.at("kendall_w").get<double>(), rank.at("kendall_w"), 1e-9));
    const std::string report = text_of(folder / "out" / "class_report.pdf");
    CHECK(cli("--json ballots " + ballots + plan + " --for-the-wall").exit_code == 0);
    CHECK(report == text_of(folder / "out" / "class_report.pdf"));
    CHECK(cli("--json ballots " + ballots + plan).exit_code == 0);
    CHECK(report != text_of(folder / "out" / "class_report.pdf"));
}

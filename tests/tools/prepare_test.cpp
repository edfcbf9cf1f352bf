#include "tests/support/program.hpp"
#include "tests/support/temporary_folder.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>

/// The verb prepare: budgets, tree, covariance, costs, what happened at the bench, and what is refused.
namespace {

using namespace sipladder::tests;

const std::string sugar = "prepare --ladder sucrose_first --equipment kitchen_fine --cups 8 --cup-mL 10";

std::string records(const TemporaryFolder& folder, const std::string& text) {
    const std::string file = (folder / "readings.csv").string();
    std::ofstream(file) << text;
    return "'" + file + "'";
}

}  // namespace

TEST_CASE("prepare says what every level's uncertainty is made of, and how the levels hang together") {
    const auto plan = json_of(sugar);
    const auto& covariance = plan.at("covariance_rel");
    REQUIRE(covariance.size() == plan.at("levels").size());
    for (std::size_t i = 0; i < covariance.size(); ++i) {
        const auto& level = plan.at("levels").at(i);
        double squares = 0.0;
        for (const auto& line : level.at("budget")) squares += std::pow(line.at("u_rel").get<double>(), 2);
        CHECK(within(level.at("u_rel"), std::sqrt(squares), 0.0, 1e-6));
        CHECK(within(std::sqrt(covariance.at(i).at(i).get<double>()), level.at("u_rel").get<double>(), 0.0,
                     1e-9));
    }
    CHECK(plan.at("tree").at("nodes").at(0).at("kind") == "ingredient");
    CHECK(plan.at("costs").at("cups") == 38);  // 12 presentations of three, and two known ones
    CHECK(plan.at("costs").at("most_sugar_g").get<double>() > 4.0);
    CHECK_FALSE(plan.at("checks").empty());
    CHECK_FALSE(plan.at("keeping").empty());
    CHECK(plan.at("missed").empty());
}

TEST_CASE("prepare takes readings, skipped and spilled steps") {
    const TemporaryFolder folder;
    const auto planned = json_of(sugar);
    const double first = planned.at("steps").at(0).at("reading");
    const auto mixed = json_of(
        sugar + " --readings " +
        records(folder, "step,reading,happened\n1," + std::to_string(1.02 * first) + ",read\n3,,skipped\n"));
    CHECK(mixed.at("levels").size() == planned.at("levels").size() - 1);
    REQUIRE(mixed.at("missed").size() == 1);
    CHECK(mixed.at("missed").at(0).at("left_out") == true);
    const Ran wrong =
        cli(sugar + " --readings " + records(folder, "step,reading,happened\n1,0.6,lost\n99,1,read\n"));
    CHECK(wrong.exit_code == 1);
    CHECK(wrong.err.find("lost") != std::string::npos);
    CHECK(wrong.err.find("99") != std::string::npos);
}

TEST_CASE("prepare makes the usual ladders by name") {
    CHECK(json_of("prepare --ladder first:sucrose --equipment kitchen_fine --cups 8 --cup-mL 10")
              .at("levels")
              .size() == 6);
    CHECK(json_of("prepare --ladder fine:sucrose --equipment kitchen_fine --cups 8 --cup-mL 10")
              .at("levels")
              .size() == 8);
    const auto around =
        json_of("prepare --ladder around:sucrose:1.4 --equipment kitchen_fine --cups 8 --cup-mL 10");
    CHECK(around.at("levels").size() == 5);
    CHECK(around.at("levels").at(2).at("target") == 1.4);
    CHECK(cli("prepare --ladder around:sucrose --equipment kitchen_fine --cups 8 --cup-mL 10").exit_code ==
          1);
}

TEST_CASE("prepare plans for a class in batches") {
    const auto plan = json_of(sugar + " --people 40");
    CHECK(plan.at("levels").at(0).at("portions").get<int>() >= 320);
    bool several = false;
    for (const auto& node : plan.at("tree").at("nodes"))
        several = several || node.at("batches").get<int>() > 1;
    CHECK(several);
}

TEST_CASE("prepare refuses what is absurd, what crosses a cap and a water that eats the ladder, naming it") {
    const auto refused = [](const std::string& arguments, const std::string& words) {
        const Ran ran = cli("prepare --equipment kitchen_fine " + arguments);
        CAPTURE(arguments);
        CAPTURE(ran.err);
        CHECK(ran.exit_code == 1);
        CHECK(ran.out.empty());
        CHECK(ran.err.find(words) != std::string::npos);
    };
    refused("--ladder sucrose_first --cups 0 --cup-mL 10", "--cups");
    refused("--ladder sucrose_first --cups 1e9 --cup-mL 10", "--cups");
    refused("--ladder sucrose_first --cups nan --cup-mL 10", "--cups");
    refused("--ladder sucrose_first --cups 8 --cup-mL nan", "cup volume");
    refused("--ladder sucrose_first --cups 8 --cup-mL 10 --people 0", "--people");
    refused("--ladder sucrose_first --cups 8 --cup-mL 10 --spare -1", "spare");
    refused("--ladder sucrose_first --cups 8 --cup-mL 10 --want-u 7", "uncertainty");
    refused("--ladder ethanol_first --cups 40 --cup-mL 20", "ethanol_g");
    refused("--ladder tartaric_acid_first --cups 8 --cup-mL 10 --base still_water_hard",
            "hydrogen carbonate");
}

TEST_CASE("prepare writes a bench sheet and labels only with the day of mixing") {
    const TemporaryFolder folder;
    const std::string out = (folder / "sheets").string();
    CHECK(cli(sugar + " --out '" + out + "'").exit_code == 1);
    CHECK_FALSE(std::filesystem::exists(out));
    const auto plan = json_of(sugar + " --date 2026-11-26 --paper letter --out '" + out + "'");
    REQUIRE(plan.at("files").size() == 2);
    for (const auto& file : plan.at("files"))
        CHECK(std::filesystem::file_size(file.get<std::string>()) > 1000);
}

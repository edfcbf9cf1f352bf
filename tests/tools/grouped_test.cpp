#include "tests/support/program.hpp"
#include "tests/support/temporary_folder.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <filesystem>
#include <string>

/// The verbs for several people and several days: panel and trend.
namespace {

using namespace sipladder::tests;

/// Ten people, six levels, six answers each: the answers of hier_simulated in tests/published.
std::string ten_people() {
    const char* const right[] = {"140334", "202226", "123256", "333666", "335466",
                                 "336666", "133155", "414666", "124666", "030346"};
    std::string text = "assessor,concentration_g_per_L,presentations,correct\n";
    for (int person = 0; person < 10; ++person)
        for (int level = 0; level < 6; ++level)
            text.append("P")
                .append(std::to_string(person))
                .append(",")
                .append(std::to_string(1 << level))
                .append(",6,")
                .append(1, right[person][level])
                .append("\n");
    return text;
}

std::string day(int number) {
    return std::string("2026-03-").append(number < 10 ? "0" : "").append(std::to_string(number));
}

/// Weekly sittings; every level is tasted three times, and ever weaker ones are right.
std::string falling_weeks(int sittings, const std::string& extra_heading = "",
                          const std::string& extra = "") {
    std::string text =
        std::string("date,concentration_g_per_L,presentations,correct").append(extra_heading).append("\n");
    for (int k = 0; k < sittings; ++k)
        for (int level = 0; level < 6; ++level)
            text.append(day(1 + 4 * k))
                .append(",")
                .append(std::to_string(1 << level))
                .append(",4,")
                .append(level + k / 2 >= 4   ? "4"
                        : level + k / 2 >= 3 ? "3"
                                             : "1")
                .append(extra)
                .append("\n");
    return text;
}

}  // namespace

TEST_CASE("panel gives the class, each person, and a mixed model's answers beside them") {
    const TemporaryFolder folder;
    const auto found = json_of("panel " + csv(folder, ten_people()) + " --task 3-afc");
    const auto& mixed = found.at("mixed_model");
    // Computed here with R 4.2.2: tests/published/mixed_model.json, simulated_3afc.
    CHECK(within(mixed.at("log_likelihood").get<double>(), -82.9572907326926, 1e-5));
    CHECK(within(mixed.at("width_log10").get<double>(), 4.394449154672439 / 7.64446083751572, 0.0, 1e-5));
    const auto& panel = found.at("panel");
    const double mean = panel.at("mean_log10").get<double>();
    CHECK(panel.at("mean_lower").get<double>() < mean);
    CHECK(panel.at("mean_upper").get<double>() > mean);
    CHECK(within(mean, mixed.at("mean_log10").get<double>(), 0.06));
    CHECK(within(panel.at("sd_log10").get<double>(), mixed.at("sd_log10").get<double>(), 0.12));
    CHECK(panel.at("sd_lower").get<double>() > 0.0);
    CHECK(panel.at("unit") == "g/L");
    REQUIRE(found.at("assessors").size() == 10);
    CHECK(found.at("assessors").at(5).at("assessor") == "P5");
    CHECK(found.at("assessors").at(5).at("own_log10").get<double>() <
          found.at("assessors").at(0).at("own_log10").get<double>());
    const auto mixed_error = json_of("panel " + csv(folder, ten_people()) + " --u-shared-rel 0.1");
    CHECK(within(mixed_error.at("panel").at("mixing_sd").get<double>(), 0.1 / std::log(10.0), 1e-12));
    const auto spoken = cli("panel " + csv(folder, ten_people()));
    CHECK(spoken.exit_code == 0);
    CHECK(spoken.out.find("Panel threshold ") != std::string::npos);
    CHECK(spoken.out.find("P3: ") != std::string::npos);
}

TEST_CASE("trend gives every sitting, the change, what is noise, and where a stretch begins") {
    const TemporaryFolder folder;
    const auto found = json_of("trend " + csv(folder, falling_weeks(7)) + " --task 3-afc");
    REQUIRE(found.at("sittings").size() == 7);
    CHECK(found.at("sittings").at(0).at("date") == "2026-03-01");
    CHECK(found.at("sittings").at(1).at("practice") == true);
    CHECK(found.at("sittings").at(2).at("practice") == false);
    const auto& change = found.at("change_percent");
    CHECK(change.at("value").get<double>() < 0.0);
    CHECK(change.at("lower").get<double>() < change.at("value").get<double>());
    CHECK(found.at("probability_improved").get<double>() > 0.7);
    CHECK(found.at("noise_percent").get<double>() > 10.0);
    const auto all = json_of("trend " + csv(folder, falling_weeks(7)) + " --practice 0");
    CHECK(all.at("change").at("cut").get<double>() > 0.5);
    CHECK(all.at("sittings").at(0).at("own_log10") == found.at("sittings").at(0).at("own_log10"));
    // The same rows in another order and with a time of day are the same sittings.
    std::string two =
        "date,concentration_pct_vol,correct,lot,note\n"
        "2026-03-09,2,1,B,\n2026-03-01T19:05:00+01:00,1,0,A,a cold\n"
        "2026-03-09,1,0,B,\n2026-03-01T19:05:00+01:00,2,1,A,a cold\n";
    const auto stretched = json_of("trend " + csv(folder, two));
    REQUIRE(stretched.at("sittings").size() == 2);
    CHECK(stretched.at("stretches").at(1).at("why") == "new lot");
    CHECK(stretched.at("change_percent").is_null());
    const auto spoken =
        cli("trend " + csv(folder, falling_weeks(7)) + " --control " + csv(folder, falling_weeks(7)));
    CHECK(spoken.exit_code == 0);
    CHECK(spoken.out.find("since 2026-03-09") != std::string::npos);
    CHECK(spoken.out.find("Beyond the control: 0 %") != std::string::npos);
    const std::string picture = (folder.path() / "weeks.svg").string();
    CHECK(cli("trend " + csv(folder, falling_weeks(5)) + " --chart " + picture).exit_code == 0);
    CHECK(std::filesystem::file_size(picture) > 1000);
}

TEST_CASE("panel and trend refuse what is wrong in a file, each with its line") {
    const TemporaryFolder folder;
    const auto panel = cli("panel " + csv(folder,
                                          "assessor,concentration_g_per_L,presentations,correct\n"
                                          ",1,6,3\nP1,zero,6,3\nP2,1,6,7\n"));
    CHECK(panel.exit_code == 1);
    for (const char* part :
         {"line 2, assessor: is empty", "line 3, concentration_g_per_L", "line 4, correct"})
        CHECK(panel.err.find(part) != std::string::npos);
    CHECK(cli("panel " + csv(folder, "concentration_g_per_L,correct\n1,1\n")).err.find("assessor") !=
          std::string::npos);
    const auto trend = cli("trend " + csv(folder,
                                          "date,concentration_g_per_L,correct,mix\n"
                                          "1 March,1,1,a\n2026-02-30,1,1,a\n2026-03-01,1,1,a\n"
                                          "2026-03-01,2,1,b\n"));
    CHECK(trend.exit_code == 1);
    for (const char* part : {"line 2, date: is \"1 March\"; an ISO 8601 date: 2026-03-01", "line 3, date",
                             "line 5, mix: is \"b\" where the sitting began with \"a\"; one mix a sitting"})
        CHECK(trend.err.find(part) != std::string::npos);
    CHECK(cli("trend " + csv(folder, falling_weeks(3)) + " --practice -1").exit_code == 2);
    CHECK(cli("panel " + csv(folder, ten_people()) + " --width-between 0").exit_code == 1);
    CHECK(cli("panel " + csv(folder, ten_people()) + " --chart spread.pdf").exit_code == 1);
}

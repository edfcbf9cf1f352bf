#include "tests/support/program.hpp"
#include "tests/support/temporary_folder.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <array>
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

namespace {

/// Four people at 1, 2, 4 … 16, the clear cups right; each as sure as the cup is clear, or with a grade.
std::string told_by_four(const std::string& group, bool is_graded) {
    std::string text = group + (is_graded ? ",concentration_g_per_L,rating\n"
                                          : ",concentration_g_per_L,correct,certainty\n");
    for (int who = 0; who < 4; ++who)
        for (int round = 0; round < 2; ++round)
            for (int level = is_graded ? -1 : 0; level < 5; ++level) {
                const int clear = level - 1 - who / 2 + round;  // above 0: noticed
                text.append(group == "date" ? day(1 + 7 * who) : "P" + std::to_string(who)).append(",");
                text.append(level < 0 ? "0" : std::to_string(1 << level)).append(",");
                if (is_graded)
                    text.append(std::to_string(level < 0 || clear < 1 ? round : (clear > 3 ? 3 : clear)));
                else
                    text.append(clear > 0 || (level + who) % 3 == 0 ? "1," : "0,")
                        .append(clear > 2 ? "3" : (clear > 0 ? "2" : "1"));
                text.append("\n");
            }
    return text;
}

double own_sd(const Ran& ran, const char* list) {
    const nlohmann::json found = nlohmann::json::parse(ran.out);
    double sum = 0.0;
    for (const auto& one : found.at(list)) sum += one.at("own_sd").get<double>();
    return sum;
}

}  // namespace

TEST_CASE("panel and trend use certainty and grades, and leave certainty out where asked") {
    const TemporaryFolder folder;
    for (const auto& [verb, group, list] : {std::array<const char*, 3>{"panel ", "assessor", "assessors"},
                                            std::array<const char*, 3>{"trend ", "date", "sittings"}}) {
        CAPTURE(verb);
        const std::string sure = csv(folder, told_by_four(group, false));
        const auto told = cli(verb + sure + " --json");
        REQUIRE(told.exit_code == 0);
        const auto left = cli(verb + sure + " --certainty leave --json");
        REQUIRE(left.exit_code == 0);
        CHECK(own_sd(told, list) < 0.97 * own_sd(left, list));
        CHECK(cli(verb + sure + " --certainty perhaps").exit_code == 1);
        CHECK(cli(verb + sure + " --task rating:4").err.find("rating") != std::string::npos);
        const std::string graded = csv(folder, told_by_four(group, true));
        const auto looked = cli(verb + graded + " --task rating:4 --json");
        REQUIRE(looked.exit_code == 0);
        CHECK(own_sd(looked, list) > 0.0);
        CHECK(own_sd(looked, list) < 4.0 * 0.6);
        CHECK(cli(verb + graded + " --task rating:5").err.find("rating:4, the quick look") !=
              std::string::npos);
        if (std::string(group) == "assessor") {
            CHECK(nlohmann::json::parse(looked.out).at("mixed_model").is_null());
            CHECK(nlohmann::json::parse(told.out).at("mixed_model") ==
                  nlohmann::json::parse(left.out).at("mixed_model"));
        }
    }
    const auto wrong = cli("panel " + csv(folder,
                                          "assessor,concentration_g_per_L,presentations,correct,certainty\n"
                                          "A,1,2,1,3\nA,1,1,1,4\n"));
    CHECK(wrong.err.find("line 2, certainty: stands beside 2 presentations") != std::string::npos);
    CHECK(wrong.err.find("line 3, certainty") != std::string::npos);
    CHECK(cli("panel " + csv(folder, "assessor,concentration_g_per_L,rating\nA,0,3\n") + " --task rating:4")
              .err.find("holds blanks only") != std::string::npos);
}

TEST_CASE("trend follows a person of a journal, and says what it misses") {
    const TemporaryFolder folder;
    const std::string out = (folder / "demo").string();
    REQUIRE(cli("demo --out " + out).exit_code == 0);
    const std::string journal = out + "/demo.sipladder";
    const auto people = json_of("journal check " + journal);
    CHECK(people.at("problems").empty());
    // The demo's one sitting is practice; asked for none, it stands alone.
    const auto found =
        json_of("trend --journal " + journal + " --person 'Taster of seed 1 (invented)' --practice 0");
    REQUIRE(found.at("sittings").size() == 1);
    CHECK(found.at("sittings")[0].at("own_sd").get<double>() > 0.02);
    CHECK(found.at("unit") == "g/L");
    const auto nobody = cli("trend --journal " + journal + " --person Nobody");
    CHECK(nobody.exit_code == 1);
    CHECK(nobody.err.find("is nobody in this journal") != std::string::npos);
    CHECK(cli("trend --journal " + journal).err.find("FILE, or --journal FILE --person NAME") !=
          std::string::npos);
    CHECK(cli("trend").exit_code == 1);
}

TEST_CASE("trend compares two periods between dates, and says which dates are wrong") {
    const TemporaryFolder folder;
    const std::string weeks = csv(folder, falling_weeks(7));
    const auto found =
        json_of("trend " + weeks + " --earlier 2026-03-01:2026-03-15 --later 2026-03-20:2026-12-31");
    const auto& periods = found.at("periods");
    CHECK(periods.at("earlier").at("first") == "2026-03-01");
    CHECK(periods.at("earlier").at("last") <= "2026-03-15");
    CHECK(periods.at("later").at("first") >= "2026-03-20");
    CHECK(periods.at("change_log10").get<double>() < 0.0);
    CHECK(periods.at("lower").get<double>() < periods.at("upper").get<double>());
    CHECK(json_of("trend " + weeks).at("periods").is_null());
    CHECK(cli("trend " + weeks + " --earlier 2026-03-01:2026-03-15").err.find("--later") !=
          std::string::npos);
    const auto wrong = cli("trend " + weeks + " --earlier 2026-03-01 --later 2026-03-20:2026-04-20");
    CHECK(wrong.exit_code == 1);
    CHECK(wrong.err.find("two dates") != std::string::npos);
    const auto no_date = cli("trend " + weeks + " --earlier 2026-02-30:2026-03 --later 2026-03-20:2026-04");
    CHECK(no_date.err.find("is \"2026-02-30\"; a date, such as 2026-03-01") != std::string::npos);
    const auto empty =
        cli("trend " + weeks + " --earlier 2025-01-01:2025-02-01 --later 2026-03-20:2026-04-20");
    CHECK(empty.err.find("no sitting from 2025-01-01 to 2025-02-01") != std::string::npos);
    const auto crossed =
        cli("trend " + weeks + " --earlier 2026-03-01:2026-03-20 --later 2026-03-09:2026-04-20");
    CHECK(crossed.err.find("one after the other") != std::string::npos);
}

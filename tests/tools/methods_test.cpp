#include "tests/support/program.hpp"
#include "tests/support/temporary_folder.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

/// The verbs of the standard methods: discriminate, best-estimate, rank, and what fit knows beyond counts.
namespace {

using namespace sipladder::tests;

long lines_of(const std::string& text) {
    return std::count(text.begin(), text.end(), '\n');
}

}  // namespace

TEST_CASE("discriminate gives the exact tail, the smallest counts and d' with its interval") {
    // 15 of 30 in a triangle: tail computed here with R 4.2.2; counts as in FAO Fisheries Technical Paper
    // 348.
    const auto found = json_of("discriminate --task triangle --correct 15 --of 30");
    CHECK(within(found.at("p_value"), 0.0434822757279195, 0.0, 1e-10));
    CHECK(found.at("minimum_correct").at("0.05") == 15);
    CHECK(found.at("minimum_correct").at("0.01") == 17);
    CHECK(found.at("minimum_correct").at("0.001") == 19);
    CHECK(within(found.at("d_prime").at("value"), 1.4662627800557, 1e-7));
    CHECK(found.at("d_prime").at("lower") == 0.0);
    CHECK(found.at("d_prime").at("upper").get<double>() > 1.4662);
    const auto all = json_of("discriminate --task 3-afc --correct 12 --of 12");
    CHECK(all.at("d_prime").at("value").is_null());
    CHECK(all.at("d_prime").at("lower").get<double>() > 0.0);
    CHECK(json_of("discriminate --task 2-afc --correct 3 --of 3").at("minimum_correct").at("0.05").is_null());
    CHECK(cli("discriminate --task 2-afc --correct 9 --of 12").out.find("p = 0.073") != std::string::npos);
}

TEST_CASE("discriminate refuses counts that cannot be") {
    CHECK(cli("discriminate --task triangle --correct 13 --of 12").exit_code == 1);
    CHECK(cli("discriminate --task triangle --correct -1 --of 12").exit_code == 1);
    CHECK(cli("discriminate --task triangle --correct 1.5 --of 12").exit_code == 1);
    CHECK(cli("discriminate --task triangle --correct 0 --of 0").exit_code == 1);
    CHECK(cli("discriminate --task triangle --correct nan --of 12").exit_code == 1);
    CHECK(cli("discriminate --task four --correct 1 --of 12").exit_code == 1);
    CHECK(cli("discriminate --task triangle --correct 4").exit_code == 2);
}

TEST_CASE("best-estimate gives each assessor's end and the group's geometric mean") {
    const TemporaryFolder folder;
    const std::string file = csv(folder,
                                 "# columns may stand in any order\n"
                                 "assessor,10_g_per_L,1_g_per_L,100_g_per_L\r\n"
                                 "\"Ann, the first\",1,1,1\r\n"
                                 "Ben,1,0,1\n"
                                 "Cy,0,1,1\n"
                                 "Di,1,1,0\n");
    const auto found = json_of("best-estimate " + file);
    const auto& people = found.at("assessors");
    REQUIRE(people.size() == 4);
    CHECK(people.at(0).at("assessor") == "Ann, the first");
    CHECK(people.at(0).at("end") == "below");
    CHECK(within(people.at(0).at("log10"), -0.5, 1e-12));
    CHECK(people.at(1).at("end") == "inside");
    CHECK(within(people.at(1).at("value"), std::sqrt(10.0), 1e-12));
    CHECK(within(people.at(2).at("log10"), 1.5, 1e-12));
    CHECK(people.at(3).at("end") == "above");
    CHECK(within(people.at(3).at("log10"), 2.5, 1e-12));
    CHECK(within(found.at("group").at("log10"), 1.0, 1e-12));
    CHECK(within(found.at("group").at("value"), 10.0, 1e-9));
    CHECK(within(found.at("group").at("sd_log10"), std::sqrt((2.25 + 0.25 + 0.25 + 2.25) / 3.0), 1e-12));
    CHECK(found.at("unit") == "g_per_L");
    CHECK(cli("best-estimate " + file).out.find("Mind: 1 below and 1 above") != std::string::npos);
    const auto one = json_of("best-estimate " + csv(folder, "assessor,1,2\nA,0,1\n"));
    CHECK(one.at("group").at("sd_log10").is_null());
    CHECK(one.at("unit").is_null());
}

TEST_CASE("best-estimate names every line and column that is wrong") {
    const TemporaryFolder folder;
    const auto refusal = [&](const std::string& text) {
        const Ran ran = cli("best-estimate " + csv(folder, text));
        CHECK(ran.exit_code == 1);
        CHECK(ran.out.empty());
        return ran.err;
    };
    const std::string cells = refusal("assessor,1,2,4\nA,0,1,2\nA,0,1,1\nB,0,,1\n\"C\",\"0,5\",1,1\n");
    CHECK(lines_of(cells) == 4);
    CHECK(cells.find("line 2, 4") != std::string::npos);
    CHECK(cells.find("line 3, assessor") != std::string::npos);
    CHECK(cells.find("line 4, 2") != std::string::npos);
    CHECK(cells.find("decimal point") != std::string::npos);
    CHECK(refusal("assessor,weak,2\nA,0,1\n").find("names no concentration") != std::string::npos);
    CHECK(refusal("assessor,2,2.0\nA,0,1\n").find("two columns for 2") != std::string::npos);
    CHECK(refusal("assessor,2_g_per_L,3_pct_vol\nA,0,1\n").find("mixes units") != std::string::npos);
    CHECK(refusal("assessor,2\nA,0\n").find("two or more columns") != std::string::npos);
    CHECK(refusal("1,2\n0,1\n").find("assessor") != std::string::npos);
    CHECK(refusal("assessor,1,2\n").find("at least one row") != std::string::npos);
    CHECK(refusal("").find("heading row") != std::string::npos);
}

TEST_CASE("rank gives Friedman, Kendall's W and, where an order was expected, Page's L") {
    const TemporaryFolder folder;
    // 10 students, three kinds of lesson (documentation of scipy.stats.page_trend_test), ratings as ranks.
    const std::string lessons = csv(folder,
                                    "assessor,tutorial,lecture,seminar\n"
                                    "a,1.5,3,1.5\nb,1.5,1.5,3\nc,1.5,1.5,3\nd,1,3,2\ne,1.5,3,1.5\n"
                                    "f,1,2,3\ng,1,2,3\nh,1,2.5,2.5\ni,1,2,3\nj,1,2,3\n");
    const auto found = json_of("rank " + lessons + " --expected");
    CHECK(found.at("page").at("L") == 133.5);
    CHECK(within(found.at("page").at("p"), 0.00181911619481278, 0.0, 1e-9));
    CHECK(found.at("page").at("p_from") == "exact");
    CHECK(found.at("page").at("p_given_ties").get<double>() < 0.00181911619481278);
    CHECK(found.at("friedman").at("df") == 2);
    CHECK(found.at("friedman").at("ties").is_string());
    const double w = found.at("kendall_w");
    CHECK(within(w, found.at("friedman").at("F").get<double>() / 20.0, 1e-12));
    CHECK(found.at("samples").at(1).at("rank_sum") == 22.5);
    CHECK(json_of("rank " + lessons).at("page").is_null());
    CHECK(cli("rank " + lessons + " --expected").out.find("p = 0.0018, exact") != std::string::npos);
}

TEST_CASE("rank refuses what is no ranking, naming line and column") {
    const TemporaryFolder folder;
    const Ran ran = cli("rank " + csv(folder, "a,b,c\n1,2,4\n0,1,2\n1,x,2\n1,2,3\n"));
    CHECK(ran.exit_code == 1);
    CHECK(lines_of(ran.err) == 3);
    CHECK(ran.err.find("line 2, c: is \"4\"; a number from 1 to 3 is wanted") != std::string::npos);
    CHECK(cli("rank " + csv(folder, "a\n1\n")).exit_code == 1);
    CHECK(cli("rank " + csv(folder, "a,b\n")).exit_code == 1);
    CHECK(cli("rank " + csv(folder, "assessor,a,b\nx,1,2\nx,2,1\n")).err.find("row already") !=
          std::string::npos);
    CHECK(cli("rank /nowhere.csv").exit_code == 1);
}

TEST_CASE("fit by greatest likelihood says how well the curve fits, by bootstrap, and how sure it is") {
    const TemporaryFolder folder;
    // Simulated person 1 of tests/published/psychometric_likelihood.json, computed here with R 4.2.2.
    const std::string person = csv(folder,
                                   "concentration_g_per_L,presentations,correct\n"
                                   "0.5,12,4\n1,12,7\n2,12,8\n4,12,11\n8,12,12\n16,12,12\n32,12,12\n");
    const auto fit = json_of("fit " + person + " --method likelihood --bootstrap 200 --seed 4");
    CHECK(within(fit.at("threshold").at("log10"), 0.227187520586593, 1e-6));
    CHECK(within(fit.at("slope_per_log10"), 5.47306173463318, 0.0, 1e-4));
    CHECK(within(fit.at("deviance"), 1.30107931364257, 1e-6));
    CHECK(fit.at("deviance_df") == 5);
    CHECK(within(fit.at("standard_errors").at("observed").at("theta"), 0.116349968897283, 0.0, 1e-3));
    CHECK(within(fit.at("standard_errors").at("expected").at("theta"), 0.110397066701777, 0.0, 1e-3));
    CHECK(fit.at("deviance_p").at("bootstrap").get<double>() > 0.5);
    CHECK(within(fit.at("deviance_p").at("chi_squared"), 0.9345, 0.001));
    CHECK(fit.at("separable") == false);
    CHECK(fit == json_of("fit " + person + " --method likelihood --bootstrap 200 --seed 4"));
    CHECK(cli("fit " + person + " --method likelihood --bootstrap 50").out.find("by bootstrap") !=
          std::string::npos);
    CHECK(json_of("fit " + person + " --method likelihood --bootstrap 0").count("deviance_p") == 0);
    CHECK(cli("fit " + person + " --method likelihood --prior flat").exit_code == 1);
    CHECK(cli("fit " + person + " --method likelihood --bootstrap 1e9").exit_code == 2);
    CHECK(cli("fit " + person + " --shape square").exit_code == 1);
}

TEST_CASE("fit of a step says that no steepness can be told") {
    const TemporaryFolder folder;
    const auto fit = json_of(
        "fit " +
        csv(folder, "concentration_pct_vol,presentations,correct\n1,12,4\n2,12,4\n4,12,12\n8,12,12\n") +
        " --method likelihood --bootstrap 50");
    CHECK(fit.at("separable") == true);
    CHECK(fit.at("slope_per_log10").is_null());
    CHECK(fit.at("threshold").at("sd_log10").is_null());
    CHECK(fit.at("threshold").at("unit") == "pct_vol");
    CHECK(fit.at("warnings").size() == 1);
    CHECK(fit.at("curve").empty());
}

TEST_CASE("fit knows the Weibull shape, whose middle is the threshold") {
    const TemporaryFolder folder;
    // Beetles (Bliss 1935), doses from their logarithms; complementary log-log, computed here with R 4.2.2.
    const auto fit = json_of("fit " +
                             csv(folder,
                                 "concentration_g_per_L,presentations,correct\n"
                                 "49.05689,59,6\n52.99075,60,13\n56.91150,62,18\n60.84150,56,28\n"
                                 "64.75900,63,52\n68.69102,59,53\n72.61060,62,61\n76.54196,60,60\n") +
                             " --task yes-no --method likelihood --shape weibull --bootstrap 0");
    CHECK(within(fit.at("slope_per_log10"), 22.0411698207188, 0.0, 1e-4));
    CHECK(within(fit.at("deviance"), 3.44643873302452, 1e-3));
    CHECK(within(fit.at("threshold").at("log10"),
                 (std::log(std::log(2.0)) + 39.5723106060676) / 22.0411698207188, 1e-5));
}

TEST_CASE("fit takes graded single cups with blanks among them") {
    const TemporaryFolder folder;
    std::string cups = "concentration_g_per_L,rating\n";
    const auto add = [&](const std::string& level, const std::string& grades) {
        for (const char grade : grades) cups += level + "," + grade + "\n";
    };
    add("0", "000100010020");
    add("1", "0010");
    add("2", "0112");
    add("4", "1230");
    add("8", "3233");
    const std::string file = csv(folder, cups);
    const auto fit = json_of("fit " + file + " --task rating:4");
    CHECK(fit.at("threshold").at("lower").get<double>() < fit.at("threshold").at("value").get<double>());
    CHECK(fit.at("threshold").at("value").get<double>() > 1.0);
    CHECK(fit.at("threshold").at("value").get<double>() < 8.0);
    CHECK(fit.at("cut_points").size() == 3);
    CHECK(fit.at("curve").size() == 61);
    CHECK(fit.at("prior").get<std::string>().find("assumed, wide") != std::string::npos);
    CHECK(fit.at("spacing").get<double>() > 0.3);
    CHECK(fit.at("wander_per_cup").get<double>() > 0.0);
    CHECK(fit.at("deviance_df") == 5 * 3 - 4);
    const auto pooled = json_of("fit " + file + " --task rating:4 --unordered");
    CHECK(within(pooled.at("threshold").at("log10"), fit.at("threshold").at("log10"), 0.1));
    CHECK_FALSE(pooled.contains("wander_per_cup"));
    const auto line = json_of("fit " + file + " --task rating:4 --method likelihood");
    CHECK(within(line.at("threshold").at("log10"), fit.at("threshold").at("log10"), 0.3));
    CHECK(cli("fit " + file + " --task rating:3").err.find("a number from 0 to 2 is wanted") !=
          std::string::npos);
    CHECK(cli("fit " + file + " --task rating:1").exit_code == 1);
    CHECK(cli("fit " + file + " --task rating:4 --shape weibull").exit_code == 1);
    CHECK(cli("fit " + file + " --task rating:4 --method likelihood --prior flat").exit_code == 1);
    CHECK(cli("fit " + csv(folder, "concentration_g_per_L,rating\n1,0\n2,1\n") + " --task rating:2")
              .err.find("holds no blanks") != std::string::npos);
    CHECK(cli("fit " + csv(folder, "concentration_g_per_L,rating\n0,0\n0,1\n") + " --task rating:2")
              .exit_code == 1);
}

TEST_CASE("no mangled file crashes a verb or is taken silently") {
    const TemporaryFolder folder;
    std::mt19937_64 engine(20250301);
    const std::string whole =
        "# a note\nassessor,concentration_g_per_L,presentations,correct\na,1,3,1\nb,\"2\",3,2\nc,4,3,3\n";
    const std::string bytes = ",\"\n\r#-.e9\x00\xff 0";
    for (int i = 0; i < 12; ++i) {
        std::string text = i % 2 == 0 ? whole.substr(whole.find("conc")) : whole;
        for (int k = 0; k < 1 + i / 3; ++k)
            text[engine() % text.size()] = bytes[engine() % (bytes.size() - 1)];
        const std::string file = csv(folder, text);
        for (const char* verb : {"fit", "best-estimate", "rank"}) {
            const Ran ran = cli(std::string(verb) + " " + file);
            CAPTURE(text);
            CAPTURE(verb);
            CHECK((ran.exit_code == 0 || ran.exit_code == 1));
            CHECK((ran.exit_code == 0) == ran.err.empty());
        }
    }
}

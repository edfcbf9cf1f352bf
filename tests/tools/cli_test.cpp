#include "tests/support/program.hpp"
#include "tests/support/temporary_folder.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>

/// The program as a script sees it: exit codes, one line a problem, JSON keys.
namespace {

using namespace sipladder::tests;

const std::string thin_answers =
    "concentration_g_per_L,presentations,correct\n"
    "0.5,12,3\n1,12,3\n2,12,4\n4,12,9\n8,12,7\n16,12,12\n32,12,12\n";

}  // namespace

TEST_CASE("convert gives 40 % vol as 33.300 % mass") {
    // OIML R 22 (1975), general formula; the alcoholometric table prints 33.30.
    CHECK(cli("convert '40 pct_vol' pct_mass").out == "33.300 pct_mass\n");
    CHECK(within(json_of("convert '40 pct_vol' pct_mass").at("value"), 33.300, 0.0005));
}

TEST_CASE("dilute conserves mass exactly") {
    const auto d = json_of("dilute --from '43 pct_vol' --to '13.5 pct_vol' --volume-mL 750");
    CHECK(d.at("from_g").get<double>() + d.at("water_g").get<double>() == d.at("total_g").get<double>());
    CHECK(within(d.at("from_mL"), 750 * 13.5 / 43, 1e-6));
}

TEST_CASE("wrong usage leaves with 2, a refusal with 1 and one line that says what would be right") {
    CHECK(cli("").exit_code == 2);
    CHECK(cli("convert --nonsense").exit_code == 2);
    // Each option with a list of its values holds to it, and its help shows the list.
    for (const char* wrong : {"--order sideways", "--blinding none", "--prior mine"})
        CHECK(cli(std::string("simulate --drill sucrose_first --assessors 2 ") + wrong).exit_code == 2);
    for (const char* verb : {"prepare", "sheets", "ballots"})
        CHECK(cli(std::string(verb) + " --help").out.find("{a4,letter}") != std::string::npos);
    CHECK(cli("--help").exit_code == 0);
    const Ran refused = cli("convert '120 pct_vol' pct_mass");
    CHECK(refused.exit_code == 1);
    CHECK(refused.out.empty());
    CHECK(refused.err.find("; ") != std::string::npos);
    CHECK(cli("dilute --from '12 pct_vol' --to '40 pct_vol' --volume-mL 100").exit_code == 1);
}

TEST_CASE("fit agrees with brute-force integration in R") {
    // bayes_grid_3afc, logistic, lapse 0.02: computed here with R 4.2.2 by brute-force integration.
    const TemporaryFolder folder;
    const auto fit = json_of(
        "fit " + csv(folder, thin_answers) +
        " --task 3-afc --prior normal:0.6,0.6 --prior-slope lognormal:1.6094379124341,0.6 --lapse 0.02");
    CHECK(within(fit.at("threshold").at("log10"), 0.755547104206035, 2e-4));
    CHECK(within(fit.at("threshold").at("sd_log10"), 0.123220552162747, 2e-4));
    CHECK(within(std::log10(fit.at("threshold").at("lower").get<double>()), 0.514270468243417, 5e-4));
    CHECK(within(std::log10(fit.at("threshold").at("upper").get<double>()), 0.993263554189339, 5e-4));
    CHECK(within(fit.at("log_evidence"), -42.5452938963362, 0.002));
}

TEST_CASE("fit takes one row a trial and pools it") {
    const TemporaryFolder folder;
    std::string trials = "concentration_g_per_L,correct,certainty\n# a note\n";
    for (int i = 0; i < 4; ++i) trials += "1,0,1\n2,1,2\n4,1,3\n";
    const auto from_trials = json_of("fit " + csv(folder, trials) + " --task 3-afc --certainty leave");
    const auto from_counts =
        json_of("fit " + csv(folder, "concentration_g_per_L,presentations,correct\n1,4,0\n2,4,4\n4,4,4\n") +
                " --task 3-afc");
    CHECK(from_trials.at("threshold") == from_counts.at("threshold"));
    CHECK_FALSE(from_trials.at("prior").get<std::string>().empty());
}

TEST_CASE("fit listens to certainty where the taster could not know the level") {
    const TemporaryFolder folder;
    std::string trials = "concentration_g_per_L,correct,certainty\n";
    for (int i = 0; i < 4; ++i) trials += "1,0,1\n1,1,1\n2,1,2\n2,1,1\n4,1,3\n8,1,3\n";
    const std::string file = csv(folder, trials);
    const auto with = json_of("fit " + file + " --u-shared-rel 0.02");
    const auto without = json_of("fit " + file + " --certainty leave --u-shared-rel 0.02");
    CHECK(with.at("threshold").at("sd_log10").get<double>() <
          0.95 * without.at("threshold").at("sd_log10").get<double>());
    CHECK(with.at("certainty").at("answers") == 24);
    CHECK(with.at("certainty").at("informative").get<double>() > 0.8);
    CHECK(with.at("curve").size() == 61);
    CHECK(with.at("notes").dump().find("could not know the level") != std::string::npos);
    CHECK(without.at("notes").dump().find("not fitted: as asked") != std::string::npos);
    CHECK_FALSE(without.contains("certainty"));
    CHECK(json_of("fit " + file + " --method likelihood --bootstrap 0 --lapse 0")
              .at("notes")
              .dump()
              .find("not fitted") != std::string::npos);
    CHECK(json_of("fit " + file + " --task 2-afc").at("notes").dump().find("only that of a 3-AFC") !=
          std::string::npos);
    CHECK(cli("fit " + file + " --certainty maybe").err.find("fit or leave") != std::string::npos);
    CHECK(cli("fit " + file + " --unordered").exit_code == 1);
    const Ran wrong =
        cli("fit " + csv(folder, "concentration_g_per_L,correct,certainty\n1,1,4\n2,0,0\n4,1,2\n"));
    CHECK(wrong.exit_code == 1);
    CHECK(std::count(wrong.err.begin(), wrong.err.end(), '\n') == 2);
    const Ran pooled = cli("fit " + csv(folder,
                                        "concentration_g_per_L,presentations,correct,certainty\n"
                                        "1,4,2,1\n2,1,1,2\n"));
    CHECK(pooled.err.find("one row a presentation") != std::string::npos);
}

TEST_CASE("a broken answer file names every line that is wrong") {
    const TemporaryFolder folder;
    const Ran ran =
        cli("fit " +
            csv(folder, "concentration_g_per_L,presentations,correct\n\"0,5\",12,3\n1,12,13\n-2,12,1\n"));
    CHECK(ran.exit_code == 1);
    CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 3);
    CHECK(ran.err.find("line 2") != std::string::npos);
    CHECK(ran.err.find("line 3") != std::string::npos);
    CHECK(ran.err.find("line 4") != std::string::npos);
}

TEST_CASE("prepare gives a plan whose levels carry their uncertainty in two parts") {
    const auto plan = json_of("prepare --ladder sucrose_first --equipment kitchen_fine --cups 8 --cup-mL 10");
    CHECK(plan.at("met") == true);
    REQUIRE(plan.at("levels").size() == 6);
    for (const auto& level : plan.at("levels")) {
        const double own = level.at("u_own_rel");
        const double shared = level.at("u_shared_rel");
        CHECK(within(level.at("u_rel"), std::hypot(own, shared), 1e-12));
        CHECK(level.at("u_rel").get<double>() <= 0.05);
        CHECK(level.at("portions").get<int>() >= 8);
    }
    CHECK_FALSE(plan.at("cautions").empty());
    CHECK(cli("prepare --ladder sucrose_first --equipment kitchen_fine --cups 0 --cup-mL 10").exit_code == 1);
    CHECK(cli("prepare --ladder no_such --equipment kitchen_fine --cups 8 --cup-mL 10").exit_code == 1);
}

TEST_CASE("demo does the whole job and leaves its files") {
    const TemporaryFolder folder;
    const auto demo = json_of("demo --seed 5 --out '" + (folder / "").string() + "'");
    const auto& threshold = demo.at("threshold");
    CHECK(threshold.at("lower").get<double>() < threshold.at("value").get<double>());
    CHECK(threshold.at("value").get<double>() < threshold.at("upper").get<double>());
    CHECK(demo.at("files").size() >= 4);
    for (const auto& file : demo.at("files")) CHECK(std::filesystem::file_size(file.get<std::string>()) > 0);
    CHECK(cli("demo --seed 5 --json --out '" + (folder / "").string() + "/again'")
              .out.find(threshold.at("log10").dump()) != std::string::npos);
}

TEST_CASE("journal check tells a whole journal from a damaged one and from none") {
    const TemporaryFolder folder;
    const auto demo = json_of("demo --seed 6 --out '" + (folder / "").string() + "'");
    std::string journal;
    for (const auto& file : demo.at("files"))
        if (file.get<std::string>().ends_with(".sipladder")) journal = file;
    REQUIRE_FALSE(journal.empty());
    CHECK(json_of("journal check '" + journal + "'").at("rows").get<int>() > 10);
    {
        std::fstream damaged(journal, std::ios::binary | std::ios::in | std::ios::out);
        damaged.seekp(4096);
        for (int i = 0; i < 2048; ++i) damaged.put('x');
    }
    CHECK(cli("journal check '" + journal + "'").exit_code == 1);
    CHECK(cli("journal check '" + (folder / "none").string() + "'").exit_code == 1);
}

TEST_CASE("journal erase asks for --yes, takes the person out, and says who is not there") {
    const TemporaryFolder folder;
    json_of("demo --seed 6 --out '" + (folder / "").string() + "'");
    const std::string journal = (folder / "demo.sipladder").string();
    const std::string erase = "--journal '" + journal + "' journal erase --person ";
    const std::string who = "'Taster of seed 6 (invented)'";
    CHECK(cli(erase + "'Nobody of this name' --yes").exit_code == 1);
    CHECK(cli(erase + who).exit_code == 1);
    const auto rows = json_of("journal check '" + journal + "'").at("rows").get<int>();
    CHECK(rows > 10);
    CHECK(json_of(erase + who + " --yes").at("rows").get<int>() == rows);
    CHECK(json_of("journal check '" + journal + "'").at("rows").get<int>() == 0);
    CHECK(cli(erase + who + " --yes").exit_code == 1);
}

TEST_CASE("content check passes on what is shipped and names what is broken") {
    CHECK(json_of("content check").at("problems").empty());
    CHECK(cli("content check /nowhere").exit_code == 1);
}

TEST_CASE(
    "simulate runs a real drill, the same for any number of threads, and refuses a truth it cannot read") {
    const TemporaryFolder folder;
    const auto file = folder / "truth.json";
    std::ofstream(file)
        << R"({"schema": "sipladder-truth/1", "theta_log10": {"mean": 0.5, "sd": 0.2}, "lapse": 0.1,
        "width_log10": {"from": 0.5, "to": 1.2}, "position_bias_d_prime": 1.0,
        "mixing_error": {"own_rel": 0.05, "shared_rel": 0.05}})";
    const std::string what =
        "simulate --drill sucrose_first --assessors 20 --seed 4 --truth '" + file.string() + "'";
    const auto found = json_of(what + " --threads 1");
    CHECK(found == json_of(what + " --threads 2"));
    for (const char* key : {"rmse_log10", "bias_log10", "coverage_95", "mean_presentations", "mean_cups"}) {
        CHECK(found.at(key).is_number());
        CHECK(found.at("standard_errors").at(key).get<double>() >= 0.0);
    }
    CHECK(found.at("mean_cups") == 3.0 * found.at("mean_presentations").get<double>());
    const Ran plain = cli(what);
    CHECK(plain.exit_code == 0);
    CHECK(plain.err.empty());  // progress is for a terminal
    std::ofstream(file) << R"({"schema": "sipladder-truth/1", "lapse": 0.9, "lapses": 0.1})";
    const Ran refused = cli(what);
    CHECK(refused.exit_code == 1);
    CHECK(refused.err.find("/lapse: is 0.9") != std::string::npos);
    CHECK(refused.err.find("lapses") != std::string::npos);
    CHECK(cli("simulate --drill no_such_ladder").exit_code == 1);
    CHECK(cli("simulate --drill sucrose_first --assessors 0").exit_code == 2);
}

TEST_CASE("the benchmark runs, writes its files and says what it measured") {
    const TemporaryFolder folder;
    const std::string json = (folder / "bench.json").string();
    const std::string chart = (folder / "bench.svg").string();
    const Ran ran = run("'" SIPLADDER_BENCH "' --people 6 --json '" + json + "' --chart '" + chart +
                        "' --only accuracy --only mixing --only certainty --only quicklook --only history");
    CHECK(ran.exit_code == 0);
    CHECK(ran.err.empty());
    CHECK(ran.out.find("RMSE of the threshold") != std::string::npos);
    std::ifstream in(json);
    const auto found = nlohmann::json::parse(in);
    CHECK(found.at("tables").at("rmse").at("rows").size() > 15);
    CHECK(found.at("tables").at("certainty").at("rows").size() == 16);
    CHECK(found.at("tables").at("quick_look").at("rows").size() == 14);
    CHECK(found.at("tables").at("history").at("rows").size() == 2);
    CHECK(found.at("goals").size() > 60);
    CHECK(std::filesystem::file_size(chart) > 1000);
}

TEST_CASE("acidity gives pH, titratable acidity and ionic strength, with potassium and hydrogen carbonate") {
    const auto plain = json_of("acidity --acid 'tartaric 5'");
    CHECK(within(plain.at("pH"), 2.291, 0.003));
    CHECK(within(plain.at("ta_tartaric_g_per_L"), 5.0, 1e-9));
    CHECK(plain.at("ionic_strength_mol_per_L").get<double>() > 0.005);
    const auto buffered = json_of("acidity --acid 'tartaric 5' --potassium-mmol-per-L 15");
    CHECK(within(buffered.at("pH"), 2.906, 0.003));
    CHECK(within(buffered.at("ta_tartaric_g_per_L"), 3.874, 0.003));
    const auto five = json_of(
        "acidity --acid 'tartaric 3' --acid 'malic 2' --acid 'lactic_acid 1' --acid 'acetic acid 0.4' "
        "--acid 'citric 0.3' --potassium-mmol-per-L 20 --at 25");
    CHECK(within(five.at("pH"), 3.090, 0.003));
    CHECK(json_of("acidity --acid 'citric 0.5' --bicarbonate-mg-per-L 200").at("pH").get<double>() > 4.0);
    CHECK(cli("acidity --acid 'tartaric 5'").out.starts_with("pH 2.29, titratable acidity 5.00 g/L"));
}

TEST_CASE("what cannot be an acidity is refused, every problem on its line") {
    const Ran negative = cli("acidity --acid 'tartaric -1' --potassium-mmol-per-L -2 --at 99");
    CHECK(negative.exit_code == 1);
    CHECK(negative.out.empty());
    CHECK(std::count(negative.err.begin(), negative.err.end(), '\n') == 3);
    CHECK(cli("acidity --acid 'tartaric'").exit_code == 1);
    CHECK(cli("acidity --acid 'tartaric 5,0'").exit_code == 1);
    CHECK(cli("acidity --acid 'hydrochloric 1'").err.find("tartaric, malic") != std::string::npos);
    CHECK(cli("acidity --acid 'tartaric nan'").exit_code == 1);
    CHECK(cli("acidity --acid 'tartaric 1e9'").exit_code == 1);
    CHECK(cli("acidity").exit_code == 2);
    CHECK(cli("acidity --acid 'tartaric 5' --potassium-mmol-per-L much").exit_code == 2);
}

TEST_CASE("convert knows every unit, acids beyond the content among them") {
    CHECK(within(json_of("convert '6 ta_tartaric_g_per_L' g_per_L --of citric_acid").at("value"), 5.1204,
                 5e-4));
    CHECK(within(json_of("convert '6 ta_tartaric_g_per_L' mmol_per_L --of lactic_acid").at("value"), 79.954,
                 5e-3));
    CHECK(within(json_of("convert '10 brix' sg_20_20").at("value"), 1.03998, 5e-6));
    CHECK(within(json_of("convert '100 g_per_L' brix").at("value"), 9.6464, 5e-4));
    CHECK(within(json_of("convert '12 pct_vol' kg_per_m3 --at 25").at("value"), 980.934, 0.002));
    CHECK(within(json_of("convert '2.291 g_per_L' mmol_per_L --of sucrose").at("value"), 6.693, 5e-3));
    CHECK(cli("convert '10 brix' sg_20_20").out.find("ratio of true densities") != std::string::npos);
    CHECK(cli("convert '5 g_per_L' ta_tartaric_g_per_L --of sucrose").exit_code == 1);
    CHECK(cli("convert '5 g_per_L' mmol_per_L --of grape_tannin").exit_code == 1);
    CHECK(cli("convert '5 g_per_L' mmol_per_L --of sand").err.find("sucrose") != std::string::npos);
    for (const char* absurd :
         {"'120 pct_vol' pct_mass", "'nan pct_vol' pct_mass", "'-1 g_per_L' brix", "'1e9 brix' sg_20_20",
          "'40 proof' pct_vol", "'40 pct_vol' pct_mass --at 1000"}) {
        CAPTURE(absurd);
        const Ran ran = cli(std::string("convert ") + absurd);
        CHECK(ran.exit_code == 1);
        CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
        CHECK(ran.err.find(": ") != std::string::npos);
        CHECK(ran.err.find("; ") != std::string::npos);
    }
}

TEST_CASE("dilute says that 40 to 12 % vol grows, takes stocks too, and refuses what cannot be") {
    const auto grows = json_of("dilute --from '40 pct_vol' --to '12 pct_vol' --volume-mL 1000");
    CHECK(within(grows.at("volume_change_mL"), 0.801, 0.02));
    CHECK(within(grows.at("water_mL"), 699.199, 0.02));
    CHECK(cli("dilute --from '40 pct_vol' --to '12 pct_vol' --volume-mL 1000").out.find("0.8 mL more") !=
          std::string::npos);
    CHECK(json_of("dilute --from '96 pct_vol' --to '15 pct_vol' --volume-mL 500")
              .at("volume_change_mL")
              .get<double>() < -5.0);
    const auto acid =
        json_of("dilute --from '50 g_per_L' --to '0.6 g_per_L' --volume-mL 500 --of acetic_acid");
    CHECK(within(acid.at("from_mL"), 6.0, 1e-6));
    CHECK(
        within(json_of("dilute --from '40 pct_vol' --to '12 pct_vol' --volume-mL 1000 --at 30").at("from_g"),
               284.41, 1.0));
    for (const char* absurd : {"--from '12 pct_vol' --to '40 pct_vol' --volume-mL 100",
                               "--from '120 pct_vol' --to '40 pct_vol' --volume-mL 100",
                               "--from '40 pct_vol' --to '12 pct_vol' --volume-mL 1e9",
                               "--from '40 pct_vol' --to '12 pct_vol' --volume-mL 0",
                               "--from '40 pct_vol' --to '12 g_per_L' --volume-mL 100",
                               "--from '40 brix' --to '12 brix' --volume-mL 100",
                               "--from '40 g_per_L' --to '12 g_per_L' --volume-mL 100",
                               "--from '40 pct_vol' --to '12 pct_vol' --volume-mL 100 --at -20"}) {
        CAPTURE(absurd);
        CHECK(cli(std::string("dilute ") + absurd).exit_code == 1);
    }
    CHECK(cli("dilute --from '40 pct_vol' --to '12 pct_vol'").exit_code == 2);
}

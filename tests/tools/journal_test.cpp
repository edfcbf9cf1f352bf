#include "tests/support/program.hpp"
#include "tests/support/temporary_folder.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>
#include <sys/stat.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>

/// The verbs of `journal` as a script sees them.
namespace {

using namespace sipladder::tests;

std::string quoted(const std::filesystem::path& file) {
    return std::string("'").append(file.string()).append("'");
}

/// The record of the invented person's sitting; quoted for the shell.
std::string demo_record(const TemporaryFolder& folder, int seed = 1) {
    REQUIRE(cli("demo --seed " + std::to_string(seed) + " --out " + quoted(folder / "demo")).exit_code == 0);
    return quoted(folder / "demo" / "demo.sipladder");
}

std::string with(const std::string& verb, const std::string& record) {
    return "journal " + verb + " --journal " + record;
}

bool is_private(const std::filesystem::path& file) {
    struct stat status {};
    return ::stat(file.c_str(), &status) == 0 && (status.st_mode & 0777) == 0600;
}

const bool has_r = std::system("command -v Rscript >/dev/null 2>&1") ==  // NOLINT(cert-env33-c)
                   0;

/// Fits the exported answers by R's own glm, with the guess rate in the link and no lapse, and pools them for
/// `fit` beside it. Computed by R while the test runs.
constexpr const char* r_script = R"(
files <- commandArgs(TRUE)
answers <- read.csv(files[1])
g <- 1 / 3
link <- structure(list(linkfun = function(mu) qlogis(pmin(pmax((mu - g) / (1 - g), 1e-9), 1 - 1e-9)),
                       linkinv = function(eta) g + (1 - g) * plogis(eta),
                       mu.eta = function(eta) (1 - g) * dlogis(eta), valideta = function(eta) TRUE,
                       name = "3-AFC"), class = "link-glm")
x <- log10(answers$concentration_g_per_L)
fit <- glm(answers$correct ~ x, family = binomial(link), start = c(0, 1),
           control = glm.control(epsilon = 1e-14, maxit = 1000))
pooled <- aggregate(cbind(presentations = 1, correct = answers$correct) ~ concentration_g_per_L, answers, sum)
write.csv(pooled, files[2], row.names = FALSE, quote = FALSE)
cat(sprintf("{\"log10\":%.12f,\"slope\":%.12f,\"rows\":%d}", -coef(fit)[1] / coef(fit)[2], coef(fit)[2], nrow(answers)))
)";

}  // namespace

TEST_CASE("a journal exported and imported by the program is the same, and a second import changes nothing") {
    const TemporaryFolder folder;
    const std::string record = demo_record(folder);
    const std::string copy = quoted(folder / "copy.sipladder");
    const auto out = json_of(with("export", record) + " --out " + quoted(folder / "one.json"));
    CHECK(is_private(folder / "one.json"));
    CHECK(cli("journal new " + copy).exit_code == 0);
    CHECK(cli("journal new " + copy).exit_code == 1);
    const std::string import = with("import", copy) + " " + quoted(folder / "one.json");
    CHECK(json_of(import + " --dry-run").at("rows") == out.at("rows"));
    CHECK(json_of(with("check", copy)).at("rows") == 0);
    CHECK(json_of(import).at("rows") == out.at("rows"));
    CHECK(json_of(import).at("rows") == 0);
    CHECK(json_of(import).at("known") == out.at("rows"));
    json_of(with("export", copy) + " --out " + quoted(folder / "two.json"));
    CHECK(text_of(folder / "one.json") == text_of(folder / "two.json"));
}

TEST_CASE("an import whose bodies the program could not read is refused and changes nothing") {
    const TemporaryFolder folder;
    const std::string record = demo_record(folder);
    json_of(with("export", record) + " --out " + quoted(folder / "one.json"));
    std::string text = text_of(folder / "one.json");
    const std::string body = R"(\"schema\":\"sipladder-detection/1\")";
    const auto at = text.find(body);
    REQUIRE(at != std::string::npos);
    std::ofstream(folder / "bad.json") << text.replace(at, body.size(), R"(\"schema\":\"nonsense\")");
    const std::string copy = quoted(folder / "copy.sipladder");
    CHECK(cli("journal new " + copy).exit_code == 0);
    const Ran refused = cli(with("import", copy) + " " + quoted(folder / "bad.json"));
    CHECK(refused.exit_code == 1);
    CHECK(refused.err.find("nonsense") != std::string::npos);
    CHECK(json_of(with("check", copy)).at("rows") == 0);
}

TEST_CASE("strike, put-back, backup, restore and erase do what they say, from the command line") {
    const TemporaryFolder folder;
    const std::string record = demo_record(folder);
    json_of(with("export", record) + " --out " + quoted(folder / "one.json"));
    const auto rows = nlohmann::json::parse(text_of(folder / "one.json")).at("rows");
    std::string lock;
    for (const auto& row : rows)
        if (row.at("row") == "entry" && row.at("kind") == "lock") lock = row.at("id");
    CHECK(cli(with("strike", record) + " " + lock).exit_code == 2);  // no reason
    CHECK(cli(with("strike", record) + " nonsense --reason spilt").exit_code == 1);
    CHECK(json_of(with("strike", record) + " " + lock + " --reason spilt").at("target") == lock);
    CHECK(cli(with("strike", record) + " " + lock + " --reason again").exit_code == 1);
    json_of(with("put-back", record) + " " + lock + " --reason 'not spilt'");
    CHECK(json_of(with("check", record)).at("rows") == rows.size() + 2);

    const auto backup = json_of(with("backup", record) + " --out " + quoted(folder / "kept.sipladder"));
    CHECK(is_private(folder / "kept.sipladder"));
    CHECK(cli(with("backup", record) + " --out " + quoted(folder / "kept.sipladder")).exit_code == 1);
    const std::string daily = json_of(with("backup", record)).at("file");
    CHECK(json_of(with("check", quoted(std::filesystem::path(daily)))).at("rows") == rows.size() + 2);

    CHECK(cli(with("restore", record)).exit_code == 1);  // nothing is wrong with it
    std::filesystem::resize_file(folder / "demo" / "demo.sipladder", 9000);
    const Ran damaged = cli(with("check", record));
    CHECK(damaged.exit_code == 1);
    CHECK(damaged.err.find(daily) != std::string::npos);
    CHECK(std::filesystem::exists(std::string(json_of(with("restore", record)).at("set_aside"))));
    CHECK(json_of(with("check", record)).at("rows") == rows.size() + 2);

    const std::string who = rows.at(0).at("id");
    CHECK(cli(with("erase", record) + " --person " + who).exit_code == 1);  // not sure
    const auto erased = json_of(with("erase", record) + " --yes --person " + who);
    CHECK(erased.at("copies") == 1);
    CHECK(erased.at("unreached").size() == 1);  // what was set aside
    CHECK(text_of(daily).find(rows.at(0).at("name").get<std::string>()) == std::string::npos);
    CHECK(json_of(with("import", record) + " " + quoted(folder / "one.json")).at("of_erased") == rows.size());
}

TEST_CASE("R's glm on the exported table gives the fit of the program" * doctest::skip(!has_r)) {
    const TemporaryFolder folder;
    constexpr int bounded = 3;  // a person whose answers give the likelihood a peak on both axes
    const std::string record = demo_record(folder, bounded);
    json_of(with("export", record) + " --csv --out " + quoted(folder / "answers.csv"));
    std::ofstream(folder / "fit.R") << r_script;
    const Ran ran = run("Rscript --vanilla " + quoted(folder / "fit.R") + " " +
                        quoted(folder / "answers.csv") + " " + quoted(folder / "pooled.csv"));
    CAPTURE(ran.err);
    REQUIRE(ran.exit_code == 0);
    const auto by_r = nlohmann::json::parse(ran.out);
    const auto own = json_of("fit " + quoted(folder / "pooled.csv") +
                             " --task 3-afc --method likelihood --lapse 0 --bootstrap 0");
    CHECK(by_r.at("rows") == 12);
    CHECK(within(own.at("threshold").at("log10"), by_r.at("log10"), 1e-6));
    CHECK(within(own.at("slope_per_log10"), by_r.at("slope"), 1e-5));
}

TEST_CASE("hostile values and files on the command line end in a refusal with words, and soon") {
    const TemporaryFolder folder;
    CHECK(cli("journal new " + quoted(folder / "a.sipladder")).exit_code == 0);
    const std::string record = quoted(folder / "a.sipladder");
    const std::string deep(200'000, '[');
    std::ofstream(folder / "deep.json") << deep;
    std::ofstream(folder / "bad.csv") << "concentration_g_per_L,presentations,correct\n1e999,12,3\nNaN,2,1\n";
    const std::vector<std::string> hostile{"convert '1e999 pct_vol' pct_mass",
                                           "convert 'NaN pct_vol' pct_mass",
                                           "convert '" + std::string(50'000, '9') + " pct_vol' pct_mass",
                                           "convert \"$(printf '40\\303\\050 pct_vol')\" pct_mass",
                                           "dilute --from '43 pct_vol' --to '13.5 pct_vol' --volume-mL 1e300",
                                           "dilute --from '43 pct_vol' --to '13.5 pct_vol' --volume-mL -1",
                                           "fit /dev/zero",
                                           "fit " + quoted(folder.path()),
                                           "fit " + quoted(folder / "bad.csv"),
                                           "fit " + quoted(folder / "bad.csv") + " --prior normal:1e999,1",
                                           "content check /dev",
                                           "prepare --ladder ../../../../etc/passwd --equipment ../../x "
                                           "--cups 99999999999999999999 --cup-mL nan",
                                           with("import", record) + " /dev/zero",
                                           with("import", record) + " " + quoted(folder / "deep.json"),
                                           with("import", record) + " " + quoted(folder / "../../etc/passwd"),
                                           with("export", record) + " --out /nowhere/x.json",
                                           with("export", record) + " --out x.json --person '../../x'",
                                           with("strike", record) + " \"'; DROP TABLE row; --\" --reason x",
                                           "journal check /dev/zero",
                                           "journal new " + quoted(folder / "no/such/folder/a.sipladder"),
                                           "journal new " + record};
    for (const std::string& one : hostile) {
        CAPTURE(one.substr(0, 200));
        const Ran ran = run("timeout 10 '" SIPLADDER_CLI "' " + one);
        CHECK((ran.exit_code == 1 || ran.exit_code == 2));
        CHECK(ran.out.empty());
        CHECK_FALSE(ran.err.empty());
        CHECK(ran.err.size() < 100'000);
    }
    CHECK(json_of(with("check", record)).at("rows") == 0);
}

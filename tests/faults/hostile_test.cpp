// Whatever comes from outside is taken or refused with words, in bounded time and memory. A bounded run of
// the targets of tools/fuzz by a driver of our own; SIPLADDER_LONG=1 runs thirty times as many.
// tools/fuzz/run lets libFuzzer loose on the same functions.

#include "drills/exchange.hpp"
#include "engine/content/field.hpp"
#include "engine/content/json_file.hpp"
#include "engine/journal/database.hpp"
#include "engine/journal/exchange.hpp"
#include "tests/journal/rows.hpp"
#include "tests/support/temporary_folder.hpp"
#include "tools/fuzz/mutate.hpp"
#include "tools/fuzz/targets.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>
#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <map>

using namespace sipladder;
using namespace sipladder::tests;
using fuzz::Outcome;

namespace {

namespace fs = std::filesystem;

double seconds_of(const std::function<void()>& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

long peak_MB() {
    rusage usage{};
    ::getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss / 1024;
}

constexpr double longest_s = 10.0;  // under sanitizers, on a busy machine

}  // namespace

TEST_CASE("mutated content, exchange, tables, journals and values are taken or refused with words") {
    const std::map<std::string, int> bounded{
        {"content", 150}, {"exchange", 300}, {"table", 3000}, {"journal", 200}, {"values", 20000}};
    const int times = std::getenv("SIPLADDER_LONG") != nullptr ? 30 : 1;
    for (const fuzz::Target& target : fuzz::every_target()) {
        CAPTURE(target.name);
        const std::vector<std::string> seeds = fuzz::seeds_of(target.name);
        for (const std::string& seed : seeds) CHECK(target.take(seed) == Outcome::taken);
        int refused = 0;
        double slowest_s = 0.0;
        const int runs = bounded.at(target.name) * times;
        for (int run = 0; run < runs; ++run) {
            CAPTURE(run);
            Random random{Seed{static_cast<std::uint64_t>(run)}};
            const std::string bytes = fuzz::mutated(seeds[random.below(seeds.size())], random);
            slowest_s = std::max(slowest_s, seconds_of([&] {
                                     if (target.take(bytes) == Outcome::refused) ++refused;
                                 }));
        }
        MESSAGE(target.name << ", executions: " << runs << ", inputs refused: " << refused << ", slowest "
                            << static_cast<int>(1000.0 * slowest_s) << " ms");
        CHECK(refused > runs / 20);
        CHECK(refused < runs);
        CHECK(slowest_s < longest_s);
    }
}

TEST_CASE("files made to fill the memory or the time are refused in bounds") {
    const auto refuses = [](const std::string& text) {
        std::vector<Problem> problems;
        const double took_s = seconds_of([&] {
            if (const auto document = content::parse_json(text, "x.json", problems))
                for (const content::Field& one : content::Field(*document, "x.json", problems).each())
                    one.number(0.0, 1.0);
        });
        CHECK_FALSE(problems.empty());
        CHECK(problems.size() <= content::most_problems);
        CHECK(took_s < longest_s);
    };
    const long before_MB = peak_MB();
    constexpr std::size_t many = 2'000'000;
    refuses(std::string(many, '['));
    std::string lists = "[";
    for (std::size_t i = 0; i < many; ++i) lists += "[],";
    refuses(lists + "0]");
    std::string doubled = "{";
    for (std::size_t i = 0; i < many / 4; ++i) doubled += "\"a\":1,";
    refuses(doubled + "\"a\":1}");
    std::string wrong = "[";
    for (std::size_t i = 0; i < 200'000; ++i) wrong += "\"x\",";
    refuses(wrong + "0]");
    refuses("[" + std::string(many, '9') + "]");
    refuses("[1e400]");
    refuses("[-1e400, NaN]");
    refuses("[\"\xC0\xAF\"]");
    refuses(std::string(content::largest_file_bytes + 1, ' '));
    CHECK(peak_MB() - before_MB < 512);
}

TEST_CASE("links to devices, folders and nothing are no content and no journal") {
    const TemporaryFolder folder;
    const auto link = folder / "link";
    for (const char* const to : {"/dev/zero", "/dev/null", "/", "/nowhere", "link"}) {
        CAPTURE(to);
        fs::remove(link);
        fs::create_symlink(to, link);
        std::vector<Problem> problems;
        CHECK(content::read_text_file(link, problems) == nullptr);
        CHECK(problems.size() == 1);
        CHECK_THROWS_AS(journal::Journal::open(link), Refused);
        CHECK_FALSE(journal::check(link).problems.empty());
    }
    filled(folder / "a.journal", 2);
    fs::remove(link);
    fs::create_symlink(folder / "a.journal", link);
    CHECK(journal::Journal::open(link).entries(drill.id).size() == 2);
}

TEST_CASE("a journal whose rows were made up with another tool is refused, or read without harm") {
    const TemporaryFolder folder;
    const auto file = folder / "a.journal";
    const std::string good = fuzz::seeds_of("journal").front();
    const std::vector<std::string> changes{
        "UPDATE row SET at_utc_ms = 9223372036854775807",
        "UPDATE row SET at_utc_ms = -9223372036854775807",
        "UPDATE row SET at_offset_min = 2147483647",
        "UPDATE row SET at_monotonic_ms = -9223372036854775807",
        "UPDATE person SET name = CAST(x'C328FF' AS TEXT)",
        "UPDATE person SET name = CAST(x'00' AS TEXT)",
        "UPDATE entry SET number = number * 1000000",
        "UPDATE entry SET kind = 'reveal'",
        "UPDATE entry SET kind = 'lock'",
        "UPDATE entry SET body = ''",
        "UPDATE entry SET body = replace(body, '\"level\":', '\"level\":9')",
        "UPDATE entry SET body = replace(body, '\"utc_ms\":', '\"utc_ms\":9223372')",
        "UPDATE drill SET body = replace(body, '\"portions\":', '\"portions\":99999')",
        "UPDATE drill SET body = replace(body, '\"mixed\":', '\"mixed\":-')",
        "UPDATE drill SET body = replace(body, '\"most_presentations\":1', '\"most_presentations\":9')",
        "UPDATE drill SET kind = 'ranking'",
        "UPDATE fact SET body = '[]'",
        "UPDATE fact SET kind = 'mix_draft'",
        "UPDATE sitting SET body = '{\"temperature_degC\":1e300}'"};
    std::size_t refused = 0;
    for (const std::string& change : changes) {
        CAPTURE(change);
        write_bytes(file, good);
        {
            journal::Database tool(file, journal::Access::read_write);
            const std::string table = change.substr(7, change.find(' ', 7) - 7);
            const std::string guard =
                tool.text("SELECT sql FROM sqlite_schema WHERE name = '" + table + "_no_UPDATE'");
            tool.run("DROP TRIGGER " + table + "_no_UPDATE");
            tool.run(change);
            tool.run(guard);
        }
        if (fuzz::take_journal(bytes_of(file)) == Outcome::refused) ++refused;
    }
    MESSAGE("made-up journals: " << changes.size() << ", inputs refused: " << refused);
    CHECK(refused >= 12);
}

#include "tools/benchmark/journal_section.hpp"

#include "drills/demo.hpp"
#include "drills/exchange.hpp"
#include "drills/history.hpp"
#include "engine/content/content.hpp"
#include "engine/content/location.hpp"
#include "engine/journal/copies.hpp"
#include "engine/journal/exchange.hpp"
#include "engine/journal/journal.hpp"
#include "tools/benchmark/folder.hpp"
#include "tools/benchmark/timing.hpp"

#include <algorithm>
#include <filesystem>
#include <vector>

namespace sipladder::benchmark {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t sittings_each = 17;
constexpr std::size_t few_people = 5;

/// One sitting as it was kept.
struct Told {
    journal::Sitting sitting;
    journal::Drill drill;
    std::vector<journal::Entry> entries;
    std::size_t answers{};
};

Told one_sitting() {
    const fs::path folder = content::locate("");
    journal::Journal journal = journal::Journal::in_memory();
    drills::demo_sitting(journal, content::load(folder), drills::load_demo(folder), Seed{3});
    Told told;
    told.sitting = journal.sittings(journal.people().front().id).front();
    told.drill = journal.drills(told.sitting.id).front();
    told.entries = journal.entries(told.drill.id);
    told.answers = static_cast<std::size_t>(std::ranges::count(told.entries, "lock", &journal::Entry::kind));
    return told;
}

void tell_again(journal::Journal& journal, Told told, const Uuid& person, std::size_t week, Random& ids) {
    constexpr std::int64_t week_ms = 7LL * 86'400'000;
    told.sitting.id = uuid_from(ids);
    told.sitting.person = person;
    told.sitting.started.utc_ms += static_cast<std::int64_t>(week) * week_ms;
    told.drill.id = uuid_from(ids);
    told.drill.sitting = told.sitting.id;
    journal.append(told.sitting);
    journal.append(told.drill);
    for (journal::Entry& entry : told.entries) {
        entry.id = uuid_from(ids);
        entry.drill = told.drill.id;
        journal.append(entry);
    }
}

/// Milliseconds, but for the last: megabytes.
struct LongUse {
    std::size_t answers{};
    double filling{}, opening{}, appending{}, weeks{}, checking{}, exporting{}, importing{}, table{},
        copying{};
    double megabytes{};
};

LongUse used_long(const Told& told, std::size_t people) {
    const Folder folder;
    LongUse took;
    took.answers = people * sittings_each * told.answers;
    Random ids{Seed{42}};
    std::vector<Uuid> who;
    took.filling = once_ms([&] {
        journal::Journal journal = journal::Journal::open(folder / "long");
        for (std::size_t number = 0; number < people; ++number) {
            who.push_back(uuid_from(ids));
            journal.together([&] {
                journal.append(journal::Person{who.back(), "Invented " + std::to_string(number), true,
                                               told.sitting.started});
                for (std::size_t week = 0; week < sittings_each; ++week)
                    tell_again(journal, told, who.back(), week, ids);
            });
        }
    });
    constexpr std::size_t some = 100;
    took.opening =
        median_ms(few_people, [&](std::size_t) { journal::Journal::open_existing(folder / "long"); });
    journal::Journal journal = journal::Journal::open_existing(folder / "long");
    took.appending = median_ms(some, [&](std::size_t) {
        journal.append(
            journal::Fact{uuid_from(ids), who.front(), "note", told.drill.started, "an answer", {}});
    });
    took.weeks = median_ms(few_people, [&](std::size_t round) { drills::followed(journal, who[round]); });
    took.checking = once_ms([&] { journal::check(folder / "long"); });
    took.copying = once_ms([&] { journal::back_up(journal, folder / "copy"); });
    std::string text;
    took.exporting = once_ms([&] { text = journal::exchange_json(journal::contents(journal)); });
    took.importing = once_ms([&] {
        journal::Journal other = journal::Journal::open(folder / "other");
        journal::merge(other, journal::read_exchange_json(text, "x.json"), journal::OnConflict::refuse);
    });
    took.table = once_ms([&] { drills::answers_csv(journal); });
    took.megabytes = static_cast<double>(fs::file_size(folder / "long")) / 1e6;
    return took;
}

}  // namespace

void add_long_use(Report& report, std::size_t people) {
    const Told told = one_sitting();
    const LongUse quarter = used_long(told, std::max<std::size_t>(people / 4, few_people));
    const LongUse full = used_long(told, people);
    const auto row = [&](std::string name, double LongUse::*figure) {
        return Row{std::move(name),
                   {simulate::Figure{quarter.*figure, 0.0}, simulate::Figure{full.*figure, 0.0},
                    simulate::Figure{full.*figure / quarter.*figure, 0.0}}};
    };
    report.tables.push_back(
        {"long_use",
         "A journal of " + std::to_string(full.answers) + " answers by " + std::to_string(people) + " people",
         "Milliseconds; beside a quarter of it. Median where it is quick, once where it is long.",
         {"a quarter", "all of it", "times"},
         {row("filling it, a transaction a person", &LongUse::filling), row("opening it", &LongUse::opening),
          row("one row more, synced", &LongUse::appending),
          row("reading one person's weeks for the trend", &LongUse::weeks),
          row("checking it whole", &LongUse::checking), row("a copy, checked", &LongUse::copying),
          row("exporting it as JSON", &LongUse::exporting), row("importing that", &LongUse::importing),
          row("the table of answers", &LongUse::table), row("size of the file, MB", &LongUse::megabytes)}});
    const auto goal = [&](std::string what, double measured, double most) {
        report.goals.push_back({std::move(what), "at most " + std::to_string(static_cast<int>(most)),
                                simulate::Figure{measured, 0.0}, measured <= most});
    };
    goal("opening a journal of 100,000 answers, ms", full.opening, 1500.0);
    goal("one row more, ms", full.appending, 50.0);
    goal("reading one person's weeks, ms", full.weeks, 500.0);
    goal("exporting all, ms", full.exporting, 20'000.0);
    constexpr double linear = 4.0 * 1.5;
    goal("import of four times as many rows, times", full.importing / quarter.importing, linear);
}

}  // namespace sipladder::benchmark

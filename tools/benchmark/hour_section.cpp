#include "tools/benchmark/hour_section.hpp"

#include "drills/demo.hpp"
#include "engine/content/content.hpp"
#include "engine/content/location.hpp"
#include "engine/journal/journal.hpp"
#include "gui/app/apply.hpp"
#include "gui/app/planning.hpp"
#include "gui/app/sitting.hpp"
#include "tools/benchmark/folder.hpp"
#include "tools/benchmark/screen.hpp"

#include <malloc.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <memory>
#include <string>
#include <vector>

namespace sipladder::benchmark {

namespace {

using namespace gui;

constexpr std::int64_t second_ms = 1000;
constexpr double bytes_in_kilobyte = 1000.0;

/// Somebody who uses the window without end.
class Taster {
  public:
    explicit Taster(const Folder& folder)
        : app_(start({.content = std::make_shared<const content::Content>(content::load(content::locate(""))),
                      .demo = nullptr,
                      .journal = std::make_shared<journal::Journal>(
                          journal::Journal::open(folder / "hour.sipladder")),
                      .sheets = folder / "sheets",
                      .seed = Seed{11}},
                     now_)) {
        want(TypeName{"Invented"});
        want(AddPerson{});
        want(ReadCautions{});
    }

    /// Once through every place with its help, and another ladder planned each time.
    void look_about(std::size_t round) {
        for (const Place place : {Place::palate, Place::weeks, Place::taste, Place::prepare}) {
            want(GoTo{place});
            want(ToggleHelp{});
            want(ToggleHelp{});
        }
        if (app_.history && !app_.history->done.empty()) {
            want(GoTo{Place::palate});
            want(OpenRow{0});
            want(CloseRow{});
            want(GoTo{Place::prepare});
        }
        Setup setup = app_.bench.setup;
        setup.substance = round % 2 == 0 ? "tartaric_acid" : "sucrose";
        setup.ingredient.clear();
        want(ChangeSetup{setup});
        if (const auto job = app_.bench.job) want(plan_for(*job));
    }
    /// Keeps the mix that is planned, if any, and tastes a drill from the newest to its finding.
    /// @return answers given
    std::size_t taste() {
        if (app_.bench.plan) want(KeepMix{});
        want(GoTo{Place::taste});
        want(ChooseMix{0});
        want(StartDrill{});
        std::size_t answers = 0;
        constexpr int most_steps = 1'000;
        for (int step = 0; app_.running && step < most_steps; ++step) answers += one_step(answers);
        want(LeaveFinding{});
        want(EndSitting{});
        pass(86'400 * second_ms);  // caps of a day
        want(Tick{});
        return answers;
    }

  private:
    void pass(std::int64_t milliseconds) {
        now_.utc_ms += milliseconds;
        now_.monotonic_ms += milliseconds;
    }
    void want(const Intent& intent) {
        pass(second_ms);
        apply(app_, intent, now_);
        screen_.draw(frame_view(app_));
    }
    std::size_t one_step(std::size_t number) {
        switch (phase_of(*app_.running)) {
            case Phase::acquaint:
                want(Acquainted{});
                return 0;
            case Phase::pour:
                want(Poured{});
                return 0;
            case Phase::reveal:
                want(FoundSign{number % 3});
                want(LockSign{});
                return 0;
            case Phase::rest:
                want(Poured{});
                pass(600 * second_ms);
                want(Tick{});
                return 0;
            case Phase::answer:
                want(PickCup{number % 2});
                want(PickCertainty{drills::Certainty::leaning});
                want(LockAnswer{});
                return 1;
            case Phase::done:
                break;
        }
        return 0;
    }

    Instant now_{.utc_ms = 1'790'000'000'000, .offset_min = 60, .monotonic_ms = 5'000};
    Screen screen_;
    App app_;
};

/// Of the C library, once what is free was given back; kB.
double heap_kilobytes() {
    ::malloc_trim(0);
    const struct mallinfo2 held = ::mallinfo2();
    return static_cast<double>(held.uordblks + held.hblkhd) / bytes_in_kilobyte;
}

/// What the system counts as this process's, kB.
double resident_kilobytes() {
    std::ifstream statm("/proc/self/statm");
    double size = 0.0;
    double resident = 0.0;
    statm >> size >> resident;
    return resident * static_cast<double>(::sysconf(_SC_PAGESIZE)) / bytes_in_kilobyte;
}

}  // namespace

void add_hours_of_use(Report& report, std::size_t hours) {
    const Folder folder;
    Taster taster(folder);
    Table table{
        "hours",
        "Memory of the window over hours of simulated use",
        "A round goes through every place, plans a ladder and tastes a drill from it, each screen drawn. "
        "What grows is the person's own history.",
        {"answers", "heap, kB", "resident, kB"},
        {}};
    constexpr std::size_t rounds_an_hour = 4;
    std::size_t answers = 0;
    std::vector<std::pair<double, double>> measured;  // answers, heap
    for (std::size_t hour = 0; hour <= hours; ++hour) {
        for (std::size_t round = 0; round < rounds_an_hour; ++round) {
            taster.look_about(round);
            answers += taster.taste();
        }
        measured.emplace_back(static_cast<double>(answers), heap_kilobytes());
        table.rows.push_back(
            {hour == 0 ? "after warming up" : "after hour " + std::to_string(hour),
             {simulate::Figure{measured.back().first, 0.0}, simulate::Figure{measured.back().second, 0.0},
              simulate::Figure{resident_kilobytes(), 0.0}}});
    }
    report.tables.push_back(std::move(table));
    // Looked at only, a window that leaks shows best: the same rounds without an answer.
    const double before = heap_kilobytes();
    for (std::size_t round = 0; round < rounds_an_hour * hours; ++round) taster.look_about(round);
    const double looked = heap_kilobytes() - before;
    const double each = (measured.back().second - measured.front().second) /
                        std::max(1.0, measured.back().first - measured.front().first);
    constexpr double most_kilobytes_each = 20.0;
    constexpr double most_kilobytes_looked = 64.0;
    report.goals.push_back({"heap that one answer of the person's history takes, kB", "at most 20",
                            simulate::Figure{each, 0.0}, each <= most_kilobytes_each});
    report.goals.push_back({"heap gained by as many hours without an answer, kB", "at most 64",
                            simulate::Figure{looked, 0.0}, looked <= most_kilobytes_looked});
}

}  // namespace sipladder::benchmark

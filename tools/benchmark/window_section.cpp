#include "tools/benchmark/window_section.hpp"

#include "drills/demo.hpp"
#include "engine/content/content.hpp"
#include "engine/content/location.hpp"
#include "engine/journal/journal.hpp"
#include "gui/app/apply.hpp"
#include "gui/app/planning.hpp"
#include "gui/platform/clock.hpp"
#include "tools/benchmark/folder.hpp"
#include "tools/benchmark/long_person.hpp"
#include "tools/benchmark/real_program.hpp"
#include "tools/benchmark/screen.hpp"
#include "tools/benchmark/timing.hpp"

#include <algorithm>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace sipladder::benchmark {

namespace {

namespace fs = std::filesystem;
using namespace gui;

constexpr double frame_ms = 2.0;
constexpr double drawn_ms = 16.0;     // one of sixty frames a second
constexpr double opening_ms = 250.0;  // half of what the first frame may take; the rest is the window's
constexpr double answer_ms = 50.0;
constexpr double beside_ms = 10'000.0;  // what the worker reads and fits, while the window goes on
constexpr double first_frame_ms = 500.0;
constexpr double idle_percent = 1.0;

struct Line {
    std::string what;
    double measured{};
    double budget{};
    std::string unit = "ms";
};

/// The window without its glass, on one journal.
class Desk {
  public:
    explicit Desk(const fs::path& journal)
        : journal_(journal),
          content_(std::make_shared<const content::Content>(content::load(content::locate("")))) {}

    double open() {
        return once_ms([&] {
            app_ = start({.content = content_,
                          .demo = nullptr,
                          .journal = std::make_shared<journal::Journal>(
                              journal::Journal::open(journal_, journal::LookedOver::in_short)),
                          .sheets = journal_.parent_path(),
                          .seed = Seed{11}},
                         gui::now());
        });
    }
    App& app() { return app_; }
    double want(const Intent& intent) {
        later_ms_ += 1000;
        Instant now = gui::now();
        now.utc_ms += later_ms_;
        now.monotonic_ms += later_ms_;
        return once_ms([&] { apply(app_, intent, now); });
    }
    /// What is awaited is made, as the worker would. @return how long that took; 0: nothing was awaited
    double settle() {
        double took = 0.0;
        if (const auto awaited = app_.palate_awaited) took += fit<PalateFound>(awaited->job, palate_of);
        if (const auto awaited = app_.weeks_awaited) took += fit<Weeks>(awaited->job, weeks_of);
        if (const auto awaited = app_.records_awaited) took += fit<Records>(awaited->job, records_of);
        return took;
    }
    void pass(std::int64_t milliseconds) { later_ms_ += milliseconds; }

  private:
    template <class Found>
    double fit(const FitJob& job, Found (*made)(const FitJob&, const std::stop_token&)) {
        std::shared_ptr<const Found> found;
        const double took = once_ms([&] { found = std::make_shared<const Found>(made(job, {})); });
        want(Fitted<Found>{job.generation, std::move(found)});
        return took;
    }

    fs::path journal_;
    std::shared_ptr<const content::Content> content_;
    App app_;
    std::int64_t later_ms_ = 0;
};

/// A drill from a fresh mix. @return the longest that an answer took, and what its end took
std::pair<double, double> taste(Desk& desk) {
    App& app = desk.app();
    desk.want(ReadCautions{});
    desk.want(GoTo{Place::prepare});
    if (const auto job = app.bench.job) desk.want(plan_for(*job));
    desk.want(KeepMix{});
    desk.want(GoTo{Place::taste});
    desk.want(ChooseMix{0});
    desk.want(StartDrill{});
    double longest = 0.0;
    double last = 0.0;
    constexpr std::int64_t rest_ms = 600'000;
    while (app.running) switch (phase_of(*app.running)) {
            case Phase::acquaint:
                desk.want(Acquainted{});
                break;
            case Phase::pour:
                desk.want(Poured{});
                break;
            case Phase::rest:
                desk.want(Poured{});
                desk.pass(rest_ms);
                desk.want(Tick{});
                break;
            case Phase::answer:
                desk.want(PickCup{1});
                desk.want(PickCertainty{drills::Certainty::leaning});
                longest = std::max(longest, desk.want(LockAnswer{}));
                break;
            case Phase::reveal:
                desk.want(FoundSign{1});
                last = desk.want(LockSign{});
                break;
            case Phase::done:
                return {longest, last};
        }
    return {longest, last};
}

void add_places(std::vector<Line>& lines, Desk& desk, std::size_t rounds) {
    Screen screen;
    std::size_t seen = 0;
    for (const auto& [place, name] :
         {std::pair{Place::prepare, "Prepare"}, std::pair{Place::taste, "Taste"},
          std::pair{Place::palate, "Palate"}, std::pair{Place::weeks, "Weeks"},
          std::pair{Place::classroom, "Class"}, std::pair{Place::records, "Records"}}) {
        const std::string what = name;
        lines.push_back({what + ", gone to for the first time", desk.want(GoTo{place}), opening_ms});
        if (const double beside = desk.settle(); beside > 0.0)
            lines.push_back({what + ", read and fitted beside the window", beside, beside_ms});
        lines.push_back(
            {what + ", what a frame shows, built",
             median_ms(rounds, [&](std::size_t) { seen += frame_view(desk.app()).status.size(); }),
             frame_ms});
        const FrameView view = frame_view(desk.app());
        lines.push_back({what + ", that frame drawn",
                         median_ms(rounds, [&](std::size_t) { screen.draw(view); }), drawn_ms});
    }
    if (seen == 0) lines.clear();
}

void add_program(std::vector<Line>& lines, const fs::path& journal, double idle_s) {
    const fs::path program =
        fs::read_symlink("/proc/self/exe").parent_path().parent_path() / "gui" / "sipladder";
    if (!has_display() || !fs::exists(program)) return;
    const ProgramRun run = run_program(program, journal, content::locate(""), idle_s);
    constexpr double percent = 100.0;
    lines.push_back(
        {"the program, from its start to its first frame, median of 5", run.first_frame_ms, first_frame_ms});
    lines.push_back({"the first of these starts", run.coldest_start_ms, first_frame_ms});
    lines.push_back(
        {"the program, processor while nothing is done", percent * run.idle_share, idle_percent, "%"});
}

}  // namespace

void add_window(Report& report, const WindowBench& bench) {
    const Folder folder;
    const fs::path file = folder / "years.sipladder";
    std::size_t rows = 0;
    {
        journal::Journal journal = journal::Journal::open(file);
        write_long_person(journal, content::load(content::locate("")), bench.sittings, gui::now());
        rows = journal.rows();
    }
    const double megabytes = static_cast<double>(fs::file_size(file)) / 1e6;
    std::vector<Line> lines;
    add_program(lines, file, bench.idle_s);
    Desk desk(file);
    lines.push_back({"journal opened, its person read", desk.open(), opening_ms});
    add_places(lines, desk, bench.rounds);
    const auto [answer, end] = taste(desk);
    lines.push_back({"an answer locked, the longest of twelve", answer, answer_ms});
    lines.push_back({"the last sign of a drill, and the person read again", end, opening_ms});
    Table table{"window",
                "The window on " + std::to_string(bench.sittings) + " sittings of one person",
                std::to_string(rows) + " rows, " + std::to_string(static_cast<int>(megabytes)) +
                    " MB. Median where it is quick, once where it is long.",
                {"measured", "budget"},
                {}};
    for (const Line& line : lines) {
        const simulate::Figure measured{line.measured, 0.0};
        table.rows.push_back({line.what + ", " + line.unit, {measured, simulate::Figure{line.budget, 0.0}}});
        std::string wanted = "at most ";
        wanted.append(std::to_string(static_cast<int>(line.budget))).append(" ").append(line.unit);
        report.goals.push_back({line.what, std::move(wanted), measured, line.measured <= line.budget});
    }
    report.tables.push_back(std::move(table));
}

}  // namespace sipladder::benchmark

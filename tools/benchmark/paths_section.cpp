#include "tools/benchmark/paths_section.hpp"

#include "drills/classroom/invented.hpp"
#include "drills/classroom/results.hpp"
#include "drills/classroom/service.hpp"
#include "drills/demo.hpp"
#include "drills/sheets/class_sheets.hpp"
#include "drills/sheets/labels.hpp"
#include "engine/content/content.hpp"
#include "engine/content/location.hpp"
#include "engine/journal/journal.hpp"
#include "engine/threshold/posterior.hpp"
#include "gui/app/apply.hpp"
#include "gui/views/frame.hpp"
#include "tools/benchmark/methods.hpp"
#include "tools/benchmark/timing.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace sipladder::benchmark {

namespace {

namespace fs = std::filesystem;

/// Own time beside the least that the same work can cost; a goal where there is one.
struct Path {
    std::string name;
    double own_ms{};
    std::optional<double> least_ms{};
    double goal_ms{};
};

/// All bytes of the folder's JSON files, read and looked at once.
std::size_t bytes_read(const fs::path& folder) {
    std::size_t lines = 0;
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(folder)) {
        if (entry.path().extension() != ".json") continue;
        std::ifstream in(entry.path(), std::ios::binary);
        const std::string text{std::istreambuf_iterator<char>(in), {}};
        lines += static_cast<std::size_t>(std::ranges::count(text, '\n'));
    }
    return lines;
}

void add_start(std::vector<Path>& paths, std::size_t rounds) {
    const fs::path folder = content::locate("");
    std::size_t seen = 0;
    paths.push_back({"content read and checked (least: its bytes read)",
                     median_ms(rounds, [&](std::size_t) { seen += content::load(folder).ladders.size(); }),
                     median_ms(rounds, [&](std::size_t) { seen += bytes_read(folder); }), 100.0});
    const auto content = std::make_shared<const content::Content>(content::load(folder));
    const auto demo = std::make_shared<const drills::Demo>(drills::load_demo(folder));
    const Instant now{.utc_ms = 1'790'000'000'000, .offset_min = 60, .monotonic_ms = 5'000};
    const auto start = [&] {
        return gui::start({.content = content,
                           .demo = demo,
                           .journal = std::make_shared<journal::Journal>(journal::Journal::in_memory()),
                           .sheets = {},
                           .seed = Seed{3}},
                          now);
    };
    gui::App app = start();
    paths.push_back({"the demo's eight weeks, tasted and fitted",
                     median_ms(3,
                               [&](std::size_t) {
                                   app = start();
                                   gui::apply(app, gui::LookAtDemo{}, now);
                               }),
                     std::nullopt, 1000.0});
    for (const auto& [place, name] : {std::pair{gui::Place::palate, "Palate"},
                                      {gui::Place::weeks, "Weeks"},
                                      {gui::Place::prepare, "Prepare"}}) {
        gui::apply(app, gui::GoTo{place}, now);
        std::string what = "what a frame of ";
        what.append(name).append(" shows, built");
        paths.push_back({std::move(what),
                         median_ms(rounds, [&](std::size_t) { seen += frame_view(app).status.size(); }),
                         std::nullopt, 2.0});
    }
    if (seen == 0) paths.clear();
}

void add_answer(std::vector<Path>& paths, std::size_t rounds) {
    const threshold::Posterior start(shipped_engine_prior(), threshold::three_afc, threshold::Fineness::fine);
    threshold::Posterior posterior = start;
    const threshold::RiseTable table = rise_table(start, 0.1);
    std::vector<double> cells(start.cells().begin(), start.cells().end());
    const std::vector<double> factors(cells.size(), 0.999);
    bool right = false;
    const double own = median_ms(10 * rounds, [&](std::size_t) {
        right = !right;
        posterior.update(table, right);
    });
    double sum = 0.0;
    const double least = median_ms(10 * rounds, [&](std::size_t) {
        for (std::size_t i = 0; i < cells.size(); ++i) cells[i] *= factors[i];
        sum += cells[cells.size() / 2];
    });
    if (sum > 0.0)
        paths.push_back(
            {"one answer on the grid that reports (least: each cell multiplied once)", own, least, 10.0});
}

void add_class(std::vector<Path>& paths) {
    namespace classroom = drills::classroom;
    namespace sheets = drills::sheets;
    classroom::ClassDrill ranking{.name = "Order",
                                  .question = "Put the cups in order of sweetness, weakest first.",
                                  .task = classroom::Task::ranking,
                                  .samples = {},
                                  .choices = {}};
    constexpr std::size_t levels = 6;
    for (std::size_t i = 0; i < levels; ++i)
        ranking.samples.push_back({.bottle = std::string(1, static_cast<char>('K' + i)),
                                   .what = "sucrose in water",
                                   .level = static_cast<double>(i + 1),
                                   .times = 1,
                                   .right = std::nullopt,
                                   .substance = "sucrose"});
    classroom::ClassDrill finding = ranking;
    finding.name = "Find";
    finding.question = "Which cup holds the sugar?";
    finding.task = classroom::Task::which_of_three;
    const classroom::ClassPlan plan{.people = 200, .spares = 2, .groups = 0, .drills = {ranking, finding}};
    std::size_t bytes = 0;
    std::size_t labels = 0;
    const double own = once_ms([&] {
        const classroom::Service service = classroom::design(plan, Seed{4});
        const sheets::ClassInfo info{
            .title = "Invented class", .names = {}, .cautions = {}, .taster_cautions = {}, .made = {}};
        bytes += sheets::ballots_pdf(service, info, sheets::Paper::a4).size();
        bytes += sheets::key_pdf(service, info, sheets::Paper::a4).size();
        bytes += sheets::pour_list_pdf(service, info, sheets::Paper::a4).size();
        bytes += sheets::tray_maps_pdf(service, info, sheets::Paper::a4).size();
        labels = sheets::cup_labels(service).size();
    });
    if (bytes == 0) return;
    std::string name = "a class of 200 on paper, ballots, key, pour list and tray maps, ";
    name.append(std::to_string(labels)).append(" cups");
    paths.push_back({std::move(name), own, std::nullopt, 5000.0});
    const content::Content content = content::load(content::locate(""));
    const classroom::Service service = classroom::design(plan, Seed{4});
    const classroom::Ballots ballots = classroom::invented_answers(service, {0.3}, Seed{5});
    std::size_t drills = 0;
    const double results =
        once_ms([&] { drills += classroom::class_results(service, ballots, {}, content).drills.size(); });
    if (drills > 0)
        paths.push_back({"results of these 200, their ballots typed in", results, std::nullopt, 1000.0});
}

}  // namespace

void add_paths(Report& report, std::size_t rounds) {
    std::vector<Path> paths;
    add_start(paths, std::max<std::size_t>(rounds / 10, 3));
    add_answer(paths, rounds);
    add_class(paths);
    Table table{"paths",
                "What a person waits for",
                "Median on one core; beside it the least that the same work can cost, measured in this run.",
                {"ms", "least, ms", "budget, ms"},
                {}};
    for (const Path& path : paths) {
        const simulate::Figure own{path.own_ms, 0.0};
        Cell least;
        if (path.least_ms) least = simulate::Figure{*path.least_ms, 0.0};
        table.rows.push_back({path.name, {own, least, simulate::Figure{path.goal_ms, 0.0}}});
        std::string wanted = "at most ";
        wanted.append(std::to_string(static_cast<int>(path.goal_ms))).append(" ms");
        report.goals.push_back({path.name, std::move(wanted), own, path.own_ms <= path.goal_ms});
    }
    report.tables.push_back(std::move(table));
}

}  // namespace sipladder::benchmark

// sipladder-bench: this program beside published methods, in one run.

#include "drills/sheets/chart_file.hpp"
#include "engine/chart/bench_chart.hpp"
#include "engine/problem.hpp"
#include "tools/arguments/arguments.hpp"
#include "tools/benchmark/accuracy.hpp"
#include "tools/benchmark/habit_sections.hpp"
#include "tools/benchmark/hour_section.hpp"
#include "tools/benchmark/journal_section.hpp"
#include "tools/benchmark/paths_section.hpp"
#include "tools/benchmark/plans_section.hpp"
#include "tools/benchmark/report.hpp"
#include "tools/benchmark/speed.hpp"
#include "tools/benchmark/weeks.hpp"
#include "tools/benchmark/window_section.hpp"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <exception>
#include <fstream>
#include <iostream>
#include <string>

namespace {

namespace benchmark = sipladder::benchmark;
namespace chart = sipladder::chart;

struct Options {
    bool quick = false;
    std::size_t people = 4000;
    std::uint64_t seed = 1;
    std::size_t threads = 0;
    std::string json;
    std::string chart;
    std::vector<std::string> only;
};

constexpr std::array<const char*, 17> sections{
    "accuracy", "people", "warnings", "stopping", "stock",   "mixing", "certainty", "quicklook", "history",
    "weeks",    "class",  "speed",    "plans",    "journal", "hours",  "paths",     "window"};

bool wanted(const Options& options, const std::string& section) {
    return options.only.empty() ||
           std::find(options.only.begin(), options.only.end(), section) != options.only.end();
}

/// One line that overwrites itself, on a terminal only.
void show_progress(const std::string& what, std::size_t done, std::size_t of) {
    if (isatty(STDERR_FILENO) == 0) return;
    std::cerr << "\r\033[K";
    if (done < of) std::cerr << what << ": " << done << " of " << of << " people" << std::flush;
}

chart::Chart chart_of(const std::vector<benchmark::Curve>& curves, std::size_t people) {
    using Kind = chart::BenchLine::Kind;
    chart::BenchChart data;
    data.title = "Error of a threshold against cups tasted";
    data.note =
        std::to_string(people) +
        " simulated people, the same for every method. Dashed: starts, as Sipladder does here, from the "
        "population's own spread. Dotted: limits that no method can pass.";
    for (const benchmark::Curve& curve : curves) {
        if (curve.name.starts_with(' ') || curve.presentations.empty())
            continue;  // variants stay in the table
        chart::BenchLine line{curve.name, Kind::published, {}, curve.rmse};
        if (curve.own)
            line.kind = Kind::own;
        else if (curve.is_limit)
            line.kind = Kind::limit;
        else if (curve.knows_population)
            line.kind = Kind::shares_population;
        constexpr double cups_each = 3.0;
        for (const std::size_t n : curve.presentations)
            line.cups.push_back(cups_each * static_cast<double>(n));
        data.lines.push_back(std::move(line));
    }
    return chart::bench_chart(data);
}

void write_chart(const chart::Chart& chart, const std::string& file) {
    namespace sheets = sipladder::drills::sheets;
    const sheets::ChartSize size{.width_pt = 760.0, .height_pt = 560.0};
    if (file.ends_with(".svg")) return sheets::write_chart_svg(chart, size, file);
    if (file.ends_with(".png")) return sheets::write_chart_png(chart, size, file);
    throw sipladder::Refused("--chart", "is \"" + file + "\"", "a file that ends in .svg or .png");
}

void write_text(const std::string& file, const std::string& text) {
    std::ofstream out(file, std::ios::binary);
    out << text;
    out.close();
    if (!out) throw sipladder::Failed(file + " cannot be written");
}

void bench(const Options& options) {
    benchmark::Run run;
    run.people = options.quick ? std::min<std::size_t>(options.people, 40) : options.people;
    run.seed = sipladder::Seed{options.seed};
    run.threads = options.threads;
    run.progress = show_progress;
    benchmark::Report report;
    report.lines = {std::to_string(run.people) + " simulated people a condition, seed " +
                        std::to_string(options.seed) +
                        ", 3-AFC; in brackets the standard error, the person being the unit",
                    std::string("build ") + SIPLADDER_BUILD +
                        (options.quick ? ", quick: far too few people to judge by" : "")};
    if (wanted(options, "accuracy")) {
        const auto curves = benchmark::add_accuracy(report, run);
        if (!options.chart.empty()) write_chart(chart_of(curves, run.people), options.chart);
    }
    if (wanted(options, "people")) benchmark::add_other_people(report, run);
    if (wanted(options, "warnings")) benchmark::add_warnings(report, run);
    if (wanted(options, "stopping")) benchmark::add_stopping(report, run);
    if (wanted(options, "stock")) benchmark::add_stock(report, run);
    if (wanted(options, "mixing")) benchmark::add_mixing(report, run);
    if (wanted(options, "certainty")) benchmark::add_certainty(report, run);
    if (wanted(options, "quicklook")) benchmark::add_quick_look(report, run);
    if (wanted(options, "history")) benchmark::add_history(report, run);
    if (wanted(options, "weeks")) benchmark::add_weeks(report, run);
    if (wanted(options, "class")) benchmark::add_class(report, run);
    constexpr std::size_t rounds = 200;
    constexpr std::size_t few_rounds = 20;
    if (wanted(options, "speed")) {
        benchmark::add_speed(report, options.quick ? few_rounds : rounds);
        benchmark::add_weeks_speed(report, options.quick ? few_rounds : rounds);
    }
    constexpr std::size_t requests = 500;
    constexpr std::size_t few_requests = 25;
    if (wanted(options, "plans")) benchmark::add_plans(report, options.quick ? few_requests : requests);
    constexpr std::size_t journal_people = 500;
    constexpr std::size_t few_journal_people = 20;
    if (wanted(options, "journal"))
        benchmark::add_long_use(report, options.quick ? few_journal_people : journal_people);
    if (wanted(options, "paths")) benchmark::add_paths(report, options.quick ? few_rounds : rounds);
    constexpr std::size_t hours = 4;
    if (wanted(options, "hours")) benchmark::add_hours_of_use(report, options.quick ? 1 : hours);
    constexpr std::size_t sittings = 5'000;
    constexpr std::size_t few_sittings = 200;
    if (wanted(options, "window"))
        benchmark::add_window(report, {.sittings = options.quick ? few_sittings : sittings,
                                       .rounds = options.quick ? few_rounds : rounds,
                                       .idle_s = options.quick ? 1.0 : 10.0});
    std::cout << benchmark::as_text(report);
    if (!options.json.empty()) write_text(options.json, benchmark::as_json(report));
}

void add_options(sipladder::arguments::Command app, Options& options) {
    app.add_flag("--quick", options.quick, "a few people and rounds: does it run? The figures mean nothing");
    app.add_option("--people", options.people, "simulated people a condition (default 4000)")
        .between(2, 1'000'000);
    app.add_option("--seed", options.seed, "another seed, other people (default 1)");
    app.add_option("--threads", options.threads,
                   "0: as many as the machine has; the figures do not depend on it")
        .between(0, 1024);
    app.add_option("--json", options.json, "writes all figures to this file");
    app.add_option("--chart", options.chart, "writes the chart of accuracy, .svg or .png");
    app.add_option(
           "--only", options.only,
           "of accuracy, people, warnings, stopping, stock, mixing, certainty, quicklook, history, "
           "weeks, class, speed, plans, journal, hours, paths, window (with a display, the program itself)")
        .one_of({sections.begin(), sections.end()});
    app.on_run([&options] { bench(options); });
}

}  // namespace

int main(int argc, char** argv) {
    Options options;
    try {
        sipladder::arguments::Program program(
            "Sipladder beside published ways to measure a threshold: accuracy, honesty and speed, in one "
            "run");
        add_options(program.command(), options);
        return program.run(argc, argv);
    } catch (const std::exception& problem) {
        std::cerr << problem.what() << '\n';
        return 1;
    }
}

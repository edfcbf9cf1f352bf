#include "engine/problem.hpp"
#include "tools/cli/verb.hpp"

#include <exception>
#include <iostream>
#include <string>
#include <vector>

namespace {

constexpr int done = 0;
constexpr int refused = 1;
constexpr int wrong_usage = 2;

void add_verbs(CLI::App& app, sipladder::cli::Common& common) {
    app.set_version_flag("--version", SIPLADDER_VERSION);
    app.require_subcommand(1);
    app.fallthrough();  // the common options may stand after the verb
    app.add_flag("--json", common.json, "one JSON object on standard output, for programs");
    app.add_option("--journal", common.journal, "the journal file");
    app.add_option("--content", common.content,
                   "the content folder (default: SIPLADDER_CONTENT, else the shipped one)");
    sipladder::cli::add_demo(app, common);
    sipladder::cli::add_panel(app, common);
    sipladder::cli::add_prepare(app, common);
    sipladder::cli::add_dilute(app, common);
    sipladder::cli::add_convert(app, common);
    sipladder::cli::add_acidity(app, common);
    sipladder::cli::add_fit(app, common);
    sipladder::cli::add_ballots(app, common);
    sipladder::cli::add_best_estimate(app, common);
    sipladder::cli::add_discriminate(app, common);
    sipladder::cli::add_rank(app, common);
    sipladder::cli::add_sheets(app, common);
    sipladder::cli::add_simulate(app, common);
    sipladder::cli::add_trend(app, common);
    sipladder::cli::add_journal(app, common);
    sipladder::cli::add_content(app, common);
}

/// The word that stands where a subcommand is wanted and is none; empty: there is no such word.
std::string unknown_subcommand(const CLI::App& app) {
    const CLI::App* deepest = &app;
    while (!deepest->get_subcommands().empty()) deepest = deepest->get_subcommands().front();
    if (deepest->get_subcommands([](const CLI::App*) { return true; }).empty()) return {};
    const std::vector<std::string> left = app.remaining(true);
    return left.empty() || left.front().starts_with('-') ? std::string() : left.front();
}

}  // namespace

int main(int argc, char** argv) {
    CLI::App app{
        "Sipladder: threshold drills on solutions of known strength, for scripts, classes and checking"};
    sipladder::cli::Common common;
    try {
        add_verbs(app, common);
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        if (const std::string unknown = unknown_subcommand(app); !unknown.empty()) {
            std::cerr << '"' << unknown << "\" is no subcommand; --help lists those there are\n";
            return wrong_usage;
        }
        return app.exit(error) == 0 ? done : wrong_usage;
    } catch (const sipladder::Refused& problems) {
        for (const sipladder::Problem& problem : problems.problems()) std::cerr << to_text(problem) << '\n';
        return refused;
    } catch (const std::exception& failure) {
        std::cerr << failure.what() << '\n';
        return refused;
    }
    return done;
}

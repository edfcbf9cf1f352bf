#include "engine/problem.hpp"
#include "tools/cli/verb.hpp"

#include <exception>
#include <iostream>

namespace {

constexpr int refused = 1;

void add_verbs(sipladder::arguments::Command app, sipladder::cli::Common& common) {
    app.require_subcommand();
    app.let_options_follow();
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

}  // namespace

int main(int argc, char** argv) {
    sipladder::cli::Common common;
    try {
        sipladder::arguments::Program program(
            "Sipladder: threshold drills on solutions of known strength, for scripts, classes and checking");
        program.set_version(SIPLADDER_VERSION);
        add_verbs(program.command(), common);
        return program.run(argc, argv);
    } catch (const sipladder::Refused& problems) {
        for (const sipladder::Problem& problem : problems.problems()) std::cerr << to_text(problem) << '\n';
        return refused;
    } catch (const std::exception& failure) {
        std::cerr << failure.what() << '\n';
        return refused;
    }
}

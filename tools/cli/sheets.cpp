#include "drills/classroom/class_file.hpp"
#include "drills/classroom/service.hpp"
#include "drills/sheets/class_papers.hpp"
#include "drills/sheets/surface.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "tools/cli/verb.hpp"

#include <filesystem>
#include <memory>

namespace sipladder::cli {

namespace {

namespace fs = std::filesystem;
namespace sheets = drills::sheets;

struct Options {
    std::string plan;
    std::string out;
    std::string paper = "a4";
    std::uint64_t seed = 1;
    std::string date;
};

void show(const Common& common, const drills::classroom::Costs& costs,
          const std::vector<std::string>& files) {
    if (common.json)
        return print({{"files", files},
                      {"cups", costs.cups},
                      {"cups_a_person", costs.cups_a_person},
                      {"litres", costs.litres},
                      {"pouring_minutes", costs.pouring_minutes}});
    say(std::to_string(costs.cups) + " cups, " + std::to_string(costs.cups_a_person) + " a person; " +
        fixed(costs.litres, 1) + " L in them; about " + std::to_string(costs.pouring_minutes) +
        " min to pour for one pair of hands.");
    for (const std::string& file : files) say(file);
}

void make_sheets(const Common& common, const Options& options) {
    const content::Content content = load_content(common);
    const auto read = drills::classroom::prepared(drills::classroom::read_class_file(options.plan, content),
                                                  content, Seed{options.seed}, options.plan);
    const Instant made = noon_from_day(options.date, "--date");
    const auto service = drills::classroom::design(read.plan, Seed{options.seed});
    const sheets::Paper paper = options.paper == "a4" ? sheets::Paper::a4 : sheets::Paper::us_letter;
    const std::vector<sheets::ClassPaper> papers =
        sheets::class_sheets(read, service, made, paper);  // all made before the first is written
    std::error_code error;
    fs::create_directories(options.out, error);
    if (error)
        throw Refused("--out", options.out + " cannot be made: " + error.message(),
                      "a folder that may be written");
    std::vector<std::string> files;
    for (const sheets::ClassPaper& one : papers) {
        files.push_back((fs::path(options.out) / one.name).string());
        sheets::write_whole(files.back(), one.bytes);
    }
    show(common, drills::classroom::costs(read.plan), files);
}

}  // namespace

void add_sheets(arguments::Command app, const Common& common) {
    arguments::Command verb =
        app.add_subcommand("sheets", "a class on paper: ballots, key, pour list, tray maps, labels");
    auto options = std::make_shared<Options>();
    verb.add_option("--plan", options->plan, "what the class is to taste: a file of shape sipladder-class/1")
        .required();
    verb.add_option("--out", options->out, "folder for the PDFs").required();
    verb.add_option("--date", options->date, "of the class, as 2026-11-26; stands on every sheet").required();
    verb.add_option("--paper", options->paper, "a4 | letter (default a4)").one_of({"a4", "letter"});
    verb.add_option("--seed", options->seed, "another seed, other codes and orders (default 1)");
    verb.on_run([&common, options] { make_sheets(common, *options); });
}

}  // namespace sipladder::cli

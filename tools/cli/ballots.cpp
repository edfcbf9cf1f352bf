#include "drills/classroom/ballots.hpp"

#include "drills/classroom/class_file.hpp"
#include "drills/classroom/results.hpp"
#include "drills/sheets/class_papers.hpp"
#include "drills/sheets/surface.hpp"
#include "engine/content/csv.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "tools/cli/class_json.hpp"
#include "tools/cli/verb.hpp"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <memory>
#include <optional>

namespace sipladder::cli {

namespace {

namespace classroom = drills::classroom;
namespace fs = std::filesystem;
namespace sheets = drills::sheets;

struct Options {
    std::string file;
    std::string plan;
    std::uint64_t seed = 1;
    std::string second;
    std::string out;
    std::string date;
    std::string paper = "a4";
    bool for_the_wall = false;
};

/// A cell of a table; one that a spreadsheet would take for a formula is given an apostrophe.
std::string cell(const std::string& text) {
    const bool is_formula = !text.empty() && std::string("=+-@").find(text.front()) != std::string::npos;
    return content::csv_cell(is_formula ? "'" + text : text);
}

std::string who(const classroom::PreparedClass& read, const classroom::Service& service, std::size_t seat) {
    const std::size_t number = service.seats[seat].number;
    if (number <= read.names.size() && !read.names[number - 1].empty()) return read.names[number - 1];
    return "seat " + std::to_string(number);
}

struct Table {
    std::string name;  ///< of the file
    std::string text;
    std::string next;  ///< what to do with it
};

Table threshold_table(const classroom::PreparedClass& read, const classroom::Service& service,
                      const classroom::Ballots& ballots, std::size_t drill) {
    const classroom::ClassDrill& of = service.plan.drills[drill];
    std::string text = "assessor,concentration_";
    text += of.scale == Scale::g_per_L ? "g_per_L" : "pct_vol";
    text += ",presentations,correct\n";
    for (const classroom::Count& count : classroom::counts(ballots, service, drill))
        text += cell(who(read, service, count.seat)) + "," + exact(of.samples[count.sample].level) + "," +
                std::to_string(count.presentations) + "," + std::to_string(count.correct) + "\n";
    return {"threshold_" + std::to_string(drill + 1) + ".csv", text, "panel … --task 3-afc"};
}

Table rank_table(const classroom::PreparedClass& read, const classroom::Service& service,
                 const classroom::Ballots& ballots, std::size_t drill) {
    std::string text = "assessor";
    for (const classroom::Sample& sample : service.plan.drills[drill].samples)
        text.append(",").append(cell(sample.bottle));
    const classroom::Ranks found = classroom::ranks(ballots, service, drill);
    for (std::size_t i = 0; i < found.seats.size(); ++i) {
        text.append("\n").append(cell(who(read, service, found.seats[i])));
        for (const double rank : found.by_sample[i]) text.append(",").append(fixed(rank, 0));
    }
    return {"ranks_" + std::to_string(drill + 1) + ".csv", text + "\n", "rank … --expected"};
}

Table confusion_table(const classroom::Service& service, const classroom::Ballots& ballots,
                      std::size_t drill) {
    const classroom::ClassDrill& of = service.plan.drills[drill];
    std::string text = "bottle,what";
    for (const std::string& choice : of.choices) text.append(",").append(cell(choice));
    const auto found = classroom::confusion(ballots, service, drill);
    for (std::size_t i = 0; i < found.size(); ++i) {
        text.append("\n").append(cell(of.samples[i].bottle)).append(",").append(cell(of.samples[i].what));
        for (const std::size_t count : found[i]) text.append(",").append(std::to_string(count));
    }
    return {"answers_" + std::to_string(drill + 1) + ".csv", text + "\n", "what was taken for what"};
}

std::vector<Table> tables(const classroom::PreparedClass& read, const classroom::Service& service,
                          const classroom::Ballots& ballots) {
    std::vector<Table> all;
    for (std::size_t drill = 0; drill < service.plan.drills.size(); ++drill) {
        const classroom::Task task = service.plan.drills[drill].task;
        all.push_back(task == classroom::Task::which_of_three ? threshold_table(read, service, ballots, drill)
                      : task == classroom::Task::ranking      ? rank_table(read, service, ballots, drill)
                                                              : confusion_table(service, ballots, drill));
    }
    return all;
}

void show(const Common& common, const classroom::PreparedClass& read, const classroom::Service& service,
          const classroom::Ballots& ballots, const std::vector<Table>& all, const Json& results,
          const Options& options) {
    std::vector<std::string> no_shows;
    for (const std::size_t seat : ballots.no_shows) no_shows.push_back(who(read, service, seat));
    std::vector<std::string> files;
    files.reserve(all.size());
    for (const Table& table : all) files.push_back((fs::path(options.out) / table.name).string());
    if (common.json)
        return print({{"answers", ballots.answers.size()},
                      {"gaps", ballots.gaps},
                      {"no_shows", no_shows},
                      {"results", results},
                      {"files", files}});
    say(std::to_string(ballots.answers.size()) + " answers read.");
    for (const std::string& gap : ballots.gaps) say("Left out: " + gap + ".");
    for (const std::string& name : no_shows) say("Not there: " + name + ".");
    for (std::size_t i = 0; i < all.size(); ++i) say(files[i] + " (" + all[i].next + ")");
}

/// The second reading must be the same; else nothing is written, and only what differs is shown.
void refuse_differences(const classroom::Ballots& first, const classroom::Service& service,
                        const std::string& file) {
    const classroom::Ballots second =
        classroom::read_ballots(content::read_csv(read_file(file), file), service);
    std::vector<Problem> problems;
    for (const classroom::Difference& one : classroom::differences(first, second, service))
        problems.push_back(
            {one.where,
             "reads \"" + one.first + "\" in the first file and \"" + one.second + "\" in the second",
             "the same in both, as the paper has it"});
    if (!problems.empty()) throw Refused(problems);
}

void take_in(const Common& common, const Options& options) {
    const content::Content content = load_content(common);
    const auto read = classroom::prepared(classroom::read_class_file(options.plan, content), content,
                                          Seed{options.seed}, options.plan);
    if (options.for_the_wall && options.date.empty())
        throw Refused("--for-the-wall", "is given without --date", "--date of the class, for a report");
    Instant made;
    if (!options.date.empty()) made = noon_from_day(options.date, "--date");
    const classroom::Service service = classroom::design(read.plan, Seed{options.seed});
    const classroom::Ballots ballots =
        classroom::read_ballots(content::read_csv(read_file(options.file), options.file), service);
    if (!options.second.empty()) refuse_differences(ballots, service, options.second);
    std::vector<Table> all = tables(read, service, ballots);
    Json results = Json::array();
    if (common.json)
        results = results_json(classroom::class_results(service, ballots, read.names, content), service);
    const sheets::Paper paper = options.paper == "a4" ? sheets::Paper::a4 : sheets::Paper::us_letter;
    if (!options.date.empty())
        for (sheets::ClassPaper& report :
             sheets::class_reports(read, service, ballots, content, made, paper, options.for_the_wall))
            all.push_back({report.name, std::move(report.bytes), report.what});
    std::error_code error;
    fs::create_directories(options.out, error);
    if (error)
        throw Refused("--out", options.out + " cannot be made: " + error.message(),
                      "a folder that may be written");
    for (const Table& table : all) sheets::write_whole(fs::path(options.out) / table.name, table.text);
    show(common, read, service, ballots, all, results, options);
}

}  // namespace

void add_ballots(arguments::Command app, const Common& common) {
    arguments::Command verb = app.add_subcommand(
        "ballots", "filled ballots of a class: results, reports, and tables for panel and rank");
    auto options = std::make_shared<Options>();
    verb.add_option(
            "file", options->file,
            "seat,drill,line,answer and perhaps certainty, as printed on the ballots; a ranking is its "
            "codes from weakest to strongest, with blanks between")
        .required();
    verb.add_option("--plan", options->plan, "the file that sheets was given").required();
    verb.add_option("--seed", options->seed, "the seed that sheets was given (default 1)");
    verb.add_option("--second", options->second,
                    "the same ballots typed once more: only what differs is shown");
    verb.add_option("--out", options->out, "folder for the tables").required();
    verb.add_option("--date", options->date,
                    "of the class, as 2026-11-26: writes the class report and a page for each person");
    verb.add_option("--paper", options->paper, "a4 | letter (default a4)").one_of({"a4", "letter"});
    verb.add_flag("--for-the-wall", options->for_the_wall,
                  "the class report names nobody; each personal page tells its own name on it");
    verb.on_run([&common, options] { take_in(common, *options); });
}

}  // namespace sipladder::cli

#include "drills/demo.hpp"

#include "drills/classroom/class_file.hpp"
#include "drills/classroom/invented.hpp"
#include "drills/sheets/bench_sheet.hpp"
#include "drills/sheets/chart_file.hpp"
#include "drills/sheets/class_papers.hpp"
#include "drills/sheets/surface.hpp"
#include "engine/chart/palate_row.hpp"
#include "engine/chart/psychometric_curve.hpp"
#include "engine/content/location.hpp"
#include "engine/journal/journal.hpp"
#include "engine/problem.hpp"
#include "engine/safety/intake.hpp"
#include "engine/text.hpp"
#include "tools/cli/verb.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <memory>

namespace sipladder::cli {

namespace {

namespace fs = std::filesystem;
namespace sheets = drills::sheets;
namespace detection = drills::detection;

struct Options {
    std::string out = "sipladder-demo";
    std::uint64_t seed = 1;
};

/// Everything the demo leaves on disk, in the order it is made.
class Files {
  public:
    explicit Files(const std::string& folder) : folder_(folder) {
        std::error_code error;
        fs::create_directories(folder_, error);
        if (error) throw Refused("--out", folder + " cannot be made", "name a folder that can be written");
    }
    fs::path add(const std::string& name) {
        fs::path file = folder_ / name;
        fs::create_directories(file.parent_path());
        list_.push_back(file.string());
        return file;
    }
    const Json& list() const { return list_; }

  private:
    fs::path folder_;
    Json list_ = Json::array();
};

void write_bench_sheet(const drills::DemoSitting& sitting, const content::Content& content,
                       const drills::Demo& demo, Files& files) {
    const detection::Plan& plan = sitting.state.plan;
    sheets::SheetInfo info;
    info.for_whom = "an invented person";
    info.blinding = plan.blinding == drills::Blinding::served ? "a helper pours" : "alone, shuffled tray";
    info.made = demo.starts;
    info.cups = plan.most_presentations * drills::places;
    info.most_intake = safety::worst_case(plan.substance, plan.ladder, sitting.plan.request.base,
                                          {.presentations = static_cast<int>(plan.most_presentations),
                                           .cups_per_presentation = static_cast<int>(drills::places),
                                           .cup = plan.cup});
    for (const safety::Caution& caution : safety::cautions_for(content.cautions, plan.substance.id))
        info.cautions.push_back(caution.text);
    sheets::write_bench_sheet(sitting.plan, info, sheets::Paper::a4, files.add("bench_sheet.pdf"));
}

void write_charts(const drills::DemoSitting& sitting, Files& files) {
    const detection::Plan& plan = sitting.state.plan;
    threshold::Posterior posterior(plan.prior, threshold::three_afc, threshold::band_grid);
    const auto answers = detection::answered(sitting.state);
    for (const threshold::Counts& counts : threshold::counts_of(plan.ladder, answers))
        posterior.update(counts);
    const std::string title = plan.substance.name + " in " + plan.base_name + " (invented person)";
    const chart::Chart curve = chart::psychometric_curve({.title = title,
                                                          .component = plan.substance.component,
                                                          .levels = chart::pooled(plan.ladder, answers),
                                                          .curve = chart::curve_over(plan.ladder, posterior),
                                                          .threshold = sitting.found});
    sheets::write_chart_png(curve, {}, files.add("curve.png"));
    sheets::write_chart_svg(curve, {}, files.add("curve.svg"));
    const chart::Chart row =
        chart::palate_row({.title = title,
                           .component = plan.substance.component,
                           .filled = chart::PalateMeasure{.name = "detection", .threshold = sitting.found},
                           .outlined = {},
                           .beside = {}});
    sheets::write_chart_png(row, {.width_pt = 520.0, .height_pt = 120.0}, files.add("palate_row.png"));
}

/// The invented class: its sheets, the ballots as the invented people fill them in, and what they tell.
void write_class(const Common& common, const content::Content& content, const drills::Demo& demo,
                 const Options& options, Files& files) {
    const std::string plan = (content_folder(common) / "demo" / "class.json").string();
    const auto read = drills::classroom::prepared(drills::classroom::read_class_file(plan, content), content,
                                                  Seed{options.seed}, plan);
    const auto service = drills::classroom::design(read.plan, Seed{options.seed});
    const drills::classroom::InventedPeople people{std::log10(1.6)};  // g/L of sucrose; invented
    const auto ballots = drills::classroom::invented_answers(service, people, derived(Seed{options.seed}, 4));
    std::vector<sheets::ClassPaper> papers =
        sheets::class_sheets(read, service, demo.starts, sheets::Paper::a4);
    for (sheets::ClassPaper& one :
         sheets::class_reports(read, service, ballots, content, demo.starts, sheets::Paper::a4, false))
        papers.push_back(std::move(one));
    papers.push_back({"ballots.csv", drills::classroom::ballots_csv(ballots, service), "as typed in"});
    papers.push_back({"class.json", read_file(plan), "what sheets and ballots are given"});
    for (const sheets::ClassPaper& one : papers)
        sheets::write_whole(files.add("class/" + one.name), one.bytes);
}

std::string report(const drills::DemoSitting& sitting, const drills::Demo& demo, std::uint64_t seed) {
    const detection::Plan& plan = sitting.state.plan;
    const auto answers = detection::answered(sitting.state);
    const auto right = std::count_if(answers.begin(), answers.end(), [](const auto& a) { return a.correct; });
    const double truth = std::pow(10.0, sitting.assessor.truth.theta_log10);
    std::string text = demo.note + "\n\n";
    text +=
        "Seed " + std::to_string(seed) + ": another invented person, drawn from what is assumed of people.\n";
    text += plan.substance.name + " in " + plan.base_name + ", " + std::to_string(answers.size()) +
            " presentations of " + std::to_string(drills::places) + " cups, " + std::to_string(right) +
            " right.\n";
    text += threshold_text(sitting.found) + "\n";
    const double mixing_share = std::pow(sitting.found.mixing_sd_log10 / sitting.found.sd_log10, 2.0);
    text += (mixing_share < 0.01 ? "Less than 1 %" : percent(mixing_share)) +
            std::string(" of its variance comes from mixing. Prior: ") + sitting.found.prior + ".\n";
    for (const threshold::Warning& warning : sitting.found.warnings) text += "Mind: " + warning.text + "\n";
    text += "Only a simulation knows the truth: it was " + significant(truth, 2) + " " +
            unit_text(plan.ladder.scale) + ", " + (sitting.interval_holds_truth() ? "inside" : "outside") +
            " the interval.\n";
    text += "A threshold in water does not predict how strong a wine tastes.\n";
    return text;
}

void demo(const Common& common, const Options& options) {
    const content::Content content = load_content(common);
    const drills::Demo demo = drills::load_demo(content_folder(common));
    Files files(options.out);
    const fs::path record = files.add("demo.sipladder");
    fs::remove(record);  // a demo of another run; nobody's record
    journal::Journal journal = journal::Journal::open(record);
    const drills::DemoSitting sitting = drills::demo_sitting(journal, content, demo, Seed{options.seed});
    write_bench_sheet(sitting, content, demo, files);
    write_charts(sitting, files);
    write_class(common, content, demo, options, files);
    const std::string text = report(sitting, demo, options.seed);
    write_file(files.add("report.txt"), text);
    if (common.json)
        return print({{"threshold", threshold_json(sitting.found)},
                      {"truth", std::pow(10.0, sitting.assessor.truth.theta_log10)},
                      {"interval_holds_truth", sitting.interval_holds_truth()},
                      {"invented", true},
                      {"files", files.list()}});
    say(text);
    for (const auto& file : files.list()) say("wrote " + file.get<std::string>());
}

}  // namespace

void add_demo(arguments::Command app, const Common& common) {
    arguments::Command verb =
        app.add_subcommand("demo", "the whole main job with an invented person: plan, sitting, fit, sheets");
    auto options = std::make_shared<Options>();
    verb.add_option("--out", options->out, "folder for the files (default sipladder-demo)");
    verb.add_option("--seed", options->seed, "each seed invents another person (default 1)");
    verb.on_run([&common, options] { demo(common, *options); });
}

}  // namespace sipladder::cli

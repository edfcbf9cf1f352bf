#include "tools/cli/class_papers.hpp"

#include "drills/plans.hpp"
#include "drills/sheets/bench_sheet.hpp"
#include "drills/sheets/class_report.hpp"
#include "drills/sheets/class_sheets.hpp"
#include "engine/text.hpp"

#include <nlohmann/json.hpp>

#include <variant>

namespace sipladder::cli {

namespace classroom = drills::classroom;
namespace sheets = drills::sheets;

namespace {

Json estimate_json(const threshold::Estimate& found) {
    return {{"log10", found.log10},
            {"lower", found.lower_log10},
            {"upper", found.upper_log10},
            {"sd_log10", found.sd_log10}};
}

Json result_json(const classroom::ThresholdResult& result, const classroom::ClassDrill& drill) {
    if (result.seats.empty()) return {{"people", 0}};
    Json people = Json::array();
    for (std::size_t i = 0; i < result.seats.size(); ++i) {
        const panel::Person& person = result.pooled.people[i];
        Json one = estimate_json(person.shrunken);
        one["assessor"] = person.name;
        one["own_log10"] = person.own.log10;
        one["best_estimate_log10"] = result.best[i] ? Json(result.best[i]->log10) : Json(nullptr);
        people.push_back(std::move(one));
    }
    Json rungs = Json::array();
    for (const classroom::RungShare& rung : result.rungs)
        rungs.push_back({{"level", drill.samples[rung.sample].level},
                         {"presentations", rung.presentations},
                         {"correct", rung.correct},
                         {"p_value", rung.test.p_value}});
    return {{"people", result.seats.size()},
            {"unit", unit_text(drill.scale)},
            {"panel", estimate_json(result.pooled.mean)},
            {"best_estimate_log10", result.best_of_class ? Json(result.best_of_class->log10) : Json(nullptr)},
            {"differing", result.pooled.differing},
            {"assessors", people},
            {"rungs", rungs}};
}

Json result_json(const classroom::SinglesResult& result, const classroom::ClassDrill& /*drill*/) {
    Json found{{"counts", result.counts}};
    if (result.named) {
        found["right"] = result.named->right;
        found["answers"] = result.named->answers;
    }
    if (result.bits)
        found["bits"] = {
            {"value", result.bits->value}, {"lower", result.bits->lower}, {"upper", result.bits->upper}};
    Json distances = Json::array();
    for (const auto& distance : result.distances)
        if (distance.d_prime)
            distances.push_back({{"sample", distance.sample},
                                 {"d_prime", *distance.d_prime},
                                 {"standard_error", distance.standard_error}});
    if (!distances.empty()) found["distances"] = distances;
    return found;
}

Json result_json(const classroom::RankingResult& result, const classroom::ClassDrill& /*drill*/) {
    Json found{{"people", result.ranks.seats.size()}};
    if (!result.friedman) return found;
    found["friedman"] = {{"F", result.friedman->statistic}, {"p", result.friedman->p}};
    found["kendall_w"] = result.friedman->kendall_w;
    found["page"] = {{"L", result.page->statistic}, {"p", result.page->p}};
    return found;
}

/// One sheet for every ladder of the class.
std::string bench_sheet(const ClassFile& read, sheets::Paper paper) {
    sheets::SittingInfo sitting{.name = read.info.title, .drills = {}, .info = {}};
    for (const classroom::ClassDrill& drill : read.plan.drills) sitting.drills.push_back(drill.name);
    sitting.info.for_whom = "a class of " + std::to_string(read.plan.people) + ", " +
                            std::to_string(read.plan.spares) + " spare seats";
    sitting.info.blinding = "class service";
    sitting.info.made = read.info.made;
    sitting.info.cups = classroom::costs(read.plan).cups_a_person;
    sitting.info.most_intake = read.intake;
    sitting.info.cautions = read.info.cautions;
    std::vector<const solution::MixPlan*> mixes;
    for (const solution::MixPlan& mix : read.mixes) mixes.push_back(&mix);
    return sheets::bench_sheet_pdf(mixes, sitting, paper);
}

}  // namespace

std::vector<ClassPaper> class_sheets(const ClassFile& read, const classroom::Service& service,
                                     sheets::Paper paper) {
    const sheets::ClassInfo& info = read.info;
    std::vector<ClassPaper> papers{
        {"ballots.pdf", sheets::ballots_pdf(service, info, paper), "one a seat"},
        {"key.pdf", sheets::key_pdf(service, info, paper), "for the panel leader only"},
        {"pour_list.pdf", sheets::pour_list_pdf(service, info, paper), "for who pours"},
        {"tray_maps.pdf", sheets::tray_maps_pdf(service, info, paper), "for who sets the table"},
        {"cup_labels.pdf",
         sheets::labels_pdf(sheets::cup_labels(service), read.labels, paper, "Cup labels: " + info.title,
                            info.made),
         "one a cup"}};
    if (read.mixes.empty()) return papers;
    papers.push_back({"bench_sheet.pdf", bench_sheet(read, paper), "what to buy, mix and check"});
    std::vector<sheets::Label> labels;
    for (const solution::MixPlan& mix : read.mixes)
        for (sheets::Label& label : sheets::bottle_labels(mix, info.made)) labels.push_back(std::move(label));
    papers.push_back(
        {"bottle_labels.pdf",
         sheets::labels_pdf(labels, read.labels, paper, "Bottle labels: " + info.title, info.made),
         "one a bottle and stock"});
    return papers;
}

classroom::ClassResults class_results(const classroom::Service& service, const classroom::Ballots& ballots,
                                      const std::vector<std::string>& names,
                                      const content::Content& content) {
    const auto assumed = [&](const std::string& id) {
        const solution::Substance& substance = content.substance(id);
        return classroom::Assumed{drills::assumed_prior(substance), substance.component};
    };
    return classroom::results(ballots, service, names, assumed, derived(service.seed, 2));
}

std::vector<ClassPaper> class_reports(const ClassFile& read, const classroom::Service& service,
                                      const classroom::Ballots& ballots, const content::Content& content,
                                      sheets::Paper paper, bool for_the_wall) {
    const auto named = class_results(service, ballots, read.info.names, content);
    std::vector<std::string> wall;
    if (for_the_wall) wall = classroom::wall_names(service.seats.size(), derived(service.seed, 3));
    const auto shown = for_the_wall ? class_results(service, ballots, wall, content) : named;
    return {{"class_report.pdf", sheets::class_report_pdf(shown, service, read.info, paper),
             for_the_wall ? "the class, for the wall" : "the class, with names"},
            {"personal_pages.pdf", sheets::personal_pages_pdf(named, service, read.info, wall, paper),
             "a page for each person"}};
}

Json results_json(const classroom::ClassResults& results, const classroom::Service& service) {
    Json drills = Json::array();
    for (std::size_t i = 0; i < results.drills.size(); ++i) {
        const classroom::ClassDrill& drill = service.plan.drills[i];
        Json one =
            std::visit([&](const auto& result) { return result_json(result, drill); }, results.drills[i]);
        one["drill"] = drill.name;
        drills.push_back(std::move(one));
    }
    return drills;
}

}  // namespace sipladder::cli

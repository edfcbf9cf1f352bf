#include "drills/sheets/class_papers.hpp"

#include "drills/sheets/bench_sheet.hpp"
#include "drills/sheets/class_report.hpp"
#include "drills/sheets/class_sheets.hpp"
#include "drills/sheets/surface.hpp"
#include "engine/problem.hpp"

#include <set>
#include <string>
#include <utility>

namespace sipladder::drills::sheets {

namespace {

const std::string base_label = "base";  // as bottle_labels writes it

ClassInfo info_of(const classroom::PreparedClass& read, const Instant& made, VolumeUnit volume) {
    return {.title = read.title,
            .names = read.names,
            .cautions = read.cautions,
            .taster_cautions = read.taster_cautions,
            .made = made,
            .volume = volume};
}

/// One sheet for every ladder of the class.
std::string bench_sheet(const classroom::PreparedClass& read, const ClassInfo& info, Paper paper) {
    SittingInfo sitting{.name = read.title, .drills = {}, .info = {}};
    for (const classroom::ClassDrill& drill : read.plan.drills) sitting.drills.push_back(drill.name);
    sitting.info.for_whom = "a class of " + std::to_string(read.plan.people) + ", " +
                            std::to_string(read.plan.spares) + " spare seats";
    sitting.info.blinding = "class service";
    sitting.info.made = info.made;
    sitting.info.volume = info.volume;
    sitting.info.cups = classroom::costs(read.plan).cups_a_person;
    sitting.info.most_intake = read.intake;
    sitting.info.cautions = read.cautions;
    std::vector<const solution::MixPlan*> mixes;
    for (const solution::MixPlan& mix : read.mixes) mixes.push_back(&mix);
    return bench_sheet_pdf(mixes, sitting, paper);
}

}  // namespace

void write_papers(const std::vector<ClassPaper>& papers, const std::filesystem::path& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (error)
        throw Refused("folder " + folder.string(), "cannot be made: " + error.message(),
                      "a folder that may be written");
    for (const ClassPaper& paper : papers) write_whole(folder / paper.name, paper.bytes);
}

std::vector<ClassPaper> class_sheets(const classroom::PreparedClass& read, const classroom::Service& service,
                                     const Instant& made, Paper paper, VolumeUnit volume) {
    const ClassInfo info = info_of(read, made, volume);
    std::vector<ClassPaper> papers{
        {"ballots.pdf", ballots_pdf(service, info, paper), "one a seat"},
        {"key.pdf", key_pdf(service, info, paper), "for the panel leader only"},
        {"pour_list.pdf", pour_list_pdf(service, info, paper), "for who pours"},
        {"tray_maps.pdf", tray_maps_pdf(service, info, paper), "for who sets the table"},
        {"cup_labels.pdf",
         labels_pdf(cup_labels(service), read.labels, paper, "Cup labels: " + info.title, info.made),
         "one a cup"}};
    if (read.mixes.empty()) return papers;
    papers.push_back({"bench_sheet.pdf", bench_sheet(read, info, paper), "what to buy, mix and check"});
    std::vector<Label> labels;
    std::set<std::string> bases;
    for (const solution::MixPlan& mix : read.mixes) {
        const bool has_base =
            !bases.insert(mix.request.base.id).second;  // ladders in one base share its bottle
        for (Label& label : bottle_labels(mix, info.made))
            if (!has_base || label.large != base_label) labels.push_back(std::move(label));
    }
    papers.push_back({"bottle_labels.pdf",
                      labels_pdf(labels, read.labels, paper, "Bottle labels: " + info.title, info.made),
                      "one a bottle and stock"});
    return papers;
}

std::vector<ClassPaper> class_reports(const classroom::PreparedClass& read, const classroom::Service& service,
                                      const classroom::Ballots& ballots, const content::Content& content,
                                      const Instant& made, Paper paper, bool for_the_wall) {
    const ClassInfo info = info_of(read, made, VolumeUnit::mL);
    const auto named = classroom::class_results(service, ballots, read.names, content);
    std::vector<std::string> wall;
    if (for_the_wall) wall = classroom::wall_names(service.seats.size(), derived(service.seed, 3));
    const auto shown = for_the_wall ? classroom::class_results(service, ballots, wall, content) : named;
    return {{"class_report.pdf", class_report_pdf(shown, service, info, paper),
             for_the_wall ? "the class, for the wall" : "the class, with names"},
            {"personal_pages.pdf", personal_pages_pdf(named, service, info, wall, paper),
             "a page for each person"}};
}

}  // namespace sipladder::drills::sheets

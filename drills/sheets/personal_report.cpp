#include "drills/sheets/personal_report.hpp"

#include "drills/sheets/page_flow.hpp"
#include "drills/sheets/report.hpp"
#include "drills/sheets/surface.hpp"

#include <algorithm>

namespace sipladder::drills::sheets {

namespace {

constexpr double line_pt = 10.6;   // of small text, as charts are set on a page
constexpr double most_pt = 640.0;  // a page

void add_row(Report& report, const PalateRow& row, std::span<const Tasted> done) {
    report.part(row.title);
    for (const PalatePicture& picture : row.pictures) {
        report.picture(picture.chart, std::min(most_pt, line_pt * picture.lines));
        if (&picture == &row.pictures.front() && !row.numbers.empty()) report.keep_with_next();
    }
    std::vector<Fact> facts;
    facts.reserve(row.numbers.size());
    for (const PalateNumber& number : row.numbers) facts.push_back({number.what, number.text});
    report.list(facts);
    for (const std::string& sentence : row.sentences) report.say(sentence);
    for (const std::string& warning : row.warnings) report.say("Take care: " + warning);
    report.keep_with_next();
    report.note((row.reported.empty() ? std::string{} : row.reported + ". ") + "Tasted on " +
                to_date(done[row.from.front()].started) + ".");
}

void add_question(Report& report, const Palate& palate, PalateQuestion question,
                  std::span<const Tasted> done) {
    report.head(text_of(question));
    if (palate.of(question).empty()) return report.note("Not drilled yet.");
    for (const PalateRow& row : palate.of(question)) add_row(report, row, done);
}

std::string span_text(std::span<const Tasted> done) {
    if (done.empty()) return "No drill is done yet.";
    const std::string first = to_date(done.back().started);
    const std::string last = to_date(done.front().started);
    std::string text = std::to_string(done.size());
    text.append(done.size() == 1 ? " drill, on " : " drills, from ").append(first);
    return first == last || done.size() == 1 ? text + "." : text + " to " + last + ".";
}

void write(Report& report, const Palate& palate, std::span<const Tasted> done, const PersonalInfo& info) {
    report.title("The palate of " + info.for_whom);
    report.say(
        span_text(done) +
        " Of each kind, substance and base the newest counts. Intervals are 95 %: where the true value "
        "lies in 95 of 100 such cases.");
    for (const PalateQuestion question : every_palate_question) add_question(report, palate, question, done);
    if (!info.next.empty()) {
        report.head("What next");
        for (const std::string& sentence : info.next) report.say(sentence);
        report.note(
            "± is one standard deviation in log10 units: ±0.1 is a factor of 1.3, ±0.2 of 1.6, ±0.3 of 2.");
    }
    report.head("What this does not tell");
    report.note(
        "Thresholds in water do not predict how strong wine tastes to you. What papers report comes from "
        "other "
        "people, other water and other methods; it is no norm. Nothing here is about health: who notices a "
        "change in taste that worries them asks a doctor.");
}

}  // namespace

std::string personal_report_pdf(const Palate& palate, std::span<const Tasted> done, const PersonalInfo& info,
                                Paper paper) {
    const double width = text_width(paper);
    const std::string title = "The palate of " + info.for_whom;
    return paged_pdf(paper, title, title + ", " + to_date(info.made), info.made, [&](cairo_t* context) {
        Report report(context, width);
        write(report, palate, done, info);
        return report.done();
    });
}

void write_personal_report(const Palate& palate, std::span<const Tasted> done, const PersonalInfo& info,
                           Paper paper, const std::filesystem::path& path) {
    write_whole(path, personal_report_pdf(palate, done, info, paper));
}

}  // namespace sipladder::drills::sheets

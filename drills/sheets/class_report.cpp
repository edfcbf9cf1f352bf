#include "drills/sheets/class_report.hpp"

#include "drills/classroom/result_words.hpp"
#include "drills/sheets/report.hpp"
#include "engine/chart/class_spread.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace sipladder::drills::sheets {

namespace {

using classroom::ClassDrill;
using classroom::ClassResults;
using classroom::interval_words;
using classroom::order_words;
using classroom::people_words;
using classroom::RankingResult;
using classroom::Service;
using classroom::SinglesResult;
using classroom::stand_words;
using classroom::ThresholdResult;

const char* const limits =
    "Values hold for these cups, this room and this day. They say how faint a taste was noticed, not how "
    "good "
    "a taster somebody is, and nothing about health; who notices a change in taste that worries them asks a "
    "doctor.";

double value(double log10) {
    return std::pow(10.0, log10);
}

std::string report_pdf(const ClassInfo& info, Paper paper, const std::string& what,
                       const std::function<void(Report&)>& write) {
    std::string footer = what;
    footer.append(": ").append(info.title).append(", ").append(to_date(info.made));
    const double width = text_width(paper);
    return paged_pdf(paper, what + ": " + info.title, footer, info.made, [&](cairo_t* context) {
        Report report(context, width);
        write(report);
        return report.done();
    });
}

/// Tables stand between sentences and note.
void add_class(Report& report, const ClassDrill& drill, const ThresholdResult& result) {
    for (const std::string& line : sentences(result, drill)) report.say(line);
    if (result.seats.empty()) return;
    constexpr double line_pt = 11.0;
    constexpr double most_pt = 640.0;  // a page
    report.picture(chart::class_spread({"", result.component, result.pooled}),
                   std::min(most_pt, line_pt * chart::class_spread_lines(result.seats.size())));
    report.rows({{"bottle", 0.14, Align::left, true},
                 {"level", 0.24, Align::right},
                 {"right", 0.22, Align::right},
                 {"if all guessed", 0.2, Align::right},
                 {"d'", 0.2, Align::right}},
                rung_cells(result, drill));
    report.rows({{"person", 0.26, Align::left, true},
                 {"with the others' help, 95 %", 0.3, Align::right},
                 {"alone", 0.11, Align::right},
                 {"E679", 0.11, Align::right},
                 {"than the mean", 0.22}},
                people_cells(result, drill));
    report.note(note(result));
}

void add_class(Report& report, const ClassDrill& drill, const SinglesResult& result) {
    for (const std::string& line : sentences(result, drill)) report.say(line);
    if (result.answers.empty()) return;
    constexpr double first = 0.34;
    std::vector<Column> columns{{"served", first}};
    const double share = (1.0 - first) / static_cast<double>(drill.choices.size());
    for (const std::string& choice : drill.choices) columns.push_back({choice, share, Align::right});
    report.rows(columns, count_cells(result, drill));
    if (const std::string text = note(result); !text.empty()) report.note(text);
}

void add_class(Report& report, const ClassDrill& drill, const RankingResult& result) {
    for (const std::string& line : sentences(result, drill)) report.say(line);
    if (!result.friedman) return;
    report.rows({{"bottle", 0.12, Align::left, true},
                 {"what", 0.46},
                 {"rank sum", 0.17, Align::right},
                 {"put below the one before", 0.25, Align::right}},
                rank_cells(result, drill));
    report.note(note(result));
}

// ---- one person

std::optional<std::size_t> place_of(const std::vector<std::size_t>& seats, std::size_t seat) {
    const auto found = std::find(seats.begin(), seats.end(), seat);
    if (found == seats.end()) return std::nullopt;
    return static_cast<std::size_t>(found - seats.begin());
}

/// The class's chart with one name on it.
chart::Chart only_named(const ThresholdResult& result, std::size_t place) {
    panel::Panel panel = result.pooled;
    for (std::size_t i = 0; i < panel.people.size(); ++i)
        if (i != place) panel.people[i].name.clear();
    chart::Chart chart = chart::class_spread({"", result.component, std::move(panel)});
    std::erase_if(chart.y.ticks, [](const chart::Tick& tick) { return tick.label.empty(); });
    return chart;
}

void add_person(Report& report, const ClassDrill& drill, const ThresholdResult& result, std::size_t place) {
    const panel::Person& person = result.pooled.people[place];
    std::vector<Fact> named{{"threshold, 95 %", interval_words(person.shrunken, drill.scale)},
                            {"from your answers alone", interval_words(person.own, drill.scale)},
                            {"the class", interval_words(result.pooled.mean, drill.scale)}};
    if (result.best[place])
        named.push_back({"best estimate (ASTM E679)",
                         significant(value(result.best[place]->log10), 2) + " " + unit_text(drill.scale)});
    report.list(named);
    if (person.stand == panel::Stand::unclear)
        report.say("So few cups cannot tell whether you are more or less sensitive than the class.");
    else
        report.say("You are " + stand_words(person.stand) + " than the class's mean.");
    constexpr double row_pt = 6.0;
    constexpr double most_pt = 190.0;  // leaves the page its other drills
    if (result.seats.size() > 1)
        report.picture(only_named(result, place),
                       std::min(most_pt, row_pt * chart::class_spread_lines(result.seats.size())));
    report.note(
        "The threshold is where the cup is found half of the time beyond guessing; the others' "
        "answers help where yours leave it open.");
}

/// The class's share and the person's own answers, sample by sample.
void add_person(Report& report, const ClassDrill& drill, const SinglesResult& result,
                const std::vector<std::pair<std::size_t, std::size_t>>& own) {
    std::vector<std::vector<std::string>> cells;
    std::size_t right = 0;
    for (std::size_t sample = 0; sample < drill.samples.size(); ++sample) {
        std::string said;
        for (const auto& [served, choice] : own)
            if (served == sample) said.append(said.empty() ? "" : ", ").append(drill.choices[choice]);
        const auto& expected = drill.samples[sample].right;
        std::size_t answers = 0;
        for (const std::size_t count : result.counts[sample]) answers += count;
        std::string of_class;
        if (expected && answers > 0)
            of_class =
                percent(static_cast<double>(result.counts[sample][*expected]) / static_cast<double>(answers));
        cells.push_back({drill.samples[sample].what, said.empty() ? "no answer" : said,
                         expected ? drill.choices[*expected] : "", of_class});
    }
    for (const auto& [served, choice] : own)
        if (drill.samples[served].right == choice) ++right;
    if (result.named)
        report.say("You named " + std::to_string(right) + " of " + std::to_string(own.size()) + " right.");
    if (result.named)
        report.rows({{"served", 0.36},
                     {"you said", 0.28, Align::left, true},
                     {"right", 0.2},
                     {"class right", 0.16, Align::right}},
                    cells);
    else
        report.rows({{"served", 0.5}, {"you said", 0.5, Align::left, true}}, [&] {
            for (auto& row : cells) row.resize(2);
            return cells;
        }());
}

void add_person(Report& report, const ClassDrill& drill, const RankingResult& result, std::size_t place) {
    const std::vector<double>& ranks = result.ranks.by_sample[place];
    std::vector<std::string> order(ranks.size());
    for (std::size_t sample = 0; sample < ranks.size(); ++sample)
        order[static_cast<std::size_t>(ranks[sample]) - 1] = drill.samples[sample].bottle;
    std::string own;
    for (const std::string& bottle : order) own.append(own.empty() ? "" : " < ").append(bottle);
    report.list({{"your order, weakest first", own}, {"as mixed", order_words(drill)}});
    const std::size_t swapped = result.neighbours_swapped[place];
    std::string text = swapped == 0   ? "No neighbours the wrong way round"
                       : swapped == 1 ? "One pair of neighbours the wrong way round"
                                      : std::to_string(swapped) + " pairs of neighbours the wrong way round";
    if (result.tau[place]) text.append("; Kendall's tau ").append(fixed(*result.tau[place], 2));
    report.say(text + ".");
}

void add_drill(Report& report, const ClassResults& results, const Service& service, std::size_t drill,
               std::size_t seat) {
    const ClassDrill& of = service.plan.drills[drill];
    report.head(of.name);
    report.say(of.question);
    if (const auto* threshold = std::get_if<ThresholdResult>(&results.drills[drill])) {
        const auto place = place_of(threshold->seats, seat);
        return place ? add_person(report, of, *threshold, *place) : report.say("No answer.");
    }
    if (const auto* ranking = std::get_if<RankingResult>(&results.drills[drill])) {
        const auto place = place_of(ranking->ranks.seats, seat);
        return place ? add_person(report, of, *ranking, *place) : report.say("No full ranking.");
    }
    std::vector<std::pair<std::size_t, std::size_t>> own;
    for (const classroom::SingleAnswer& answer : std::get<SinglesResult>(results.drills[drill]).answers)
        if (answer.seat == seat) own.emplace_back(answer.sample, answer.choice);
    if (own.empty()) return report.say("No answer.");
    add_person(report, of, std::get<SinglesResult>(results.drills[drill]), own);
}

}  // namespace

std::string class_report_pdf(const ClassResults& results, const Service& service, const ClassInfo& info,
                             Paper paper) {
    return report_pdf(info, paper, "Class report", [&](Report& report) {
        report.title("Class report");
        report.list({{"class", info.title},
                     {"date", to_date(info.made)},
                     {"answered", people_words(results.seats.size())},
                     {"not there", people_words(results.no_shows.size())}});
        for (std::size_t drill = 0; drill < results.drills.size(); ++drill) {
            const ClassDrill& of = service.plan.drills[drill];
            report.head(of.name);
            report.say(of.question);
            std::visit([&](const auto& result) { add_class(report, of, result); }, results.drills[drill]);
        }
        if (!results.gaps.empty())
            report.note(std::to_string(results.gaps.size()) + " lines of ballots were left empty.");
        report.note(limits);
    });
}

std::string personal_pages_pdf(const ClassResults& results, const Service& service, const ClassInfo& info,
                               const std::vector<std::string>& wall_names, Paper paper) {
    return report_pdf(info, paper, "Personal pages", [&](Report& report) {
        for (const std::size_t seat : results.seats) {
            report.title(results.names[seat], true);
            std::vector<Fact> named{{"class", info.title}, {"date", to_date(info.made)}};
            if (seat < wall_names.size()) named.push_back({"on the wall you are", wall_names[seat]});
            report.list(named);
            for (std::size_t drill = 0; drill < results.drills.size(); ++drill)
                add_drill(report, results, service, drill, seat);
            report.note(limits);
        }
    });
}

}  // namespace sipladder::drills::sheets

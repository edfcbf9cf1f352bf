#include "gui/views/class_results.hpp"

#include "drills/classroom/result_words.hpp"
#include "engine/chart/class_spread.hpp"

#include <utility>

namespace sipladder::gui {

namespace {

namespace classroom = drills::classroom;
using Table = ClassResultsView::Table;

void add(ClassResultsView::Drill& view, const classroom::ThresholdResult& result,
         const classroom::ClassDrill& drill) {
    if (result.seats.empty()) return;
    view.chart = chart::class_spread({"", result.component, result.pooled});
    view.chart_lines = chart::class_spread_lines(result.seats.size());
    view.tables.push_back(
        {{"bottle", "level", "right", "if all guessed", "d'"}, classroom::rung_cells(result, drill)});
    view.tables.push_back({{"person", "with the others' help, 95 %", "alone", "E679", "than the mean"},
                           classroom::people_cells(result, drill)});
}

void add(ClassResultsView::Drill& view, const classroom::SinglesResult& result,
         const classroom::ClassDrill& drill) {
    if (result.answers.empty()) return;
    Table table{{"served"}, classroom::count_cells(result, drill)};
    table.columns.insert(table.columns.end(), drill.choices.begin(), drill.choices.end());
    view.tables.push_back(std::move(table));
}

void add(ClassResultsView::Drill& view, const classroom::RankingResult& result,
         const classroom::ClassDrill& drill) {
    if (!result.friedman) return;
    view.tables.push_back(
        {{"bottle", "what", "rank sum", "put below the one before"}, classroom::rank_cells(result, drill)});
}

}  // namespace

ClassResultsView class_results_view(const Classroom& room) {
    ClassResultsView view;
    view.for_the_wall = room.for_the_wall;
    if (!room.results) return view;
    const classroom::ClassResults& results = *room.results;
    const classroom::Service& service = room.kept->service;
    for (std::size_t i = 0; i < results.drills.size(); ++i) {
        const classroom::ClassDrill& drill = service.plan.drills[i];
        ClassResultsView::Drill shown;
        shown.name = drill.name;
        shown.question = drill.question;
        std::visit(
            [&](const auto& result) {
                shown.sentences = classroom::sentences(result, drill);
                shown.note = classroom::note(result);
                add(shown, result, drill);
            },
            results.drills[i]);
        view.drills.push_back(std::move(shown));
    }
    std::string absent;
    for (const std::size_t seat : results.no_shows)
        absent.append(absent.empty() ? "" : ", ").append(results.names[seat]);
    if (!absent.empty()) view.missing.push_back("Without any answer: " + absent + ".");
    if (!results.gaps.empty())
        view.missing.push_back(std::to_string(results.gaps.size()) +
                               " lines of others are empty; the first: " + results.gaps.front() + ".");
    return view;
}

}  // namespace sipladder::gui

#include "tools/benchmark/plans_section.hpp"

#include "engine/content/location.hpp"
#include "tools/benchmark/plans.hpp"

namespace sipladder::benchmark {

void add_plans(Report& report, std::size_t requests) {
    const PlanFigures found = plan_figures(content::load(content::locate("")), requests);
    const auto row = [](std::string name, double value) {
        return Row{std::move(name), {simulate::Figure{value, 0.0}}};
    };
    const auto count = [](std::size_t value) { return static_cast<double>(value); };
    report.tables.push_back(
        {"plans",
         "Plans for random requests",
         "Ladders of 4 to 12 levels, 1 to 40 people, every substance and kitchen of the "
         "content; processor time of one core.",
         {"figure"},
         {row("requests", count(found.requests)), row("plans that meet what is wanted", count(found.met)),
          row("refused", count(found.refused)),
          row("readings or strengths that cannot be", count(found.impossible)),
          row("hand operations, median", found.median_operations),
          row("milliseconds a plan, median", found.median_ms),
          row("milliseconds a plan, worst", found.worst_ms)}});
    report.goals.push_back(
        {"milliseconds a plan, median", "at most 20", {found.median_ms, 0.0}, found.median_ms <= 20.0});
    report.goals.push_back(
        {"milliseconds a plan, worst", "at most 200", {found.worst_ms, 0.0}, found.worst_ms <= 200.0});
    report.goals.push_back({"readings or strengths of a plan that cannot be",
                            "0",
                            {count(found.impossible), 0.0},
                            found.impossible == 0});
}

}  // namespace sipladder::benchmark

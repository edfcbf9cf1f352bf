#pragma once

#include "drills/sheets/bench_sheet.hpp"
#include "engine/solution/mix_plan.hpp"

#include <string>
#include <vector>

/// The words of the bench sheet, apart from how they are set.
namespace sipladder::drills::sheets {

/// "Bench sheet: tartaric acid in still water".
std::string sheet_title(const solution::MixPlan& plan);
/// How many steps and stocks, and how certain the levels will be.
std::string mix_summary(const solution::MixPlan& plan);
/// Name with its stated content or strength.
std::string ingredient_text(const solution::Ingredient& ingredient);
std::string base_text(const solution::Base& base);
/// An amount that is wanted, with the digits that it was given, four at most.
std::string amount_text(double amount);
/// The level that the round readings give, with the decimals of its combined standard uncertainty.
std::string planned_text(const solution::PlannedLevel& level);
/// "scale showed", "drawn" …: what is to be written down after a step.
std::string reading_words(const solution::Step& step);

/// One cause of uncertainty over all levels.
struct Contribution {
    std::string what;
    double least_rel{};
    double most_rel{};
    bool shared{};
};
/// The causes in the levels' budgets, the largest first; what never reaches a tenth of the largest is left
/// out.
std::vector<Contribution> contributions(const solution::MixPlan& plan);
/// As percent with two significant digits, no finer than 0.01 %: below that "< 0.01 %".
std::string uncertainty_percent(double rel);
/// "1.2 %", or "0.4 to 1.2 %" where the two differ as printed.
std::string range_percent(double least_rel, double most_rel);

/// "2 days", "18 hours".
std::string keeping_text(int hours);
/// How a rung that runs out is filled again: anew, or from the next stronger one where that is twice as
/// strong.
std::string run_out_text(const solution::MixPlan& plan);

/// Cups, minutes and what is taken in if all is swallowed; empty where nothing is known.
std::string cost_text(const SheetInfo& info);
/// The cautions of the info and then of the plan, none twice.
std::vector<std::string> all_cautions(const solution::MixPlan& plan, const SheetInfo& info);

}  // namespace sipladder::drills::sheets

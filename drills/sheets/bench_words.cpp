#include "drills/sheets/bench_words.hpp"

#include "engine/safety/intake.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace sipladder::drills::sheets {

namespace {

/// Number and sign of percent stay on one line.
std::string unbroken_percent(double fraction) {
    std::string text = percent(fraction);
    return text.replace(text.rfind(' '), 1, "\u00a0");
}

void add_part(std::string& text, const std::string& part) {
    if (!text.empty()) text.append(" · ");
    text.append(part);
}

/// What several bottles have each for itself is told once: "bottle D: weighing in …" as "each bottle: …".
std::string cause_of(const solution::BudgetLine& line) {
    const std::size_t colon = line.what.find(": ");
    if (line.shared || !line.what.starts_with("bottle ") || colon == std::string::npos) return line.what;
    return "each bottle" + line.what.substr(colon);
}

}  // namespace

std::string sheet_title(const solution::MixPlan& plan) {
    std::string title = "Bench sheet: ";
    return title.append(plan.request.substance.name).append(" in ").append(plan.request.base.name);
}

std::string mix_summary(const solution::MixPlan& plan) {
    double largest = 0.0;
    double shared = 0.0;
    for (const solution::PlannedLevel& level : plan.levels) {
        largest = std::max(largest, level.u_rel());
        shared = std::max(shared, level.u_shared_rel);
    }
    std::string text = counted(plan.levels.size(), "level", "levels");
    text.append(", ").append(counted(plan.stocks.size(), "stock", "stocks"));
    text.append(", ").append(counted(plan.steps.size(), "step", "steps"));
    text.append(". Every level to ±\u00a0")
        .append(unbroken_percent(largest))
        .append(" or better (one standard uncertainty; wanted ");
    text.append(unbroken_percent(plan.request.wanted_u_rel))
        .append("); up to ±\u00a0")
        .append(unbroken_percent(shared));
    return text.append(" of it is common to all levels.");
}

std::string ingredient_text(const solution::Ingredient& ingredient) {
    std::string text = ingredient.name;
    switch (ingredient.form) {
        case solution::IngredientForm::powder:
            return text.append(", ")
                .append(significant(100.0 * ingredient.content.value, 3))
                .append(" % by mass");
        case solution::IngredientForm::spirit:
            return text.append(", ").append(significant(ingredient.strength.value, 3)).append(" % vol");
        case solution::IngredientForm::tablet:
            return text.append(", ").append(significant(ingredient.per_piece.value, 3)).append(" mg each");
        case solution::IngredientForm::liquid:
            break;
    }
    return text.append(", ").append(significant(ingredient.held.value, 3)).append(" g/L");
}

std::string base_text(const solution::Base& base) {
    std::string text = base.name;
    if (base.bicarbonate_mg_per_L > 0.0)
        text.append(", hydrogen carbonate ")
            .append(significant(base.bicarbonate_mg_per_L, 3))
            .append(" mg/L");
    return text;
}

std::string amount_text(double amount) {
    const std::string given = exact(amount);
    const std::string rounded = significant(amount, 4);
    return given.size() <= rounded.size() && given.find('e') == std::string::npos ? given : rounded;
}

std::string planned_text(const solution::PlannedLevel& level) {
    const std::string both = with_uncertainty(level.mixed, level.mixed * level.u_rel());
    return both.substr(0, both.find(' '));
}

std::string reading_words(const solution::Step& step) {
    switch (step.kind) {
        case solution::StepKind::weigh:
        case solution::StepKind::make_up_to_mass:
            return "scale showed";
        case solution::StepKind::make_up_to_mark:
            return "filled up to";
        case solution::StepKind::count_pieces:
            return "pieces taken";
        case solution::StepKind::measure_volume:
        case solution::StepKind::draw_stock:
            break;
    }
    return step.unit == "g" ? "scale showed" : "measured";
}

std::vector<Contribution> contributions(const solution::MixPlan& plan) {
    std::vector<Contribution> parts;
    for (const solution::PlannedLevel& level : plan.levels)
        for (const solution::BudgetLine& line : level.budget) {
            const std::string what = cause_of(line);
            const auto same = [&](const Contribution& part) {
                return part.what == what && part.shared == line.shared;
            };
            const auto known = std::find_if(parts.begin(), parts.end(), same);
            if (known == parts.end()) {
                parts.push_back({what, line.u_rel, line.u_rel, line.shared});
            } else {
                known->least_rel = std::min(known->least_rel, line.u_rel);
                known->most_rel = std::max(known->most_rel, line.u_rel);
            }
        }
    std::stable_sort(parts.begin(), parts.end(),
                     [](const Contribution& a, const Contribution& b) { return a.most_rel > b.most_rel; });
    const double least = parts.empty() ? 0.0 : 0.1 * parts.front().most_rel;
    std::erase_if(parts, [&](const Contribution& part) { return part.most_rel < least; });
    return parts;
}

std::string uncertainty_percent(double rel) {
    if (rel >= 0.001) return percent(rel);
    if (rel < 0.0001) return "< 0.01 %";
    return fixed(100.0 * rel, 2).append(" %");
}

std::string range_percent(double least_rel, double most_rel) {
    const std::string most = uncertainty_percent(most_rel);
    const std::string least = uncertainty_percent(least_rel);
    if (least == most) return most;
    return least.substr(0, least.rfind(' ')).append(" to ").append(most);
}

std::string keeping_text(int hours) {
    constexpr int day = 24;
    if (hours % day == 0) return counted(static_cast<std::size_t>(hours / day), "day", "days");
    return counted(static_cast<std::size_t>(hours), "hour", "hours");
}

std::string run_out_text(const solution::MixPlan& plan) {
    constexpr double least_ratio = 1.8;
    constexpr double most_ratio = 2.2;
    std::string halves;
    for (std::size_t i = 0; i + 1 < plan.levels.size(); ++i) {
        const double ratio = plan.levels[i + 1].mixed / plan.levels[i].mixed;
        if (ratio < least_ratio || ratio > most_ratio) continue;
        if (!halves.empty()) halves.append(", ");
        halves.append(plan.levels[i].bottle).append(" from ").append(plan.levels[i + 1].bottle);
    }
    std::string text =
        "A bottle that runs out is filled anew by its own two steps; write the new readings down.";
    if (halves.empty()) return text;
    return text.append(" Or mix the next stronger one with as much base: ").append(halves).append(".");
}

std::string cost_text(const SheetInfo& info) {
    std::string text;
    if (info.cups > 0) add_part(text, counted(info.cups, "cup", "cups"));
    if (info.minutes > 0) {
        std::string minutes = "about ";
        add_part(text, minutes.append(std::to_string(info.minutes)).append(" min"));
    }
    std::string taken;
    for (const std::string& amount : safety::amounts(info.most_intake)) add_part(taken, amount);
    if (!taken.empty()) add_part(text, taken.append(" at most, if all is swallowed"));
    return text;
}

std::vector<std::string> all_cautions(const solution::MixPlan& plan, const SheetInfo& info) {
    std::vector<std::string> cautions = info.cautions;
    for (const std::string& caution : plan.cautions)
        if (std::find(cautions.begin(), cautions.end(), caution) == cautions.end())
            cautions.push_back(caution);
    return cautions;
}

}  // namespace sipladder::drills::sheets

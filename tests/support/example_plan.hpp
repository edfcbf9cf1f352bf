#pragma once

#include "drills/sheets/bench_sheet.hpp"
#include "engine/random.hpp"
#include "engine/solution/mix_plan.hpp"
#include "engine/text.hpp"

#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

/// A plan written by hand, for sheets; its numbers are invented and add up only roughly.
namespace sipladder::tests {

inline solution::Step example_step(solution::StepKind kind, std::string text, std::string unit,
                                   bool takes_reading) {
    solution::Step step;
    step.kind = kind;
    step.text = std::move(text);
    step.unit = std::move(unit);
    step.takes_reading = takes_reading;
    return step;
}

inline solution::PlannedLevel example_level(double target, std::size_t rung, std::string bottle) {
    const double own = 0.02 / (1.0 + static_cast<double>(rung));
    solution::PlannedLevel level;
    level.target = target;
    level.mixed = target * 1.004;
    level.u_own_rel = own;
    level.u_shared_rel = 0.019;
    level.bottle = std::move(bottle);
    level.made_from = "stock A";
    level.volume = Millilitres{120.0};
    level.portions = 9;
    level.budget = {{"syringe of 5 mL: reading", own, false},
                    {"purity of the powder", 0.006, true},
                    {"pocket scale: display and repeatability", 0.012, true}};
    return level;
}

inline solution::PlanRequest example_request(std::size_t rungs) {
    std::vector<double> targets;
    for (std::size_t i = 0; i < rungs; ++i)
        targets.push_back(0.01 * std::pow(rungs > 8 ? 1.25 : 3.0, static_cast<double>(i)));
    solution::PlanRequest request{solution::Ladder("acid", "tartaric_acid", Scale::g_per_L, targets),
                                  {},
                                  {},
                                  {},
                                  {},
                                  {},
                                  0.05,
                                  Seed{1}};
    request.substance.name = "tartaric acid";
    request.substance.component = solution::Component::sour;
    request.ingredient.name = "tartaric acid powder, food grade";
    request.ingredient.content = MassFraction{0.99};
    request.base.name = "still water";
    request.base.bicarbonate_mg_per_L = 120.0;
    request.equipment.name = "scale 0.01 g to 200 g, syringes 5 and 20 mL, jug 1 L";
    return request;
}

/// 2 + 2 * rungs steps.
inline solution::MixPlan example_plan(std::size_t rungs = 6) {
    using solution::StepKind;
    solution::MixPlan plan{example_request(rungs), {}, {}, {}, {}, {}, {}, true, 0, {}, {}};
    plan.stocks = {{"stock A", 20.06, 0.012, Millilitres{100.0}, "tartaric acid powder, food grade"}};
    plan.steps.push_back(
        example_step(StepKind::weigh,
                     "Stand a clean, dry, light bottle marked stock A on the pocket scale and set it "
                     "to zero; weigh in 2.03 g of tartaric acid powder, food grade.",
                     "g", true));
    plan.steps.push_back(
        example_step(StepKind::make_up_to_mass,
                     "Without setting the scale to zero again, fill stock A up with still water until "
                     "the pocket scale shows 100.70 g in all; close it and swirl until all is "
                     "dissolved.",
                     "g", true));
    for (std::size_t i = 0; i < rungs; ++i) {
        const double target = plan.request.ladder.targets()[i];
        const std::string bottle(1, static_cast<char>('D' + (7 * i + 3) % 20));
        std::string draw = "Put ";
        draw.append(fixed(120.0 * target / 20.0, 2))
            .append(" mL of stock A with the syringe of 5 mL into the clean jug ");
        draw.append("of 1 L, for bottle ").append(bottle).append(".");
        plan.steps.push_back(example_step(StepKind::draw_stock, draw, "mL", i % 2 == 0));
        std::string fill =
            "With still water, fill the jug of 1 L up to 120 mL, mix, and pour it all into a clean, ";
        fill.append("dry, light bottle marked ").append(bottle).append(".");
        plan.steps.push_back(example_step(StepKind::make_up_to_mark, fill, "mL", false));
        plan.levels.push_back(example_level(target, i, bottle));
    }
    plan.shopping = {{"tartaric acid powder, food grade", 2.03, "g"},
                     {"still water, for stocks, levels and blanks", 1400.0, "mL"},
                     {"new, needle-free: syringe of 5 mL", 1.0, "pieces"}};
    plan.checks = {{"mass of stock A without its bottle", 100.70, 0.15, "g"}};
    plan.cautions = {"Food grade only: check the label of tartaric acid powder, food grade."};
    plan.operations = plan.steps.size();
    plan.base_volume = Millilitres{1400.0};
    return plan;
}

inline drills::sheets::SheetInfo example_info() {
    drills::sheets::SheetInfo info;
    info.for_whom = "Řehoř Ωmega, invented";
    info.blinding = "alone, shuffled tray";
    info.made = {1'772'388'300'000, 60, 0};
    info.cups = 36;
    info.minutes = 55;
    info.most_intake.acid = Grams{0.4};
    info.cautions = {"Stocks are not for tasting: label them and keep them from children.",
                     "Acids wear teeth: rinse with water after every cup, and do not brush for an hour.",
                     "Food grade only: check the label of tartaric acid powder, food grade.",
                     "Spit, rinse, and stop whenever something feels off. Where a label, a doctor, a "
                     "pharmacist or local rules say "
                     "otherwise, they are right."};
    return info;
}

}  // namespace sipladder::tests

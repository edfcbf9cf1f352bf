#include "engine/solution/planner.hpp"

#include "engine/problem.hpp"
#include "engine/solution/as_mixed.hpp"
#include "tests/solution/kitchens.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <set>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;

namespace {

std::vector<PlanRequest> usual_requests() {
    return {sugar_request(), acid_request(), alcohol_request(), sugar_request(kitchen_plain()),
            alcohol_request(kitchen_plain())};
}

bool is_multiple(double value, double step) {
    return std::abs(value / step - std::round(value / step)) < 1e-6;
}

/// The words of a refusal; empty if there was none.
std::string refusal(const std::function<void(PlanRequest&)>& change) {
    PlanRequest request = sugar_request();
    try {
        change(request);
        plan(request);
    } catch (const Refused& refused) {
        return refused.what();
    }
    return "";
}

bool says(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("usual ladders are planned within the wanted uncertainty with a fine scale") {
    for (const PlanRequest& request : usual_requests()) {
        CAPTURE(request.ladder.id());
        CAPTURE(request.equipment.id);
        const MixPlan planned = plan(request);
        CHECK(planned.met);
        CHECK(planned.advice.empty());
        REQUIRE(planned.levels.size() == request.ladder.size());
        for (std::size_t i = 0; i < planned.levels.size(); ++i) {
            const PlannedLevel& level = planned.levels[i];
            CHECK(level.u_rel() <= request.wanted_u_rel);
            CHECK(std::abs(level.mixed / request.ladder.targets()[i] - 1.0) <= 0.2);
            CHECK(level.portions >= 8);  // 0.6 of 12 presentations
            if (i > 0) CHECK(level.mixed > planned.levels[i - 1].mixed);
        }
    }
}

TEST_CASE("every reading of a plan is one that its instrument can show and hold") {
    for (const PlanRequest& request : usual_requests()) {
        for (const Step& step : plan(request).steps) {
            CAPTURE(step.text);
            CHECK(step.text.ends_with("."));
            for (const Balance& balance : request.equipment.balances) {
                if (step.unit != "g" || step.with_id != balance.id) continue;
                CHECK(is_multiple(step.reading, balance.resolution.value));
                CHECK(step.reading >= balance.smallest_load.value);
                CHECK(step.reading <= balance.capacity.value);
            }
            for (const Vessel& vessel : request.equipment.vessels) {
                if (step.unit != "mL" || step.with_id != vessel.id) continue;
                const double fill = step.reading / static_cast<double>(step.fills);
                CHECK(is_multiple(fill, vessel.graduation.value));
                CHECK(fill >= vessel.smallest.value - 1e-9);
                CHECK(fill <= vessel.nominal.value + 1e-9);
            }
        }
    }
}

TEST_CASE("stocks respect their cap and are never drawn beyond what was made") {
    for (const PlanRequest& request : usual_requests()) {
        const MixPlan planned = plan(request);
        for (const PlannedStock& stock : planned.stocks) {
            CHECK(stock.concentration <= request.substance.strongest_stock * 1.1);
            double drawn_mL = 0.0;  // at most: nothing here is lighter than 0.94 g/mL
            for (const Step& step : planned.steps)
                if (step.from == stock.name)
                    drawn_mL += step.unit == "mL" ? step.reading : step.reading / 0.94;
            CHECK(drawn_mL < stock.volume.value);
            CHECK(drawn_mL > 0.0);
        }
    }
}

TEST_CASE("the budget of a level adds up to its two parts") {
    for (const PlanRequest& request : usual_requests()) {
        for (const PlannedLevel& level : plan(request).levels) {
            double own = 0.0, shared = 0.0;
            for (const BudgetLine& line : level.budget)
                (line.shared ? shared : own) += line.u_rel * line.u_rel;
            CHECK(within(std::sqrt(own), level.u_own_rel, 0.0, 1e-6));
            CHECK(within(std::sqrt(shared), level.u_shared_rel, 0.0, 1e-6));
        }
    }
}

TEST_CASE("a better scale never makes a plan worse and more certainty never costs fewer operations") {
    const MixPlan plain = plan(sugar_request(kitchen_plain()));
    Equipment both = kitchen_plain();
    both.balances.push_back(fine_scale());
    const MixPlan better = plan(sugar_request(both));
    CHECK(better.operations <= plain.operations);
    std::size_t operations = 0;
    for (const double wanted : {0.2, 0.1, 0.05, 0.02, 0.01}) {
        PlanRequest request = acid_request();
        request.wanted_u_rel = wanted;
        const MixPlan planned = plan(request);
        if (!planned.met) break;
        CHECK(planned.operations >= operations);
        operations = planned.operations;
    }
}

TEST_CASE("bottle letters tell no order, clash with no stock and follow ladder and seed") {
    for (std::uint64_t seed = 0; seed < 300; ++seed) {
        PlanRequest request = sugar_request();
        request.letters = Seed{seed};
        const MixPlan planned = plan(request);
        std::vector<std::string> letters;
        for (const PlannedLevel& level : planned.levels) letters.push_back(level.bottle);
        CAPTURE(seed);
        CHECK(std::set<std::string>(letters.begin(), letters.end()).size() == letters.size());
        CHECK_FALSE(std::is_sorted(letters.begin(), letters.end()));
        CHECK_FALSE(std::is_sorted(letters.rbegin(), letters.rend()));
        for (const std::string& letter : letters)
            CHECK(std::string("ABCILO").find(letter) == std::string::npos);
        if (seed == 0) CHECK(plan(request).levels.front().bottle == letters.front());
    }
}

TEST_CASE(
    "a kitchen that cannot reach the wanted uncertainty gets its best plan and the change that helps most") {
    PlanRequest request = sugar_request(kitchen_plain());
    request.wanted_u_rel = 0.004;
    request.to_buy = kitchen_fine();
    const MixPlan planned = plan(request);
    CHECK_FALSE(planned.met);
    CHECK(says(planned.advice, "was wanted"));
    CHECK(says(planned.advice, "What would help most is"));
    CHECK(says(planned.advice, "scale"));
}

TEST_CASE("where only the purity is to blame the advice is a better pack") {
    PlanRequest request = sugar_request();
    request.ingredient.content = MassFraction{0.75};
    request.ingredient.content_half_width = MassFraction{0.15};
    const MixPlan planned = plan(request);
    CHECK_FALSE(planned.met);
    CHECK(says(planned.advice, "purity of sucrose powder"));
    CHECK(says(planned.advice, "whose content is known"));
}

TEST_CASE("shopping covers what the steps use, the blanks and the rinse") {
    const MixPlan planned = plan(sugar_request());
    double powder_g = 0.0;
    for (const Step& step : planned.steps)
        if (step.from == "sucrose powder") powder_g += step.reading;
    CHECK(planned.shopping.front().amount >= powder_g);
    CHECK(planned.base_volume.value > 12 * 2 * 10.0);  // two blanks of 10 mL in each presentation
    CHECK(says(planned.shopping.at(2).what, "rinse"));
}

TEST_CASE("a sugar stock is checked with a hydrometer") {
    const MixPlan planned = plan(sugar_request(kitchen_plain()));
    REQUIRE_FALSE(planned.checks.empty());
    CHECK(says(planned.checks.front().what, "hydrometer"));
    REQUIRE_FALSE(planned.stocks.empty());
    const double held = planned.stocks.front().concentration / 1000.0;  // g/mL; 0.0383 of it is density
    CHECK(within(planned.checks.front().expected, 1.0 + 0.385 * held, 0.001));
}

TEST_CASE("absurd requests are refused with the field at fault") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(says(refusal([](PlanRequest& r) { r.demand.presentations = 0; }), "presentations"));
    CHECK(says(refusal([](PlanRequest& r) { r.demand.presentations = 1000000000; }), "presentations"));
    CHECK(says(refusal([](PlanRequest& r) { r.demand.cup = Millilitres{0.0}; }), "cup volume"));
    CHECK(says(refusal([&](PlanRequest& r) { r.demand.cup = Millilitres{nan}; }), "cup volume"));
    CHECK(says(refusal([&](PlanRequest& r) { r.wanted_u_rel = nan; }), "uncertainty wanted"));
    CHECK(says(refusal([](PlanRequest& r) { r.equipment.balances.clear(); }), "no balance"));
    CHECK(says(refusal([](PlanRequest& r) { r.ingredient.content = MassFraction{0.0}; }), "content"));
    CHECK(says(refusal([](PlanRequest& r) { r.ingredient.substance = "salt"; }), "holds salt"));
    CHECK(says(refusal([](PlanRequest& r) { r.substance.strongest_cup = 1.0; }), "in a cup"));
    CHECK(says(refusal([](PlanRequest& r) { r.substance.solubility = GramsPerLitre{5.0}; }), "dissolves"));
    CHECK(says(refusal([&](PlanRequest& r) { r.equipment.balances[0].resolution = Grams{nan}; }),
               "resolution"));
    CHECK(says(refusal([](PlanRequest& r) {
                   r.equipment.vessels.clear();
                   r.to_buy = kitchen_fine();
                   r.equipment.balances[0] = {"barn",        "barn scale",  Grams{1.0},
                                              Grams{5000.0}, Grams{1000.0}, 0.0};
               }),
               "would make it possible"));
    PlanRequest weak = alcohol_request();
    weak.ingredient.strength = PercentVol{5.0};
    CHECK_THROWS_AS(plan(weak), Refused);
}

TEST_CASE("all that is wrong with a request is said at once") {
    PlanRequest request = sugar_request();
    request.demand.presentations = 0;
    request.demand.cup = Millilitres{-1.0};
    request.equipment.balances.clear();
    try {
        plan(request);
        FAIL("was not refused");
    } catch (const Refused& refused) {
        CHECK(refused.problems().size() >= 3);
    }
}

TEST_CASE("a spirit can be measured with syringes where there is no balance") {
    Equipment no_scale = kitchen_fine();
    no_scale.balances.clear();
    no_scale.vessels.push_back({"flask", "100 mL flask", VesselKind::flask, Millilitres{100.0},
                                Millilitres{0.0}, Millilitres{100.0}, 0.0, Millilitres{0.2}, false});
    const MixPlan planned = plan(alcohol_request(no_scale));
    for (const Step& step : planned.steps) CHECK(step.unit == "mL");
}

TEST_CASE("tablets are counted whole, crushed into a stock, and what a piece may be off is shared by all") {
    Substance caffeine = tartaric_acid();
    caffeine.id = caffeine.name = "caffeine";
    caffeine.component = Component::bitter;
    caffeine.solubility = GramsPerLitre{20.0};
    caffeine.strongest_cup = 0.5;
    caffeine.strongest_stock = 2.0;
    Ingredient tablets;
    tablets.id = tablets.name = "caffeine tablets";
    tablets.substance = "caffeine";
    tablets.form = IngredientForm::tablet;
    tablets.per_piece = Milligrams{100.0};
    tablets.per_piece_half_width = Milligrams{5.0};
    const MixPlan planned = plan(request_of(caffeine, tablets, 0.03, kitchen_fine()));
    CHECK(planned.met);
    std::size_t counted = 0;
    for (const Step& step : planned.steps) {
        if (step.kind != StepKind::count_pieces) continue;
        ++counted;
        CHECK(step.unit == "pieces");
        CHECK(is_multiple(step.reading, 1.0));
        CHECK(says(step.text, "rush "));
    }
    CHECK(counted >= 1);
    CHECK(planned.shopping.front().unit == "pieces");
    for (const PlannedLevel& level : planned.levels)
        CHECK(within(level.budget.front().u_rel, 0.05 / std::sqrt(3.0), 0.0, 0.01));
}

TEST_CASE("a base of several things is mixed first, its loads can be weighed, and levels keep their values") {
    PlanRequest request = sugar_request();
    request.base.name = "sour base";
    request.base.constituents = {{powder(tartaric_acid()), tartaric_acid(), GramsPerLitre{4.0}}};
    request.base.potassium = MillimolesPerLitre{12.0};
    request.base.potassium_salt = PotassiumSalt::hydrogen_carbonate;
    const MixPlan planned = plan(request);
    double acid_g = 0.0, made_mL = 0.0;
    for (const Step& step : planned.steps) {
        if (step.into != "the base") continue;
        if (step.from == "tartaric acid powder") acid_g += step.reading;
        if (step.kind == StepKind::make_up_to_mark) made_mL += step.reading;
        CHECK(step.reading >= 0.5);
    }
    REQUIRE(made_mL > planned.base_volume.value);
    CHECK(within(acid_g, made_mL * 0.004 / 0.995, 0.0, 0.01));  // 4 g/L at 99.5 %
    CHECK(planned.steps.front().into == "the base");
    CHECK(planned.checks.front().of == "the base");
    CHECK(within(planned.checks.front().expected, 2.9,
                 0.1));  // as the shipped base of this kind says of itself
    const MixedLadder mixed = as_mixed(planned, {{0, planned.steps[0].reading * 1.05}});
    for (std::size_t i = 0; i < planned.levels.size(); ++i)
        CHECK(within(mixed.levels[i].mixed, planned.levels[i].mixed, 0.0, 1e-12));
    CHECK(std::any_of(planned.shopping.begin(), planned.shopping.end(), [](const ShoppingItem& item) {
        return says(item.what, "potassium hydrogen carbonate");
    }));
}

TEST_CASE("what a plan needs at the table is on its list") {
    PlanRequest request = alcohol_request();
    request.substance.closed_nose = true;
    request.demand.people = 3;
    const MixPlan planned = plan(request);
    const auto amount = [&](const std::string& words) {
        for (const ShoppingItem& item : planned.shopping)
            if (says(item.what, words)) return item.amount;
        return 0.0;
    };
    CHECK(amount("nose clip") == 3.0);
    CHECK(amount("opaque cup") == 15.0);
    CHECK(amount("marked blanks") == 1.0);
    CHECK(amount("rinse the mouth") >= 3 * 12 * 50.0);
    CHECK(amount("cap, for at least") == static_cast<double>(planned.stocks.size() + planned.levels.size()));
    CHECK(amount("vodka") > 0.0);
    REQUIRE_FALSE(planned.keeping.empty());
    CHECK(planned.keeping.front().hours > 0);
}

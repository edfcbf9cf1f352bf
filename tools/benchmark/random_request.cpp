#include "tools/benchmark/random_request.hpp"

#include "engine/solution/advice.hpp"

#include <algorithm>
#include <array>
#include <cmath>

// Ladders lie around the assumed prior as far as its spread reaches, cut at the cap of a cup; what a person
// would be refused for (a cap, a hard water under a sour ladder) is not asked for here.

namespace sipladder::benchmark {

namespace {

template <class T>
const T& one_of(const std::vector<T>& items, Random& random) {
    return items[random.below(items.size())];
}

template <std::size_t N>
double one_of(const std::array<double, N>& items, Random& random) {
    return items[random.below(N)];
}

solution::Ladder random_ladder(const solution::Substance& substance, double strongest_possible,
                               Random& random) {
    const std::size_t rungs = 4 + random.below(9);
    double ratio = one_of(std::array{1.5, 1.6, 2.0, 2.0, 3.0}, random);
    const double widest = 4.0 / static_cast<double>(rungs - 1);  // at most four decades in all
    ratio = std::min(ratio, std::pow(10.0, widest));
    const double half = 0.5 * static_cast<double>(rungs - 1);
    double centre =
        substance.prior.centre * std::pow(10.0, substance.prior.sd_log10 * (2.0 * random.uniform() - 1.0));
    const double most = 0.95 * std::min(substance.strongest_cup, strongest_possible);
    centre = std::min(centre, most / std::pow(ratio, half));
    return solution::ladder_around(substance.id + "_random", substance.id, substance.scale, centre, rungs,
                                   ratio);
}

double strongest_from(const solution::Ingredient& ingredient) {
    constexpr double of_the_ingredient = 0.8;
    switch (ingredient.form) {
        case solution::IngredientForm::spirit:
            return of_the_ingredient * ingredient.strength.value;
        case solution::IngredientForm::liquid:
            return of_the_ingredient * ingredient.held.value;
        case solution::IngredientForm::powder:
        case solution::IngredientForm::tablet:
            break;
    }
    return 1e9;
}

const solution::Base& random_base(const content::Content& content, const solution::Substance& substance,
                                  Random& random) {
    if (substance.component == solution::Component::sour) return content.bases.front();
    return one_of(content.bases, random);
}

}  // namespace

solution::PlanRequest random_request(const content::Content& content, Seed seed) {
    Random random(seed);
    const solution::Substance& substance = one_of(content.substances, random);
    const solution::Ingredient ingredient = one_of(content.ingredients_of(substance.id), random);
    solution::Demand demand;
    demand.presentations = 8 + 4 * random.below(4);
    demand.cup = Millilitres{one_of(std::array{8.0, 10.0, 12.0, 15.0}, random)};
    demand.people = 1 + random.below(40);
    if (random.below(2) == 0) demand.people = 1 + random.below(4);
    return {.ladder = random_ladder(substance, strongest_from(ingredient), random),
            .substance = substance,
            .ingredient = ingredient,
            .base = random_base(content, substance, random),
            .equipment = one_of(content.equipment, random),
            .demand = demand,
            .wanted_u_rel = one_of(std::array{0.02, 0.03, 0.05, 0.1}, random),
            .letters = seed,
            .to_buy = solution::every_instrument(content.equipment)};
}

}  // namespace sipladder::benchmark

#include "engine/solution/ingredient.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

namespace sipladder::solution {

namespace {

void expect_part(const std::string& where, MassFraction part) {
    if (!(part.value > 0.0 && part.value <= 1.0))
        throw Refused(where, "is " + exact(part.value), "more than 0, at most 1 gram per gram");
}

}  // namespace

MassFraction content_as_counted(MassFraction purity, GramsPerMole counted, GramsPerMole bought) {
    expect_part("purity", purity);
    if (!(counted.value > 0.0 && counted <= bought))
        throw Refused(
            "molar masses",
            "are " + exact(counted.value) + " (counted) and " + exact(bought.value) + " g/mol (bought)",
            "a hydrate is heavier than what is counted");
    return purity * (counted / bought);
}

GramsPerLitre held_by_mass(MassFraction held, GramsPerMillilitre density) {
    expect_part("strength by mass", held);
    if (!(density.value >= 0.5 && density.value <= 3.0))
        throw Refused("density", "is " + exact(density.value) + " g/mL", "0.5 to 3 g/mL");
    return GramsPerLitre{1000.0 * held.value * density.value};
}

}  // namespace sipladder::solution

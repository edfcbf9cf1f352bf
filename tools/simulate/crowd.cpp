#include "tools/simulate/crowd.hpp"

#include "engine/problem.hpp"

#include <cmath>

namespace sipladder::simulate {

namespace {

/// Gamma of shape a >= 1, scale 1: Marsaglia and Tsang's squeeze (ACM Trans. Math. Softw. 26:363, 2000; from
/// memory).
double gamma(double a, Random& random) {
    const double d = a - 1.0 / 3.0;
    const double c = 1.0 / std::sqrt(9.0 * d);
    for (;;) {
        const double x = random.normal();
        const double v = std::pow(1.0 + c * x, 3.0);
        if (v <= 0.0) continue;
        if (std::log(1.0 - random.uniform()) < 0.5 * x * x + d - d * v + d * std::log(v)) return d * v;
    }
}

double beta(double a, double b, Random& random) {
    const double x = gamma(a, random);
    return x / (x + gamma(b, random));
}

}  // namespace

Person person_of(const Population& population, Seed seed, std::size_t index, std::size_t presentations) {
    SIPLADDER_EXPECT(population.lapse_a >= 1.0 && population.lapse_b >= 1.0);
    const Seed own = derived(seed, index);
    Random traits{derived(own, 0)};
    Person person;
    person.truth.theta_log10 = population.theta_mean + population.theta_sd * traits.normal();
    person.truth.width_log10 =
        population.width_lower * std::pow(population.width_upper / population.width_lower, traits.uniform());
    const double drawn_lapse = beta(population.lapse_a, population.lapse_b, traits);
    person.truth.lapse = population.lapse.value_or(drawn_lapse);
    person.habits = population.habits;
    person.bottles = derived(own, 2);
    Random luck{derived(own, 1)};
    person.habits.favoured_place = luck.below(3);
    for (std::size_t t = 0; t < presentations; ++t) {
        const double answer = luck.uniform();
        const double elsewhere = luck.uniform();
        person.luck.push_back({answer, elsewhere, luck.below(3)});
    }
    return person;
}

Response response(const Person& person, std::size_t number, double x_log10,
                  std::optional<double> x_before_log10) {
    threshold::Curve now = person.truth;
    now.theta_log10 = drills::theta_now(person.truth, person.habits, number, x_before_log10);
    const Luck& luck = person.luck.at(number);
    const auto shares = drills::pick_probabilities(now, person.habits, x_log10, luck.spiked);
    if (luck.answer < shares[luck.spiked]) return {luck.spiked, true};
    const std::size_t first = (luck.spiked + 1) % 3;
    const std::size_t second = (luck.spiked + 2) % 3;
    const bool is_first = luck.elsewhere * (shares[first] + shares[second]) < shares[first];
    return {is_first ? first : second, false};
}

double target(const Person& person, std::size_t presentations) {
    const double after_first = presentations > 0 ? static_cast<double>(presentations - 1) : 0.0;
    return person.truth.theta_log10 + 0.5 * person.habits.fatigue_log10 * after_first;
}

}  // namespace sipladder::simulate

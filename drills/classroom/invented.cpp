#include "drills/classroom/invented.hpp"

#include "engine/threshold/ranking.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace sipladder::drills::classroom {

namespace {

/// Felt strength of a cup on a log axis; the base lies a decade below the person's threshold.
double felt(double level, double threshold_log10, double noise, Random& random) {
    const double below = threshold_log10 - 1.0;
    const double strength = level > 0.0 ? std::max(std::log10(level), below) : below;
    return strength + noise * random.normal();
}

std::size_t cup_found(const Serving& serving, const ClassDrill& drill, double threshold_log10,
                      Random& random) {
    std::vector<std::size_t> blanks;
    std::size_t target = 0;
    for (std::size_t i = 0; i < serving.cups.size(); ++i)
        if (serving.cups[i].is_blank)
            blanks.push_back(i);
        else
            target = i;
    const threshold::Curve curve{threshold_log10};
    const double x = std::log10(drill.samples[serving.cups[target].sample].level);
    if (random.uniform() < threshold::right_probability(curve, threshold::three_afc, x)) return target;
    return blanks[random.below(blanks.size())];
}

std::size_t name_given(const Sample& sample, const ClassDrill& drill, double named_right, Random& random) {
    const std::size_t any = random.below(drill.choices.size());
    if (!sample.right || random.uniform() >= named_right) return any;
    return *sample.right;
}

/// Grades part the range from the base to the strongest cup evenly.
std::size_t grade_given(const Sample& sample, const ClassDrill& drill, double threshold_log10, double noise,
                        Random& random) {
    double strongest = 0.0;
    for (const Sample& other : drill.samples) strongest = std::max(strongest, other.level);
    const double low = threshold_log10 - 1.0;
    const double high = strongest > 0.0 ? std::max(std::log10(strongest), low + 0.1) : low + 0.1;
    const double part = (felt(sample.level, threshold_log10, noise, random) - low) / (high - low);
    const double last = static_cast<double>(drill.choices.size() - 1);
    return static_cast<std::size_t>(std::lround(std::clamp(part, 0.0, 1.0) * last));
}

std::vector<std::size_t> order_given(const Serving& serving, const ClassDrill& drill, double threshold_log10,
                                     double noise, Random& random) {
    std::vector<double> strength;
    for (const Cup& cup : serving.cups)
        strength.push_back(felt(drill.samples[cup.sample].level, threshold_log10, noise, random));
    std::vector<std::size_t> order(serving.cups.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t one, std::size_t other) { return strength[one] < strength[other]; });
    return order;
}

std::vector<std::size_t> picked(const Serving& serving, const ClassDrill& drill, const InventedPeople& people,
                                double threshold_log10, Random& random) {
    const Sample& sample = drill.samples[serving.cups.front().sample];
    switch (drill.task) {
        case Task::which_of_three:
            return {cup_found(serving, drill, threshold_log10, random)};
        case Task::naming:
            return {name_given(sample, drill, people.named_right, random)};
        case Task::graded:
            return {grade_given(sample, drill, threshold_log10, people.rank_noise_log10, random)};
        case Task::ranking:
            break;
    }
    return order_given(serving, drill, threshold_log10, people.rank_noise_log10, random);
}

}  // namespace

Ballots invented_answers(const Service& service, const InventedPeople& people, Seed seed) {
    Ballots ballots;
    for (std::size_t seat = 0; seat < service.plan.people; ++seat) {
        Random random(derived(seed, seat));
        const double threshold_log10 = people.threshold_log10 + people.spread_log10 * random.normal();
        for (std::size_t drill = 0; drill < service.plan.drills.size(); ++drill)
            for (std::size_t line = 0; line < service.seats[seat].servings[drill].size(); ++line)
                ballots.answers.push_back(
                    {seat, drill, line,
                     picked(service.seats[seat].servings[drill][line], service.plan.drills[drill], people,
                            threshold_log10, random),
                     std::nullopt});
    }
    return ballots;
}

}  // namespace sipladder::drills::classroom

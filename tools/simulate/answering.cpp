#include "tools/simulate/answering.hpp"

#include "engine/problem.hpp"
#include "engine/threshold/graded.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace sipladder::simulate {

namespace {

enum Use : std::uint64_t {
    traits_of_sureness = 11,
    picks = 12,
    traits_of_grading = 13,
    cups = 14,
    blanks = 15
};

double perceived(const Person& person, double x_log10) {
    return threshold::perceived_distance(person.truth, x_log10);
}

double blind_share(const threshold::Curve& truth) {
    return 1.5 * truth.lapse;  // a lapse still finds a third by chance
}

double logistic(double z) {
    return 1.0 / (1.0 + std::exp(-z));
}

}  // namespace

SureResponse sure_response(const Sureness& sureness, const Person& person, std::size_t number,
                           double x_log10) {
    Random traits{derived(person.bottles, traits_of_sureness)};
    const double place = traits.uniform();
    const double known_level = 0.35 * traits.normal();
    Random luck{derived(derived(person.bottles, picks), number)};
    const bool lapses = luck.uniform() < blind_share(person.truth);
    const double clear = luck.normal() + (lapses ? 0.0 : perceived(person, x_log10));
    std::array<double, 3> percepts{clear, luck.normal(), luck.normal()};
    const bool correct = clear > std::max(percepts[1], percepts[2]);
    const double word = luck.uniform();
    const double shift = sureness.jitter * luck.normal();
    if (sureness.kind == Sureness::Kind::empty) {
        if (word < sureness.sure) return {correct, 2};
        return {correct, word < sureness.sure + sureness.leaning ? std::size_t{1} : std::size_t{0}};
    }
    if (sureness.kind == Sureness::Kind::level) {
        constexpr double tau = 0.15;
        constexpr double delta = 0.4;
        if (word < logistic((x_log10 - known_level) / tau)) return {correct, 2};
        return {correct,
                word < logistic((x_log10 - known_level + delta) / tau) ? std::size_t{1} : std::size_t{0}};
    }
    const double first =
        std::max(sureness.first_lower + (sureness.first_upper - sureness.first_lower) * place + shift, 0.0);
    std::sort(percepts.begin(), percepts.end());
    const double lead = percepts[2] - percepts[1];
    if (lead > first + sureness.spacing) return {correct, 2};
    return {correct, lead > first ? std::size_t{1} : std::size_t{0}};
}

Grader::Grader(const Grading& grading, const Person& person)
    : grading_(grading), truth_(person.truth), luck_(derived(person.bottles, cups)) {
    Random traits{derived(person.bottles, traits_of_grading)};
    first_ = grading.first_lower + (grading.first_upper - grading.first_lower) * traits.uniform();
    spacing_ =
        grading.spacing_lower * std::pow(grading.spacing_upper / grading.spacing_lower, traits.uniform());
}

std::size_t Grader::grade(std::size_t number, std::optional<double> x_log10) {
    SIPLADDER_EXPECT(number >= walked_);
    for (; walked_ < number; ++walked_)  // the step before cup walked_ + 1
        first_ += grading_.walk * Random{derived(derived(luck_, 1), walked_ + 1)}.normal();
    Random luck{derived(derived(luck_, 0), number)};
    const bool lapses = luck.uniform() < blind_share(truth_);
    const double noise = luck.normal();
    const double shift = grading_.jitter * luck.normal();
    const double distance = x_log10 && !lapses ? threshold::perceived_distance(truth_, *x_log10) : 0.0;
    const double spread = 1.0 + (grading_.sd_ratio - 1.0) * std::min(1.0, 0.5 * distance);
    const double percept = distance + spread * noise;
    std::size_t grade = 0;
    while (grade < 3 && percept > first_ + shift + spacing_ * static_cast<double>(grade)) ++grade;
    return grade;
}

bool is_blank_cup(const Person& person, std::size_t number) {
    return Random{derived(derived(person.bottles, blanks), number)}.uniform() < 1.0 / 3.0;
}

}  // namespace sipladder::simulate

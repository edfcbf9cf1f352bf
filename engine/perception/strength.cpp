// Both fits share their bottles: each rung is off by an amount of its own, each condition by one that its
// rungs share. These amounts are parameters with the spread that mixing claims, so that what is not known of
// the bottles is in every interval.

#include "engine/perception/strength.hpp"

#include "engine/normal.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sipladder::perception {

namespace {

constexpr double least_u = 1e-4;  // what has no error still needs a spread for the search
constexpr double nowhere = -std::numeric_limits<double>::infinity();

/// Errors of the bottles among the parameters, from `first` on: those of rungs that matter, then one or two
/// that a whole condition shares.
class Bottles {
  public:
    Bottles(const Levels& levels, std::size_t first) : levels_(levels), first_(first) {
        for (const Rung& rung : levels.rungs) {
            own_.push_back(matters(rung) ? std::optional(spreads_.size()) : std::nullopt);
            if (matters(rung)) spreads_.push_back(rung.u_own_log10);
        }
        shared_ = spreads_.size();
        const std::size_t shared = levels.has_two_conditions && !levels.same_bottles ? 2 : 1;
        for (std::size_t i = 0; i < shared; ++i)
            spreads_.push_back(std::max(levels.u_shared_log10[i], least_u));
    }

    void put(std::vector<double>& start, std::vector<double>& spread) const {
        for (const double one : spreads_) {
            start.push_back(0.0);
            spread.push_back(one);
        }
    }
    double log_density(std::span<const double> at) const {
        double sum = 0.0;
        for (std::size_t i = 0; i < spreads_.size(); ++i) sum += log_normal(at[first_ + i], 0.0, spreads_[i]);
        return sum;
    }
    /// What the rung really holds.
    double x(std::span<const double> at, std::size_t rung) const {
        const Rung& one = levels_.rungs[rung];
        const std::size_t shared = shared_ + 1 < spreads_.size() ? one.condition : 0;
        const double own = own_[rung] ? at[first_ + *own_[rung]] : 0.0;
        return one.x_log10 + own + at[first_ + shared_ + shared];
    }
    /// An error that is no parameter, as part of the noise of an answer.
    double u_in_noise(std::size_t rung) const { return own_[rung] ? 0.0 : levels_.rungs[rung].u_own_log10; }

  private:
    /// Below 5 % it is lost in the scatter of answers, which is 30 % and more (judgement).
    static bool matters(const Rung& rung) { return rung.u_own_log10 > 0.021; }

    const Levels& levels_;
    std::size_t first_;
    std::vector<std::optional<std::size_t>> own_;
    std::vector<double> spreads_;
    std::size_t shared_{};
};

template <class Answer>
void check(const Levels& levels, const std::vector<Answer>& answers) {
    if (answers.empty()) throw Refused("answers", "are missing", "at least one");
    for (const Answer& one : answers)
        if (one.rung >= levels.rungs.size())
            throw Refused("answers", "hold rung " + std::to_string(one.rung + 1),
                          "one of " + std::to_string(levels.rungs.size()));
}

/// Mass of the normal distribution between two places, exact in both tails.
double mass_between(double from, double to) {
    return from > 0.0 ? normal_below(-from) - normal_below(-to) : normal_below(to) - normal_below(from);
}

}  // namespace

double middle_of(const Levels& levels) {
    SIPLADDER_EXPECT(!levels.rungs.empty());
    const auto [least, most] =
        std::minmax_element(levels.rungs.begin(), levels.rungs.end(),
                            [](const Rung& a, const Rung& b) { return a.x_log10 < b.x_log10; });
    return 0.5 * (least->x_log10 + most->x_log10);
}

Growth growth(const Levels& levels, const std::vector<Felt>& felt, const GrowthPrior& prior, Seed seed) {
    check(levels, felt);
    enum : std::size_t { centre, slope, ln_noise };
    const bool two = levels.has_two_conditions;
    const std::size_t shift = 3;
    const std::size_t pull = two ? 4 : 3;
    const Bottles bottles(levels, 3 + (two ? 1U : 0U) + (prior.pull ? 1U : 0U));
    const double middle = middle_of(levels);
    const LogDensity log_density = [&](std::span<const double> at) {
        if (std::abs(at[ln_noise] - prior.ln_noise.mean) > 12.0 * prior.ln_noise.sd) return nowhere;
        double sum = log_normal(at[centre], prior.centre.mean, prior.centre.sd) +
                     log_normal(at[slope], prior.slope.mean, prior.slope.sd) +
                     log_normal(at[ln_noise], prior.ln_noise.mean, prior.ln_noise.sd) +
                     bottles.log_density(at);
        if (two) sum += log_normal(at[shift], prior.shift.mean, prior.shift.sd);
        if (prior.pull) sum += log_normal(at[pull], prior.pull->mean, prior.pull->sd);
        const double own_noise = std::exp(at[ln_noise]);
        for (const Felt& one : felt) {
            const double noise = std::hypot(own_noise, at[slope] * bottles.u_in_noise(one.rung));
            const bool moved = two && levels.rungs[one.rung].condition == 1;
            double x = bottles.x(at, one.rung) - middle;
            if (moved && prior.shift_is_of_level) x -= at[shift];
            double y = at[centre] + at[slope] * x;
            if (moved && !prior.shift_is_of_level) y += at[shift];
            if (prior.pull && one.before_log10) y += at[pull] * (*one.before_log10 - middle);
            const double z = (one.y_log10 - y) / noise;
            if (one.side == Felt::Side::inside)
                sum += -0.5 * z * z - std::log(noise);
            else
                sum += log_below(one.side == Felt::Side::below ? z : -z);
        }
        return sum;
    };
    std::vector<double> start{prior.centre.mean, prior.slope.mean, prior.ln_noise.mean};
    std::vector<double> spread{0.1, 0.2, 0.3};
    if (two) {
        start.push_back(prior.shift.mean);
        spread.push_back(0.1);
    }
    if (prior.pull) {
        start.push_back(prior.pull->mean);
        spread.push_back(prior.pull->sd);
    }
    bottles.put(start, spread);
    Growth found;
    found.middle_log10 = middle;
    found.draws = draws_of(log_density, std::move(start), spread, seed);
    const auto of = [&](std::size_t which) {
        return found.draws.of([which](std::span<const double> at) { return at[which]; });
    };
    found.centre = of(centre);
    found.slope = of(slope);
    found.noise = found.draws.of([](std::span<const double> at) { return std::exp(at[ln_noise]); });
    if (two) found.shift = of(shift);
    if (prior.pull) found.pull = of(pull);
    return found;
}

WordsStart words_start(const Levels& levels, std::size_t words) {
    double least = levels.rungs.front().x_log10;
    double most = least;
    for (const Rung& rung : levels.rungs) {
        least = std::min(least, rung.x_log10);
        most = std::max(most, rung.x_log10);
    }
    const double gap = std::max((most - least) / static_cast<double>(words), 0.02);
    return {least + gap, gap};
}

WordLimits word_limits(const Levels& levels, std::size_t words, const std::vector<Said>& said,
                       const WordsPrior& prior, Seed seed, std::optional<std::size_t> middle_of) {
    check(levels, said);
    if (words < 2 || words > 12) throw Refused("words", "are " + std::to_string(words), "2 to 12");
    for (const Said& one : said)
        if (one.word >= words)
            throw Refused("words", "hold number " + std::to_string(one.word + 1),
                          "one of " + std::to_string(words));
    const WordsStart begin = words_start(levels, words);
    const bool two = levels.has_two_conditions;
    const std::size_t limits = words - 1;
    const std::size_t ln_noise = limits;  // after the first limit and the logs of the gaps
    const std::size_t shift = limits + 1;
    const Bottles bottles(levels, limits + (two ? 2 : 1));
    // How often each word was said of each rung.
    std::vector<std::vector<double>> counts(levels.rungs.size(), std::vector<double>(words, 0.0));
    for (const Said& one : said) counts[one.rung][one.word] += 1.0;
    const auto limits_at = [=](std::span<const double> at) {
        std::vector<double> found{at[0]};
        for (std::size_t j = 1; j < limits; ++j) found.push_back(found.back() + std::exp(at[j]));
        return found;
    };
    const LogDensity log_density = [&](std::span<const double> at) {
        if (std::abs(at[ln_noise] - prior.ln_noise_mean) > 12.0 * prior.ln_noise_sd) return nowhere;
        double sum = log_normal(at[0], begin.first, prior.first_sd) +
                     log_normal(at[ln_noise], prior.ln_noise_mean, prior.ln_noise_sd) +
                     bottles.log_density(at);
        for (std::size_t j = 1; j < limits; ++j)
            sum += log_normal(at[j], std::log(begin.gap), prior.ln_gap_sd);
        if (two) sum += log_normal(at[shift], 0.0, prior.shift_sd);
        const std::vector<double> limit = limits_at(at);
        for (std::size_t rung = 0; rung < counts.size(); ++rung) {
            const double noise = std::hypot(std::exp(at[ln_noise]), bottles.u_in_noise(rung));
            double x = bottles.x(at, rung);
            if (two && levels.rungs[rung].condition == 1) x -= at[shift];
            for (std::size_t word = 0; word < words; ++word) {
                if (counts[rung][word] == 0.0) continue;
                const double from = word == 0 ? nowhere : (limit[word - 1] - x) / noise;
                const double to = word == limits ? -nowhere : (limit[word] - x) / noise;
                const double share = mass_between(from, to);
                sum += counts[rung][word] *
                       std::log(prior.lapse / static_cast<double>(words) + (1.0 - prior.lapse) * share);
            }
        }
        return sum;
    };
    std::vector<double> start{begin.first};
    std::vector<double> spread{0.15};
    for (std::size_t j = 1; j < limits; ++j) {
        start.push_back(std::log(begin.gap));
        spread.push_back(0.4);
    }
    start.push_back(prior.ln_noise_mean);
    spread.push_back(0.3);
    if (two) {
        start.push_back(0.0);
        spread.push_back(0.1);
    }
    bottles.put(start, spread);
    const Draws draws = draws_of(log_density, std::move(start), spread, seed);
    WordLimits found;
    for (std::size_t j = 0; j < limits; ++j)
        found.log10.push_back(draws.of([&](std::span<const double> at) { return limits_at(at)[j]; }));
    found.noise = draws.of([&](std::span<const double> at) { return std::exp(at[ln_noise]); });
    if (two) found.shift = draws.of([&](std::span<const double> at) { return at[shift]; });
    if (!middle_of) return found;
    SIPLADDER_EXPECT(*middle_of > 0 && *middle_of < limits);
    const auto middle = [&](std::span<const double> at) {
        const std::vector<double> limit = limits_at(at);
        return 0.5 * (limit[*middle_of - 1] + limit[*middle_of]);
    };
    found.middle_log10 = draws.of(middle);
    if (two)
        found.middle_of_other_log10 =
            draws.of([&](std::span<const double> at) { return middle(at) + at[shift]; });
    return found;
}

}  // namespace sipladder::perception

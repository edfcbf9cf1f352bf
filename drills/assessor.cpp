// One cup is perceived or it is not. With d = (psi - g)/(1 - g) the assessor knows the cup, and otherwise
// picks one of the three blindly, which gives psi = d + (1 - d) g exactly. How sure it says to be follows in
// detection from percepts that would have led to the same answer, elsewhere from whether it knew: mostly
// "sure", or mostly "guessed" (the shares are a judgement, not a model of anybody).

#include "drills/assessor.hpp"

#include "drills/blinding/sealed_key.hpp"
#include "drills/rules.hpp"
#include "engine/problem.hpp"
#include "engine/threshold/graded.hpp"
#include "engine/threshold/quick_look.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>

namespace sipladder::drills {

namespace {

double drawn_theta(const threshold::Prior& prior, Random& random) {
    const threshold::Range range = threshold::theta_range(prior);
    if (prior.kind == threshold::Prior::Kind::flat)
        return range.lower + (range.upper - range.lower) * random.uniform();
    for (;;) {  // rejection: the density is at most that of the centre
        const double theta = range.lower + (range.upper - range.lower) * random.uniform();
        if (random.uniform() * threshold::theta_density(prior, prior.mean_log10) <=
            threshold::theta_density(prior, theta))
            return theta;
    }
}

double drawn_width(const threshold::Prior& prior, Random& random) {
    if (prior.width_ln_sd == 0.0) return std::exp(prior.width_ln_mean);
    if (prior.width_upper <= prior.width_lower) return prior.width_lower;
    for (;;) {
        const double width = std::exp(prior.width_ln_mean + prior.width_ln_sd * random.normal());
        if (width >= prior.width_lower && width <= prior.width_upper) return width;
    }
}

double drawn_lapse(const threshold::Prior& prior, Random& random) {
    double total = 0.0;
    for (const auto& node : prior.lapses) total += node.weight;
    double left = total * random.uniform();
    for (const auto& node : prior.lapses) {
        left -= node.weight;
        if (left < 0.0) return node.lapse;
    }
    return prior.lapses.back().lapse;
}

Certainty drawn_certainty(bool knows, Random& random) {
    constexpr double usual = 0.7;
    if (random.uniform() < usual) return knows ? Certainty::sure : Certainty::guessed;
    return Certainty::leaning;
}

struct Pick {
    bool knows{};
    std::size_t choice{};
    std::optional<Certainty> certainty = {};  ///< where it follows the percepts
};

/// Percepts are drawn until they lead to as right or wrong an answer as was given; their lead says how sure.
Certainty certainty_by_lead(const Sureness& sureness, const threshold::Curve& curve, double x_log10,
                            bool correct, Random luck) {
    constexpr int most_draws = 10'000;  // what percepts hardly ever lead to was an accident
    const double clear = threshold::perceived_distance(curve, x_log10);
    for (int i = 0; i < most_draws; ++i) {
        const bool lapses = luck.uniform() < 1.5 * curve.lapse;  // a lapse still finds a third by chance
        std::array<double, places> percepts{luck.normal() + (lapses ? 0.0 : clear), luck.normal(),
                                            luck.normal()};
        if ((percepts[0] > std::max(percepts[1], percepts[2])) != correct) continue;
        std::sort(percepts.begin(), percepts.end());
        const double lead = percepts[2] - percepts[1];
        if (lead > sureness.first + sureness.spacing) return Certainty::sure;
        return lead > sureness.first ? Certainty::leaning : Certainty::guessed;
    }
    return Certainty::guessed;
}

/// Known for as much of the right answers as exceeds the share of a wrong place; otherwise one of the three,
/// drawn among what is left.
Pick picked(const std::array<double, places>& shares, std::size_t spiked, Random& random) {
    const double by_guess = *std::min_element(shares.begin(), shares.end());
    const double known = std::max(shares[spiked] - by_guess, 0.0);
    if (random.uniform() < known) return {true, spiked};
    const bool all_alike = std::all_of(shares.begin(), shares.end(), [&](double share) {
        return std::abs(share - by_guess) < 1e-12 || &share == &shares[spiked];
    });
    if (all_alike) return {false, random.below(places)};
    std::array<double, places> left = shares;
    left[spiked] -= known;
    double draw = random.uniform() * (1.0 - known);
    for (std::size_t place = 0; place + 1 < places; ++place) {
        draw -= left[place];
        if (draw < 0.0) return {false, place};
    }
    return {false, places - 1};
}

threshold::Curve drawn_curve(const threshold::Prior& prior, Random& random) {
    const double theta = drawn_theta(prior, random);
    const double width = drawn_width(prior, random);
    return {theta, width, drawn_lapse(prior, random)};
}

/// Bottles whose mixing errors are drawn from what the ladder claims.
Traits drawn_bottles(const solution::MixedLadder& ladder, Random& random) {
    double mean_shared = 0.0;
    for (const auto& level : ladder.levels)
        mean_shared += level.u_shared_rel / static_cast<double>(ladder.levels.size());
    const double shared = random.normal();
    Traits bottles;
    bottles.mixing_error_shared_log10 = std::numbers::log10e * mean_shared * shared;
    // A rung that shares more, or less, than the others carries the difference of the same draw.
    for (const auto& level : ladder.levels)
        bottles.mixing_error_own_log10.push_back(
            std::numbers::log10e *
            (level.u_own_rel * random.normal() + (level.u_shared_rel - mean_shared) * shared));
    return bottles;
}

/// From what the quick look believes of a person of whom nothing is known.
Grading drawn_grading(Random& random) {
    const std::vector<threshold::GradingHabit> all = threshold::grading_habits();
    double left = random.uniform();
    const auto found = std::find_if(all.begin(), all.end() - 1, [&](const threshold::GradingHabit& habit) {
        left -= habit.weight;
        return left < 0.0;
    });
    return {found->first, found->spacing, found->sd_ratio, found->wander, Seed{random.bits()}};
}

/// Where the first cut has wandered to by cup `number`, 0 for the first.
double first_cut_now(const Grading& grading, std::size_t number) {
    double cut = grading.first_cut;
    for (std::size_t i = 1; i <= number; ++i)
        cut += grading.wander * Random{derived(grading.steps, i)}.normal();
    return cut;
}

/// What stands under each code, in the order in which the codes are called: places in the pour list.
std::vector<std::size_t> cups_on_table(const Plan& plan, Seed table) {
    std::vector<std::size_t> cups;
    if (is_set(plan)) {  // shuffled set by set
        for (std::size_t set = 0; set < plan.most_presentations; ++set) {
            std::vector<std::size_t> one(cups_together(plan));
            std::iota(one.begin(), one.end(), std::size_t{0});
            Random{derived(table, set)}.shuffle(one);
            cups.insert(cups.end(), one.begin(), one.end());
        }
        return cups;
    }
    const auto list = sealed_key::pour_list(plan);
    for (std::size_t mark = 0; mark < list.size(); ++mark)
        cups.insert(cups.end(), static_cast<std::size_t>(list[mark].poured), mark);
    Random random{table};
    random.shuffle(cups);
    return cups;
}

/// What really stands there.
struct Cup {
    std::size_t series{};
    std::size_t level{};
    bool is_blank{};
    std::size_t place{};
};

threshold::Curve curve_of(const Assessor& assessor, std::size_t series) {
    return series == 0 ? assessor.truth : assessor.others.at(series - 1).truth;
}
double strength_of(const State& drill, const Assessor& assessor, std::size_t series, std::size_t level) {
    const auto& ladder = ladder_of(drill.plan, line_of_series(drill.plan, series));
    if (series == 0) return true_log10(assessor, ladder, level);
    const Traits& other = assessor.others.at(series - 1);
    return true_log10({other.truth, other.mixing_error_shared_log10, other.mixing_error_own_log10}, ladder,
                      level);
}

/// The curve as it stands after the presentations before.
threshold::Curve curve_now(const State& drill, const Assessor& assessor, std::size_t series) {
    std::optional<double> before;
    if (!drill.trials.empty() && drill.plan.blinding != Blinding::sealed_key)
        before = strength_of(drill, assessor, drill.trials.back().series, drill.trials.back().level);
    threshold::Curve curve = curve_of(assessor, series);
    curve.theta_log10 = theta_now(curve, assessor.habits, drill.trials.size(), before);
    return curve;
}

/// One of so many, the right one with this probability, the others alike.
Pick one_of(std::size_t choices, std::size_t right, double right_probability, Random& random) {
    const double guess = 1.0 / static_cast<double>(choices);
    const double by_guess = (1.0 - right_probability) / (1.0 - guess);
    if (random.uniform() >= by_guess) return {true, right};
    return {false, random.below(choices)};
}

Pick graded(const Grading& grading, const threshold::Curve& curve, std::size_t number,
            std::optional<double> x_log10, Random& random) {
    double d_prime = 0.0;
    const bool lapses = random.uniform() < curve.lapse / (1.0 - 1.0 / 3.0);
    if (x_log10 && !lapses) d_prime = threshold::perceived_distance(curve, *x_log10);
    const double noise = 1.0 + (grading.sd_ratio - 1.0) * std::min(1.0, 0.5 * d_prime);
    const double percept = d_prime + noise * random.normal();
    const double first = first_cut_now(grading, number);
    std::size_t grade = 0;
    while (grade < 3 && percept > first + static_cast<double>(grade) * grading.spacing) ++grade;
    return {false, grade};
}

/// What the cups on the table hold, left to right.
std::vector<Held> held_now(const State& drill, const Served& now, Seed table) {
    if (drill.plan.blinding != Blinding::sealed_key)
        return is_set(drill.plan) ? now.held : std::vector<Held>{{now.series, now.level, now.is_blank}};
    const auto list = sealed_key::pour_list(drill.plan);
    const auto cups = cups_on_table(drill.plan, table);
    const std::size_t together = cups_together(drill.plan);
    std::vector<Held> held;
    for (std::size_t i = 0; i < together; ++i) {
        const sealed_key::Identity& one = list[cups.at(together * drill.trials.size() + i)];
        held.push_back({one.series, one.level, one.is_blank});
    }
    return held;
}

/// The single cup before this one.
std::optional<Held> held_before(const State& drill, Seed table) {
    if (drill.trials.empty() || is_set(drill.plan)) return std::nullopt;
    if (drill.plan.blinding != Blinding::sealed_key) return drill.trials.back().single();
    const std::size_t mark = cups_on_table(drill.plan, table).at(drill.trials.size() - 1);
    const sealed_key::Identity identity = sealed_key::pour_list(drill.plan)[mark];
    return Held{identity.series, identity.level, identity.is_blank};
}

TrueLevels true_levels(const Plan& plan, const Assessor& assessor) {
    TrueLevels truth;
    for (std::size_t line = 0; line < line_count(plan); ++line) {
        truth.emplace_back();
        const solution::MixedLadder& ladder = ladder_of(plan, line);
        for (std::size_t level = 0; level < ladder.levels.size(); ++level) {
            Assessor with_bottles;
            if (line < assessor.bottles.size()) {
                with_bottles.mixing_error_shared_log10 = assessor.bottles[line].mixing_error_shared_log10;
                with_bottles.mixing_error_own_log10 = assessor.bottles[line].mixing_error_own_log10;
            }
            truth.back().push_back(true_log10(with_bottles, ladder, level));
        }
    }
    return truth;
}

Pick answer_to(const State& drill, const Assessor& assessor, const Cup& cup, Random& random) {
    const Plan& plan = drill.plan;
    const threshold::Curve curve = curve_now(drill, assessor, cup.series);
    const double x = strength_of(drill, assessor, cup.series, cup.level);
    switch (plan.kind) {
        case Kind::detection: {
            Pick pick = picked(pick_probabilities(curve, assessor.habits, x, cup.place), cup.place, random);
            pick.certainty = certainty_by_lead(assessor.sureness, curve, x, pick.choice == cup.place,
                                               Random{Seed{random.bits()}});
            return pick;
        }
        case Kind::nose:
            return picked(pick_probabilities(curve, assessor.habits, x, cup.place), cup.place, random);
        case Kind::difference:
            return one_of(cups_together(plan), cup.place,
                          threshold::right_probability(curve, task_of(plan), x), random);
        case Kind::recognition:
            return one_of(line_count(plan), cup.series, threshold::right_probability(curve, task_of(plan), x),
                          random);
        case Kind::tray_check:
            return one_of(places, cup.place, (1.0 + 2.0 * assessor.sees_through) / 3.0, random);
        case Kind::naming:
        case Kind::ranking:
        case Kind::scaling:
        case Kind::balance:
        case Kind::mouth_map:
        case Kind::persistence:
        case Kind::weight:
            break;  // `sensed` answers
        case Kind::quick_look:
            return graded(assessor.grading, curve, drill.trials.size(),
                          cup.is_blank ? std::nullopt : std::optional(x), random);
    }
    SIPLADDER_EXPECT(false);
    return {};
}

}  // namespace

double true_log10(const Assessor& assessor, const solution::MixedLadder& ladder, std::size_t level) {
    double x = std::log10(ladder.levels.at(level).mixed) + assessor.mixing_error_shared_log10;
    if (!assessor.mixing_error_own_log10.empty()) x += assessor.mixing_error_own_log10.at(level);
    return x;
}

Assessor with_drawn_mixing_errors(Assessor assessor, const solution::MixedLadder& ladder, Random& random) {
    Traits drawn = drawn_bottles(ladder, random);
    assessor.mixing_error_shared_log10 = drawn.mixing_error_shared_log10;
    assessor.mixing_error_own_log10 = std::move(drawn.mixing_error_own_log10);
    return assessor;
}

Assessor drawn_assessor(const Plan& plan, Random& random) {
    Assessor assessor;
    if (is_fixed(plan)) {
        assessor.senses = drawn_senses(plan, random);
        for (std::size_t line = 0; line < line_count(plan); ++line)
            assessor.bottles.push_back(line > 0 && plan.others[line - 1].same_bottles
                                           ? assessor.bottles.front()
                                           : drawn_bottles(ladder_of(plan, line), random));
        assessor.table = Seed{random.bits()};
        return assessor;
    }
    assessor.truth = drawn_curve(plan.prior, random);
    assessor = with_drawn_mixing_errors(std::move(assessor), plan.ladder, random);
    for (std::size_t series = 1; series < series_count(plan); ++series) {
        const std::size_t line = line_of_series(plan, series);
        const threshold::Curve truth = drawn_curve(prior_of(plan, line), random);
        Traits other{truth, assessor.mixing_error_shared_log10, assessor.mixing_error_own_log10};
        if (line != 0) {
            other = drawn_bottles(ladder_of(plan, line), random);
            other.truth = truth;
        }
        assessor.others.push_back(std::move(other));
    }
    if (rules_of(plan.kind).has_blanks) assessor.grading = drawn_grading(random);
    if (plan.blinding == Blinding::sealed_key) assessor.table = Seed{random.bits()};
    return assessor;
}

State taste(State drill, const Assessor& assessor, Random& random, const Instant& at) {
    const bool is_sealed = drill.plan.blinding == Blinding::sealed_key;
    const auto now = serving(drill);
    if (!now) {
        const Step step = next(drill);
        if (std::holds_alternative<Finished>(step)) return drill;
        SIPLADDER_EXPECT(is_sealed && std::holds_alternative<Reveal>(step));
        const std::size_t number = std::get<Reveal>(step).number;
        const auto& held = drill.trials[number].held;
        const auto known =
            static_cast<std::size_t>(std::find(held.begin(), held.end(), std::nullopt) - held.begin());
        const std::size_t cup = cups_together(drill.plan) * number + known;
        const auto found = cups_on_table(drill.plan, assessor.table).at(cup);
        return reveal(std::move(drill), found, at);
    }
    if (is_fixed(drill.plan)) {
        Answer answer = sensed(drill.plan, assessor.senses, held_now(drill, *now, assessor.table),
                               held_before(drill, assessor.table), true_levels(drill.plan, assessor), random);
        answer.at = at;
        return lock(std::move(drill), answer);
    }
    const std::size_t together = cups_together(drill.plan);
    Cup cup{now->series, now->level, now->is_blank, 0};
    if (is_sealed) {
        const std::size_t mark = cups_on_table(drill.plan, assessor.table).at(drill.trials.size());
        const sealed_key::Identity identity = sealed_key::pour_list(drill.plan)[mark];
        cup = {identity.series, identity.level, identity.is_blank, 0};
    } else
        cup.place = now->place ? *now->place : random.below(together);  // spun by hand
    const Pick pick = answer_to(drill, assessor, cup, random);
    const Certainty certainty = pick.certainty ? *pick.certainty : drawn_certainty(pick.knows, random);
    drill = lock(std::move(drill), {pick.choice, certainty, at});
    return now->place || is_sealed ? drill : reveal(std::move(drill), cup.place, at);
}

}  // namespace sipladder::drills

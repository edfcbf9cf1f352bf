// Each drill's person follows the model that its fit assumes, drawn from what is assumed of people, so that a
// fit is right on average and its interval holds 95 times in 100 if, and only if, it does its sums right.
// Other people are up to the tests.

#include "drills/senses.hpp"

#include "drills/balance.hpp"
#include "drills/beforehand.hpp"
#include "drills/mouth_map.hpp"
#include "drills/naming.hpp"
#include "drills/persistence.hpp"
#include "drills/recognition.hpp"
#include "drills/rules.hpp"
#include "drills/scaling.hpp"
#include "drills/weight.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace sipladder::drills {

namespace {

constexpr double z_quarter = 0.674489750196082;

std::vector<std::vector<double>> drawn_naming(std::size_t names, Random& random) {
    const perception::NamingPrior prior = naming::assumed_prior();
    std::vector<std::vector<double>> rows;
    for (std::size_t row = 0; row < names; ++row) {
        const double right = perception::beta_draw(random, prior.right, prior.wrong);
        std::vector<double> shares(names, 0.0);
        double rest = 0.0;
        for (std::size_t name = 0; name < names; ++name)
            if (name != row) rest += shares[name] = perception::gamma_draw(random, prior.each);
        for (std::size_t name = 0; name < names; ++name)
            shares[name] = name == row ? right : (1.0 - right) * shares[name] / rest;
        rows.push_back(std::move(shares));
    }
    return rows;
}

double drawn(const perception::GrowthPrior::Normal& normal, Random& random) {
    return normal.mean + normal.sd * random.normal();
}

GrowthTruth drawn_growth(const perception::GrowthPrior& prior, Random& random) {
    GrowthTruth truth;
    truth.centre = drawn(prior.centre, random);
    truth.slope = drawn(prior.slope, random);
    truth.shift = drawn(prior.shift, random);
    truth.noise = std::exp(drawn(prior.ln_noise, random));
    if (prior.pull) truth.pull = drawn(*prior.pull, random);
    return truth;
}

WordsTruth drawn_words(const Plan& plan, std::size_t words, const perception::WordsPrior& prior,
                       Random& random) {
    const perception::WordsStart start = perception::words_start(beforehand::levels_of(plan), words);
    WordsTruth truth;
    truth.limits = {start.first + prior.first_sd * random.normal()};
    while (truth.limits.size() + 1 < words)
        truth.limits.push_back(truth.limits.back() + start.gap * std::exp(prior.ln_gap_sd * random.normal()));
    truth.shift = prior.shift_sd * random.normal();
    truth.noise = std::exp(prior.ln_noise_mean + prior.ln_noise_sd * random.normal());
    truth.lapse = prior.lapse;
    return truth;
}

std::vector<std::vector<double>> drawn_places(std::size_t things, Random& random) {
    const perception::PlacePrior prior = mouth_map::assumed_places();
    std::vector<std::vector<double>> all;
    for (std::size_t thing = 0; thing < things; ++thing) {
        all.emplace_back();
        for (std::size_t place = 0; place < mouth_map::place_names().size(); ++place)
            all.back().push_back(perception::beta_draw(random, prior.yes, prior.no));
    }
    return all;
}

std::size_t drawn_from(const std::vector<double>& shares, Random& random) {
    double left = random.uniform();
    for (std::size_t i = 0; i + 1 < shares.size(); ++i)
        if ((left -= shares[i]) < 0.0) return i;
    return shares.size() - 1;
}

/// The cups by what is perceived of them, weakest first.
std::vector<std::size_t> ordered(const Senses& senses, const std::vector<double>& levels, Random& random) {
    std::vector<std::size_t> order(levels.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    random.shuffle(order);  // the order of a lapse, and of ties there are none
    if (random.uniform() < senses.lapse) return order;
    const double noise = perception::noise_of_step(senses.step_log10);
    std::vector<double> percepts;
    percepts.reserve(levels.size());
    for (const double level : levels) percepts.push_back(level + noise * random.normal());
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return percepts[a] < percepts[b]; });
    return order;
}

/// y of the growth, without noise.
double grown(const GrowthTruth& truth, double x, bool is_other, bool shift_is_of_level) {
    double y = truth.centre + truth.slope * x;
    if (is_other) y += shift_is_of_level ? -truth.slope * truth.shift : truth.shift;
    return y;
}

double mark_of(double y_log10) {
    constexpr double end_width = 0.5;
    constexpr double line = 100.0;
    const double mark = std::pow(10.0, y_log10);
    if (mark < end_width) return 0.0;
    return mark > line - end_width ? line : mark;
}

std::size_t said(const WordsTruth& truth, double x, bool is_other, Random& random) {
    if (random.uniform() < truth.lapse) return random.below(truth.limits.size() + 1);
    const double felt = x - (is_other ? truth.shift : 0.0) + truth.noise * random.normal();
    return static_cast<std::size_t>(std::count_if(truth.limits.begin(), truth.limits.end(),
                                                  [felt](double limit) { return felt > limit; }));
}

/// A blank gets the first word and a mark close to the end of the line.
Answer about_a_blank(Random& random) {
    Answer answer;
    answer.mark = std::floor(4.0 * random.uniform());
    return answer;
}

Answer marked(const Plan& plan, const Senses& senses, const Held& cup, const std::optional<Held>& before,
              const TrueLevels& truth, Random& random) {
    if (cup.is_blank) return about_a_blank(random);
    const double middle = perception::middle_of(beforehand::levels_of(plan));
    const double x = truth.at(cup.series).at(cup.level);
    const bool is_other = cup.series == 1;
    double y = grown(senses.growth, x - middle, is_other, true) + senses.growth.noise * random.normal();
    if (before && !before->is_blank)
        y += senses.growth.pull *
             (std::log10(ladder_of(plan, before->series).levels[before->level].mixed) - middle);
    Answer answer;
    answer.mark = mark_of(y);
    answer.choice = said(senses.words, x, is_other, random);
    return answer;
}

Answer mapped(const Plan& plan, const Senses& senses, const Held& cup, Random& random) {
    Answer answer;
    const std::size_t thing = cup.is_blank ? line_count(plan) : cup.series;
    const std::vector<double>& places = senses.places.at(thing);
    for (std::size_t place = 0; place < places.size(); ++place)
        if (random.uniform() < places[place]) answer.places.push_back(place);
    answer.choice = answer.places.empty() ? 0 : 1 + thing % (plan.words.size() - 1);
    answer.mark = answer.places.empty() ? 0.0 : std::floor(20.0 + 60.0 * random.uniform());
    return answer;
}

Answer timed(const Plan& plan, const Senses& senses, const Held& cup, const TrueLevels& truth,
             Random& random) {
    const double x = truth.at(cup.series).at(cup.level) - perception::middle_of(beforehand::levels_of(plan));
    const double y = grown(senses.growth, x, cup.series == 1, false) + senses.growth.noise * random.normal();
    Answer answer;
    answer.seconds = std::min(std::pow(10.0, y), static_cast<double>(plan.most_seconds));
    if (!plan.words.empty()) answer.words = {random.below(plan.words.size())};
    return answer;
}

void add_words(const Plan& plan, const Senses& senses, std::map<std::string, double>& truths) {
    for (std::size_t i = 0; i < senses.words.limits.size(); ++i)
        truths["from \"" + plan.words[i] + "\" to \"" + plan.words[i + 1] + "\""] =
            std::pow(10.0, senses.words.limits[i]);
    truths["pull of the cup before"] = std::pow(10.0, senses.growth.pull);
    truths["scatter of a mark, as a factor"] = std::pow(10.0, senses.growth.noise);
}

void add_balance(const Plan& plan, const Senses& senses, std::map<std::string, double>& truths) {
    const std::vector<double>& limits = senses.words.limits;
    const double middle = 0.5 * (limits[balance::just_right - 1] + limits[balance::just_right]);
    truths["just about right in " + plan.base_name] = std::pow(10.0, middle);
    if (plan.others.empty()) return;
    const std::string& condition = plan.others.front().condition;
    truths["just about right " + condition] = std::pow(10.0, middle + senses.words.shift);
    truths["times as much " + condition] = std::pow(10.0, senses.growth.shift);
}

void add_persistence(const Plan& plan, const Senses& senses, std::map<std::string, double>& truths) {
    const GrowthTruth& truth = senses.growth;
    truths["seconds"] = std::pow(10.0, truth.centre);
    truths["a quarter is shorter than"] = std::pow(10.0, truth.centre - z_quarter * truth.noise);
    truths["a quarter is longer than"] = std::pow(10.0, truth.centre + z_quarter * truth.noise);
    if (!plan.others.empty())
        truths["times as long " + plan.others.front().condition] = std::pow(10.0, truth.shift);
}

}  // namespace

Senses drawn_senses(const Plan& plan, Random& random) {
    Senses senses;
    switch (plan.kind) {
        case Kind::naming:
            senses.naming = drawn_naming(naming::names(plan).size(), random);
            break;
        case Kind::ranking:
        case Kind::weight: {
            const perception::StepPrior prior;
            senses.step_log10 = std::exp(prior.ln_mean + prior.ln_sd * random.normal());
            senses.lapse = prior.lapse;
            break;
        }
        case Kind::scaling:
            senses.growth = drawn_growth(scaling::assumed_growth(), random);
            senses.words = drawn_words(plan, plan.words.size(), scaling::assumed_words(), random);
            break;
        case Kind::balance:
            senses.growth = drawn_growth(balance::assumed_growth(), random);
            senses.words = drawn_words(plan, balance::words().size(), balance::assumed_words(), random);
            break;
        case Kind::mouth_map:
            senses.places = drawn_places(line_count(plan) + 1, random);
            break;
        case Kind::persistence:
            senses.growth = drawn_growth(persistence::assumed_growth(), random);
            break;
        default:
            SIPLADDER_EXPECT(!is_fixed(plan));
    }
    return senses;
}

Answer sensed(const Plan& plan, const Senses& senses, const std::vector<Held>& cups,
              const std::optional<Held>& before, const TrueLevels& truth, Random& random) {
    SIPLADDER_EXPECT(!cups.empty());
    const Held& cup = cups.front();
    Answer answer;
    if (plan.kind == Kind::naming)
        answer.choice = drawn_from(senses.naming.at(cup.is_blank ? line_count(plan) : cup.series), random);
    else if (is_set(plan)) {
        std::vector<double> levels;
        levels.reserve(cups.size());
        for (const Held& one : cups) levels.push_back(truth.at(one.series).at(one.level));
        answer.order = ordered(senses, levels, random);
    } else if (plan.kind == Kind::mouth_map)
        answer = mapped(plan, senses, cup, random);
    else if (plan.kind == Kind::persistence)
        answer = timed(plan, senses, cup, truth, random);
    else
        answer = marked(plan, senses, cup, before, truth, random);
    return answer;
}

std::map<std::string, double> truths_of(const Plan& plan, const Senses& senses) {
    std::map<std::string, double> truths;
    if (plan.kind == Kind::naming) {
        const std::vector<std::string> names = naming::names(plan);
        truths["information"] = perception::bits_of(senses.naming);
        for (std::size_t row = 0; row < names.size(); ++row)
            truths[names[row] + " named right"] = senses.naming[row][row];
    }
    if (is_set(plan))
        truths["difference threshold, as a part of the level"] = std::pow(10.0, senses.step_log10) - 1.0;
    if (plan.kind == Kind::scaling || plan.kind == Kind::balance)
        truths["exponent of the marks"] = senses.growth.slope;
    if (plan.kind == Kind::scaling) add_words(plan, senses, truths);
    if (plan.kind == Kind::balance) add_balance(plan, senses, truths);
    if (plan.kind == Kind::mouth_map)
        for (std::size_t thing = 0; thing < senses.places.size(); ++thing)
            truths[(thing < line_count(plan) ? recognition::name_asked(plan, thing) : "the base alone") +
                   ", two cups alike about a place"] = perception::two_alike_of(senses.places[thing]);
    if (plan.kind == Kind::persistence) add_persistence(plan, senses, truths);
    return truths;
}

}  // namespace sipladder::drills

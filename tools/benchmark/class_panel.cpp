#include "engine/panel/panel.hpp"
#include "engine/text.hpp"
#include "engine/trend/trend.hpp"
#include "tools/benchmark/reference.hpp"
#include "tools/benchmark/timing.hpp"
#include "tools/benchmark/weeks.hpp"
#include "tools/simulate/parallel.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

// Twenty people of one class, 12 presentations each, once placed one by one and once with every rung of the
// ladder in order. The plain reference pools with location and spread on a fixed grid; both see the same
// people with the same luck, and in the fixed order the same answers.

namespace sipladder::benchmark {

namespace {

using simulate::Estimate;
using simulate::Figure;

constexpr std::size_t class_size = 20;
constexpr std::size_t presentations = 12;

struct ClassOfPeople {
    double middle{};
    std::vector<simulate::Person> people;

    double mean() const {
        double sum = 0.0;
        for (const simulate::Person& person : people) sum += person.truth.theta_log10;
        return sum / static_cast<double>(people.size());
    }
};

ClassOfPeople class_of(Seed seed, std::size_t index) {
    constexpr std::uint64_t middles = 88;  // a stream of its own
    constexpr double sd = 0.25;
    Random random{derived(derived(seed, index), middles)};
    ClassOfPeople made;
    made.middle = sd * random.normal();
    simulate::Population population;
    population.theta_mean = made.middle;
    population.theta_sd = sd;
    for (std::size_t i = 0; i < class_size; ++i)
        made.people.push_back(simulate::person_of(population, seed, index * class_size + i, presentations));
    return made;
}

struct Answer {
    std::size_t level{};
    bool correct{};
};
using Answers = std::vector<Answer>;

Answers in_order(const simulate::Person& person, const std::vector<double>& levels) {
    Answers answers;
    for (std::size_t level = 0; level < levels.size(); ++level)
        answers.push_back({level, simulate::response(person, level, levels[level], std::nullopt).correct});
    return answers;
}

Answers placed_plainly(const PlainReference& reference, const simulate::Person& person,
                       const std::vector<double>& levels) {
    constexpr int endless = 1'000'000;
    const std::vector<int> portions(levels.size(), endless);
    std::vector<double> cells = reference.start();
    Answers answers;
    for (std::size_t number = 0; number < presentations; ++number) {
        const std::size_t level = reference.choose(cells, portions);
        answers.push_back({level, simulate::response(person, number, levels[level], std::nullopt).correct});
        reference.answer(cells, level, answers.back().correct);
    }
    return answers;
}

Answers placed_by_engine(const simulate::Adaptive& method, const simulate::Person& person) {
    Answers answers;
    for (const simulate::Tasted& tasted :
         simulate::sitting(method, person, {.checkpoints = {presentations}}).tasted)
        answers.push_back({tasted.level, tasted.correct});
    return answers;
}

/// What a class was found to be.
struct Found {
    std::vector<Estimate> people;
    Estimate mean;
    std::size_t named = 0;  ///< said to differ from the mean
    std::size_t wrongly = 0;
};

Estimate estimate_of(std::span<const double> thetas, const std::vector<double>& weights) {
    Estimate found;
    double square = 0.0;
    for (std::size_t t = 0; t < thetas.size(); ++t) {
        found.value += weights[t] * thetas[t];
        square += weights[t] * thetas[t] * thetas[t];
    }
    found.sd = std::sqrt(std::max(square - found.value * found.value, 0.0));
    found.lower = threshold::cell_quantile(thetas, thetas[1] - thetas[0], weights, 0.025);
    found.upper = threshold::cell_quantile(thetas, thetas[1] - thetas[0], weights, 0.975);
    return found;
}

/// Location -1 to 1 in steps of 0.05, prior Normal(0, 0.5); spread 0.04 · 1.19^k, flat.
Found pooled_plainly(const PlainReference& reference, const std::vector<Answers>& everybody) {
    const std::span<const double> thetas = reference.thetas();
    const std::size_t count = thetas.size();
    const std::size_t nodes = reference.start().size() / count;
    std::vector<std::vector<double>> likelihoods;
    for (const Answers& answers : everybody) {
        std::vector<double>& sum = likelihoods.emplace_back(count, 0.0);
        for (std::size_t t = 0; t < count; ++t)
            for (std::size_t n = 0; n < nodes; ++n) {
                double product = 1.0;
                for (const Answer& answer : answers) {
                    const double right = reference.right(answer.level)[t * nodes + n];
                    product *= answer.correct ? right : 1.0 - right;
                }
                sum[t] += product;
            }
    }
    Found found;
    std::vector<std::vector<double>> people(everybody.size(), std::vector<double>(count, 0.0));
    double all = 0.0;
    double first = 0.0;
    double second = 0.0;
    constexpr int middles_each_side = 20;
    constexpr int spreads = 18;
    for (int m = -middles_each_side; m <= middles_each_side; ++m)
        for (int k = 0; k < spreads; ++k) {
            const double middle = 0.05 * m;
            const double spread = 0.04 * std::pow(1.19, k);
            std::vector<double> normal(count);
            for (std::size_t t = 0; t < count; ++t)
                normal[t] = std::exp(-0.5 * std::pow((thetas[t] - middle) / spread, 2.0));
            const double total = std::accumulate(normal.begin(), normal.end(), 0.0);
            double weight = spread * std::exp(-0.5 * std::pow(middle / 0.5, 2.0));
            std::vector<std::vector<double>> given;
            double mean = 0.0;
            double variance = 0.0;
            for (const auto& likelihood : likelihoods) {
                std::vector<double>& one = given.emplace_back(count);
                double mass = 0.0;
                for (std::size_t t = 0; t < count; ++t) mass += one[t] = normal[t] / total * likelihood[t];
                for (double& value : one) value /= mass;
                weight *= mass * 1e3;  // twenty people's probabilities, kept within range
                const Estimate at = estimate_of(thetas, one);
                mean += at.value / static_cast<double>(everybody.size());
                variance += at.sd * at.sd / std::pow(static_cast<double>(everybody.size()), 2.0);
            }
            all += weight;
            first += weight * mean;
            second += weight * (variance + mean * mean);
            for (std::size_t i = 0; i < given.size(); ++i)
                for (std::size_t t = 0; t < count; ++t) people[i][t] += weight * given[i][t];
        }
    for (auto& person : people) {
        for (double& value : person) value /= all;
        found.people.push_back(estimate_of(thetas, person));
    }
    found.mean.value = first / all;
    found.mean.sd = std::sqrt(second / all - found.mean.value * found.mean.value);
    found.mean.lower = found.mean.value - 1.96 * found.mean.sd;
    found.mean.upper = found.mean.value + 1.96 * found.mean.sd;
    return found;
}

Estimate plain(const threshold::Estimate& found) {
    return {found.log10, found.lower_log10, found.upper_log10, found.sd_log10};
}

Found pooled_by_engine(const threshold::Prior& prior, const panel::Settings& settings,
                       const ClassOfPeople& people, const std::vector<Answers>& everybody,
                       const std::vector<double>& levels) {
    std::vector<panel::Member> members;
    for (const Answers& answers : everybody) {
        std::map<std::size_t, threshold::Counts> pooled;
        for (const Answer& answer : answers) {
            threshold::Counts& at = pooled[answer.level];
            at.x_log10 = levels[answer.level];
            ++at.presentations;
            at.correct += answer.correct ? 1U : 0U;
        }
        panel::Member member{std::to_string(members.size()), {}};
        for (const auto& [level, at] : pooled) member.counts.push_back(at);
        members.push_back(std::move(member));
    }
    const panel::Panel panel = panel::pooled(members, prior, threshold::three_afc, settings);
    Found found;
    found.mean = plain(panel.people_mean);
    for (std::size_t i = 0; i < panel.people.size(); ++i) {
        found.people.push_back(plain(panel.people[i].shrunken));
        if (panel.people[i].stand == panel::Stand::unclear) continue;
        const bool lies_above = people.people[i].truth.theta_log10 > people.middle;
        ++found.named;
        if ((panel.people[i].stand == panel::Stand::less_sensitive) != lies_above) ++found.wrongly;
    }
    return found;
}

/// Errors of one way over all classes; the class is the unit.
struct Tally {
    std::string name;
    std::vector<double> person_rms;
    std::vector<double> people_held;  ///< share of intervals
    std::vector<double> mean_errors;
    std::vector<char> means_held;
    std::vector<double> named;  ///< people a class
    std::vector<double> wrongly;

    void put(std::size_t at, const Found& found, const ClassOfPeople& truth) {
        double square = 0.0;
        double held = 0.0;
        for (std::size_t i = 0; i < found.people.size(); ++i) {
            const double theta = truth.people[i].truth.theta_log10;
            square += std::pow(found.people[i].value - theta, 2.0);
            held += found.people[i].lower <= theta && theta <= found.people[i].upper ? 1.0 : 0.0;
        }
        const auto count = static_cast<double>(found.people.size());
        person_rms[at] = std::sqrt(square / count);
        people_held[at] = held / count;
        mean_errors[at] = found.mean.value - truth.mean();
        means_held[at] = found.mean.lower <= truth.mean() && truth.mean() <= found.mean.upper ? 1 : 0;
        named[at] = static_cast<double>(found.named);
        wrongly[at] = static_cast<double>(found.wrongly);
    }
};

Tally tally_of(std::string name, std::size_t classes) {
    return {std::move(name),
            std::vector<double>(classes),
            std::vector<double>(classes),
            std::vector<double>(classes),
            std::vector<char>(classes),
            std::vector<double>(classes),
            std::vector<double>(classes)};
}

/// Sum over classes of one thing over that of another (delta method).
Figure ratio_of(const std::vector<double>& part, const std::vector<double>& whole) {
    const double sum = std::accumulate(whole.begin(), whole.end(), 0.0);
    const double ratio = sum > 0.0 ? std::accumulate(part.begin(), part.end(), 0.0) / sum : 0.0;
    double square = 0.0;
    for (std::size_t i = 0; i < part.size(); ++i) square += std::pow(part[i] - ratio * whole[i], 2.0);
    return {ratio, sum > 0.0 ? std::sqrt(square) / sum : 0.0};
}

void add_goals(Report& report, const Tally& own, const Tally& plainly, const std::string& order) {
    const auto at_most = [&](const std::string& what, Figure measured) {
        report.goals.push_back({"class, " + order + ": " + what + " over the plain reference's",
                                "at most 1.02", measured, measured.value <= 1.02});
    };
    at_most("person RMSE", simulate::rmse_ratio(own.person_rms, plainly.person_rms));
    at_most("group mean RMSE", simulate::rmse_ratio(own.mean_errors, plainly.mean_errors));
    const Figure held = simulate::mean_of(own.people_held);
    report.goals.push_back(
        {"class, " + order + ": person coverage", "at least 0.94", held, held.value >= 0.94});
    const Figure wrong = ratio_of(own.wrongly, own.named);
    report.goals.push_back({"class, " + order + ": of those said to differ, on the wrong side",
                            "at most 0.05 and 2 standard errors", wrong,
                            wrong.value <= 0.05 + 2.0 * wrong.standard_error});
}

}  // namespace

void add_class(Report& report, const Run& run) {
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    const std::size_t classes = std::max<std::size_t>(run.people * 3 / 40, 2);
    const PlainReference reference(matched_prior(0.35), levels);
    const simulate::Adaptive placing(matched_engine_prior(), levels, threshold::coarse_grid, {2, 10.0, 1});
    const threshold::Prior around =
        matched_engine_prior(0.5);  // of the class's middle, as the reference has it
    const threshold::Prior shipped = shipped_engine_prior();
    panel::Settings known_widths;
    known_widths.width_between_ln_sd = 1e6;  // the prior of widths is the population's own
    enum Slot : std::size_t { own, plainly, own_shipped, own_fixed, plainly_fixed, shipped_fixed, ways };
    const char* const names[ways] = {
        "adaptive: Sipladder",    "adaptive: plain reference",    "adaptive: Sipladder, shipped prior",
        "fixed order: Sipladder", "fixed order: plain reference", "fixed order: Sipladder, shipped prior"};
    std::vector<Tally> tallies;
    for (const char* name : names) tallies.push_back(tally_of(name, classes));
    simulate::for_each_index(
        classes, run.threads,
        [&](std::size_t c) {
            const ClassOfPeople people = class_of(run.seed, c);
            std::vector<Answers> mine;
            std::vector<Answers> theirs;
            std::vector<Answers> fixed_order;
            for (const simulate::Person& person : people.people) {
                mine.push_back(placed_by_engine(placing, person));
                theirs.push_back(placed_plainly(reference, person, levels));
                fixed_order.push_back(in_order(person, levels));
            }
            tallies[own].put(c, pooled_by_engine(around, known_widths, people, mine, levels), people);
            tallies[plainly].put(c, pooled_plainly(reference, theirs), people);
            tallies[own_shipped].put(c, pooled_by_engine(shipped, {}, people, mine, levels), people);
            tallies[own_fixed].put(c, pooled_by_engine(around, known_widths, people, fixed_order, levels),
                                   people);
            tallies[plainly_fixed].put(c, pooled_plainly(reference, fixed_order), people);
            tallies[shipped_fixed].put(c, pooled_by_engine(shipped, {}, people, fixed_order, levels), people);
        },
        [&](std::size_t done) {
            if (run.progress) run.progress("class", done, classes);
        });
    Table table{"class",
                "Classes of 20 people, 12 presentations each, pooled",
                std::to_string(classes) +
                    " classes; the class is the unit. Group mean: against the mean of "
                    "these very people. Named: said to differ from the panel's mean.",
                {"person RMSE", "coverage", "group mean RMSE", "coverage", "named a class", "wrong side"},
                {}};
    for (const Tally& tally : tallies) {
        const bool names_people = tally.name.find("Sipladder") != std::string::npos;
        table.rows.push_back({tally.name,
                              {simulate::rmse_of(tally.person_rms), simulate::mean_of(tally.people_held),
                               simulate::rmse_of(tally.mean_errors), simulate::share_of(tally.means_held),
                               names_people ? Cell(simulate::mean_of(tally.named)) : Cell(),
                               names_people ? Cell(ratio_of(tally.wrongly, tally.named)) : Cell()}});
    }
    report.tables.push_back(std::move(table));
    add_goals(report, tallies[own], tallies[plainly], "adaptive");
    add_goals(report, tallies[own_fixed], tallies[plainly_fixed], "fixed order");
}

namespace {

std::vector<threshold::Counts> some_counts(const simulate::Person& person, const std::vector<double>& levels,
                                           std::size_t rungs) {
    std::vector<threshold::Counts> counts;
    for (std::size_t number = 0; number < person.luck.size(); ++number) {
        const std::size_t level = (levels.size() - rungs) / 2 + number % rungs;
        const bool correct = simulate::response(person, number, levels[level], std::nullopt).correct;
        if (number < rungs) counts.push_back({levels[level], 0, 0, 0.005});
        ++counts[number % rungs].presentations;
        counts[number % rungs].correct += correct ? 1U : 0U;
    }
    return counts;
}

}  // namespace

void add_weeks_speed(Report& report, std::size_t rounds) {
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    std::vector<panel::Member> members;
    constexpr std::size_t people = 1000;
    for (std::size_t i = 0; i < people; ++i)
        members.push_back(
            {std::to_string(i), some_counts(simulate::person_of({}, Seed{7}, i, 24), levels, levels.size())});
    std::vector<trend::Sitting> sittings;
    constexpr std::size_t many = 100;
    simulate::Population alike;
    alike.theta_sd = 0.08;
    for (std::size_t k = 0; k < many; ++k) {
        trend::Sitting sitting;
        sitting.week = static_cast<double>(k);
        sitting.counts = some_counts(simulate::person_of(alike, Seed{8}, k, 12), levels, 6);
        sitting.mix = std::to_string(k / 10);
        sitting.u_shared_log10 = 0.01;
        sittings.push_back(std::move(sitting));
    }
    const std::size_t few = std::max<std::size_t>(rounds / 20, 3);
    constexpr double in_s = 1e-3;
    const double panel_s =
        in_s * median_ms(few, [&](std::size_t) {
            panel::pooled(members, shipped_engine_prior(), threshold::three_afc, {.u_shared_log10 = 0.01});
        });
    const double trend_s = in_s * median_ms(few, [&](std::size_t) {
                               trend::trend(sittings, shipped_engine_prior(), threshold::three_afc);
                           });
    report.tables.push_back({"speed_pooled",
                             "Time of a large panel and of a long trend (median, one core)",
                             "",
                             {"seconds"},
                             {Row{"panel of 1000 people, 24 trials each", {Figure{panel_s, 0.0}}},
                              Row{"trend of 100 sittings of 12", {Figure{trend_s, 0.0}}}}});
    report.goals.push_back({"panel of 1000 people, seconds", "at most 0.5", {panel_s, 0.0}, panel_s <= 0.5});
    report.goals.push_back(
        {"trend of 100 sittings, seconds", "at most 0.05", {trend_s, 0.0}, trend_s <= 0.05});
}

}  // namespace sipladder::benchmark

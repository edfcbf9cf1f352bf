#include "drills/classroom/results.hpp"

#include "drills/plans.hpp"
#include "engine/perception/confusion.hpp"
#include "engine/problem.hpp"
#include "engine/threshold/ordinal.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <string_view>

namespace sipladder::drills::classroom {

namespace {

std::vector<std::string> shown_names(const Service& service, const std::vector<std::string>& names) {
    std::map<std::string, int> times;
    for (const std::string& name : names) ++times[name];
    std::vector<std::string> shown;
    for (const Seat& seat : service.seats) {
        const std::string place = "seat " + std::to_string(seat.number);
        const std::string name = seat.number <= names.size() ? names[seat.number - 1] : "";
        if (name.empty())
            shown.push_back(place);
        else
            shown.push_back(times[name] > 1 ? std::string(name).append(" (").append(place).append(")")
                                            : name);
    }
    return shown;
}

std::vector<std::size_t> who_answered(const Ballots& ballots) {
    std::set<std::size_t> seats;
    for (const BallotAnswer& answer : ballots.answers) seats.insert(answer.seat);
    return {seats.begin(), seats.end()};
}

// ---- which of three

std::vector<RungShare> rung_shares(const std::vector<Count>& counted) {
    std::map<std::size_t, RungShare> found;
    for (const Count& count : counted) {
        RungShare& rung = found[count.sample];
        rung.sample = count.sample;
        rung.presentations += count.presentations;
        rung.correct += count.correct;
    }
    std::vector<RungShare> rungs;
    for (auto& [sample, rung] : found) {
        rung.test =
            threshold::discriminate(threshold::DifferenceTask::afc_3, rung.correct, rung.presentations);
        rungs.push_back(rung);
    }
    return rungs;
}

/// A series needs every rung once: a rung left out would leave its step open.
std::optional<threshold::BestEstimate> best_of(const std::vector<Count>& own, const ClassDrill& drill) {
    std::vector<double> levels;
    std::vector<bool> correct;
    for (const Count& count : own) {
        if (count.presentations != 1) return std::nullopt;
        levels.push_back(std::log10(drill.samples[count.sample].level));
        correct.push_back(count.correct == 1);
    }
    if (levels.size() < 2 || levels.size() != drill.samples.size()) return std::nullopt;
    return threshold::best_estimate(levels, correct);
}

ThresholdResult threshold_result(const Ballots& ballots, const Service& service, std::size_t drill,
                                 const std::vector<std::string>& names, const Assumed& assumed) {
    const ClassDrill& of = service.plan.drills[drill];
    const std::vector<Count> counted = counts(ballots, service, drill);
    ThresholdResult result{assumed.component, {}, {}, rung_shares(counted), {}, {}};
    std::map<std::size_t, std::vector<Count>> by_seat;
    for (const Count& count : counted) by_seat[count.seat].push_back(count);
    if (by_seat.empty()) return result;
    std::vector<panel::Member> members;
    std::vector<threshold::BestEstimate> all_best;
    for (const auto& [seat, own] : by_seat) {
        panel::Member member{names[seat], {}};
        for (const Count& count : own)
            member.counts.push_back(
                {std::log10(of.samples[count.sample].level), count.presentations, count.correct});
        members.push_back(std::move(member));
        result.seats.push_back(seat);
        result.best.push_back(best_of(own, of));
        if (result.best.back()) all_best.push_back(*result.best.back());
    }
    panel::Settings settings;
    settings.scale = of.scale;
    settings.u_shared_log10 = of.u_shared_rel / std::numbers::ln10;
    result.pooled = panel::pooled(members, assumed.prior, threshold::three_afc, settings);
    if (!all_best.empty()) result.best_of_class = threshold::group_estimate(all_best);
    return result;
}

// ---- named and graded

/// Rows by right name: names with a cup first, in the order of the choices, then names that nothing has.
perception::Counts by_right_name(const SinglesResult& result, const ClassDrill& drill) {
    std::vector<std::size_t> order;
    std::set<std::size_t> served;
    for (const Sample& sample : drill.samples) served.insert(*sample.right);
    order.assign(served.begin(), served.end());
    for (std::size_t choice = 0; choice < drill.choices.size(); ++choice)
        if (!served.contains(choice)) order.push_back(choice);
    perception::Counts counts(served.size(), std::vector<std::size_t>(order.size(), 0));
    for (std::size_t sample = 0; sample < drill.samples.size(); ++sample) {
        const auto row = static_cast<std::size_t>(
            std::distance(served.begin(), served.find(*drill.samples[sample].right)));
        for (std::size_t column = 0; column < order.size(); ++column)
            counts[row][column] += result.counts[sample][order[column]];
    }
    return counts;
}

void add_named(SinglesResult& result, const ClassDrill& drill, Seed seed) {
    if (!std::all_of(drill.samples.begin(), drill.samples.end(),
                     [](const Sample& sample) { return sample.right.has_value(); }))
        return;
    SinglesResult::Named named;
    for (std::size_t sample = 0; sample < drill.samples.size(); ++sample)
        for (std::size_t choice = 0; choice < drill.choices.size(); ++choice) {
            named.answers += result.counts[sample][choice];
            if (choice == *drill.samples[sample].right) named.right += result.counts[sample][choice];
        }
    if (named.answers == 0) return;
    result.named = named;
    const perception::Counts table = by_right_name(result, drill);
    if (table.size() < 2) return;
    result.bits = perception::bits(table, {}, seed);
    result.most_bits = std::log2(static_cast<double>(table.size()));
}

/// Grades of the base and of one sample, without the grades that neither was given.
std::vector<threshold::OrdinalRow> two_rows(const std::vector<std::size_t>& base,
                                            const std::vector<std::size_t>& sample) {
    threshold::OrdinalRow one{{0.0}, {}};
    threshold::OrdinalRow other{{1.0}, {}};
    for (std::size_t grade = 0; grade < base.size(); ++grade) {
        if (base[grade] + sample[grade] == 0) continue;
        one.counts.push_back(static_cast<double>(base[grade]));
        other.counts.push_back(static_cast<double>(sample[grade]));
    }
    return {std::move(one), std::move(other)};
}

SinglesResult::Distance distance_of(const SinglesResult& result, std::size_t base, std::size_t sample) {
    SinglesResult::Distance distance{sample, std::nullopt, 0.0};
    try {
        const auto fit = threshold::ordinal_regression(two_rows(result.counts[base], result.counts[sample]),
                                                       threshold::Link::probit);
        distance.d_prime = fit.coefficients.front();
        distance.standard_error = fit.standard_error(fit.cut_points.size());
    } catch (const Refused&) {  // apart wholly, all in one grade, or nobody graded one of them: no distance
        distance.d_prime.reset();
    }
    return distance;
}

SinglesResult singles_result(const Ballots& ballots, const Service& service, std::size_t drill, Seed seed) {
    const ClassDrill& of = service.plan.drills[drill];
    SinglesResult result;
    for (const BallotAnswer& answer : ballots.answers)
        if (answer.drill == drill)
            result.answers.push_back(
                {answer.seat, service.seats[answer.seat].servings[drill][answer.serving].cups.front().sample,
                 answer.picked.front()});
    result.counts = confusion(ballots, service, drill);
    if (of.task == Task::naming) {
        add_named(result, of, seed);
        return result;
    }
    const auto base = std::find_if(of.samples.begin(), of.samples.end(),
                                   [](const Sample& sample) { return sample.level == 0.0; });
    if (base == of.samples.end()) return result;
    const auto base_index = static_cast<std::size_t>(base - of.samples.begin());
    for (std::size_t sample = 0; sample < of.samples.size(); ++sample)
        if (sample != base_index) result.distances.push_back(distance_of(result, base_index, sample));
    return result;
}

// ---- ranking

/// The plan lists what is ranked weakest first.
RankingResult ranking_result(const Ballots& ballots, const Service& service, std::size_t drill) {
    RankingResult result;
    result.ranks = ranks(ballots, service, drill);
    const std::size_t samples = service.plan.drills[drill].samples.size();
    std::vector<double> expected(samples);
    for (std::size_t i = 0; i < samples; ++i) expected[i] = static_cast<double>(i + 1);
    for (const std::vector<double>& row : result.ranks.by_sample) {
        std::optional<double> tau;
        if (samples >= 3) tau = threshold::kendall_tau(expected, row).value;
        result.tau.push_back(tau);
        std::size_t swapped = 0;
        for (std::size_t i = 1; i < samples; ++i)
            if (row[i] < row[i - 1]) ++swapped;
        result.neighbours_swapped.push_back(swapped);
    }
    if (result.ranks.by_sample.size() >= 2) {
        result.friedman = threshold::friedman(result.ranks.by_sample);
        result.page = threshold::page(result.ranks.by_sample);
    }
    return result;
}

}  // namespace

ClassResults results(const Ballots& ballots, const Service& service, const std::vector<std::string>& names,
                     const std::function<Assumed(const std::string&)>& assumed, Seed seed) {
    ClassResults all{shown_names(service, names), who_answered(ballots), ballots.no_shows, {}, ballots.gaps};
    for (std::size_t drill = 0; drill < service.plan.drills.size(); ++drill) {
        const ClassDrill& of = service.plan.drills[drill];
        if (of.task == Task::which_of_three)
            all.drills.emplace_back(
                threshold_result(ballots, service, drill, all.names, assumed(of.samples.front().substance)));
        else if (of.task == Task::ranking)
            all.drills.emplace_back(ranking_result(ballots, service, drill));
        else
            all.drills.emplace_back(singles_result(ballots, service, drill, derived(seed, drill)));
    }
    return all;
}

ClassResults class_results(const Service& service, const Ballots& ballots,
                           const std::vector<std::string>& names, const content::Content& content) {
    const auto assumed = [&](const std::string& id) {
        const solution::Substance& substance = content.substance(id);
        return Assumed{assumed_prior(substance), substance.component};
    };
    return results(ballots, service, names, assumed, derived(service.seed, 2));
}

std::vector<std::string> wall_names(std::size_t seats, Seed seed) {
    constexpr std::string_view consonants = "BCDFGHJKLMNPRSTVWXZ";  // no vowel, so no word; Q reads as O
    std::vector<std::string> names;
    for (const char first : consonants)
        for (const char second : consonants)
            if (first != second) names.push_back({first, second});
    SIPLADDER_EXPECT(seats <= names.size());
    Random random(seed);
    random.shuffle(names);
    names.resize(seats);
    return names;
}

}  // namespace sipladder::drills::classroom

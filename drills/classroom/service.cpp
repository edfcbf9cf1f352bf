#include "drills/classroom/service.hpp"

#include "drills/classroom/williams.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <tuple>

// A row of a Williams design, or a shift of the target's places, goes to each seat by a drawn order of the
// seats: balanced over the class, and nobody can tell from their own cups what another got.

namespace sipladder::drills::classroom {

namespace {

constexpr std::size_t most_people = 200;
constexpr std::size_t most_in_a_group = 20;   // one tray of one code; judgement
constexpr std::size_t most_single_cups = 60;  // of one drill and person; judgement
constexpr double pouring_s = 8.0;             // a coded cup, by syringe or jug; judgement
constexpr std::size_t cups_of_three = 3;

std::size_t servings_of(const ClassDrill& drill) {
    if (drill.task == Task::ranking) return 1;
    std::size_t count = 0;
    for (const Sample& sample : drill.samples) count += sample.times;
    return count;
}

std::size_t coded_cups(const ClassDrill& drill) {
    if (drill.task == Task::which_of_three) return cups_of_three * servings_of(drill);
    return drill.task == Task::ranking ? drill.samples.size() : servings_of(drill);
}

void expect(std::vector<Problem>& problems, bool holds, const std::string& where, const std::string& what,
            const std::string& right) {
    if (!holds) problems.push_back({where, what, right});
}

void check_drill(std::vector<Problem>& problems, const ClassDrill& drill, const std::string& where) {
    expect(problems, !drill.samples.empty(), where, "has no samples", "at least one bottle");
    std::set<std::string> bottles;
    for (const Sample& sample : drill.samples) {
        expect(problems, sample.times >= 1, where, "serves bottle " + sample.bottle + " no time",
               "once or more");
        expect(problems, bottles.insert(sample.bottle).second, where,
               "has bottle " + sample.bottle + " twice", "a letter of its own for each bottle");
    }
    const bool is_single = drill.task == Task::graded || drill.task == Task::naming;
    expect(problems, !is_single || servings_of(drill) <= most_single_cups, where,
           "serves " + std::to_string(servings_of(drill)) + " single cups",
           "at most " + std::to_string(most_single_cups));
    expect(problems, !is_single || drill.choices.size() >= 2, where, "has fewer than two answers to tick",
           "two or more");
    expect(problems, drill.task != Task::ranking || drill.samples.size() >= 2, where, "ranks one sample",
           "two or more");
    expect(problems, std::isfinite(drill.cup.value) && drill.cup.value > 0.0, where, "has empty cups",
           "more than 0 mL a cup");
}

void check(const ClassPlan& plan) {
    std::vector<Problem> problems;
    expect(problems, plan.people >= 1 && plan.people <= most_people, "people",
           "are " + std::to_string(plan.people), "1 to " + std::to_string(most_people));
    expect(problems, plan.spares <= most_people, "spares", "are " + std::to_string(plan.spares),
           "at most " + std::to_string(most_people));
    expect(problems, plan.groups <= std::max<std::size_t>(plan.people, 1), "groups",
           "are " + std::to_string(plan.groups), "at most one a person");
    expect(problems, !plan.drills.empty(), "drills", "are missing", "at least one drill");
    std::size_t cups = 0;
    for (std::size_t i = 0; i < plan.drills.size(); ++i) {
        check_drill(problems, plan.drills[i], "drill " + std::to_string(i + 1));
        cups += coded_cups(plan.drills[i]);
    }
    expect(problems, cups <= most_blind_codes, "drills",
           "need " + std::to_string(cups) + " coded cups a person",
           "at most " + std::to_string(most_blind_codes) + ", the codes there are");
    if (!problems.empty()) throw Refused(problems);
}

/// Which sample each serving is about: the whole ladder once, then again what is wanted more often.
std::vector<std::size_t> in_order(const ClassDrill& drill) {
    std::vector<std::size_t> order;
    std::size_t most = 0;
    for (const Sample& sample : drill.samples) most = std::max(most, sample.times);
    for (std::size_t round = 0; round < most; ++round)
        for (std::size_t i = 0; i < drill.samples.size(); ++i)
            if (round < drill.samples[i].times) order.push_back(i);
    return order;
}

/// The codes of one group: for each drill and cup of a serving, the same for everybody in it.
using GroupCodes = std::vector<std::vector<BlindCode>>;  // [drill][cup]

/// Codes for every group. All differ where there are enough; else a cup's code still differs from group to
/// group.
std::vector<GroupCodes> group_codes(const ClassPlan& plan, std::size_t groups, Random& random) {
    std::size_t a_group = 0;
    for (const ClassDrill& drill : plan.drills) a_group += coded_cups(drill);
    const std::vector<BlindCode> pool = blind_codes(random, most_blind_codes);
    constexpr std::size_t apart = 100;  // shares no factor with 633: no two groups start at the same code
    const std::size_t step = a_group * groups <= pool.size() ? a_group : apart;
    std::vector<GroupCodes> all;
    for (std::size_t group = 0; group < groups; ++group) {
        std::size_t from = group * step;
        GroupCodes& codes = all.emplace_back();
        for (const ClassDrill& drill : plan.drills) {
            codes.emplace_back();
            for (std::size_t i = 0; i < coded_cups(drill); ++i)
                codes.back().push_back(pool[from++ % pool.size()]);
        }
    }
    return all;
}

std::vector<Serving> three_cups(const ClassDrill& drill, const std::vector<BlindCode>& codes,
                                const std::vector<std::size_t>& places, std::size_t shift, Random& random) {
    const std::vector<std::size_t> targets = in_order(drill);
    std::vector<Serving> servings;
    for (std::size_t i = 0; i < targets.size(); ++i) {
        const BlindCode* three = &codes[cups_of_three * i];  // of the target, of one blank, of the other
        std::vector<Cup> cups{{three[1], 0, true}, {three[2], 0, true}};
        random.shuffle(cups);
        const std::size_t place = (places[i] + shift) % cups_of_three;
        cups.insert(cups.begin() + static_cast<std::ptrdiff_t>(place), Cup{three[0], targets[i], false});
        servings.push_back({std::move(cups)});
    }
    return servings;
}

std::vector<Serving> one_by_one(const ClassDrill& drill, const std::vector<BlindCode>& codes,
                                const std::vector<std::size_t>& order) {
    const std::vector<std::size_t> samples = in_order(drill);
    std::vector<Serving> servings;
    servings.reserve(order.size());
    for (const std::size_t item : order) servings.push_back({{Cup{codes[item], samples[item], false}}});
    return servings;
}

std::vector<Serving> to_rank(const std::vector<BlindCode>& codes, const std::vector<std::size_t>& order) {
    Serving serving;
    for (const std::size_t sample : order) serving.cups.push_back({codes[sample], sample, false});
    return {serving};
}

std::vector<std::size_t> drawn_order(std::size_t count, Random& random) {
    std::vector<std::size_t> order(count);
    std::iota(order.begin(), order.end(), std::size_t{0});
    random.shuffle(order);
    return order;
}

/// As many left as middle as right, in a drawn order.
std::vector<std::size_t> balanced_places(std::size_t count, Random& random) {
    std::vector<std::size_t> places(count);
    const std::size_t first = random.below(cups_of_three);
    for (std::size_t i = 0; i < count; ++i) places[i] = (first + i) % cups_of_three;
    random.shuffle(places);
    return places;
}

/// The turns of people and of spares are drawn apart, so that the class is balanced without late-comers.
std::vector<std::size_t> turns(const Service& service, Random& random) {
    std::vector<std::size_t> result = drawn_order(service.plan.people, random);
    for (const std::size_t spare : drawn_order(service.plan.spares, random)) result.push_back(spare);
    return result;
}

void serve(Service& service, std::size_t drill_index, const std::vector<GroupCodes>& codes, Random& random) {
    const ClassDrill& drill = service.plan.drills[drill_index];
    const std::vector<std::size_t> turn = turns(service, random);
    const auto codes_of = [&](const Seat& seat) -> const std::vector<BlindCode>& {
        return codes[seat.group][drill_index];
    };
    if (drill.task == Task::which_of_three) {
        const std::vector<std::size_t> places = balanced_places(servings_of(drill), random);
        for (std::size_t i = 0; i < service.seats.size(); ++i)
            service.seats[i].servings.push_back(
                three_cups(drill, codes_of(service.seats[i]), places, turn[i], random));
        return;
    }
    const bool is_ranking = drill.task == Task::ranking;
    const std::vector<std::vector<std::size_t>> orders =
        williams_orders(is_ranking ? drill.samples.size() : servings_of(drill));
    const std::vector<std::size_t> rows = drawn_order(orders.size(), random);
    for (std::size_t i = 0; i < service.seats.size(); ++i) {
        const std::vector<std::size_t>& order = orders[rows[turn[i] % rows.size()]];
        Seat& seat = service.seats[i];
        seat.servings.push_back(is_ranking ? to_rank(codes_of(seat), order)
                                           : one_by_one(drill, codes_of(seat), order));
    }
}

}  // namespace

std::string what_words(const Sample& sample, const std::string& substance, Scale scale,
                       const std::string& base) {
    constexpr int digits = 4;
    const std::string level = sample.u_rel > 0.0 ? with_uncertainty(sample.level, sample.level * sample.u_rel)
                                                 : shortest(sample.level, digits);
    return substance + ", " + level + " " + unit_text(scale) + " in " + base;
}

std::size_t usual_groups(std::size_t people) {
    if (people <= 1) return 1;
    return std::max<std::size_t>(2, (people + most_in_a_group - 1) / most_in_a_group);
}

Service design(const ClassPlan& plan, Seed seed) {
    check(plan);
    Service service{plan, seed, {}};
    if (service.plan.groups == 0) service.plan.groups = usual_groups(plan.people);
    for (std::size_t i = 0; i < plan.people + plan.spares; ++i)
        service.seats.push_back({i + 1, i % service.plan.groups, i >= plan.people, {}});
    Random coding(derived(seed, 1));
    const std::vector<GroupCodes> codes = group_codes(plan, service.plan.groups, coding);
    for (std::size_t drill = 0; drill < plan.drills.size(); ++drill) {
        Random random(derived(seed, 100 + drill));
        serve(service, drill, codes, random);
        for (const std::size_t seat : plan.drills[drill].sits_out)
            if (seat < service.seats.size()) service.seats[seat].servings[drill].clear();
    }
    return service;
}

std::vector<PourLine> pour_lines(const Service& service) {
    std::map<std::tuple<std::size_t, std::size_t, std::string>, PourLine> lines;  // drill, group, code
    std::map<std::pair<std::size_t, std::string>, PourLine> known;
    for (const Seat& seat : service.seats)
        for (std::size_t d = 0; d < seat.servings.size(); ++d) {
            const ClassDrill& drill = service.plan.drills[d];
            for (std::size_t s = 0; s < seat.servings[d].size(); ++s)
                for (const Cup& cup : seat.servings[d][s].cups) {
                    const std::string bottle =
                        cup.is_blank ? drill.blank_bottle : drill.samples[cup.sample].bottle;
                    PourLine& line = lines[{d, seat.group, cup.code.digits}];
                    if (line.cups == 0) line = {d, s, seat.group, cup.code, bottle, 0};
                    line.serving = std::min(line.serving, s);
                    ++line.cups;
                }
            if (!drill.known_cup || seat.servings[d].empty()) continue;
            for (const std::string& bottle : {drill.samples.back().bottle, drill.blank_bottle}) {
                PourLine& line = known[{d, bottle}];
                if (line.cups == 0) line = {d, 0, 0, {}, bottle, 0};
                ++line.cups;
            }
        }
    std::vector<PourLine> all;
    all.reserve(known.size() + lines.size());
    for (auto& [key, line] : known) all.push_back(std::move(line));
    for (auto& [key, line] : lines) all.push_back(std::move(line));
    std::stable_sort(all.begin(), all.end(), [&](const PourLine& one, const PourLine& other) {
        const bool by_serving = service.plan.drills[one.drill].task == Task::which_of_three;
        return std::tuple(one.drill, one.code.digits.empty() ? 0 : 1, one.group, by_serving ? one.serving : 0,
                          one.bottle, one.code) < std::tuple(other.drill, other.code.digits.empty() ? 0 : 1,
                                                             other.group, by_serving ? other.serving : 0,
                                                             other.bottle, other.code);
    });
    return all;
}

std::vector<BottleNeed> bottle_needs(const Service& service) {
    const std::vector<PourLine> lines = pour_lines(service);
    std::vector<BottleNeed> needs;
    for (std::size_t d = 0; d < service.plan.drills.size(); ++d) {
        const ClassDrill& drill = service.plan.drills[d];
        std::vector<std::string> bottles{drill.blank_bottle};
        for (const Sample& sample : drill.samples)
            if (sample.bottle != drill.blank_bottle) bottles.push_back(sample.bottle);
        for (const std::string& bottle : bottles) {
            std::size_t cups = 0;
            for (const PourLine& line : lines)
                if (line.drill == d && line.bottle == bottle) cups += line.cups;
            if (cups > 0) needs.push_back({d, bottle, cups, drill.cup * static_cast<double>(cups)});
        }
    }
    return needs;
}

Costs costs(const ClassPlan& plan) {
    check(plan);
    Costs result;
    double a_person_mL = 0.0;
    for (const ClassDrill& drill : plan.drills) {
        const std::size_t cups = coded_cups(drill) + (drill.known_cup ? 2 : 0);
        result.cups_a_person += cups;
        a_person_mL += static_cast<double>(cups) * drill.cup.value;
    }
    const double seats = static_cast<double>(plan.people + plan.spares);
    result.cups = result.cups_a_person * (plan.people + plan.spares);
    result.litres = a_person_mL * seats / 1000.0;
    for (const ClassDrill& drill : plan.drills) {
        const std::size_t left_out = (coded_cups(drill) + (drill.known_cup ? 2 : 0)) * drill.sits_out.size();
        result.cups -= left_out;
        result.litres -= static_cast<double>(left_out) * drill.cup.value / 1000.0;
    }
    result.pouring_minutes =
        static_cast<std::size_t>(std::ceil(static_cast<double>(result.cups) * pouring_s / 60.0));
    return result;
}

}  // namespace sipladder::drills::classroom

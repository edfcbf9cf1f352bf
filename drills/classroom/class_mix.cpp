#include "drills/classroom/class_mix.hpp"

#include "engine/problem.hpp"
#include "engine/solution/planner.hpp"

#include <algorithm>
#include <map>
#include <utility>

// Cups are counted on a class of one with placeholders for letters, so that the recipe rests on the very
// service that is poured. Letters come from the plans; then the placeholders go.

namespace sipladder::drills::classroom {

namespace {

constexpr std::size_t most_ladders = 9;  // stocks are named A to A9
const char* const base_bottle = "base";

/// A ladder in a base, and what one person needs of it.
struct Line {
    solution::Ladder ladder;
    std::string base;
    std::vector<std::size_t> of_rung;
    std::size_t blanks = 0;
    Millilitres cup;
};

std::string placeholder(std::size_t line, std::size_t rung) {
    return std::to_string(line) + ":" + std::to_string(rung);
}

class Mixing {
  public:
    Mixing(const content::Content& content, const solution::Equipment& equipment)
        : content_(content), equipment_(equipment) {}

    void add(const WantedDrill& wanted, std::size_t index);
    const std::vector<ClassDrill>& drills() const { return drills_; }
    ClassMix done(std::size_t seats, Seed letters);

  private:
    std::size_t line_of(const solution::Ladder& ladder, const std::string& base);
    void add_rungs(ClassDrill& drill, const solution::Ladder& ladder, std::size_t times);
    void add_base(ClassDrill& drill, std::size_t times) const;
    void count_cups();
    solution::PlanRequest request_of(const Line& line, std::size_t seats, Seed letters,
                                     std::size_t set) const;
    void letter(const std::vector<solution::MixPlan>& mixes);

    const content::Content& content_;
    const solution::Equipment& equipment_;
    std::vector<Line> lines_;
    std::vector<ClassDrill> drills_;
};

std::size_t Mixing::line_of(const solution::Ladder& ladder, const std::string& base) {
    for (std::size_t i = 0; i < lines_.size(); ++i)
        if (lines_[i].ladder == ladder && lines_[i].base == base) return i;
    lines_.push_back({ladder, base, std::vector<std::size_t>(ladder.size(), 0), 0, Millilitres{0.0}});
    return lines_.size() - 1;
}

void Mixing::add_rungs(ClassDrill& drill, const solution::Ladder& ladder, std::size_t times) {
    const solution::Substance& substance = content_.substance(ladder.substance());
    const std::size_t line = line_of(ladder, drill.base);
    std::optional<std::size_t> right;
    if (drill.task == Task::naming) {
        auto name = std::ranges::find(drill.choices, substance.name);
        if (name == drill.choices.end()) name = drill.choices.insert(name, substance.name);
        right = static_cast<std::size_t>(name - drill.choices.begin());
    }
    for (std::size_t rung = 0; rung < ladder.size(); ++rung)
        drill.samples.push_back({.bottle = placeholder(line, rung),
                                 .what = {},
                                 .level = ladder.targets()[rung],
                                 .times = times,
                                 .right = right,
                                 .substance = substance.id});
    drill.scale = ladder.scale();
}

void Mixing::add_base(ClassDrill& drill, std::size_t times) const {
    Sample base{.bottle = base_bottle, .what = content_.base(drill.base).name, .level = 0.0, .times = times};
    if (drill.task == Task::naming) {
        drill.choices.emplace_back("the base alone");
        base.right = drill.choices.size() - 1;
    }
    drill.samples.insert(drill.samples.begin(), std::move(base));
}

void Mixing::add(const WantedDrill& wanted, std::size_t index) {
    const std::string where = "drill " + std::to_string(index + 1);
    const bool is_naming = wanted.drill.task == Task::naming;
    if (wanted.ladders.empty() || (!is_naming && wanted.ladders.size() > 1))
        throw Refused(where, "has " + std::to_string(wanted.ladders.size()) + " ladders",
                      is_naming ? "one or more" : "one");
    ClassDrill drill = wanted.drill;
    drill.blank_bottle = base_bottle;
    if (is_naming) drill.choices.clear();
    for (const solution::Ladder& ladder : wanted.ladders) add_rungs(drill, ladder, wanted.times);
    if (is_naming || drill.task == Task::graded) add_base(drill, wanted.times);
    drills_.push_back(std::move(drill));
}

/// What a class of one needs of each line.
void Mixing::count_cups() {
    std::vector<ClassDrill> whole = drills_;  // who sits a drill out is somebody else
    for (ClassDrill& drill : whole) drill.sits_out.clear();
    const Service alone = design({1, 0, 1, std::move(whole)}, Seed{});
    for (const BottleNeed& need : bottle_needs(alone)) {
        const ClassDrill& drill = drills_[need.drill];
        for (std::size_t i = 0; i < lines_.size(); ++i)
            for (std::size_t rung = 0; rung < lines_[i].of_rung.size(); ++rung)
                if (need.bottle == placeholder(i, rung)) {
                    lines_[i].of_rung[rung] += need.cups;
                    lines_[i].cup = std::max(lines_[i].cup, drill.cup);
                }
        if (need.bottle != base_bottle) continue;
        const auto first =
            std::ranges::find_if(drill.samples, [](const Sample& one) { return one.level > 0.0; });
        lines_[std::stoul(first->bottle)].blanks += need.cups;
    }
}

solution::PlanRequest Mixing::request_of(const Line& line, std::size_t seats, Seed letters,
                                         std::size_t set) const {
    const std::vector<solution::Ingredient> ingredients = content_.ingredients_of(line.ladder.substance());
    if (ingredients.empty())
        throw Refused(line.ladder.substance(), "has no ingredient in the content", "one in ingredients.json");
    solution::PlanRequest request{.ladder = line.ladder,
                                  .substance = content_.substance(line.ladder.substance()),
                                  .ingredient = ingredients.front(),
                                  .base = content_.base(line.base),
                                  .equipment = equipment_,
                                  .demand = {}};
    request.demand.cup = line.cup;
    request.demand.people = seats;
    request.demand.of_rung = line.of_rung;
    request.demand.blanks = line.blanks;
    request.letters = letters;
    request.set = set;
    return request;
}

/// Letters, levels and what is in them for the placeholders.
void Mixing::letter(const std::vector<solution::MixPlan>& mixes) {
    for (ClassDrill& drill : drills_)
        for (Sample& sample : drill.samples) {
            if (sample.bottle == base_bottle) continue;
            const std::size_t line = std::stoul(sample.bottle);
            const std::size_t rung = std::stoul(sample.bottle.substr(sample.bottle.find(':') + 1));
            const solution::PlannedLevel& level = mixes[line].levels[rung];
            sample.bottle = level.bottle;
            sample.level = level.mixed;
            sample.u_rel = level.u_rel();
            sample.what = what_words(sample, mixes[line].request.substance.name, drill.scale,
                                     content_.base(drill.base).name);
            if (drill.task == Task::which_of_three)
                drill.u_shared_rel = std::max(drill.u_shared_rel, level.u_shared_rel);
        }
}

ClassMix Mixing::done(std::size_t seats, Seed letters) {
    if (lines_.size() > most_ladders)
        throw Refused("drills", "need " + std::to_string(lines_.size()) + " ladders",
                      "at most " + std::to_string(most_ladders) + " on one bench");
    count_cups();
    ClassMix mix;
    std::vector<std::string> taken;
    for (std::size_t i = 0; i < lines_.size(); ++i) {
        solution::PlanRequest request = request_of(lines_[i], seats, derived(letters, i), i + 1);
        request.letters_taken = taken;
        mix.mixes.push_back(solution::plan(request));
        for (const solution::PlannedLevel& level : mix.mixes.back().levels) taken.push_back(level.bottle);
    }
    letter(mix.mixes);
    mix.drills = std::move(drills_);
    return mix;
}

}  // namespace

ClassMix mix_class(const std::vector<WantedDrill>& wanted, std::size_t seats, const content::Content& content,
                   const solution::Equipment& equipment, Seed letters) {
    Mixing mixing(content, equipment);
    for (std::size_t i = 0; i < wanted.size(); ++i) mixing.add(wanted[i], i);
    return mixing.done(seats, letters);
}

std::vector<ClassDrill> before_mixing(const std::vector<WantedDrill>& wanted,
                                      const content::Content& content) {
    std::vector<ClassDrill> drills;
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        if (wanted[i].ladders.empty() && !wanted[i].drill.samples.empty()) {
            drills.push_back(wanted[i].drill);  // in bottles already
            continue;
        }
        Mixing alone(content, content.equipment.front());
        alone.add(wanted[i], i);
        drills.push_back(alone.drills().front());
    }
    return drills;
}

safety::Intake intake_of_class(const std::vector<ClassDrill>& drills, const content::Content& content) {
    safety::Intake taken;
    for (const ClassDrill& drill : drills) {
        const solution::Base& base = content.base(drill.base);
        const safety::Intake blank = safety::intake_of_base(base, drill.cup);
        const auto cup_of = [&](const Sample& sample) {
            return sample.substance.empty() ? blank
                                            : safety::intake_of_cup(base, content.substance(sample.substance),
                                                                    sample.level, drill.cup);
        };
        for (const Sample& sample : drill.samples)
            for (std::size_t i = 0; i < sample.times; ++i) {
                taken += cup_of(sample);
                if (drill.task == Task::which_of_three) (taken += blank) += blank;
            }
        if (drill.known_cup && !drill.samples.empty()) (taken += cup_of(drill.samples.back())) += blank;
    }
    return taken;
}

}  // namespace sipladder::drills::classroom

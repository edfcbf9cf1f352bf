#pragma once

#include "engine/random.hpp"
#include "engine/solution/mix_plan.hpp"
#include "engine/solution/mixture.hpp"

#include <cmath>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

/// A second way, with nothing of the planner in it: a person reads the printed sentences of a plan, does what
/// they say with instruments, a pack and readings that are off as their classes allow, and the truth in every
/// bottle follows from masses, volumes and densities.
namespace sipladder::tests {

/// One sentence as understood.
struct Understood {
    bool is_load{};
    bool tares{};           ///< the scale is set to zero on the new bottle
    std::string container;  ///< "stock A", "D", "D (1 of 2)"
    std::string from;       ///< of a load
    std::string instrument;
    double amount{};
    std::string unit;
    std::size_t fills = 1;
};

inline std::string between(const std::string& text, const std::string& after, const std::string& before) {
    const std::size_t from = text.find(after);
    if (from == std::string::npos) throw std::runtime_error("no \"" + after + "\" in: " + text);
    const std::size_t start = from + after.size();
    const std::size_t end = text.find(before, start);
    if (end == std::string::npos) throw std::runtime_error("no \"" + before + "\" in: " + text);
    return text.substr(start, end - start);
}

/// The name of an instrument, without the comma that closes it within a sentence.
inline std::string instrument_between(const std::string& text, const std::string& after,
                                      const std::string& before) {
    std::string name = between(text, after, before);
    if (name.ends_with(',')) name.pop_back();
    return name;
}

inline bool has(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

/// "4.0 mL …": number and unit at the head of the text.
inline void read_amount(Understood& step, const std::string& text) {
    std::size_t used = 0;
    step.amount = std::stod(text, &used);
    step.unit = text.compare(used, 3, " mL") == 0 ? "mL" : "g";
}

inline std::string without_bottle(const std::string& name) {
    return name.starts_with("bottle ") ? name.substr(7) : name;
}

inline Understood understood(const std::string& text) {
    Understood step;
    step.tares = text.starts_with("Stand ");
    const auto read_drawn = [&](const std::string& keyword) {
        const std::string rest = text.substr(text.find(keyword) + keyword.size());
        read_amount(step, rest);
        step.from = between(rest, " of ", " with the ");
        const std::size_t in_fills = rest.find(", in ");
        if (in_fills != std::string::npos && has(rest, " fills of "))
            step.fills = static_cast<std::size_t>(std::stoi(rest.substr(in_fills + 5)));
        step.instrument = rest.substr(rest.find(" with the ") + 10);
    };
    if (step.tares) step.container = between(text, "light bottle marked ", " on the ");
    if (has(text, "rush ")) {
        const std::string rest = text.substr(text.find("rush ") + 5);
        step.is_load = true;
        read_amount(step, rest);
        step.unit = "pieces";
        step.from = between(rest, " of ", " and put all of it");
        if (!step.tares) step.container = without_bottle(between(text, ", for ", "."));
        return step;
    }
    if (has(text, "; weigh in ")) {
        step.is_load = true;
        step.instrument = instrument_between(text, " on the ", " and set it to zero");
        const std::string rest = text.substr(text.find("; weigh in ") + 11);
        read_amount(step, rest);
        step.from = rest.substr(rest.find(" of ") + 4);
        step.from.pop_back();
    } else if (text.starts_with("Weigh ")) {
        step.is_load = true;
        read_amount(step, text.substr(6));
        step.from = between(text, " of ", " into a small clean glass");
        step.instrument = instrument_between(text, "glass on the ", ", for ");
        step.container = without_bottle(between(text, ", for ", "."));
        step.tares = true;
    } else if (has(text, "set it to zero; add ")) {
        step.is_load = true;
        read_drawn("; add ");
    } else if (text.starts_with("Put ")) {
        step.is_load = true;
        read_drawn("Put ");
        step.container = without_bottle(between(text, ", for ", "."));
    } else if (text.starts_with("Without setting")) {
        step.container = without_bottle(between(text, "again, fill ", " up with "));
        step.instrument = instrument_between(text, " until the ", " shows ");
        read_amount(step, text.substr(text.find(" shows ") + 7));
    } else if (step.tares) {
        step.instrument = instrument_between(text, " on the ", " and set it to zero");
        read_amount(step, text.substr(text.find("until it shows ") + 15));
    } else {
        step.instrument = instrument_between(text, "ill the ", " up to ");
        read_amount(step, text.substr(text.find(" up to ") + 7));
        step.container = between(text, "light bottle marked ", ".");
    }
    return step;
}

/// What somebody draws at random when mixing once: pack, instruments and readings.
class PersonAtBench {
  public:
    explicit PersonAtBench(const solution::MixPlan& plan) : request_(plan.request) {
        for (const solution::Step& step : plan.steps)
            if (step.into != "the base") steps_.push_back(resolved(understood(step.text)));
    }

    /// The level, on the ladder's scale, in a cup from each bottle; where a bottle has several batches, from
    /// one of them drawn at random.
    std::map<std::string, double> mix(Random& random) const;

  private:
    struct Resolved {
        Understood step;
        bool is_balance{};
        bool is_syringe{};
        double resolution{};  ///< g, or mL between marks
        double limit_rel{};   ///< half-width of the calibration, relative
        double limit{};       ///< and absolute, mL
        bool from_is_bought{};
    };
    struct Liquid {
        double mass_fraction{};
        double g_per_mL{};
    };

    Resolved resolved(Understood step) const {
        Resolved result;
        if (step.unit == "pieces") {
            result.is_balance = true;  // by mass: the content of a piece is g
            result.from_is_bought = true;
            result.step = std::move(step);
            return result;
        }
        for (const solution::Balance& balance : request_.equipment.balances)
            if (step.unit == "g" && step.instrument.starts_with(balance.name)) {
                result.is_balance = true;
                result.resolution = balance.resolution.value;
                result.limit_rel = balance.gain_half_width_rel;
                step.instrument = balance.id;
            }
        std::string longest;
        for (const solution::Vessel& vessel : request_.equipment.vessels)
            if (step.unit == "mL" && step.instrument.starts_with(vessel.name) &&
                vessel.name.size() > longest.size()) {
                longest = vessel.name;
                result.resolution = vessel.graduation.value;
                result.limit_rel = vessel.tolerance_rel;
                result.limit = vessel.tolerance.value;
            }
        if (!longest.empty()) step.instrument = longest;
        if (!result.is_balance && longest.empty())
            throw std::runtime_error("no such instrument: " + step.instrument);
        result.from_is_bought = step.from == request_.ingredient.name;
        result.step = std::move(step);
        return result;
    }

    Liquid bought(Random& random) const;
    Liquid at_mark(double substance_g, double volume_mL) const;

    solution::PlanRequest request_;
    std::vector<Resolved> steps_;
};

/// Uniform within one of zero.
inline double off(Random& random) {
    return 2.0 * random.uniform() - 1.0;
}

inline PersonAtBench::Liquid PersonAtBench::bought(Random& random) const {
    const solution::Ingredient& pack = request_.ingredient;
    switch (pack.form) {
        case solution::IngredientForm::powder:
            return {pack.content.value + pack.content_half_width.value * off(random), 0.0};
        case solution::IngredientForm::tablet:
            return {(pack.per_piece.value + pack.per_piece_half_width.value * off(random)) / 1000.0, 0.0};
        case solution::IngredientForm::spirit: {
            const double strength = pack.strength.value + pack.strength_half_width.value * off(random);
            const GramsPerLitre held = solution::held_from_level(request_.substance, strength);
            const double w = solution::mass_fraction_from_held(request_.substance, held).value;
            return {w, held.value / 1000.0 / w};
        }
        case solution::IngredientForm::liquid: {
            const double held = pack.held.value + pack.held_half_width.value * off(random);
            const double w = solution::mass_fraction_from_held(request_.substance, GramsPerLitre{held}).value;
            return {w, held / 1000.0 / w};
        }
    }
    throw std::runtime_error("no such form");
}

/// The mass fraction at which a volume holds this much substance: by its density alone, iterated.
inline PersonAtBench::Liquid PersonAtBench::at_mark(double substance_g, double volume_mL) const {
    double density = 1.0;
    for (int round = 0; round < 12; ++round)
        density = solution::density_in_base(request_.substance,
                                            MassFraction{substance_g / (density * volume_mL)}, request_.base)
                      .value;
    return {substance_g / (density * volume_mL), density};
}

inline std::map<std::string, double> PersonAtBench::mix(Random& random) const {
    std::map<std::string, double> instrument;  // off by, in units of its half-width
    std::map<std::string, Liquid> liquids;
    std::map<std::string, double> substance_g;
    std::map<std::string, std::vector<double>> batches;
    const Liquid pack = bought(random);
    double zero = 0.0;  // rounding of the tare
    for (const Resolved& one : steps_) {
        const Understood& step = one.step;
        if (!instrument.contains(step.instrument)) instrument[step.instrument] = off(random);
        const double calibration = instrument[step.instrument];
        double amount = step.amount;
        if (one.is_balance) {
            if (step.tares) zero = 0.5 * one.resolution * off(random);
            amount += zero + 0.5 * one.resolution * off(random);
        } else {
            for (std::size_t fill = 0; fill < step.fills; ++fill)
                amount += 0.5 * one.resolution * off(random);
            amount += static_cast<double>(step.fills) * one.limit * calibration;
        }
        amount *= 1.0 + one.limit_rel * calibration;
        if (step.is_load) {
            const Liquid& from = one.from_is_bought ? pack : liquids.at(step.from);
            substance_g[step.container] =
                one.is_balance ? amount * from.mass_fraction : amount * from.g_per_mL * from.mass_fraction;
            if (!one.is_balance && step.tares) zero = 0.0;
            continue;
        }
        Liquid made;
        if (one.is_balance) {
            made.mass_fraction = substance_g.at(step.container) / amount;
            made.g_per_mL =
                solution::density_in_base(request_.substance, MassFraction{made.mass_fraction}, request_.base)
                    .value;
        } else {
            made = at_mark(substance_g.at(step.container), amount);
        }
        liquids[step.container] = made;
        const std::string bottle = step.container.substr(0, step.container.find(" ("));
        if (!bottle.starts_with("stock"))
            batches[bottle].push_back(solution::level_from_held(
                request_.substance, GramsPerLitre{1000.0 * made.mass_fraction * made.g_per_mL}));
    }
    std::map<std::string, double> levels;
    for (const auto& [bottle, made] : batches) levels[bottle] = made[random.below(made.size())];
    return levels;
}

}  // namespace sipladder::tests

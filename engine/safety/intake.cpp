#include "engine/safety/intake.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <string_view>

// Everything served counts as swallowed: spitting is the default, but nobody can check it, and the mouth
// takes up some of what is spat.

namespace sipladder::safety {

namespace {

constexpr double ethanol_20_degC_g_per_mL = 0.78924;  // OIML R 22

struct Counted {
    std::string_view what;
    std::string_view name;
    std::string_view unit;
    double (*amount)(const Intake&);
};

constexpr Counted counted_by_caps[] = {
    {"ethanol_g", "alcohol", "g", [](const Intake& i) { return i.ethanol.value; }},
    {"sugar_g", "sugar", "g", [](const Intake& i) { return i.sugar.value; }},
    {"acid_g", "acid", "g", [](const Intake& i) { return i.acid.value; }},
    {"acid_cups", "number of acid cups", "", [](const Intake& i) { return i.acid_cups; }},
    {"caffeine_mg", "caffeine", "mg", [](const Intake& i) { return i.caffeine.value; }},
    {"salt_g", "salt", "g", [](const Intake& i) { return i.salt.value; }},
    {"tannin_g", "tannin", "g", [](const Intake& i) { return i.tannin.value; }},
    {"glycerol_g", "glycerol", "g", [](const Intake& i) { return i.glycerol.value; }},
    {"thickener_g", "thickener", "g", [](const Intake& i) { return i.thickener.value; }},
};

const Counted& counted_as(const std::string& what) {
    std::string known;
    for (const Counted& one : counted_by_caps) {
        if (one.what == what) return one;
        known += (known.empty() ? "" : ", ") + std::string(one.what);
    }
    throw Refused("cap", "\"" + what + "\" is not counted", "one of " + known + " is wanted");
}

/// Sums of cups carry rounding errors; a plan that meets a cap exactly does not cross it.
constexpr double rounding_rel = 1e-9;

std::string amount_text(double amount, const Counted& what, int digits) {
    std::string text = digits == 0 ? exact(amount) : significant(amount, digits);
    if (!what.unit.empty()) text.append(" ").append(what.unit);
    return text;
}

std::string sentence(const Cap& cap, const Counted& what, double would_be, bool per_day) {
    std::string text = "The ";
    text.append(what.name).append(per_day ? " of today" : " of this sitting");
    text += " could reach " + amount_text(would_be, what, 3) + ", past the limit of " +
            amount_text(per_day ? cap.per_day : cap.per_sitting, what, 0);
    if (!cap.why.empty()) text += " (" + cap.why + ")";
    return text + ".";
}

}  // namespace

std::string counts_as(const solution::Substance& substance) {
    const Intake intake = intake_of_cup(substance, 1.0, Millilitres{1.0});
    for (const Counted& one : counted_by_caps)
        if (!one.unit.empty() && one.amount(intake) > 0.0)
            return std::string(one.what.substr(0, one.what.find('_')));
    SIPLADDER_EXPECT(false);  // every component counts as something
    return {};
}

std::vector<std::string> amounts(const Intake& intake) {
    std::vector<std::string> texts;
    for (const Counted& one : counted_by_caps) {
        const double amount = one.amount(intake);
        if (one.unit.empty() || amount <= 0.0) continue;
        std::string text = amount_text(amount, one, 2);
        texts.push_back(text.append(" ").append(one.what.substr(0, one.what.find('_'))));
    }
    return texts;
}

Intake rest_of(const Intake& most, const Intake& taken) {
    const auto left = [](auto of, auto gone) { return std::max(of - gone, decltype(of){}); };
    return {.ethanol = left(most.ethanol, taken.ethanol),
            .sugar = left(most.sugar, taken.sugar),
            .acid = left(most.acid, taken.acid),
            .acid_cups = left(most.acid_cups, taken.acid_cups),
            .caffeine = left(most.caffeine, taken.caffeine),
            .salt = left(most.salt, taken.salt),
            .tannin = left(most.tannin, taken.tannin),
            .glycerol = left(most.glycerol, taken.glycerol),
            .thickener = left(most.thickener, taken.thickener)};
}

Intake& Intake::operator+=(const Intake& other) {
    ethanol += other.ethanol;
    sugar += other.sugar;
    acid += other.acid;
    acid_cups += other.acid_cups;
    caffeine += other.caffeine;
    salt += other.salt;
    tannin += other.tannin;
    glycerol += other.glycerol;
    thickener += other.thickener;
    return *this;
}

Intake intake_of_cup(const solution::Substance& substance, double level, Millilitres cup) {
    SIPLADDER_EXPECT(level >= 0.0 && cup.value >= 0.0);
    Intake intake;
    if (substance.scale == Scale::pct_vol) {
        intake.ethanol = Grams{cup.value * level / 100.0 * ethanol_20_degC_g_per_mL};
        return intake;
    }
    const Grams held = GramsPerLitre{level} * cup;
    if (substance.counts_as == solution::CountsAs::glycerol) {
        intake.glycerol = held;
        return intake;
    }
    if (substance.counts_as == solution::CountsAs::thickener) {
        intake.thickener = held;
        return intake;
    }
    switch (substance.component) {
        case solution::Component::sweet:
        case solution::Component::weight:  // what is not told apart counts as sugar
            intake.sugar = held;
            break;
        case solution::Component::sour:
            intake.acid = held;
            intake.acid_cups = held.value > 0.0 ? 1.0 : 0.0;
            break;
        case solution::Component::alcohol:
            intake.ethanol = held;
            break;
        case solution::Component::astringent:
            intake.tannin = held;
            break;
        case solution::Component::bitter:
            intake.caffeine = Milligrams{1000.0 * held.value};
            break;
        case solution::Component::salty:
            intake.salt = held;
            break;
    }
    return intake;
}

Intake intake_of_base(const solution::Base& base, Millilitres cup) {
    SIPLADDER_EXPECT(cup.value >= 0.0);
    Intake intake;
    for (const solution::Constituent& one : base.constituents)
        intake += intake_of_cup(one.substance, one.held.value, cup);
    if (base.potassium_salt == solution::PotassiumSalt::hydrogen_tartrate && base.potassium.value > 0.0) {
        intake.acid += potassium_salt_held(base) * cup;
        intake.acid_cups = 1.0;
    }
    intake.ethanol += Grams{cup.value * base.ethanol.value / 100.0 * ethanol_20_degC_g_per_mL};
    intake.acid_cups = std::min(1.0, intake.acid_cups);
    return intake;
}

Intake in_one_cup(Intake of_base, const Intake& of_level) {
    of_base += of_level;
    of_base.acid_cups = std::min(1.0, of_base.acid_cups);
    return of_base;
}

Intake intake_of_cup(const solution::Base& base, const solution::Substance& substance, double level,
                     Millilitres cup) {
    return in_one_cup(intake_of_base(base, cup), intake_of_cup(substance, level, cup));
}

Intake worst_case(const solution::Substance& substance, const solution::MixedLadder& ladder,
                  const solution::Base& base, const Served& served) {
    SIPLADDER_EXPECT(served.presentations >= 0 && served.cups_per_presentation >= 1);
    double strongest = 0.0;
    for (const solution::MixedLevel& level : ladder.levels)
        if (level.portions > 0 && level.mixed > strongest) strongest = level.mixed;
    Intake one = intake_of_cup(base, substance, strongest, served.cup);
    for (int blank = 1; blank < served.cups_per_presentation; ++blank)
        one += intake_of_base(base, served.cup);
    Intake all;
    for (int i = 0; i < served.presentations; ++i) all += one;
    return all;
}

Intake worst_case(const solution::Substance& substance, const solution::MixedLadder& ladder,
                  int presentations, Millilitres cup) {
    return worst_case(substance, ladder, solution::Base{}, {presentations, 1, cup});
}

std::optional<Crossed> crossed(const std::vector<Cap>& caps, const Intake& sitting, const Intake& today) {
    for (const Cap& cap : caps) {
        const Counted& what = counted_as(cap.what);
        const double in_sitting = what.amount(sitting);
        const double in_day = what.amount(today);
        if (in_sitting > cap.per_sitting * (1.0 + rounding_rel))
            return Crossed{cap, in_sitting, false, sentence(cap, what, in_sitting, false)};
        if (in_day > cap.per_day * (1.0 + rounding_rel))
            return Crossed{cap, in_day, true, sentence(cap, what, in_day, true)};
    }
    return std::nullopt;
}

}  // namespace sipladder::safety

#pragma once

#include "drills/blind_code.hpp"
#include "engine/random.hpp"
#include "engine/units.hpp"

#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <vector>

/// Fixed serving orders and codes for a class: who gets which cup when, worked out before anything is poured.
namespace sipladder::drills::classroom {

/// What one bottle holds, as the panel leader knows it.
struct Sample {
    std::string bottle;     ///< "K"; differs from bottle to bottle of a drill
    std::string what;       ///< "sucrose, 6 g/L in purified water"
    double level{};         ///< of its substance, on that substance's scale; 0 for the base alone
    std::size_t times = 1;  ///< how often each person gets it; which_of_three: as the cup that holds it
    std::optional<std::size_t> right = std::nullopt;  ///< naming: its name, index into ClassDrill::choices
    std::string substance = {};                       ///< id; empty for the base alone
    double u_rel = 0.0;  ///< standard uncertainty of the level as a part of it; 0 where it is not known
};

/// "sucrose, 6.00 ± 0.12 g/L in purified water"; without ± where the uncertainty is not known.
std::string what_words(const Sample& sample, const std::string& substance, Scale scale,
                       const std::string& base);

enum class Task {
    which_of_three,  ///< 3-AFC presentations, weakest rung first
    graded,          ///< single cups, each graded
    naming,          ///< single cups, each named
    ranking          ///< all samples together, put in order
};

struct ClassDrill {
    std::string name;      ///< stands on ballot and labels: must tell nothing about a cup
    std::string question;  ///< "Which cup holds the sugar?"
    Task task{};
    std::vector<Sample> samples;        ///< which_of_three: the rungs, weakest first; else blanks among them
    std::string blank_bottle = "base";  ///< which_of_three: fills the other two cups
    std::vector<std::string> choices;   ///< graded, naming: what may be ticked
    Scale scale = Scale::g_per_L;       ///< of the levels
    bool known_cup = true;  ///< one known clear cup of the last sample, and one of the base, come first
    Millilitres cup{10.0};
    std::string base = {};  ///< id
    /// Standard uncertainty that all levels share, as a part of them; the bench sheet states it. 0 to
    /// below 1.
    double u_shared_rel = 0.0;
    /// Seats, from 0, that get none of it: who takes no ethanol sits such a drill out. The places and orders
    /// of the others stay as they would be, so they are balanced a little less.
    std::set<std::size_t> sits_out = {};
};

struct ClassPlan {
    std::size_t people{};    ///< 1 to 200
    std::size_t spares = 2;  ///< seats prepared for late-comers
    std::size_t groups = 0;  ///< serving groups with codes of their own; 0: as many as `usual_groups` says
    std::vector<ClassDrill> drills;
};

/// Two at least, so that neighbours have different codes, and at most 20 people in a group (judgement).
std::size_t usual_groups(std::size_t people);

/// One cup as it stands before a person.
struct Cup {
    BlindCode code;
    std::size_t sample{};   ///< index into ClassDrill::samples; nothing for a blank of which_of_three
    bool is_blank = false;  ///< which_of_three: holds the base
};

/// What a person gets at once: three cups, one cup, or all cups to rank, from left to right.
struct Serving {
    std::vector<Cup> cups;
};

struct Seat {
    std::size_t number{};  ///< from 1
    std::size_t group{};   ///< from 0
    bool is_spare = false;
    std::vector<std::vector<Serving>> servings;  ///< [drill][serving], in order
};

/// How many cups of one bottle are to be filled, and with which code.
struct PourLine {
    std::size_t drill{};
    std::size_t serving{};  ///< the first in which it is wanted; single cups come in another order for each
    std::size_t group{};
    BlindCode code;  ///< empty for the known cups
    std::string bottle;
    std::size_t cups{};
};

struct Service {
    ClassPlan plan;
    Seed seed;
    std::vector<Seat> seats;  ///< people first, then spares
};

/// The same plan and seed give the same service. Over the people of a class every place of the target, and
/// every place of a single sample, comes up equally often as far as the numbers divide; a person meets a code
/// once; neighbours have different codes for the same cup.
/// @throws Refused  for no people or more than 200, no drill, a drill without samples, more cups a person
///                  than there are codes, or more than 60 single cups in a drill
/// @source  williams_1949
/// @checked tests/classroom/service_test.cpp
Service design(const ClassPlan& plan, Seed seed);

/// Every cup to pour, spares included, by drill, group and code.
std::vector<PourLine> pour_lines(const Service& service);

/// What one bottle of one drill must hold.
struct BottleNeed {
    std::size_t drill{};
    std::string bottle;
    std::size_t cups{};
    Millilitres in_cups;
};
/// All that pour_lines fills, bottle by bottle: the base first, then in the order of the samples.
std::vector<BottleNeed> bottle_needs(const Service& service);

/// What a design takes, known before it is chosen.
struct Costs {
    std::size_t cups_a_person{};
    std::size_t cups{};             ///< of all seats, known cups included
    double litres{};                ///< in these cups
    std::size_t pouring_minutes{};  ///< one pair of hands
};
/// @throws Refused  as design
Costs costs(const ClassPlan& plan);

}  // namespace sipladder::drills::classroom

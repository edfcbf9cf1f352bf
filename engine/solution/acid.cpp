#include "engine/solution/acid.hpp"

#include "engine/solution/invert.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

// Charges balance: potassium, the cations that came with the hydrogen carbonate, and hydrogen on one side;
// what the acids, carbonic acid and water have given up on the other. For a given ionic strength this is one
// monotone equation in the pH; the ionic strength follows from its solution and is found by repetition, which
// settles within a few rounds because activities change slowly with it. Activities are those of Davies,
// log10 gamma = -A z^2 (sqrt(I) / (1 + sqrt(I)) - b I), neutral molecules 1 (Davies 1962, b = 0.3).

namespace sipladder::solution {

namespace {

constexpr double davies_b = 0.3;                           // davies_1962
constexpr double davies_A_25_degC = 0.509;                 // davies_1962
constexpr double pKw_25_degC = 13.9965;                    // handbook value, from memory
constexpr double water_ionisation_J_per_mol = 55.8e3;      // handbook value, from memory
constexpr double gas_constant = 8.314462618;               // J/(mol K), exact by definition of the SI
constexpr double bicarbonate_g_per_mol = 61.016;           // iupac_weights_2021
constexpr double tartaric_equivalent_g_per_mol = 75.0435;  // half of 150.087, iupac_weights_2021
constexpr double strongest_ionic = 0.5;  // mol/L, where Davies stops being useful; from memory
constexpr double refused_rel = 0.05;     // of the weakest rung
constexpr double warned_rel = 0.01;      // judgement: as much as purity leaves open

/// Apparent volumes: citric, lactic and acetic acid from published densities, the others estimated from
/// citric acid (judgement).
const std::vector<Acid>& acids() {
    static const std::vector<Acid> known{
        {"tartaric", GramsPerMole{150.087}, 0.55, {3.036, 4.366}},  // bates_canham_1951
        {"malic", GramsPerMole{134.087}, 0.60, {3.40, 5.11}},       // martell_smith_1976; second from memory
        {"citric", GramsPerMole{192.123}, 0.597, {3.13, 4.76, 6.40}},  // martell_smith_1976
        {"citric monohydrate",
         GramsPerMole{210.139},
         0.597,
         {3.13, 4.76, 6.40}},                                       // the same acid with its water
        {"lactic", GramsPerMole{90.078}, 0.79, {3.86}},             // martell_smith_1976
        {"acetic", GramsPerMole{60.052}, 0.863, {4.756}},           // martell_smith_1976
        {"succinic", GramsPerMole{118.088}, 0.60, {4.21, 5.64}},    // martell_smith_1976
        {"phthalic", GramsPerMole{166.132}, 0.60, {2.950, 5.408}},  // from memory
    };
    return known;
}

/// Carbonic acid with the dissolved gas, as one acid.
constexpr double carbonic_pK_1 = 6.352;   // handbook value, from memory
constexpr double carbonic_pK_2 = 10.329;  // handbook value, from memory

double kelvin(Celsius at) {
    return at.value + 273.15;
}

/// Relative permittivity of water, Malmberg and Maryott 1956 (from memory).
double permittivity(double t) {
    return 87.740 + t * (-0.40008 + t * (9.398e-4 - t * 1.410e-6));
}

double davies_A(Celsius at) {
    const double there = permittivity(at.value) * kelvin(at);
    const double at_25 = permittivity(25.0) * kelvin(Celsius{25.0});
    return davies_A_25_degC * std::pow(at_25 / there, 1.5);
}

double pKw(Celsius at) {
    return pKw_25_degC + water_ionisation_J_per_mol / (gas_constant * std::log(10.0)) *
                             (1.0 / kelvin(at) - 1.0 / kelvin(Celsius{25.0}));
}

/// One acid in the water: mol/L of it, and the constants.
struct Dissolved {
    double mol_per_L{};
    std::vector<double> pK;
};

struct Water {
    std::vector<Dissolved> acids;
    double cations_mol_per_L{};  ///< with one charge each, that take up no hydrogen
    double A{};
    double pKw{};
};

double log10_activity(const Water& water, double charge, double ionic) {
    const double root = std::sqrt(ionic);
    return -water.A * charge * charge * (root / (1.0 + root) - davies_b * ionic);
}

struct Charges {
    double sum{};  ///< of the charge that the acid has lost, per mole
    double squares{};
};

/// How much of an acid stands at each step of giving up its hydrogens.
Charges charges_of(const Dissolved& acid, const Water& water, double pH, double ionic) {
    // log10 of each form against the whole acid molecule; the largest is taken out before powers are formed.
    std::vector<double> log10_form{0.0};
    double step = 0.0;
    for (std::size_t j = 1; j <= acid.pK.size(); ++j) {
        step += pH - acid.pK[j - 1];
        log10_form.push_back(step - log10_activity(water, static_cast<double>(j), ionic));
    }
    const double largest = *std::max_element(log10_form.begin(), log10_form.end());
    double whole = 0.0;
    Charges charges;
    for (std::size_t j = 0; j < log10_form.size(); ++j) {
        const double part = std::pow(10.0, log10_form[j] - largest);
        const double charge = static_cast<double>(j);
        whole += part;
        charges.sum += charge * part;
        charges.squares += charge * charge * part;
    }
    charges.sum /= whole;
    charges.squares /= whole;
    return charges;
}

struct ChargeBalance {
    double charge{};  ///< negative less positive: grows with the pH
    double ionic{};
};

ChargeBalance balance_at(const Water& water, double pH, double ionic) {
    const double log10_single = log10_activity(water, 1.0, ionic);
    const double hydrogen = std::pow(10.0, -pH - log10_single);
    const double hydroxide = std::pow(10.0, pH - water.pKw - log10_single);
    ChargeBalance balance{hydroxide - hydrogen - water.cations_mol_per_L,
                          hydroxide + hydrogen + water.cations_mol_per_L};
    for (const Dissolved& acid : water.acids) {
        const Charges charges = charges_of(acid, water, pH, ionic);
        balance.charge += acid.mol_per_L * charges.sum;
        balance.ionic += acid.mol_per_L * charges.squares;
    }
    balance.ionic *= 0.5;
    return balance;
}

struct Equilibrium {
    double pH{};
    double ionic{};
};

Equilibrium equilibrium(const Water& water) {
    constexpr double lowest_pH = -2.0;
    constexpr double highest_pH = 16.0;
    Equilibrium found;
    for (int round = 0; round < 200; ++round) {
        const double ionic = found.ionic;
        found.pH = inverted([&](double pH) { return balance_at(water, pH, ionic).charge; }, 0.0, lowest_pH,
                            highest_pH);
        found.ionic = balance_at(water, found.pH, ionic).ionic;
        if (!(found.ionic <= strongest_ionic))
            throw Refused("acids and salts",
                          "give an ionic strength of " + significant(found.ionic, 2) + " mol/L",
                          "at most " + exact(strongest_ionic) + " mol/L: above, the pH cannot be reckoned");
        if (std::abs(found.ionic - ionic) < 1e-12) break;
    }
    return found;
}

double bicarbonate_mmol_per_L(double mg_per_L) {
    return mg_per_L / bicarbonate_g_per_mol;
}

double acid_mmol_per_L(const std::vector<AcidHeld>& acids_held) {
    double sum = 0.0;
    for (const AcidHeld& one : acids_held)
        sum +=
            1000.0 * (one.held.value / one.acid.molar_mass.value) * static_cast<double>(one.acid.pK.size());
    return sum;
}

/// Base that brings the acids to this pH, less what has been added already, as tartaric acid; the carbon
/// dioxide has been driven off.
GramsPerLitre titrated_to(const Water& water, double pH) {
    // In the flask the salt formed is the ionic strength: as many ions as acid hydrogens.
    double ionic = 0.0;
    for (int round = 0; round < 50; ++round) {
        const ChargeBalance balance = balance_at(water, pH, ionic);
        const double next = balance.ionic + 0.5 * std::max(0.0, balance.charge);
        if (std::abs(next - ionic) < 1e-12) break;
        ionic = next;
    }
    const double added = balance_at(water, pH, ionic).charge;
    return GramsPerLitre{std::max(0.0, added) * tartaric_equivalent_g_per_mol};
}

void expect_amounts(const AcidSolution& solution, Celsius at) {
    std::vector<Problem> problems;
    for (const AcidHeld& one : solution.acids)
        if (!(one.held.value >= 0.0 && one.held.value <= 1000.0))
            problems.push_back(
                {one.acid.name + " acid", "is " + exact(one.held.value) + " g/L", "0 to 1000 g/L"});
    if (!(solution.potassium.value >= 0.0 && solution.potassium.value <= 1000.0))
        problems.push_back(
            {"potassium", "is " + exact(solution.potassium.value) + " mmol/L", "0 to 1000 mmol/L"});
    if (!(solution.bicarbonate_mg_per_L >= 0.0 && solution.bicarbonate_mg_per_L <= 5000.0))
        problems.push_back(
            {"hydrogen carbonate", "is " + exact(solution.bicarbonate_mg_per_L) + " mg/L", "0 to 5000 mg/L"});
    if (!(at.value >= 10.0 && at.value <= 40.0))
        problems.push_back({"temperature", "is " + exact(at.value) + " °C", "10 to 40 °C"});
    if (!problems.empty()) throw Refused(problems);
}

}  // namespace

std::optional<Acid> acid_named(std::string_view name) {
    std::string plain(name);
    std::replace(plain.begin(), plain.end(), '_', ' ');
    if (const auto word = plain.find(" acid"); word != std::string::npos) plain.erase(word, 5);
    for (const Acid& acid : acids())
        if (acid.name == plain) return acid;
    return std::nullopt;
}

Substance substance_of(const Acid& acid) {
    Substance substance;
    substance.name = acid.name + " acid";
    substance.id = substance.name;
    std::replace(substance.id.begin(), substance.id.end(), ' ', '_');
    substance.component = Component::sour;
    substance.molar_mass = acid.molar_mass;
    substance.density_model = DensityModel::apparent_volume;
    substance.apparent_volume_mL_per_g = acid.apparent_volume_mL_per_g;
    return substance;
}

std::vector<std::string> acid_names() {
    std::vector<std::string> names;
    for (const Acid& acid : acids()) names.push_back(acid.name);
    return names;
}

double ta_tartaric_per_gram(const Acid& acid) {
    SIPLADDER_EXPECT(acid.molar_mass.value > 0.0 && !acid.pK.empty());
    return tartaric_equivalent_g_per_mol * static_cast<double>(acid.pK.size()) / acid.molar_mass.value;
}

Acidity acidity(const AcidSolution& solution, Celsius at) {
    expect_amounts(solution, at);
    Water water{{}, solution.potassium.value / 1000.0, davies_A(at), pKw(at)};
    for (const AcidHeld& one : solution.acids)
        water.acids.push_back({one.held.value / one.acid.molar_mass.value, one.acid.pK});
    const double bicarbonate = bicarbonate_mmol_per_L(solution.bicarbonate_mg_per_L) / 1000.0;
    water.cations_mol_per_L += bicarbonate;
    Acidity result;
    result.ta_tartaric_to_pH_7 = titrated_to(water, 7.0);
    result.ta_tartaric_to_pH_8_2 = titrated_to(water, 8.2);
    if (bicarbonate > 0.0) water.acids.push_back({bicarbonate, {carbonic_pK_1, carbonic_pK_2}});
    const Equilibrium found = equilibrium(water);
    result.pH = found.pH;
    result.ionic_strength_mol_per_L = found.ionic;
    const double left_mmol_per_L = acid_mmol_per_L(solution.acids) - 1000.0 * water.cations_mol_per_L;
    result.ta_tartaric =
        GramsPerLitre{std::max(0.0, left_mmol_per_L) * tartaric_equivalent_g_per_mol / 1000.0};
    return result;
}

AcidSolution acid_solution(const Base& base, const Substance& substance, double level) {
    AcidSolution solution;
    solution.bicarbonate_mg_per_L = base.bicarbonate_mg_per_L;
    solution.potassium = base.potassium;
    const auto add = [&solution](const std::string& id, GramsPerLitre held) {
        if (const std::optional<Acid> acid = acid_named(id); acid && held.value != 0.0)
            solution.acids.push_back({*acid, held});
    };
    for (const Constituent& one : base.constituents) add(one.substance.id, one.held);
    if (base.potassium_salt == PotassiumSalt::hydrogen_tartrate) {
        GramsPerLitre of_salt = held_in_base(base, "tartaric_acid");
        for (const Constituent& one : base.constituents)
            if (one.substance.id == "tartaric_acid") of_salt -= one.held;
        add("tartaric_acid", of_salt);
    }
    add(substance.id, GramsPerLitre{level});
    return solution;
}

double expected_pH(const Base& base, const Substance& substance, double level, Celsius at) {
    return acidity(acid_solution(base, substance, level), at).pH;
}

std::vector<RungLoss> what_a_ladder_loses(const Substance& substance, const Ladder& ladder,
                                          const Base& base) {
    const std::optional<Acid> acid = acid_named(substance.id);
    if (!acid) return {};
    const AcidSolution blank = acid_solution(base, substance, 0.0);
    expect_amounts(blank, Celsius{25.0});
    const double left = bicarbonate_mmol_per_L(base.bicarbonate_mg_per_L) -
                        std::max(0.0, acid_mmol_per_L(blank.acids) - base.potassium.value);
    const double g_per_mmol = acid->molar_mass.value / 1000.0 / static_cast<double>(acid->pK.size());
    std::vector<RungLoss> rungs;
    for (const double target : ladder.targets()) {
        const double taken = std::clamp(left * g_per_mmol, 0.0, target);
        rungs.push_back({target, taken, taken / target});
    }
    return rungs;
}

double most_bicarbonate_mg_per_L(const Substance& substance, double weakest_target) {
    const std::optional<Acid> acid = acid_named(substance.id);
    if (!acid || !(weakest_target >= 0.0)) return 0.0;
    return refused_rel * acid_mmol_per_L({{*acid, GramsPerLitre{weakest_target}}}) * bicarbonate_g_per_mol;
}

LadderLoss loss_of(const Substance& substance, const Ladder& ladder, const Base& base) {
    LadderLoss loss{what_a_ladder_loses(substance, ladder, base), std::nullopt, ""};
    if (loss.rungs.empty()) return loss;
    const RungLoss& weakest = loss.rungs.front();
    if (weakest.taken_rel <= warned_rel) return loss;
    const std::string taken = "the " + significant(base.bicarbonate_mg_per_L, 2) +
                              " mg/L of hydrogen carbonate in " + base.name + " neutralise " +
                              percent(weakest.taken_rel) + " of the weakest rung (" + exact(weakest.target) +
                              " g/L)";
    if (weakest.taken_rel <= refused_rel) {
        loss.warning = "Of this ladder " + taken + "; a water with less hydrogen carbonate is better.";
        return loss;
    }
    const double stronger = weakest.taken_rel < 1.0
                                ? weakest.taken / refused_rel
                                : bicarbonate_mmol_per_L(base.bicarbonate_mg_per_L) *
                                      acid_named(substance.id)->molar_mass.value / 1000.0 /
                                      static_cast<double>(acid_named(substance.id)->pK.size()) / refused_rel;
    loss.problem = Problem{
        "ladder " + ladder.id(), "loses acid: " + taken,
        "a water with at most " + significant(most_bicarbonate_mg_per_L(substance, weakest.target), 2) +
            " mg/L (purified water), or a weakest rung of at least " + significant(stronger, 2) + " g/L"};
    return loss;
}

}  // namespace sipladder::solution

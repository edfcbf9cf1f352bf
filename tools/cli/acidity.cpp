#include "engine/problem.hpp"
#include "engine/solution/acid.hpp"
#include "engine/text.hpp"
#include "tools/cli/verb.hpp"

#include <memory>
#include <string>
#include <vector>

namespace sipladder::cli {

namespace {

struct Options {
    std::vector<std::string> acids;
    double potassium_mmol_per_L = 0.0;
    double bicarbonate_mg_per_L = 0.0;
    double at = 25.0;
};

/// "tartaric 5": the name may be of several words, the grams per litre come last.
solution::AcidHeld acid_held(const std::string& text) {
    const auto blank = text.rfind(' ');
    const auto held = blank == std::string::npos ? std::nullopt : number_from_file(text.substr(blank + 1));
    if (!held)
        throw Refused("--acid", "\"" + text + "\" is not an acid and its grams per litre",
                      "write for example \"tartaric 5\"");
    if (const auto acid = solution::acid_named(text.substr(0, blank))) return {*acid, GramsPerLitre{*held}};
    std::string names;
    for (const std::string& name : solution::acid_names()) names += (names.empty() ? "" : ", ") + name;
    throw Refused("--acid", "\"" + text.substr(0, blank) + "\" is no acid known here", "one of " + names);
}

void acidity(const Common& common, const Options& options) {
    solution::AcidSolution water;
    for (const std::string& text : options.acids) water.acids.push_back(acid_held(text));
    water.potassium = MillimolesPerLitre{options.potassium_mmol_per_L};
    water.bicarbonate_mg_per_L = options.bicarbonate_mg_per_L;
    const solution::Acidity found = solution::acidity(water, Celsius{options.at});
    if (common.json)
        return print({{"pH", found.pH},
                      {"ta_tartaric_g_per_L", found.ta_tartaric.value},
                      {"ta_tartaric_to_pH_7_g_per_L", found.ta_tartaric_to_pH_7.value},
                      {"ta_tartaric_to_pH_8_2_g_per_L", found.ta_tartaric_to_pH_8_2.value},
                      {"ionic_strength_mol_per_L", found.ionic_strength_mol_per_L}});
    say("pH " + fixed(found.pH, 2) + ", titratable acidity " + fixed(found.ta_tartaric.value, 2) +
        " g/L as tartaric acid (" + fixed(found.ta_tartaric_to_pH_7.value, 2) + " titrated to pH 7, " +
        fixed(found.ta_tartaric_to_pH_8_2.value, 2) + " to pH 8.2), ionic strength " +
        fixed(found.ionic_strength_mol_per_L, 4) + " mol/L.");
    say("By charge balance in water; in 12 % vol ethanol the pH is 0.05 to 0.1 higher.");
}

}  // namespace

void add_acidity(arguments::Command app, const Common& common) {
    arguments::Command verb = app.add_subcommand("acidity", "pH and titratable acidity of acids in water");
    auto options = std::make_shared<Options>();
    verb.add_option("--acid", options->acids, "an acid and its g/L: \"tartaric 5\"; may be repeated")
        .required();
    verb.add_option("--potassium-mmol-per-L", options->potassium_mmol_per_L, "potassium, mmol/L (default 0)");
    verb.add_option("--bicarbonate-mg-per-L", options->bicarbonate_mg_per_L,
                    "hydrogen carbonate of the water, mg/L (default 0)");
    verb.add_option("--at", options->at, "temperature, degrees Celsius (default 25)");
    verb.on_run([&common, options] { acidity(common, *options); });
}

}  // namespace sipladder::cli

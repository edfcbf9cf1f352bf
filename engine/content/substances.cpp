#include "engine/content/loading.hpp"
#include "engine/safety/intake.hpp"
#include "engine/text.hpp"

namespace sipladder::content {

namespace {

using solution::Component;
using solution::DensityModel;
using solution::Substance;

constexpr double water_20_degC_g_per_mL = 0.9982;  // Tanaka and others 2001, rounded

Component component_of(const Field& field) {
    const std::string name =
        field.one_of({"sweet", "sour", "alcohol", "astringent", "bitter", "salty", "weight"});
    if (name == "sour") return Component::sour;
    if (name == "alcohol") return Component::alcohol;
    if (name == "astringent") return Component::astringent;
    if (name == "bitter") return Component::bitter;
    if (name == "salty") return Component::salty;
    if (name == "weight") return Component::weight;
    return Component::sweet;
}

DensityModel density_model_of(const Field& field) {
    const std::string name = field.one_of({"apparent_volume", "sucrose", "ethanol"});
    if (name == "sucrose") return DensityModel::sucrose;
    if (name == "ethanol") return DensityModel::ethanol;
    return DensityModel::apparent_volume;
}

/// g/L of a saturated solution from grams in 100 g of water, by the apparent volume: good enough to refuse
/// stocks that cannot be made.
GramsPerLitre saturated(double g_per_100_g_water, double apparent_volume_mL_per_g) {
    const double volume_mL = 100.0 / water_20_degC_g_per_mL + g_per_100_g_water * apparent_volume_mL_per_g;
    return Grams{g_per_100_g_water} / Millilitres{volume_mL};
}

solution::AssumedPrior prior_of(Loading& loading, const Field& field, Scale scale) {
    const std::string centre = "centre" + unit_suffix(scale);
    field.only({centre, "sd_log10", "why", "source", "rests_on"});
    rests_on(loading, field.at("rests_on"));
    return {.centre = field.at(centre).number(1e-6, most_on(scale)),
            .sd_log10 = field.at("sd_log10").number(0.05, 2.0),
            .why = field.at("why").text(),
            .source = source_of(loading, field.at("source"))};
}

void read_physics(Loading& loading, const Field& field, Substance& substance) {
    if (const Field mass = field.at("molar_mass_g_per_mol"); mass.is_there())
        substance.molar_mass = GramsPerMole{figure(loading, mass, 1.0, 5000.0)};
    const Field volume = field.at("apparent_volume_mL_per_g");
    if (volume.is_there() || substance.density_model != DensityModel::ethanol)
        substance.apparent_volume_mL_per_g = figure(loading, volume, 0.0, 2.0);
    if (const Field dissolves = field.at("solubility_g_per_100_g_water"); dissolves.is_there())
        substance.solubility =
            saturated(figure(loading, dissolves, 0.01, 1000.0), substance.apparent_volume_mL_per_g);
    if ((substance.density_model == DensityModel::ethanol) != (substance.scale == Scale::pct_vol))
        field.at("scale").note("is " + field.at("scale").shown() + " with the density model " +
                                   field.at("density_model").shown(),
                               "\"pct_vol\" goes with \"ethanol\", \"g_per_L\" with the others");
}

void check_caps(const Field& field, const Substance& substance) {
    const std::string suffix = unit_suffix(substance.scale);
    if (substance.strongest_cup > substance.strongest_stock)
        field.at("strongest_cup" + suffix)
            .at("value")
            .note("is " + exact(substance.strongest_cup) + ", above the strongest stock (" +
                      exact(substance.strongest_stock) + ")",
                  "a cup is no stronger than its stock");
    if (substance.solubility.value > 0.0 && substance.strongest_stock > substance.solubility.value)
        field.at("strongest_stock" + suffix)
            .at("value")
            .note("is " + exact(substance.strongest_stock) + ", more than dissolves (" +
                      significant(substance.solubility.value, 2) + " g/L)",
                  "a stock below that is wanted");
    if (substance.prior.centre > substance.strongest_cup)
        field.at("prior")
            .at("centre" + suffix)
            .note("is " + exact(substance.prior.centre) + ", above the strongest cup (" +
                      exact(substance.strongest_cup) + ")",
                  "a centre that can be tasted is wanted");
}

/// Alcohol is counted in % vol and nothing else is, so that no cup of it goes by another cap.
void check_alcohol(const Field& field, const Substance& substance) {
    if ((substance.component == Component::alcohol) != (substance.scale == Scale::pct_vol))
        field.at("component")
            .note("is " + field.at("component").shown() + " with the scale " + field.at("scale").shown(),
                  "\"alcohol\" goes with \"pct_vol\", every other component with \"g_per_L\"");
}

/// Left out, it counts as its component does; a person's own says it, and may not say anything else.
void read_counts_as(const Loading& loading, const Field& field, Substance& substance) {
    const Field counts = field.at("counts_as");
    if (!counts.is_there() && !loading.is_own) return;
    if (!counts.is_there()) {
        counts.note("is missing: what it counts as against the caps of a day",
                    "one of sugar, acid, ethanol, tannin, caffeine, salt, glycerol, thickener is wanted");
        return;
    }
    const std::string word =
        counts.one_of({"sugar", "acid", "ethanol", "tannin", "caffeine", "salt", "glycerol", "thickener"});
    const std::string usual = safety::counts_as(substance);
    const bool is_mild = substance.component == Component::sweet || substance.component == Component::weight;
    if (word == "glycerol" && is_mild)
        substance.counts_as = solution::CountsAs::glycerol;
    else if (word == "thickener" && is_mild)
        substance.counts_as = solution::CountsAs::thickener;
    else if (word != usual)
        counts.note("is " + counts.shown() + " for a substance that is " + field.at("component").shown(),
                    is_mild ? "sugar, glycerol or thickener is wanted"
                            : usual + " is wanted: the strictest cap that may be meant");
}

Substance substance_at(Loading& loading, const Field& field) {
    Substance substance;
    substance.id = own_id(field, loading.content.substances);
    substance.name = field.at("name").text();
    substance.asked_for = field.at("asked_for").text();
    substance.component = component_of(field.at("component"));
    substance.scale = scale_of(field.at("scale"));
    substance.density_model = density_model_of(field.at("density_model"));
    const std::string suffix = unit_suffix(substance.scale);
    field.only({"id", "name", "asked_for", "component", "scale", "molar_mass_g_per_mol",
                "solubility_g_per_100_g_water", "density_model", "apparent_volume_mL_per_g",
                "strongest_cup" + suffix, "strongest_stock" + suffix, "counts_as", "rest_s", "rest_strong_s",
                "closed_nose", "prior", "note"});
    read_counts_as(loading, field, substance);
    read_physics(loading, field, substance);
    const double most = most_on(substance.scale);
    substance.strongest_cup = figure(loading, field.at("strongest_cup" + suffix), 1e-4, most);
    substance.strongest_stock = figure(loading, field.at("strongest_stock" + suffix), 1e-4, most);
    substance.rest_s = static_cast<int>(figure(loading, field.at("rest_s"), 10.0, 3600.0));
    if (const Field strong = field.at("rest_strong_s"); strong.is_there())
        substance.rest_strong_s = static_cast<int>(figure(loading, strong, substance.rest_s, 3600.0));
    substance.closed_nose = field.at("closed_nose").boolean();
    substance.prior = prior_of(loading, field.at("prior"), substance.scale);
    substance.note = optional_text(field.at("note"));
    check_caps(field, substance);
    check_alcohol(field, substance);
    return substance;
}

}  // namespace

void read_substances(Loading& loading, const std::vector<Field>& list) {
    for (const Field& field : list) loading.content.substances.push_back(substance_at(loading, field));
}

void load_substances(Loading& loading, const std::filesystem::path& file) {
    read_substances(loading, loading.entries(file, "substances", "substances"));
}

}  // namespace sipladder::content

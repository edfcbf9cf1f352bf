#pragma once

#include "engine/solution/mix_plan.hpp"

/// Substances, ingredients and kitchens for the tests of this folder; the figures are made up or rounded.
namespace sipladder::tests {

using namespace sipladder::solution;

inline Substance sucrose() {
    Substance s;
    s.id = "sucrose";
    s.name = "sucrose";
    s.scale = Scale::g_per_L;
    s.molar_mass = GramsPerMole{342.3};
    s.solubility = GramsPerLitre{890.0};
    s.apparent_volume_mL_per_g = 0.616;
    s.density_model = DensityModel::sucrose;
    s.strongest_cup = 120.0;
    s.strongest_stock = 400.0;
    return s;
}

inline Substance tartaric_acid() {
    Substance s;
    s.id = "tartaric_acid";
    s.name = "tartaric acid";
    s.component = Component::sour;
    s.scale = Scale::g_per_L;
    s.molar_mass = GramsPerMole{150.09};
    s.solubility = GramsPerLitre{700.0};
    s.apparent_volume_mL_per_g = 0.55;
    s.density_model = DensityModel::apparent_volume;
    s.strongest_cup = 6.0;
    s.strongest_stock = 100.0;
    return s;
}

inline Substance ethanol() {
    Substance s;
    s.id = "ethanol";
    s.name = "ethanol";
    s.component = Component::alcohol;
    s.scale = Scale::pct_vol;
    s.molar_mass = GramsPerMole{46.07};
    s.density_model = DensityModel::ethanol;
    s.strongest_cup = 18.0;
    s.strongest_stock = 40.0;
    return s;
}

inline Ingredient powder(const Substance& substance, double content = 0.995, double half_width = 0.005) {
    Ingredient i;
    i.id = substance.id + "_powder";
    i.name = substance.name + " powder";
    i.substance = substance.id;
    i.content = MassFraction{content};
    i.content_half_width = MassFraction{half_width};
    return i;
}

inline Ingredient vodka() {
    Ingredient i;
    i.id = "vodka";
    i.name = "vodka";
    i.substance = "ethanol";
    i.form = IngredientForm::spirit;
    i.strength = PercentVol{40.0};
    i.strength_half_width = PercentVol{0.3};
    return i;
}

inline Balance fine_scale() {
    return {"fine", "fine scale", Grams{0.01}, Grams{200.0}, Grams{0.5}, 0.003};
}
inline Balance coarse_scale() {
    return {"coarse", "kitchen scale", Grams{1.0}, Grams{5000.0}, Grams{20.0}, 0.005};
}
inline Vessel syringe_5() {
    return {"syringe_5",
            "5 mL syringe",
            VesselKind::syringe,
            Millilitres{5.0},
            Millilitres{0.2},
            Millilitres{2.0},
            0.05,
            Millilitres{0.0},
            true};
}
inline Vessel syringe_20() {
    return {"syringe_20",
            "20 mL syringe",
            VesselKind::syringe,
            Millilitres{20.0},
            Millilitres{1.0},
            Millilitres{8.0},
            0.04,
            Millilitres{0.0},
            true};
}
inline Vessel jug() {
    return {"jug",
            "1 L jug",
            VesselKind::jug,
            Millilitres{1000.0},
            Millilitres{50.0},
            Millilitres{200.0},
            0.05,
            Millilitres{0.0},
            false};
}

inline Equipment kitchen_fine() {
    return {"kitchen_fine", "fine kitchen", {fine_scale()}, {syringe_5(), syringe_20(), jug()}, ""};
}
inline Equipment kitchen_plain() {
    return {"kitchen_plain", "plain kitchen", {coarse_scale()}, {syringe_5(), syringe_20(), jug()}, ""};
}

inline PlanRequest request_of(const Substance& substance, Ingredient ingredient, double centre,
                              Equipment equipment, std::size_t rungs = 6, double ratio = 3.0) {
    PlanRequest request{
        ladder_around(substance.id + "_first", substance.id, substance.scale, centre, rungs, ratio),
        substance,
        std::move(ingredient),
        {"still_water", "still water", 0.0},
        std::move(equipment),
        {},
        0.05,
        {}};
    return request;
}

inline PlanRequest sugar_request(Equipment equipment = kitchen_fine()) {
    return request_of(sucrose(), powder(sucrose(), 0.9985, 0.0015), 2.5, std::move(equipment));
}
inline PlanRequest acid_request(Equipment equipment = kitchen_fine()) {
    return request_of(tartaric_acid(), powder(tartaric_acid()), 0.1, std::move(equipment));
}
inline PlanRequest alcohol_request(Equipment equipment = kitchen_fine()) {
    return request_of(ethanol(), vodka(), 0.7, std::move(equipment));
}

}  // namespace sipladder::tests

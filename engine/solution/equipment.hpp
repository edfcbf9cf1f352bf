#pragma once

#include "engine/units.hpp"

#include <string>
#include <vector>

namespace sipladder::solution {

struct Balance {
    std::string id;
    std::string name;
    Grams resolution;  ///< one step of the display, > 0
    Grams capacity;
    Grams smallest_load;           ///< below this the reading is not to be trusted
    double gain_half_width_rel{};  ///< calibration, shared by all weighings on it; half-width, relative
};

enum class VesselKind { syringe, pipette, cylinder, flask, jug };

struct Vessel {
    std::string id;
    std::string name;
    VesselKind kind{};
    Millilitres nominal;     ///< largest volume in one go
    Millilitres graduation;  ///< one mark to the next; 0 for a flask, which has one mark only
    Millilitres smallest;    ///< least volume worth measuring with it
    double tolerance_rel{};  ///< half-width of its calibration error as part of the volume drawn (syringes)
    Millilitres tolerance;   ///< half-width of its calibration error at any volume (flasks, cylinders)
    bool food_grade_new{};   ///< a new needle-free syringe, its own per substance
};

/// One kitchen.
struct Equipment {
    std::string id;
    std::string name;
    std::vector<Balance> balances;
    std::vector<Vessel> vessels;
    std::string note;
};

}  // namespace sipladder::solution

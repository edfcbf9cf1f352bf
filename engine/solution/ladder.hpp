#pragma once

#include "engine/units.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace sipladder::solution {

/// A dilution series as it is wanted: levels weakest first, all on one scale.
class Ladder {
  public:
    /// @throws Refused  naming `where` if a level is not positive and finite, levels do not ascend, there are
    /// fewer
    ///                  than 2 or more than 40
    Ladder(std::string id, std::string substance, Scale scale, std::vector<double> targets,
           const std::string& where = "ladder");

    const std::string& id() const { return id_; }
    const std::string& substance() const { return substance_; }
    Scale scale() const { return scale_; }
    const std::vector<double>& targets() const { return targets_; }
    std::size_t size() const { return targets_.size(); }

    bool operator==(const Ladder&) const = default;

  private:
    std::string id_;
    std::string substance_;
    Scale scale_;
    std::vector<double> targets_;
};

/// `rungs` levels of constant ratio around a centre (geometric middle), each rounded to two significant
/// digits. Without own history: 6 rungs of ratio 3 around the assumed prior's centre; with history: 5 of
/// ratio 2.
Ladder ladder_around(std::string id, std::string substance, Scale scale, double centre, std::size_t rungs,
                     double ratio);

/// A level as really mixed.
struct MixedLevel {
    double target{};        ///< what was wanted, on the ladder's scale
    double mixed{};         ///< what is in the bottle
    double u_own_rel{};     ///< relative standard uncertainty of its own
    double u_shared_rel{};  ///< relative standard uncertainty shared by the whole ladder
    std::string bottle;     ///< the letter on its bottle; tells no order
    int portions{};         ///< cups of it that can be poured

    bool operator==(const MixedLevel&) const = default;
};

/// A ladder in bottles: what every fit is made against.
struct MixedLadder {
    std::string substance;
    std::string base;
    Scale scale{};
    std::vector<MixedLevel> levels;  ///< ascending in `mixed`

    bool operator==(const MixedLadder&) const = default;
};

}  // namespace sipladder::solution

#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/substance.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::chart {

/// Parts of an open mouth seen from in front, in the order in which places are kept.
enum class MouthPart {
    lips,
    teeth,
    gums,
    tongue_tip,
    tongue_sides,
    tongue_centre,
    tongue_back,
    cheeks,
    palate,
    throat
};
constexpr std::size_t mouth_parts = 10;

struct FeltAt {
    std::string name;
    double share{};     ///< of the cups, 0 to 1
    std::string count;  ///< "5 of 8"
};

struct MouthOutline {
    std::string title;
    solution::Component component{};
    std::vector<FeltAt> parts;  ///< one for each MouthPart, in its order
    std::string note = {};
};

/// An open mouth from in front, each part the deeper the more often something was felt there, with how often.
Chart mouth_outline(const MouthOutline& data);

/// The part at a place on the axes of that chart; the words beside it count as the part. Nothing between
/// parts.
std::optional<MouthPart> mouth_part_at(Point place);

}  // namespace sipladder::chart

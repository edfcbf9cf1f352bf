#include "engine/volume.hpp"

#include "engine/text.hpp"

namespace sipladder {

std::string us_fl_oz_text(Millilitres volume) {
    return shortest(in_us_fl_oz(volume), 3);
}

std::string volume_text(Millilitres volume, VolumeUnit unit, const std::string& metric) {
    if (unit == VolumeUnit::mL) return metric;
    return us_fl_oz_text(volume).append(" US fl oz (").append(metric).append(")");
}

std::string volume_text(Millilitres volume, VolumeUnit unit) {
    return volume_text(volume, unit, exact(volume.value).append(" mL"));
}

}  // namespace sipladder

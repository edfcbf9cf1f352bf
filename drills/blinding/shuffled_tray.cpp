#include "drills/blinding/shuffled_tray.hpp"

#include "engine/problem.hpp"

namespace sipladder::drills::shuffled_tray {

Sign drawn_sign(Seed seed, std::size_t presentation, std::size_t cups_together) {
    constexpr std::uint64_t first_sign_use = 1000;  // away from the uses of blinding/served
    Random random(derived(seed, first_sign_use + presentation));
    return static_cast<Sign>(random.below(cups_together));
}

std::string text_of(Sign sign) {
    switch (sign) {
        case Sign::ring:
            return "ring";
        case Sign::cross:
            return "cross";
        case Sign::dot:
            return "dot";
    }
    SIPLADDER_EXPECT(false);
    return {};
}

}  // namespace sipladder::drills::shuffled_tray

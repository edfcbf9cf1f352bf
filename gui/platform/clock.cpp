#include "gui/platform/clock.hpp"

#include <chrono>
#include <ctime>
#include <random>

namespace sipladder::gui {

Instant now() {
    using std::chrono::duration_cast;
    using std::chrono::milliseconds;
    const auto wall = std::chrono::system_clock::now();
    const std::time_t seconds = std::chrono::system_clock::to_time_t(wall);
    std::tm local{};
    localtime_r(&seconds, &local);
    return Instant{
        .utc_ms = duration_cast<milliseconds>(wall.time_since_epoch()).count(),
        .offset_min = static_cast<int>(local.tm_gmtoff / 60),
        .monotonic_ms =
            duration_cast<milliseconds>(std::chrono::steady_clock::now().time_since_epoch()).count()};
}

Seed entropy_seed() {
    std::random_device device;
    const std::uint64_t high = device();
    return Seed{(high << 32) | device()};
}

}  // namespace sipladder::gui

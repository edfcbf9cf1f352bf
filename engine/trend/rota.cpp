#include "engine/trend/rota.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/trend/design.hpp"

#include <algorithm>
#include <cmath>

// Before anything is mixed there are no answers, so each sitting is given the precision that its number of
// presentations can have: Fisher's information at the best level, less what the search for that level costs.

namespace sipladder::trend {

namespace {

/// Share of the best information that an adaptive sitting reaches (computed here: 8 to 48 presentations with
/// own history, simulated).
constexpr double placing_efficiency = 0.85;

/// Greatest Fisher information of one 3-AFC presentation about theta, in units of 1/s².
double best_information(double lapse) {
    constexpr double guess = 1.0 / 3.0;
    const double height = 1.0 - guess - lapse;
    constexpr int places = 400;
    double best = 0.0;
    for (int i = 1; i < places; ++i) {
        const double rise = static_cast<double>(i) / places;
        const double slope = height * rise * (1.0 - rise);
        const double right = guess + height * rise;
        best = std::max(best, slope * slope / (right * (1.0 - right)));
    }
    return best;
}

void check(const Rota& rota) {
    std::vector<Problem> problems;
    const auto want = [&](bool holds, const char* where, double found, const char* right) {
        if (!holds) problems.push_back({where, "is " + exact(found), right});
    };
    want(rota.sittings >= 2 && rota.sittings <= 500, "sittings", static_cast<double>(rota.sittings),
         "2 to 500");
    want(rota.presentations >= 1 && rota.presentations <= 1000, "presentations a sitting",
         static_cast<double>(rota.presentations), "1 to 1000");
    want(rota.weeks_between > 0.0 && rota.weeks_between <= 100.0, "weeks between sittings",
         rota.weeks_between, "above 0, up to 100");
    want(rota.width_log10 > 0.0 && rota.width_log10 < 10.0, "width_log10", rota.width_log10,
         "above 0, below 10");
    want(rota.lapse >= 0.0 && rota.lapse < 0.6, "lapse", rota.lapse, "0 to below 0.6");
    want(rota.u_mix_log10 >= 0.0 && rota.u_mix_log10 < 1.0, "u_mix_log10", rota.u_mix_log10, "0 to below 1");
    if (!problems.empty()) throw Refused(problems);
}

}  // namespace

double measurement_sd_log10(std::size_t presentations, double width_log10, double lapse) {
    SIPLADDER_EXPECT(presentations > 0 && width_log10 > 0.0 && lapse >= 0.0);
    const double s = width_log10 / threshold::width_in_s(threshold::Shape::logistic);
    return s / std::sqrt(placing_efficiency * best_information(lapse) * static_cast<double>(presentations));
}

Smallest smallest_fall(const Rota& rota, const Settings& settings) {
    check(rota);
    Smallest found;
    found.sitting_sd_log10 = measurement_sd_log10(rota.presentations, rota.width_log10, rota.lapse);
    std::vector<design::Sitting> sittings;
    for (std::size_t k = 0; k < rota.sittings; ++k)
        sittings.push_back({rota.weeks_between * static_cast<double>(k), found.sitting_sd_log10,
                            rota.one_mix ? 0 : k, rota.u_mix_log10});
    const design::Design design = design::drift_design(sittings, settings);
    const double weeks = sittings.back().week;
    found.half_log10 = weeks * design::drift_seen(design, 0.5, settings);
    found.four_in_five_log10 = weeks * design::drift_seen(design, 0.8, settings);
    return found;
}

std::string words(const Smallest& smallest) {
    const auto percent_down = [](double log10) { return fixed(100.0 * (1.0 - std::pow(10.0, -log10)), 0); };
    return "With this rota, a fall of less than " + percent_down(smallest.half_log10) +
           " % would probably go unseen; one of " + percent_down(smallest.four_in_five_log10) +
           " % would show four times in five.";
}

}  // namespace sipladder::trend

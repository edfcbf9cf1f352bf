#include "engine/problem.hpp"
#include "engine/threshold/warnings.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>

// Score tests: what the curve that was found foretells of each answer is compared with the answer, and the
// differences are weighed by what is suspected (a place, the number of the presentation, a clear cup before).
// Each statistic is near to standard normal for a person without the trouble; since the curve was fitted to
// the same answers and levels were chosen by them, the limits are not a table's but were set by simulation,
// so that at most 5 in 100 ordinary sittings are warned of, whatever the ladder and the number of
// presentations.

namespace sipladder::threshold {

namespace {

constexpr std::size_t fewest = 8;            // judgement: below this nothing is told
constexpr double habit_limit = 2.3;          // set by simulation
constexpr double fatigue_limit = 1.85;       // set by simulation
constexpr double carry_over_limit = 1.50;    // set by simulation
constexpr double clearly_above_log10 = 0.2;  // judgement

/// What is foretold at one level, width, lapse and threshold summed out.
struct Foretold {
    double right{};
    double slope{};  ///< of the share right, per log10 unit
};

std::vector<Foretold> foretold(const Posterior& posterior, std::span<const Asked> asked) {
    std::map<double, Foretold> by_level;
    const auto widths = posterior.widths();
    const double factor = width_in_s(posterior.shape());
    std::vector<Foretold> result;
    for (const Asked& one : asked) {
        const auto known = by_level.find(one.x_log10);
        if (known != by_level.end()) {
            result.push_back(known->second);
            continue;
        }
        const RiseTable table = rise_table(posterior, one.x_log10);
        Foretold at{posterior.task().guess, 0.0};
        for (std::size_t i = 0; i < table.rise.size(); ++i) {
            at.right += posterior.reach()[i] * table.rise[i];
            // The density of a logistic; near enough for the weights of a normal curve.
            at.slope +=
                posterior.reach()[i] * table.rise[i] * table.fall[i] * factor / widths[i % widths.size()];
        }
        by_level[one.x_log10] = at;
        result.push_back(at);
    }
    return result;
}

/// Score of a threshold that moves with `suspect`, in standard deviations; above 0: it was higher where the
/// suspect is.
double moved_with(std::span<const Asked> asked, std::span<const Foretold> told,
                  const std::function<double(std::size_t)>& suspect) {
    double all = 0.0;
    double weighted = 0.0;
    const auto information = [&](std::size_t i) {
        return told[i].slope * told[i].slope / (told[i].right * (1.0 - told[i].right));
    };
    for (std::size_t i = 0; i < asked.size(); ++i) {
        all += information(i);
        weighted += information(i) * suspect(i);
    }
    if (!(all > 0.0)) return 0.0;
    const double middle = weighted / all;
    double score = 0.0;
    double variance = 0.0;
    for (std::size_t i = 0; i < asked.size(); ++i) {
        const double off = suspect(i) - middle;
        const double surprise = (asked[i].correct() ? 1.0 : 0.0) - told[i].right;
        score -= off * surprise * told[i].slope / (told[i].right * (1.0 - told[i].right));
        variance += off * off * information(i);
    }
    return variance > 0.0 ? score / std::sqrt(variance) : 0.0;
}

struct Favourite {
    std::size_t place{};
    double excess{};  ///< picks beyond what the curve foretells, in standard deviations
    std::size_t picks{};
};

Favourite favourite(std::span<const Asked> asked, std::span<const Foretold> told, std::size_t places) {
    Favourite best{0, -1e9, 0};
    for (std::size_t place = 0; place < places; ++place) {
        double excess = 0.0;
        double variance = 0.0;
        std::size_t picks = 0;
        for (std::size_t i = 0; i < asked.size(); ++i) {
            const double wrong_each = (1.0 - told[i].right) / static_cast<double>(places - 1);
            const double share = asked[i].spiked == place ? told[i].right : wrong_each;
            excess += (asked[i].picked == place ? 1.0 : 0.0) - share;
            variance += share * (1.0 - share);
            if (asked[i].picked == place) ++picks;
        }
        if (variance > 0.0 && excess / std::sqrt(variance) > best.excess)
            best = {place, excess / std::sqrt(variance), picks};
    }
    return best;
}

Warning habit_warning(const Favourite& found, std::size_t asked, std::size_t places) {
    constexpr std::array<const char*, 3> of_three{"left", "middle", "right"};
    constexpr std::array<const char*, 2> of_two{"left", "right"};
    std::string text = "The ";
    text.append(places == 3 ? of_three[found.place] : of_two[found.place]).append(" cup was picked ");
    text.append(std::to_string(found.picks))
        .append(" of ")
        .append(std::to_string(asked))
        .append(
            " times, more often than the right answer stood there: a habit of place makes the threshold look "
            "higher than it is. When unsure, let a coin decide.");
    return {Warning::Kind::position_habit, std::move(text)};
}

}  // namespace

std::vector<Warning> warnings_in_order(const Posterior& posterior, std::span<const Asked> asked,
                                       std::size_t places) {
    SIPLADDER_EXPECT(places == 2 || places == 3);
    for (const Asked& one : asked) SIPLADDER_EXPECT(one.spiked < places && one.picked < places);
    std::vector<Warning> warnings;
    if (asked.size() < fewest) return warnings;
    const std::vector<Foretold> told = foretold(posterior, asked);
    const Favourite found = favourite(asked, told, places);
    if (found.excess > habit_limit) warnings.push_back(habit_warning(found, asked.size(), places));
    if (moved_with(asked, told, [](std::size_t i) { return static_cast<double>(i); }) > fatigue_limit)
        warnings.push_back(
            {Warning::Kind::fatigue,
             "Later answers were worse than earlier ones at the same strength: the threshold seems to have "
             "risen during the sitting. Take fewer presentations at a time and rest longer. (A rise by a "
             "factor of three over 24 presentations is seen in one such sitting of seven.)"});
    const double clear = posterior.mean() + clearly_above_log10;
    const auto after_clear = [&](std::size_t i) { return i > 0 && asked[i - 1].x_log10 > clear ? 1.0 : 0.0; };
    if (moved_with(asked, told, after_clear) > carry_over_limit)
        warnings.push_back(
            {Warning::Kind::carry_over,
             "After a clear cup the next one was missed more often: its taste seems to stay. Rinse and rest "
             "longer. (A weak sign: most such sittings are not seen, even long ones.)"});
    return warnings;
}

}  // namespace sipladder::threshold

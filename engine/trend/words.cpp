#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/trend/change_words.hpp"
#include "engine/trend/periods.hpp"
#include "engine/trend/trend.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::trend {

namespace {

std::string capital(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

std::size_t first_on_line(const Trend& trend, const Stretch& stretch) {
    std::size_t at = stretch.first;
    while (at < stretch.last && trend.points[at].practice) ++at;
    return at;
}

void add_change(const Trend& trend, const Stretch& stretch, const Change& change,
                std::span<const Sitting> sittings, std::vector<std::string>& lines) {
    const std::string since = sittings[trend.points[first_on_line(trend, stretch)].sitting].date;
    lines.push_back(capital(moved(change.change.log10)) + " since " + since + " (from " +
                    moved(change.change.lower_log10) + " to " + moved(change.change.upper_log10) + "); " +
                    of_100(change.probability_fell) + " that it fell.");
    lines.push_back("Under a factor of " + significant(std::pow(10.0, change.noise_log10), 2) +
                    " may be noise.");
    if (change.declared)
        lines.push_back("The fall passes the mark that only " + of_100(change.false_alarms) +
                        " people who do not change would pass.");
    else if (change.change.log10 < 0.0)
        lines.push_back(
            "It does not pass the mark that 5 of 100 people who do not change would pass; a true "
            "fall of this size would stay unseen in " +
            of_100(change.missed) + ".");
    lines.push_back("Practice, a cold or a new powder can do the same.");
}

}  // namespace

std::string moved(double log10) {
    const double percent = 100.0 * (std::pow(10.0, log10) - 1.0);
    return (percent < 0.0 ? "down " : "up ") + fixed(std::abs(percent), 0) + " %";
}

std::string of_100(double probability) {
    if (probability > 0.99) return "more than 99 of 100";
    if (probability < 0.01) return "fewer than 1 of 100";
    return fixed(100.0 * probability, 0) + " of 100";
}

std::vector<std::string> words(const Trend& trend, std::span<const Sitting> sittings) {
    SIPLADDER_EXPECT(!trend.stretches.empty() && sittings.size() == trend.points.size());
    const Stretch& last = trend.stretches.back();
    std::vector<std::string> lines;
    if (last.change) add_change(trend, last, *last.change, sittings, lines);
    const auto practice = std::count_if(trend.points.begin(), trend.points.end(),
                                        [](const Point& point) { return point.practice; });
    if (practice > 0 && last.change)
        lines.push_back(
            "The first " + std::to_string(practice) +
            (practice == 1 ? " sitting is practice and stands" : " sittings are practice and stand") +
            " outside the line.");
    if (trend.stretches.size() > 1 && last.change)
        lines.push_back("The line began anew with the sitting of " +
                        sittings[trend.points[last.first].sitting].date + ": " + last.why + ".");
    lines.insert(lines.end(), trend.notes.begin(), trend.notes.end());
    return lines;
}

std::vector<std::string> words(const PeriodsCompared& compared, std::span<const Sitting> sittings,
                               Scale scale) {
    const auto dates = [&](const Period& period) {
        const std::string& first = sittings[period.first].date;
        return period.first == period.last ? "on " + first : first + " to " + sittings[period.last].date;
    };
    const auto level = [&](const threshold::Estimate& at) {
        return with_interval(std::pow(10.0, at.log10), std::pow(10.0, at.lower_log10),
                             std::pow(10.0, at.upper_log10)) +
               " " + unit_text(scale);
    };
    const threshold::Estimate& change = compared.change;
    std::vector<std::string> lines;
    lines.push_back(capital(moved(change.log10)) + " (from " + moved(change.lower_log10) + " to " +
                    moved(change.upper_log10) + "); " + of_100(compared.probability_fell) +
                    " that it is lower in the later period.");
    lines.push_back(level(compared.before) + ", " + dates(compared.earlier) + ", against " +
                    level(compared.after) + ", " + dates(compared.later) + ".");
    if (change.lower_log10 <= 0.0 && change.upper_log10 >= 0.0)
        lines.emplace_back("No change at all would fit these answers too.");
    if (!compared.differs.empty()) {
        std::string text = "Not the same throughout: ";
        for (std::size_t i = 0; i < compared.differs.size(); ++i)
            text.append(i == 0 ? "" : ", ").append(compared.differs[i]);
        lines.push_back(text + ". The change may be theirs.");
    }
    return lines;
}

}  // namespace sipladder::trend

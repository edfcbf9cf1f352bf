#include "engine/chart/word_scale.hpp"

#include "engine/problem.hpp"
#include "engine/solution/sweetness_term.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::chart {

namespace {

constexpr double half = 0.3;             // of a row, the stretch of a word
constexpr double letters_across = 75.0;  // of small words in a chart of the usual width

/// The words of one row, each in its stretch; stretches are told apart by depth.
void add_words(const std::vector<std::string>& words, const std::vector<double>& limits, double row, Ink ink,
               const Axis& axis, Chart& chart) {
    SIPLADDER_EXPECT(words.size() == limits.size() + 1);
    for (std::size_t i = 0; i < words.size(); ++i) {
        const double from = i == 0 ? axis.from : std::clamp(limits[i - 1], axis.from, axis.to);
        const double to = i == limits.size() ? axis.to : std::clamp(limits[i], axis.from, axis.to);
        if (to <= from) continue;
        Band band;
        band.x = {from, to};
        band.lower = {row - half, row - half};
        band.upper = {row + half, row + half};
        band.ink = ink;
        band.opacity = 0.08 + 0.42 * static_cast<double>(i) / static_cast<double>(words.size() - 1);
        band.hover = words[i] + ": " + (i == 0 ? "below " : significant(limits[i - 1], 2)) +
                     (i == 0               ? significant(to, 2)
                      : i == limits.size() ? " and more"
                                           : " to " + significant(limits[i], 2)) +
                     " " + axis.unit;
        chart.marks.emplace_back(std::move(band));
        // What is too long for its stretch stands beneath it.
        const double share = std::log(to / from) / std::log(axis.to / axis.from);
        const bool fits = share * letters_across >= static_cast<double>(words[i].size());
        Text text;
        text.at = {std::sqrt(from * to), fits ? row : row - half - 0.12};
        text.text = words[i];
        text.anchor = Anchor::centre;
        chart.marks.emplace_back(std::move(text));
    }
}

}  // namespace

Chart word_scale(const WordScale& data) {
    SIPLADDER_EXPECT(data.words.size() >= 2 && data.limits.size() + 1 == data.words.size());
    Chart chart;
    chart.title = data.title;
    chart.note = data.note;
    chart.x.kind = AxisKind::logarithmic;
    chart.x.from = data.from;
    chart.x.to = data.to;
    const auto is_tasted = [&](const WordLimit& limit) {
        return limit.value >= data.from && limit.value <= data.to;
    };
    chart.x.unit = unit_text(data.scale);
    const std::size_t rows = 1 + data.others.size();
    chart.y.from = -0.5;
    chart.y.to = static_cast<double>(rows) - 0.2;
    for (std::size_t row = 0; row < data.others.size(); ++row)
        chart.y.ticks.push_back({static_cast<double>(data.others.size() - 1 - row), data.others[row].whose});
    std::reverse(chart.y.ticks.begin(), chart.y.ticks.end());
    const double own = static_cast<double>(rows - 1);
    chart.y.ticks.push_back({own, data.whose});
    std::vector<double> values;
    for (const WordLimit& limit : data.limits) values.push_back(limit.value);
    add_words(data.words, values, own, ink_of(data.component), chart.x, chart);
    for (std::size_t row = 0; row < data.others.size(); ++row)
        add_words(data.others[row].words, data.others[row].limits,
                  static_cast<double>(data.others.size() - 1 - row), Ink::muted, chart.x, chart);
    for (std::size_t i = 0; i < data.limits.size(); ++i) {
        const WordLimit& limit = data.limits[i];
        if (!is_tasted(limit)) continue;  // beyond the cups nothing was measured
        Interval bar;
        bar.at = {limit.value, own + half + 0.12};
        bar.lower = limit.lower;
        bar.upper = limit.upper;
        bar.hover = "from \"" + data.words[i] + "\" to \"" + data.words[i + 1] +
                    "\": " + with_interval(limit.value, limit.lower, limit.upper) + " " +
                    unit_text(data.scale);
        // Neighbours would lie over each other.
        bar.at.y += i % 2 == 0 ? 0.0 : 0.16;
        Marker mark;
        mark.at = bar.at;
        mark.size = 0.6;
        mark.hover = bar.hover;
        chart.marks.emplace_back(std::move(bar));
        chart.marks.emplace_back(std::move(mark));
    }
    return chart;
}

std::vector<OtherWords> sweetness_terms_beside(std::optional<GramsPerLitre> acidity) {
    const std::vector<std::string> words{"dry", "medium dry", "medium", "sweet"};
    const auto at = [](GramsPerLitre of) {
        const solution::SweetnessLimits limits = solution::sweetness_limits(of);
        return std::vector<double>{limits.dry.value, limits.medium_dry.value, limits.medium.value};
    };
    constexpr GramsPerLitre enough{20.0};  // the clause reaches no further from 8 g/L on
    const std::string clause =
        acidity ? "label, acidity " + exact(acidity->value) + " g/L" : "label, high acidity";
    return {{"label", words, at(GramsPerLitre{0.0})}, {clause, words, at(acidity.value_or(enough))}};
}

}  // namespace sipladder::chart

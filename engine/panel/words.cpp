#include "engine/panel/panel.hpp"
#include "engine/text.hpp"

#include <cmath>

namespace sipladder::panel {

namespace {

double value(double log10) {
    return std::pow(10.0, log10);
}

std::string mean_words(const Panel& panel) {
    std::string line = "Panel threshold ";
    line +=
        with_interval(value(panel.mean.log10), value(panel.mean.lower_log10), value(panel.mean.upper_log10));
    line.append(" ").append(unit_text(panel.scale)).append(", equal-tailed 95 %");
    if (panel.mixing_sd_log10 > 0.0)
        line.append("; ")
            .append(percent(value(panel.mixing_sd_log10) - 1.0))
            .append(" (one standard deviation) is mixing");
    return line + ".";
}

std::string spread_words(const Panel& panel) {
    std::string line = "People lie around it by a factor of ";
    line += significant(value(panel.spread.log10), 2) + ", one standard deviation (";
    line += significant(value(panel.spread.lower_log10), 2) + " to ";
    return line + significant(value(panel.spread.upper_log10), 2) + ").";
}

std::string names(const Panel& panel, Stand stand) {
    std::string list;
    for (const Person& person : panel.people)
        if (person.stand == stand) list += (list.empty() ? "" : ", ") + person.name;
    return list;
}

}  // namespace

std::vector<std::string> words(const Panel& panel) {
    std::vector<std::string> lines{mean_words(panel), spread_words(panel)};
    const std::string more = names(panel, Stand::more_sensitive);
    const std::string less = names(panel, Stand::less_sensitive);
    if (!more.empty()) lines.emplace_back("More sensitive than the panel's mean: ").append(more).append(".");
    if (!less.empty()) lines.emplace_back("Less sensitive than the panel's mean: ").append(less).append(".");
    if (panel.differing == 0)
        lines.emplace_back("Nobody stands clear of the panel's mean.");
    else
        lines.emplace_back("Of those named, ")
            .append(std::to_string(panel.differing))
            .append(" in all, about ")
            .append(significant(panel.expected_wrong, 2))
            .append(" may be on the wrong side; the others cannot be told from the mean.");
    lines.insert(lines.end(), panel.notes.begin(), panel.notes.end());
    return lines;
}

}  // namespace sipladder::panel

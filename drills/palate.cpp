// The newest drill speaks for its kind, substance and base: what changes over weeks is the trend's to say.

#include "drills/palate.hpp"

#include "drills/palate_parts.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills {

std::string text_of(PalateQuestion question) {
    switch (question) {
        case PalateQuestion::how_little:
            return "How little?";
        case PalateQuestion::how_different:
            return "How different?";
        case PalateQuestion::which_one:
            return "Which one?";
        case PalateQuestion::how_strong:
            return "How strong?";
        case PalateQuestion::where:
            return "Where?";
        case PalateQuestion::how_long:
            break;
    }
    return "How long?";
}

Palate palate(std::span<const Tasted> done, const content::Content& content) {
    palate_parts::Sat sat(done, content);
    return {{palate_parts::how_little(sat), palate_parts::how_different(sat), palate_parts::which_one(sat),
             palate_parts::how_strong(sat), palate_parts::where(sat), palate_parts::how_long(sat)}};
}

std::string mixing_share(const threshold::Threshold& threshold) {
    constexpr double smallest_told = 0.001;
    const double share =
        threshold.sd_log10 > 0.0 ? std::pow(threshold.mixing_sd_log10 / threshold.sd_log10, 2) : 0.0;
    return share < smallest_told ? "less than 0.1 %" : percent(share);
}

std::string text_of(const threshold::Threshold& threshold) {
    return with_interval(threshold.value(), threshold.lower(), threshold.upper()) + " " +
           unit_text(threshold.scale);
}

std::string whence_of(const threshold::Threshold& threshold, const std::string& what, std::size_t answers) {
    return what + " threshold, posterior mean with equal-tailed 95 % interval; prior: " + threshold.prior +
           "; " + std::to_string(answers) + (answers == 1 ? " answer" : " answers") + "; mixing makes " +
           mixing_share(threshold) + " of the variance";
}

std::string reported_base(const content::Content& content, const std::string& base) {
    const auto found = std::find_if(content.bases.begin(), content.bases.end(),
                                    [&](const solution::Base& one) { return one.id == base; });
    // One that content does not know is a water of one's own.
    if (found == content.bases.end()) return "water";
    return solution::is_plain_water(*found) ? "water" : found->name;
}

std::optional<chart::Reported> reported_of(const content::Content& content, const std::string& substance,
                                           const std::string& base, const std::string& kind) {
    const std::string called = reported_base(content, base);
    std::optional<chart::Reported> widest;
    for (const content::ReferenceThreshold& one : content.reference_thresholds) {
        if (one.substance != substance || one.base != called || one.kind != kind) continue;
        const std::string whose = one.source + ": " + one.method + ", " +
                                  (one.people > 0 ? std::to_string(one.people) + " people"
                                                  : std::string("number of people not stated"));
        if (!widest) {
            widest = chart::Reported{.lower = one.lower, .upper = one.upper, .whose = whose};
            continue;
        }
        widest->lower = std::min(widest->lower, one.lower);
        widest->upper = std::max(widest->upper, one.upper);
        widest->whose += "; " + whose;
    }
    return widest;
}

namespace palate_parts {

bool Sat::has_answer(std::size_t drill) const {
    const std::vector<Trial>& trials = state(drill).trials;
    return std::any_of(trials.begin(), trials.end(), [](const Trial& trial) { return trial.is_done(); });
}

const Finding& Sat::finding(std::size_t drill) {
    const auto known = findings_.find(drill);
    if (known != findings_.end()) return known->second;
    return findings_.emplace(drill, drills::finding(state(drill))).first->second;
}

PalateRow& Keyed::at(const std::string& key, const std::function<PalateRow()>& fresh) {
    const auto [place, is_new] = places_.try_emplace(key, rows_.size());
    if (is_new) rows_.push_back(fresh());
    return rows_[place->second];
}

void sort_by_substance(std::vector<PalateRow>& rows, const Sat& sat) {
    const auto rank = [&](const PalateRow& row) {
        const auto& all = sat.content().substances;
        const Plan& plan = sat.plan(row.fits.empty() ? row.from.front() : row.fits.front().drill);
        const std::size_t line = row.fits.empty() ? 0 : line_of_series(plan, row.fits.front().series);
        const std::string& id = substance_of(plan, line).id;
        return std::find_if(all.begin(), all.end(),
                            [&](const solution::Substance& one) { return one.id == id; }) -
               all.begin();
    };
    std::stable_sort(rows.begin(), rows.end(),
                     [&](const PalateRow& a, const PalateRow& b) { return rank(a) < rank(b); });
}

std::string title_of(const Plan& plan, std::size_t line) {
    return substance_of(plan, line).name + " in " + plan.base_name;
}

PalateNumber number_of(const Finding::Measure& measure, const std::string& whence) {
    return {measure.name,
            with_interval(measure.value, measure.lower, measure.upper) +
                (measure.unit.empty() ? "" : " " + measure.unit),
            "with its equal-tailed 95 % interval; " + whence};
}

std::string sitting_text(const Sat& sat, std::size_t drill) {
    const std::size_t cups = drills::cups(sat.state(drill));
    return std::to_string(cups) + (cups == 1 ? " cup on " : " cups on ") + to_date(sat.tasted(drill).started);
}

}  // namespace palate_parts

}  // namespace sipladder::drills

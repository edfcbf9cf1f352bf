#include "drills/classroom/result_words.hpp"

#include "engine/text.hpp"

#include <cmath>
#include <utility>

namespace sipladder::drills::classroom {

namespace {

double value(double log10) {
    return std::pow(10.0, log10);
}

std::string best_words(const threshold::GroupEstimate& best, Scale scale) {
    std::string text =
        "Best-estimate threshold of the group (ASTM E679), " + people_words(best.people) + ": ";
    text.append(significant(value(best.log10), 2)).append(" ").append(unit_text(scale));
    if (best.sd_log10) text.append(", SD between people ").append(fixed(*best.sd_log10, 2)).append(" log10");
    text.append("; ").append(std::to_string(best.below)).append(" right from the first rung on, ");
    return text.append(std::to_string(best.above)).append(" wrong at the last, for whom the rule guesses.");
}

std::string distance_words(const SinglesResult::Distance& distance, const ClassDrill& drill) {
    const std::string& what = drill.samples[distance.sample].what;
    if (!distance.d_prime) return what + ": the grades set it apart from the base wholly or not at all.";
    return what + ": " + fixed(*distance.d_prime, 2) + " (standard error " +
           fixed(distance.standard_error, 2) + ") above the base, in units of the noise.";
}

}  // namespace

std::string people_words(std::size_t count) {
    return count == 1 ? "1 person" : std::to_string(count) + " people";
}

std::string order_words(const ClassDrill& drill) {
    std::string text;
    for (const Sample& sample : drill.samples) text.append(text.empty() ? "" : " < ").append(sample.bottle);
    return text;
}

std::string interval_words(const threshold::Estimate& found, Scale scale) {
    return with_interval(value(found.log10), value(found.lower_log10), value(found.upper_log10)) + " " +
           unit_text(scale);
}

std::string p_words(double p) {
    return p < 0.001 ? "p < 0.001" : "p = " + significant(p, 2);
}

std::string stand_words(panel::Stand stand) {
    if (stand == panel::Stand::more_sensitive) return "more sensitive";
    return stand == panel::Stand::less_sensitive ? "less sensitive" : "not clear of it";
}

std::vector<std::string> sentences(const ThresholdResult& result, const ClassDrill& drill) {
    if (result.seats.empty()) return {"Nobody answered."};
    std::vector<std::string> said = panel::words(result.pooled);
    if (result.best_of_class) said.push_back(best_words(*result.best_of_class, drill.scale));
    return said;
}

std::vector<std::string> sentences(const SinglesResult& result, const ClassDrill& drill) {
    if (result.answers.empty()) return {"Nobody answered."};
    std::vector<std::string> said;
    if (result.named) {
        const auto share = threshold::exact_share(result.named->right, result.named->answers);
        said.push_back(std::to_string(result.named->right) + " of " + std::to_string(result.named->answers) +
                       " cups were named right: " + percent(share.value) + ".");
    }
    if (result.bits)
        said.push_back(
            "A name tells " + with_interval(result.bits->value, result.bits->lower, result.bits->upper) +
            " bits of what was in the cup; always right would be " + significant(result.most_bits, 2) +
            ". All answers are taken as if one person had given them.");
    for (const SinglesResult::Distance& distance : result.distances)
        said.push_back(distance_words(distance, drill));
    return said;
}

std::vector<std::string> sentences(const RankingResult& result, const ClassDrill& drill) {
    if (!result.friedman) return {"Fewer than two people ranked all cups."};
    const threshold::Friedman& friedman = *result.friedman;
    return {"Do the cups differ? Friedman's F = " + significant(friedman.statistic, 3) + ", " +
                p_words(friedman.p_exact.value_or(friedman.p)) +
                (friedman.p_exact ? " (counted through)" : "") +
                "; agreement between people, Kendall's W = " + fixed(friedman.kendall_w, 2) + ".",
            "In the order " + order_words(drill) +
                "? Page's L = " + fixed(result.page->statistic, result.page->has_ties ? 1 : 0) + ", " +
                p_words(result.page->p) + (result.page->is_exact ? " (counted through)." : ".")};
}

Cells rung_cells(const ThresholdResult& result, const ClassDrill& drill) {
    Cells cells;
    cells.reserve(result.rungs.size());
    for (const RungShare& rung : result.rungs)
        cells.push_back({drill.samples[rung.sample].bottle,
                         exact(drill.samples[rung.sample].level) + " " + unit_text(drill.scale),
                         std::to_string(rung.correct) + " of " + std::to_string(rung.presentations),
                         p_words(rung.test.p_value),
                         std::isfinite(rung.test.d_prime) ? fixed(rung.test.d_prime, 2) : "all right"});
    return cells;
}

Cells people_cells(const ThresholdResult& result, const ClassDrill& drill) {
    Cells cells;
    cells.reserve(result.seats.size());
    for (std::size_t i = 0; i < result.seats.size(); ++i) {
        const panel::Person& person = result.pooled.people[i];
        cells.push_back({person.name, interval_words(person.shrunken, drill.scale),
                         significant(value(person.own.log10), 2),
                         result.best[i] ? significant(value(result.best[i]->log10), 2) : "",
                         stand_words(person.stand)});
    }
    return cells;
}

Cells count_cells(const SinglesResult& result, const ClassDrill& drill) {
    Cells cells;
    for (std::size_t sample = 0; sample < drill.samples.size(); ++sample) {
        std::vector<std::string> row{drill.samples[sample].what};
        for (std::size_t choice = 0; choice < drill.choices.size(); ++choice) {
            const std::size_t count = result.counts[sample][choice];
            const bool is_right = drill.samples[sample].right == choice;
            row.push_back(is_right     ? std::to_string(count) + " \u2713"
                          : count == 0 ? "\u00B7"
                                       : std::to_string(count));
        }
        cells.push_back(std::move(row));
    }
    return cells;
}

Cells rank_cells(const RankingResult& result, const ClassDrill& drill) {
    Cells cells;
    if (!result.friedman) return cells;
    for (std::size_t sample = 0; sample < drill.samples.size(); ++sample) {
        std::size_t swapped = 0;
        for (const auto& row : result.ranks.by_sample)
            if (sample > 0 && row[sample] < row[sample - 1]) ++swapped;
        cells.push_back(
            {drill.samples[sample].bottle, drill.samples[sample].what,
             fixed(result.friedman->rank_sums[sample], 0),
             sample == 0 ? ""
                         : std::to_string(swapped) + " of " + std::to_string(result.ranks.by_sample.size())});
    }
    return cells;
}

std::string note(const ThresholdResult& result) {
    if (result.seats.empty()) return {};
    return "Assumed before the first answer: " + result.pooled.prior + ".";
}

std::string note(const SinglesResult& result) {
    if (result.distances.empty()) return {};
    return "Ordinal probit over all people as if they graded alike, which makes distances look smaller than "
           "each person's own.";
}

std::string note(const RankingResult& result) {
    if (!result.friedman) return {};
    return "Two rank sums differ at 5 %, two-sided, where they lie " +
           significant(result.friedman->least_significant_difference, 3) +
           " apart; for one comparison chosen beforehand (ISO 8587).";
}

}  // namespace sipladder::drills::classroom

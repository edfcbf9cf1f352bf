#include "drills/naming.hpp"

#include "drills/beforehand.hpp"
#include "drills/recognition.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills {

namespace {

void check(const Plan& plan, Problems& problems) {
    beforehand::check(plan, problems);
    problems.want(line_count(plan) <= 8, "substances", "are " + std::to_string(line_count(plan)),
                  "1 to 8 to choose among");
    for (std::size_t one = 0; one < line_count(plan); ++one)
        for (std::size_t other = 0; other < one; ++other)
            problems.want(substance_of(plan, one).id != substance_of(plan, other).id, "substances",
                          "hold " + substance_of(plan, one).name + " twice", "each once");
    problems.want(plan.most_presentations > line_count(plan), "cups",
                  "are " + std::to_string(plan.most_presentations), "at least one of each, and one blank");
}

Question question(const Plan& plan) {
    return {
        .text = "What is it?", .choices = naming::names(plan), .about_places = false, .asks_certainty = true};
}

std::string share_text(const threshold::ExactShare& share) {
    return percent(share.value) + ", exact 95 % interval " + percent(share.lower) + " to " +
           percent(share.upper);
}

std::string of_times(std::size_t times, std::size_t of) {
    return std::to_string(times) + " of " + std::to_string(of) + " times";
}

std::vector<std::string> mistakes_of(const Plan& plan, const naming::Result& result) {
    std::vector<std::string> sentences;
    for (const perception::TakenFor& one : result.taken_for) {
        const std::string what = result.names[one.row] + " was taken for " + result.names[one.name] + " " +
                                 of_times(one.times, one.served) + " (" + share_text(one.share) + ")";
        sentences.push_back(naming::is_known_overlap(plan, one.row, one.name)
                                ? what +
                                      ": a known overlap, since weak alcohol tastes bitter to many before "
                                      "it warms, and no plain mistake."
                                : what + ".");
    }
    if (result.known_overlaps > 0)
        sentences.push_back("Of all the wrong names " + std::to_string(result.known_overlaps) +
                            " were alcohol called bitter, which is a known overlap.");
    return sentences;
}

/// A ladder of one substance tells from where on it is named.
std::string by_level(const Plan& plan, const naming::Result& result) {
    constexpr std::size_t fewest_rungs = 3;
    std::string text;
    for (const naming::AtLevel& one : result.levels) {
        const solution::MixedLadder& ladder = ladder_of(plan, one.line);
        if (ladder.levels.size() < fewest_rungs || one.served == 0) continue;
        text += (text.empty() ? "Named right, rung by rung: " : "; ") + result.names[one.line] + " at " +
                significant(ladder.levels[one.level].mixed, 2) + " " + unit_text(ladder.scale) + " " +
                of_times(one.right, one.served);
    }
    return text.empty() ? text : text + ".";
}

Finding found(const State& drill) {
    if (beforehand::done(drill).empty()) return {};
    return naming::finding_of(drill.plan, naming::result(drill));
}

}  // namespace

const Rules& naming_rules() {
    static constexpr Rules rules{.name = "naming",
                                 .cups_together = 1,
                                 .has_blanks = true,
                                 .is_fixed = true,
                                 .check = check,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace naming {

std::vector<std::string> names(const Plan& plan) {
    std::vector<std::string> all;
    for (std::size_t line = 0; line < line_count(plan); ++line)
        all.push_back(recognition::name_asked(plan, line));
    all.emplace_back("the base alone");
    return all;
}

perception::NamingPrior assumed_prior() {
    return {};
}

bool is_known_overlap(const Plan& plan, std::size_t row, std::size_t name) {
    const std::size_t lines = line_count(plan);
    return row < lines && name < lines && substance_of(plan, row).component == solution::Component::alcohol &&
           substance_of(plan, name).component == solution::Component::bitter;
}

Result result(const State& drill) {
    const State* const one[] = {&drill};
    return joined(one);
}

namespace {

/// Where the names of one drill stand among those of another.
std::vector<std::size_t> places_among(const std::vector<std::string>& names,
                                      const std::vector<std::string>& all) {
    std::vector<std::size_t> places;
    places.reserve(names.size());
    for (const std::string& name : names) {
        const auto found = std::find(all.begin(), all.end(), name);
        SIPLADDER_EXPECT(found != all.end());
        places.push_back(static_cast<std::size_t>(found - all.begin()));
    }
    return places;
}

void count(Result& result, const State& drill, bool is_first) {
    const Plan& plan = drill.plan;
    const std::vector<std::string> own = names(plan);
    const std::vector<std::size_t> places = places_among(own, result.names);
    for (const Trial& trial : beforehand::done(drill)) {
        const std::size_t row = trial.is_blank ? own.size() - 1 : trial.series;
        const std::size_t name = trial.given->choice;
        ++result.counts[places[row]][places[name]];
        result.known_overlaps += is_known_overlap(plan, row, name) ? 1U : 0U;
        for (AtLevel& one : result.levels)
            if (is_first && !trial.is_blank && one.line == trial.series && one.level == trial.level) {
                ++one.served;
                one.right += row == name ? 1U : 0U;
            }
    }
}

}  // namespace

Result joined(std::span<const State* const> drills) {
    constexpr std::uint64_t bits_use = 60'000;  // away from the uses of drills
    SIPLADDER_EXPECT(!drills.empty());
    const Plan& plan = drills.front()->plan;
    Result result;
    result.names = names(plan);
    const std::size_t rows = result.names.size();
    result.counts.assign(rows, std::vector<std::size_t>(rows, 0));
    for (std::size_t line = 0; line < line_count(plan); ++line)
        for (std::size_t level = 0; level < ladder_of(plan, line).levels.size(); ++level)
            result.levels.push_back({line, level, 0, 0});
    for (const State* drill : drills) count(result, *drill, drill == drills.front());
    std::size_t right = 0;
    std::size_t all = 0;
    for (std::size_t row = 0; row < rows; ++row) {
        std::size_t served = 0;
        for (const std::size_t one : result.counts[row]) served += one;
        right += result.counts[row][row];
        all += served;
        result.right.push_back(served == 0 ? threshold::ExactShare{0.0, 0.0, 1.0}
                                           : threshold::exact_share(result.counts[row][row], served));
    }
    result.right_in_all = threshold::exact_share(right, all);
    result.bits = perception::bits(result.counts, assumed_prior(), derived(drills.front()->seed, bits_use));
    result.most_bits = std::log2(static_cast<double>(rows));
    result.taken_for = perception::taken_for(result.counts);
    return result;
}

Finding finding_of(const Plan& plan, const Result& result) {
    Finding finding;
    std::size_t right = 0;
    std::size_t all = 0;
    for (std::size_t row = 0; row < result.counts.size(); ++row) {
        right += result.counts[row][row];
        for (const std::size_t one : result.counts[row]) all += one;
    }
    finding.sentences.push_back("Named right " + of_times(right, all) + " (" +
                                share_text(result.right_in_all) + "); guessing would give " +
                                percent(1.0 / static_cast<double>(result.names.size())) + ".");
    finding.measures.push_back(
        {"information", result.bits.value, result.bits.lower, result.bits.upper, "bits"});
    finding.sentences.push_back("A name tells " +
                                with_interval(result.bits.value, result.bits.lower, result.bits.upper) +
                                " bits of what is in the cup; naming without a mistake would tell " +
                                significant(result.most_bits, 2) + ".");
    for (std::size_t row = 0; row < result.names.size(); ++row)
        finding.measures.push_back({result.names[row] + " named right", result.right[row].value,
                                    result.right[row].lower, result.right[row].upper, ""});
    for (std::string& sentence : mistakes_of(plan, result)) finding.sentences.push_back(std::move(sentence));
    if (std::string levels = by_level(plan, result); !levels.empty())
        finding.sentences.push_back(std::move(levels));
    return finding;
}

}  // namespace naming

}  // namespace sipladder::drills

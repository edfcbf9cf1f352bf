#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/quick_look.hpp"

#include <algorithm>
#include <cmath>

// Grades rest on a habit of grading, picks among three cups do not. So a few picks check the grades: the
// number right is set against its distribution if the graded cups' posterior of the curve holds.

namespace sipladder::threshold {

namespace {

/// Share right in 3-AFC at this level for each theta and width, the lapse at its posterior mean.
std::vector<double> right_shares(const HabitPosterior& posterior, double x_log10) {
    const std::vector<double> by_lapse = posterior.lapse_marginal();
    double lapse = 0.0;
    for (std::size_t l = 0; l < by_lapse.size(); ++l) lapse += by_lapse[l] * posterior.lapses()[l];
    std::vector<double> shares;
    for (const double theta : posterior.thetas())
        for (const double width : posterior.widths())
            shares.push_back(right_probability({theta, width, lapse}, three_afc, x_log10));
    return shares;
}

std::string words_for(const QuickLookCheck& check) {
    if (check.presentations == 0) return "No 3-AFC was asked, so nothing checks the grades.";
    const std::string found = std::to_string(check.correct) + " of " + std::to_string(check.presentations) +
                              " picks were right, and the grades promise " + fixed(check.expected, 1);
    if (!check.disagrees) return found + ": they agree (p = " + significant(check.p_value, 2) + ").";
    const bool too_few = static_cast<double>(check.correct) < check.expected;
    return found + ": they disagree (p = " + significant(check.p_value, 2) + "). " +
           (too_few ? "The grades claim more than this person can pick out; perhaps something other than the "
                      "taste gave the cups away, or the order was guessed. "
                    : "This person picks out more than the grades say; perhaps faint cups are graded as "
                      "nothing. ") +
           "Believe the picks, and measure by 3-AFC.";
}

}  // namespace

std::optional<std::size_t> check_level(const HabitPosterior& posterior, std::span<const double> levels_log10,
                                       std::span<const int> portions_left) {
    SIPLADDER_EXPECT(levels_log10.size() == portions_left.size());
    constexpr double wanted = 0.75;  // judgement: half-way from the threshold to sure
    const std::vector<double> curves = posterior.curve_marginal();
    std::optional<std::size_t> best;
    double nearest = 2.0;
    for (std::size_t i = 0; i < levels_log10.size(); ++i) {
        if (portions_left[i] <= 0) continue;
        const std::vector<double> shares = right_shares(posterior, levels_log10[i]);
        double mean = 0.0;
        for (std::size_t c = 0; c < curves.size(); ++c) mean += curves[c] * shares[c];
        if (std::abs(mean - wanted) >= nearest) continue;
        nearest = std::abs(mean - wanted);
        best = i;
    }
    return best;
}

QuickLookCheck quick_look_check(const HabitPosterior& posterior, std::span<const double> levels_log10,
                                std::span<const CheckAnswer> answers) {
    QuickLookCheck check;
    check.presentations = answers.size();
    std::vector<std::vector<double>> shares;
    for (const double x : levels_log10) shares.push_back(right_shares(posterior, x));
    const std::vector<double> curves = posterior.curve_marginal();
    std::vector<double> of_count(answers.size() + 1, 0.0);  // probability of each number right
    for (std::size_t c = 0; c < curves.size(); ++c) {
        std::vector<double> here(answers.size() + 1, 0.0);
        here[0] = curves[c];
        for (std::size_t i = 0; i < answers.size(); ++i) {
            SIPLADDER_EXPECT(answers[i].level < levels_log10.size());
            const double right = shares[answers[i].level][c];
            for (std::size_t k = i + 1; k > 0; --k) here[k] = here[k] * (1.0 - right) + here[k - 1] * right;
            here[0] *= 1.0 - right;
        }
        for (std::size_t k = 0; k < here.size(); ++k) of_count[k] += here[k];
    }
    for (const CheckAnswer& answer : answers)
        if (answer.correct) ++check.correct;
    double at_most = 0.0;
    double at_least = 0.0;
    for (std::size_t k = 0; k < of_count.size(); ++k) {
        check.expected += of_count[k] * static_cast<double>(k);
        if (k <= check.correct) at_most += of_count[k];
        if (k >= check.correct) at_least += of_count[k];
    }
    constexpr double level = 0.05;
    check.p_value = std::min(2.0 * std::min(at_most, at_least), 1.0);
    check.disagrees = check.p_value < level;
    check.text = words_for(check);
    return check;
}

}  // namespace sipladder::threshold

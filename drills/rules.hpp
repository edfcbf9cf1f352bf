#pragma once

#include "drills/blinding/sealed_key.hpp"
#include "drills/drill.hpp"
#include "engine/problem.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// What differs from drill to drill, as a table of functions: drills/drill carries out the rest. Inside
/// drills only.
namespace sipladder::drills {

class Problems {
  public:
    void want(bool holds, std::string where, std::string what, std::string right) {
        if (!holds) found_.push_back({std::move(where), std::move(what), std::move(right)});
    }
    void refuse_if_any() {
        if (!found_.empty()) throw Refused(std::move(found_));
    }

  private:
    std::vector<Problem> found_;
};

/// What the next presentation is to hold.
struct Wanted {
    std::size_t series{};
    std::size_t level{};
    bool is_blank = false;
};

using HabitsLearned = std::shared_ptr<const threshold::HabitPosterior>;

struct Rules {
    std::string_view name;      ///< of journal rows
    std::size_t cups_together;  ///< cups in one presentation; 0: a set of every rung
    bool tastes = true;         ///< false: nothing is drunk, so no intake, no rest, no known cups
    bool has_blanks = false;    ///< single cups of the base alone are served too
    bool is_fixed = false;      ///< what is served is drawn before the first cup; no threshold is fitted
    bool knows_first = true;    ///< a known clear cup and a known blank come before the first
    /// What only this drill wants of its plan.
    void (*check)(const Plan& plan, Problems& problems) = nullptr;
    /// What comes next; nothing where no bottle that may be served has a portion left. Not asked of a fixed
    /// drill.
    std::optional<Wanted> (*choose)(const State& drill) = nullptr;
    /// Learns from a done trial of this plan. Not asked of a fixed drill; nothing: the answers are not right
    /// or wrong.
    void (*believe)(const Plan& plan, const Trial& trial,
                    std::vector<threshold::Posterior>& learned) = nullptr;
    /// The same with habits of answering; nothing: they are not learned. @param before  nothing: no trial yet
    HabitsLearned (*heed)(const Plan& plan, const Trial& trial, const HabitsLearned& before) = nullptr;
    bool (*is_precise)(const State& drill, double wanted_sd_log10) = nullptr;
    Question (*question)(const Plan& plan) = nullptr;
    Finding (*finding)(const State& drill) = nullptr;
};

const Rules& rules_of(Kind kind);

/// What the strongest so many of the cups that were poured give.
safety::Intake strongest_of(const Plan& plan, std::vector<sealed_key::Identity> poured, std::size_t cups);

// Each in its drill's own file.
const Rules& detection_rules();
const Rules& balance_rules();
const Rules& difference_rules();
const Rules& mouth_map_rules();
const Rules& naming_rules();
const Rules& persistence_rules();
const Rules& ranking_rules();
const Rules& scaling_rules();
const Rules& weight_rules();
const Rules& nose_rules();
const Rules& quick_look_rules();
const Rules& recognition_rules();
const Rules& tray_check_rules();

/// "sweet", "sour", "rough" …
std::string adjective_of(solution::Component component);
/// "sweetness", "sourness" …
std::string noun_of(solution::Component component);

/// Everything that keeps an answer from being one to this question about so many cups.
std::vector<Problem> problems_of_answer(const Question& question, std::size_t cups, const Answer& answer);

// Shared by drills whose answers are right or wrong.

/// Portions of each rung of a series that are left.
std::vector<int> portions_left(const State& drill, std::size_t line);
/// Adaptive or ascending, as the plan says.
std::optional<std::size_t> level_for(const State& drill, std::size_t series);
/// The plan's one series.
std::optional<Wanted> choose_only_series(const State& drill);
void believe_right_or_wrong(const Plan& plan, const Trial& trial, std::vector<threshold::Posterior>& learned);
bool is_right(const Plan& plan, const Trial& trial);
/// The least that mixing alone adds to the SD of a series.
double least_shared_log10(const Plan& plan, std::size_t series);
bool all_series_precise(const State& drill, double wanted_sd_log10);
/// With warnings of a favoured place, of fatigue and the like added, which need the order of the answers.
threshold::Threshold with_warnings_in_order(const State& drill, std::size_t series,
                                            threshold::Threshold found);
/// "left", "middle", "right".
std::vector<std::string> place_words(std::size_t places_together);
/// A threshold as a line of the finding.
Finding finding_of_thresholds(const State& drill, const std::vector<std::string>& names);

}  // namespace sipladder::drills

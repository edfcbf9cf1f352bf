#include "drills/plans.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills {

namespace {

constexpr double drift_per_root_week_log10 = 0.05;  // judgement
constexpr double between_sittings_log10 = 0.1;      // judgement

threshold::Prior chosen_prior(const solution::Substance& substance, const solution::MixedLadder& ladder,
                              const DetectionOptions& options) {
    switch (options.prior) {
        case PriorChoice::assumed:
            return assumed_prior(substance);
        case PriorChoice::flat:
            return flat_prior(ladder);
        case PriorChoice::own_history:
            if (!options.history)
                throw Refused("prior", "own history was chosen and there is none for " + substance.name,
                              "the assumed or the flat prior");
            return own_prior(*options.history);
    }
    SIPLADDER_EXPECT(false);
    return {};
}

/// A mix may be in a base that content no longer holds; its id is then the best name there is.
std::string base_name(const content::Content& content, const std::string& id) {
    const auto base = std::find_if(content.bases.begin(), content.bases.end(),
                                   [&](const solution::Base& one) { return one.id == id; });
    return base == content.bases.end() ? id : base->name;
}

/// Nothing where the base is not known any more: it was then a water of one's own.
safety::Intake blank_of(const content::Content& content, const std::string& id, Millilitres cup) {
    const auto base = std::find_if(content.bases.begin(), content.bases.end(),
                                   [&](const solution::Base& one) { return one.id == id; });
    return base == content.bases.end() ? safety::Intake{} : safety::intake_of_base(*base, cup);
}

}  // namespace

threshold::Prior assumed_prior(const solution::Substance& substance) {
    threshold::Prior prior;
    prior.kind = threshold::Prior::Kind::assumed;
    prior.mean_log10 = std::log10(substance.prior.centre);
    prior.sd_log10 = substance.prior.sd_log10;
    prior.name = "assumed for " + substance.name + ": centre " + significant(substance.prior.centre, 2) +
                 " " + unit_text(substance.scale) + ", factor " +
                 significant(std::pow(10.0, substance.prior.sd_log10), 2) + " (" + substance.prior.source +
                 ")";
    return prior;
}

threshold::Prior flat_prior(const solution::MixedLadder& ladder) {
    SIPLADDER_EXPECT(!ladder.levels.empty());
    constexpr double decades_beyond = 1.0;
    threshold::Prior prior;
    prior.kind = threshold::Prior::Kind::flat;
    prior.lower_log10 = std::log10(ladder.levels.front().mixed) - decades_beyond;
    prior.upper_log10 = std::log10(ladder.levels.back().mixed) + decades_beyond;
    prior.name = "flat from " + significant(std::pow(10.0, prior.lower_log10), 2) + " to " +
                 significant(std::pow(10.0, prior.upper_log10), 2) + " " + unit_text(ladder.scale);
    return prior;
}

threshold::Prior own_prior(const OwnHistory& history) {
    const threshold::Threshold& last = history.last;
    const double counted_again = history.same_mix ? last.mixing_sd_log10 : 0.0;
    const double known_square = std::max(last.sd_log10 * last.sd_log10 - counted_again * counted_again, 0.0);
    const double weeks = std::max(history.weeks_ago, 0.0);
    threshold::Prior prior;
    prior.kind = threshold::Prior::Kind::normal;
    prior.mean_log10 = last.log10;
    prior.sd_log10 = std::sqrt(known_square + between_sittings_log10 * between_sittings_log10 +
                               weeks * drift_per_root_week_log10 * drift_per_root_week_log10);
    prior.name = "own history of " + history.date;
    return prior;
}

detection::Plan detection_plan(const content::Content& content, const solution::MixedLadder& ladder,
                               const DetectionOptions& options, const safety::Intake& taken_today,
                               const safety::Intake& taken_this_sitting) {
    detection::Plan plan;
    plan.substance = content.substance(ladder.substance);
    plan.base_name = base_name(content, ladder.base);
    plan.ladder = ladder;
    plan.prior = chosen_prior(plan.substance, ladder, options);
    plan.blinding = options.blinding;
    plan.cup = options.cup;
    plan.spat = options.spat;
    plan.most_presentations = options.presentations;
    plan.stop_sd_log10 = options.stop_sd_log10;
    plan.rest_s = plan.substance.rest_s;
    plan.caps = content.cautions.caps;
    plan.blank = blank_of(content, ladder.base, options.cup);
    plan.taken_this_sitting = taken_this_sitting;
    plan.taken_today = taken_today;
    return plan;
}

}  // namespace sipladder::drills

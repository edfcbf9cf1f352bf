#include "gui/views/palate.hpp"

#include "engine/chart/palate_row.hpp"
#include "engine/chart/psychometric_curve.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/views/finding.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

constexpr std::int64_t ms_a_day = 24LL * 3600 * 1000;

/// Days between two local dates, so that last night's sitting is yesterday's by breakfast.
std::int64_t local_day(const Instant& instant) {
    const std::int64_t local_ms = instant.utc_ms + std::int64_t{instant.offset_min} * 60'000;
    return (local_ms - (local_ms % ms_a_day + ms_a_day) % ms_a_day) / ms_a_day;
}

std::string age_of(const Instant& then, const Instant& now) {
    const std::int64_t days = local_day(now) - local_day(then);
    if (days <= 0) return "today";
    if (days == 1) return "yesterday";
    return std::to_string(days) + " days ago";
}

/// The widest of what papers report for a substance, with how many of them there are.
std::optional<chart::Reported> reported_of(const content::Content& content, const std::string& substance) {
    std::optional<chart::Reported> widest;
    for (const content::ReferenceThreshold& one : content.reference_thresholds) {
        if (one.substance != substance) continue;
        const std::string whose = one.source + " (" + one.kind +
                                  (one.people > 0 ? ", " + std::to_string(one.people) + " people" : "") + ")";
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

std::string reported_text(const std::optional<chart::Reported>& reported, Scale scale) {
    if (!reported) return "no published values found";
    return "papers report " + shortest(reported->lower, 2) +
           (reported->upper > reported->lower ? " to " + shortest(reported->upper, 2) : std::string{}) + " " +
           unit_text(scale) + ", methods differ";
}

PalateRowView row_of(const App& app, const PalateEntry& entry) {
    const drills::Plan& plan = entry.past.state.plan;
    PalateRowView row;
    row.title = plan.substance.name + " in " + plan.base_name;
    row.component = plan.substance.component;
    row.number = shown_of(entry.threshold, entry.past.state);
    const auto reported = reported_of(*app.content, plan.substance.id);
    row.ridge = chart::palate_row({.title = {},
                                   .component = row.component,
                                   .threshold = entry.threshold,
                                   .reported = reported,
                                   .hover = row.number.text + "\n" + row.number.whence});
    row.reported = reported_text(reported, entry.threshold.scale);
    row.age = age_of(entry.past.last, app.now);
    return row;
}

/// A flat prior over the range that the assumed one allows, for those who want to see what the prior did.
threshold::Threshold flat_fit(const drills::State& state) {
    threshold::Prior flat = state.plan.prior;
    const threshold::Range range = threshold::theta_range(flat);
    flat.kind = threshold::Prior::Kind::flat;
    flat.name = "flat";
    flat.lower_log10 = range.lower;
    flat.upper_log10 = range.upper;
    return threshold::threshold(state.plan.ladder, drills::answered(state), flat, threshold::three_afc);
}

void show_levels(PalateDetailView& view, const drills::State& state) {
    const solution::MixedLadder& ladder = state.plan.ladder;
    const std::vector<threshold::Answered> answers = drills::answered(state);
    for (std::size_t i = 0; i < ladder.levels.size(); ++i) {
        const solution::MixedLevel& level = ladder.levels[i];
        const double u_rel = std::hypot(level.u_own_rel, level.u_shared_rel);
        const auto served = std::ranges::count(answers, i, &threshold::Answered::level);
        const auto right = std::ranges::count_if(
            answers, [&](const threshold::Answered& a) { return a.level == i && a.correct; });
        view.levels.push_back(
            {.level = with_uncertainty(level.mixed, level.mixed * u_rel) + " " + unit_text(ladder.scale),
             .right = served == 0 ? "not served" : std::to_string(right) + " of " + std::to_string(served),
             .mixed_within = percent(u_rel)});
    }
}

PalateDetailView detail_of(const PalateEntry& entry) {
    const drills::State& state = entry.past.state;
    PalateDetailView view;
    view.title = state.plan.substance.name + " in " + state.plan.base_name;
    view.component = state.plan.substance.component;
    view.number = shown_of(entry.threshold, state);
    view.curve = curve_of(entry.past, entry.threshold);
    show_levels(view, state);
    const threshold::Threshold flat = flat_fit(state);
    view.facts = {
        {view.number.text, "with the prior " + entry.threshold.prior},
        {with_interval(flat.value(), flat.lower(), flat.upper()) + " " + unit_text(flat.scale),
         "with a flat prior: the answers alone"},
        {mixing_share(entry.threshold), "of the variance comes from mixing"},
        {fixed(entry.threshold.width_log10, 2), "width: log10 units from 10 to 90 % of the rise"},
        {state.plan.blinding == drills::Blinding::served ? "served by a helper" : "shuffled tray, alone",
         "blinding; never mixed in one trend"},
        {to_date(entry.past.started), "sitting of"}};
    for (const threshold::Warning& warning : entry.threshold.warnings) view.warnings.push_back(warning.text);
    return view;
}

}  // namespace

PalateView palate_view(const App& app) {
    PalateView view;
    view.foot =
        "Thresholds in water do not predict how strong wine tastes to you. What papers report comes from "
        "other people, other "
        "water and other methods; it is no norm.";
    if (!app.history) return view;
    for (const PalateEntry& entry : app.history->palate) view.rows.push_back(row_of(app, entry));
    if (app.open_row && *app.open_row < app.history->palate.size())
        view.open = detail_of(app.history->palate[*app.open_row]);
    return view;
}

}  // namespace sipladder::gui

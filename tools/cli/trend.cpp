#include "engine/trend/trend.hpp"

#include "drills/history.hpp"
#include "engine/chart/weeks.hpp"
#include "engine/date_span.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/trend/periods.hpp"
#include "tools/cli/grouped.hpp"
#include "tools/cli/journal.hpp"
#include "tools/cli/prior_option.hpp"
#include "tools/cli/task_option.hpp"
#include "tools/cli/verb.hpp"

#include <cmath>
#include <memory>
#include <numbers>
#include <optional>

namespace sipladder::cli {

namespace {

constexpr const char* trend_task = "3-afc";

struct Options {
    std::string file;
    std::string task = trend_task;
    std::string certainty = "fit";
    std::string person;
    std::string substance;
    PriorOptions prior;
    double u_shared_rel = 0.0;
    std::size_t practice = trend::Settings{}.practice;
    std::string control;
    std::string chart;
    std::string earlier;
    std::string later;
};

double value(double log10) {
    return std::pow(10.0, log10);
}
double percent_of(double log10) {
    return 100.0 * (value(log10) - 1.0);
}

Json point_json(const trend::Point& point, const trend::Sitting& sitting) {
    return {{"date", sitting.date},
            {"own_log10", point.own.log10},
            {"own_sd", point.own.sd_log10},
            {"own_lower", point.own.lower_log10},
            {"own_upper", point.own.upper_log10},
            {"log10", point.smoothed.log10},
            {"lower", point.smoothed.lower_log10},
            {"upper", point.smoothed.upper_log10},
            {"sd_log10", point.smoothed.sd_log10},
            {"line_log10", point.line.log10},
            {"line_lower", point.line.lower_log10},
            {"line_upper", point.line.upper_log10},
            {"practice", point.practice},
            {"stretch", point.stretch}};
}

Json change_percent(const std::optional<trend::Change>& change) {
    if (!change) return nullptr;
    return {{"value", percent_of(change->change.log10)},
            {"lower", percent_of(change->change.lower_log10)},
            {"upper", percent_of(change->change.upper_log10)}};
}

Json change_json(const trend::Change& change) {
    return {{"log10", change.change.log10},
            {"lower", change.change.lower_log10},
            {"upper", change.change.upper_log10},
            {"sd_log10", change.change.sd_log10},
            {"drift_log10_per_week", change.drift.log10},
            {"drift_sd", change.drift.sd_log10},
            {"probability_drifting_down", change.probability_drifting},
            {"cut", change.cut},
            {"false_alarms", change.false_alarms},
            {"declared", change.declared},
            {"missed", change.missed},
            {"smallest_seen_half_log10", change.smallest_seen_half_log10}};
}

Json control_json(const trend::Trend& drilled, const trend::Trend& control) {
    const auto& mine = drilled.stretches.back().change;
    const auto& theirs = control.stretches.back().change;
    if (!mine || !theirs) return nullptr;
    const trend::AgainstControl found = trend::against_control(*mine, *theirs);
    return {{"change_log10", found.change.log10},
            {"lower", found.change.lower_log10},
            {"upper", found.change.upper_log10},
            {"probability_fell_more", found.probability_fell_more}};
}

struct Followed {
    TrendAnswers answers;
    trend::Trend trend;
    std::optional<trend::PeriodsCompared> periods;
};

/// The sittings from one date to another, "2026-03-01:2026-03-29".
trend::Period period_from(const std::string& typed, const std::string& option,
                          const std::vector<trend::Sitting>& sittings) {
    const DateSpan span = date_span_from_typed(typed, option);
    std::optional<trend::Period> period;
    for (std::size_t i = 0; i < sittings.size(); ++i) {
        if (!span.holds(sittings[i].date)) continue;
        if (!period) period = trend::Period{i, i};
        period->last = i;
    }
    if (!period)
        throw Refused(option,
                      "has no sitting from " + (span.from.empty() ? "the first" : span.from) + " to " +
                          (span.to.empty() ? "the last" : span.to),
                      "dates between " + sittings.front().date + " and " + sittings.back().date);
    return *period;
}

/// What the journal holds of one person and substance.
drills::Followed in_journal(const Common& common, const Options& options, const std::string& substance) {
    const journal::Journal journal = journal::Journal::open_existing(common.journal);
    const journal::Person person = person_named(journal, options.person);
    std::vector<drills::Followed> all = drills::followed(journal, person.id);
    std::string ids;
    for (const drills::Followed& one : all) ids.append(ids.empty() ? "" : ", ").append(one.substance.id);
    if (all.empty())
        throw Refused("--person", person.name + " has no sitting of detection or quick look",
                      "at least one answer");
    if (substance.empty() && all.size() == 1) return std::move(all.front());
    for (drills::Followed& one : all)
        if (one.substance.id == substance) return std::move(one);
    throw Refused("--substance", substance.empty() ? "is missing" : "\"" + substance + "\" is not there",
                  "one of " + ids);
}

void check_journal_options(const Common& common, const Options& options) {
    if (common.journal.empty() || options.person.empty())
        throw Refused("trend", "has neither a file nor a journal with a person",
                      "FILE, or --journal FILE --person NAME");
    if (options.task != trend_task || options.certainty != "fit" || options.u_shared_rel > 0.0 ||
        options.prior.has_prior() || !options.prior.lapse.empty())
        throw Refused("--journal", "knows task, certainty, mixing and prior by itself",
                      "leave --task, --certainty, --u-shared-rel and the --prior options out");
}

/// @param of  a file; with a journal the substance
Followed followed(const Common& common, const Options& options, const std::string& of) {
    const bool is_file = !options.file.empty();
    Followed found;
    threshold::Task task = threshold::three_afc;
    threshold::Prior prior;
    if (is_file) {
        const Telling telling = telling_from(options.task, options.certainty);
        if (telling != Telling::grades) task = task_from(options.task);
        found.answers = read_trend_answers(read_file(of), of, telling);
        for (trend::Sitting& sitting : found.answers.sittings)
            sitting.u_shared_log10 = options.u_shared_rel / std::numbers::ln10;
        prior = prior_from(options.prior, found.answers.all_counts, found.answers.scale, common);
    } else {
        drills::Followed kept = in_journal(common, options, of);
        found.answers = {kept.scale, std::move(kept.sittings), {}};
        prior = std::move(kept.prior);
    }
    trend::Settings settings;
    settings.scale = found.answers.scale;
    settings.practice = options.practice;
    found.trend = trend::trend(found.answers.sittings, prior, task, settings);
    if (!options.earlier.empty()) {
        const std::vector<trend::Sitting>& sittings = found.answers.sittings;
        found.periods =
            trend::compare(sittings, period_from(options.earlier, "--earlier", sittings),
                           period_from(options.later, "--later", sittings), prior, task, settings);
    }
    return found;
}

Json periods_json(const Followed& found) {
    const trend::PeriodsCompared& compared = *found.periods;
    const auto level = [&](const trend::Period& period, const threshold::Estimate& at) -> Json {
        return {{"first", found.answers.sittings[period.first].date},
                {"last", found.answers.sittings[period.last].date},
                {"log10", at.log10},
                {"lower", at.lower_log10},
                {"upper", at.upper_log10}};
    };
    return {{"earlier", level(compared.earlier, compared.before)},
            {"later", level(compared.later, compared.after)},
            {"change_log10", compared.change.log10},
            {"lower", compared.change.lower_log10},
            {"upper", compared.change.upper_log10},
            {"probability_fell", compared.probability_fell},
            {"differs", compared.differs},
            {"sentences", trend::words(compared, found.answers.sittings, found.trend.scale)}};
}

Json as_json(const Followed& found, const Json& control) {
    const trend::Stretch& last = found.trend.stretches.back();
    Json sittings = Json::array();
    for (const trend::Point& point : found.trend.points)
        sittings.push_back(point_json(point, found.answers.sittings[point.sitting]));
    Json stretches = Json::array();
    for (const trend::Stretch& stretch : found.trend.stretches)
        stretches.push_back({{"first", found.answers.sittings[stretch.first].date},
                             {"last", found.answers.sittings[stretch.last].date},
                             {"why", stretch.why},
                             {"change_percent", change_percent(stretch.change)},
                             {"width_log10", stretch.change ? Json(stretch.width_log10) : Json(nullptr)}});
    const auto& change = last.change;
    return {{"sittings", sittings},
            {"change_percent", change_percent(change)},
            {"probability_improved", change ? Json(change->probability_fell) : Json(nullptr)},
            {"noise_percent", change ? Json(percent_of(change->noise_log10)) : Json(nullptr)},
            {"change", change ? change_json(*change) : Json(nullptr)},
            {"stretches", stretches},
            {"control", control},
            {"periods", found.periods ? periods_json(found) : Json(nullptr)},
            {"unit", unit_text(found.trend.scale)},
            {"prior", found.trend.prior},
            {"sentences", trend::words(found.trend, found.answers.sittings)}};
}

void say_trend(const Followed& found) {
    const std::string unit = " " + unit_text(found.trend.scale);
    for (const trend::Point& point : found.trend.points) {
        const auto text = [&](const threshold::Estimate& at) {
            return with_interval(value(at.log10), value(at.lower_log10), value(at.upper_log10)) + unit;
        };
        const trend::Sitting& sitting = found.answers.sittings[point.sitting];
        std::string line = sitting.date;
        line.append(": alone ").append(text(point.own));
        if (point.practice)
            line += "; practice";
        else
            line.append("; with the others ").append(text(point.smoothed));
        for (const std::string& note : sitting.notes) line.append("; ").append(note);
        say(line);
    }
    for (const std::string& sentence : trend::words(found.trend, found.answers.sittings)) say(sentence);
    if (found.periods)
        for (const std::string& sentence :
             trend::words(*found.periods, found.answers.sittings, found.trend.scale))
            say(sentence);
    say("Prior: " + found.trend.prior + ".");
}

void trend_verb(const Common& common, const Options& options) {
    if (!(options.u_shared_rel >= 0.0 && options.u_shared_rel < 1.0))
        throw Refused("--u-shared-rel", "is " + exact(options.u_shared_rel), "a part from 0 to below 1");
    if (options.earlier.empty() != options.later.empty())
        throw Refused(options.earlier.empty() ? "--earlier" : "--later", "is missing",
                      "both periods, each as two dates, such as 2026-03-01:2026-03-29");
    if (options.file.empty())
        check_journal_options(common, options);
    else if (!options.person.empty())
        throw Refused("--person", "is named beside a file", "one of the two");
    const Followed found = followed(common, options, options.file.empty() ? options.substance : options.file);
    Json control = nullptr;
    if (!options.control.empty()) {
        Options of_control = options;
        of_control.earlier.clear();
        control = control_json(found.trend, followed(common, of_control, options.control).trend);
    }
    if (!options.chart.empty()) {
        constexpr double height_pt = 380.0;
        write_chart(chart::weeks({.title = options.file.empty() ? options.person : options.file,
                                  .component = solution::Component::sour,
                                  .trend = found.trend,
                                  .sittings = found.answers.sittings,
                                  .span = {},
                                  .note = {}}),
                    height_pt, options.chart);
    }
    if (common.json) return print(as_json(found, control));
    say_trend(found);
    if (control.is_object())
        say("Beyond the control: " + fixed(percent_of(control["change_log10"].get<double>()), 0) +
            " % (from " + fixed(percent_of(control["lower"].get<double>()), 0) + " to " +
            fixed(percent_of(control["upper"].get<double>()), 0) + "); probability that it fell more: " +
            fixed(control["probability_fell_more"].get<double>(), 2) + ".");
}

}  // namespace

void add_trend(arguments::Command app, const Common& common) {
    arguments::Command verb =
        app.add_subcommand("trend", "one person and substance over weeks: has it moved?");
    auto options = std::make_shared<Options>();
    verb.add_option("file", options->file,
                    "date, concentration_g_per_L (or _pct_vol), correct or rating; perhaps presentations, "
                    "certainty, mix, "
                    "lot, base, blinding, note");
    verb.add_option("--task", options->task,
                    "3-afc (default), 2-afc, m-afc:M, yes-no, rating:4 (quick look, blanks at 0)");
    verb.add_option("--certainty", options->certainty,
                    "fit (default) or leave: only where the taster could not know the level");
    verb.add_option("--person", options->person, "name or id, in place of a file: what --journal holds");
    verb.add_option("--substance", options->substance, "id, where the journal follows several");
    add_prior_options(verb, options->prior);
    verb.add_option("--u-shared-rel", options->u_shared_rel,
                    "relative uncertainty of each mix; rows with the same `mix` share it");
    verb.add_option("--practice", options->practice, "first sittings kept outside the line (default 2)")
        .between(0, 100);
    verb.add_option("--control", options->control,
                    "the same for a substance that is not drilled: a file, or with --journal its id");
    verb.add_option("--earlier", options->earlier,
                    "two dates, FROM:TO: the sittings to compare with --later");
    verb.add_option("--later", options->later, "two dates, FROM:TO");
    verb.add_option("--chart", options->chart, "writes the picture, .svg or .png");
    verb.on_run([&common, options] { trend_verb(common, *options); });
}

}  // namespace sipladder::cli

#include "engine/trend/trend.hpp"

#include "engine/chart/weeks.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "tools/cli/grouped.hpp"
#include "tools/cli/prior_option.hpp"
#include "tools/cli/task_option.hpp"
#include "tools/cli/verb.hpp"

#include <cmath>
#include <memory>
#include <numbers>

namespace sipladder::cli {

namespace {

struct Options {
    std::string file;
    std::string task = "3-afc";
    PriorOptions prior;
    double u_shared_rel = 0.0;
    std::size_t practice = trend::Settings{}.practice;
    std::string control;
    std::string chart;
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
};

Followed followed(const Common& common, const Options& options, const std::string& file) {
    const threshold::Task task = task_from(options.task);
    Followed found{read_trend_answers(read_file(file), file), {}};
    for (trend::Sitting& sitting : found.answers.sittings)
        sitting.u_shared_log10 = options.u_shared_rel / std::numbers::ln10;
    const threshold::Prior prior =
        prior_from(options.prior, found.answers.all_counts, found.answers.scale, common);
    trend::Settings settings;
    settings.scale = found.answers.scale;
    settings.practice = options.practice;
    found.trend = trend::trend(found.answers.sittings, prior, task, settings);
    return found;
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
    say("Prior: " + found.trend.prior + ".");
}

void trend_verb(const Common& common, const Options& options) {
    if (!(options.u_shared_rel >= 0.0 && options.u_shared_rel < 1.0))
        throw Refused("--u-shared-rel", "is " + exact(options.u_shared_rel), "a part from 0 to below 1");
    const Followed found = followed(common, options, options.file);
    Json control = nullptr;
    if (!options.control.empty())
        control = control_json(found.trend, followed(common, options, options.control).trend);
    if (!options.chart.empty()) {
        constexpr double height_pt = 380.0;
        write_chart(chart::weeks({.title = options.file,
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

void add_trend(CLI::App& app, const Common& common) {
    CLI::App* verb = app.add_subcommand("trend", "one person and substance over weeks: has it moved?");
    auto options = std::make_shared<Options>();
    verb->add_option(
            "file", options->file,
            "date, concentration_g_per_L (or _pct_vol), correct; perhaps presentations, mix, lot, base, "
            "blinding, note")
        ->required();
    verb->add_option("--task", options->task, "3-afc (default), 2-afc, m-afc:M, yes-no");
    add_prior_options(*verb, options->prior);
    verb->add_option("--u-shared-rel", options->u_shared_rel,
                     "relative uncertainty of each mix; rows with the same `mix` share it");
    verb->add_option("--practice", options->practice, "first sittings kept outside the line (default 2)")
        ->check(CLI::Range(0, 100));
    verb->add_option("--control", options->control, "the same for a substance that is not drilled");
    verb->add_option("--chart", options->chart, "writes the picture, .svg or .png");
    verb->callback([&common, options] { trend_verb(common, *options); });
}

}  // namespace sipladder::cli

#include "drills/charts.hpp"

#include "drills/balance.hpp"
#include "drills/beforehand.hpp"
#include "drills/mouth_map.hpp"
#include "drills/naming.hpp"
#include "drills/persistence.hpp"
#include "drills/ranking.hpp"
#include "drills/scaling.hpp"
#include "drills/weight.hpp"
#include "engine/chart/confusion_table.hpp"
#include "engine/chart/felt.hpp"
#include "engine/chart/mouth_outline.hpp"
#include "engine/chart/psychometric_curve.hpp"
#include "engine/chart/word_scale.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills {

namespace {

double value(double log10) {
    return std::pow(10.0, log10);
}

std::string in_base(const Plan& plan) {
    return plan.substance.name + " in " + plan.base_name;
}

/// How often each rung was put at each place.
chart::Chart order_chart(const State& drill, const ranking::Result& result, const std::string& heaviest) {
    const solution::MixedLadder& ladder = drill.plan.ladder;
    const std::size_t rungs = ladder.levels.size();
    chart::ConfusionTable table{
        .title = "Where you put " + in_base(drill.plan),
        .y_title = "level (rows), and its place in your order (columns)",
        .rows = {},
        .inks = std::vector<chart::Ink>(rungs, chart::ink_of(drill.plan.substance.component)),
        .columns = {},
        .counts = std::vector<std::vector<std::size_t>>(rungs, std::vector<std::size_t>(rungs, 0))};
    for (std::size_t rung = 0; rung < rungs; ++rung) {
        table.rows.push_back(significant(ladder.levels[rung].mixed, 3) + " " + unit_text(ladder.scale));
        table.columns.push_back(std::to_string(rung + 1));
    }
    table.columns.back() += ", " + heaviest;
    for (const perception::Order& order : result.orders)
        for (std::size_t place = 0; place < rungs; ++place) ++table.counts[order[place]][place];
    table.note = result.difference_log10 ? "Framed: in its right place." : "Not scored.";
    return chart::confusion_table(table);
}

chart::FeltCups cups_of_marks(const State& drill, std::size_t line, const perception::Growth& growth) {
    const Plan& plan = drill.plan;
    const solution::MixedLadder& ladder = ladder_of(plan, line);
    chart::FeltCups felt;
    felt.name = line == 0 ? "in " + plan.base_name : plan.others[line - 1].condition;
    for (const Trial& trial : beforehand::done(drill))
        if (!trial.is_blank && trial.series == line)
            felt.cups.push_back({ladder.levels[trial.level].mixed, *trial.given->mark});
    constexpr int points = 20;
    const double from = std::log10(ladder.levels.front().mixed);
    const double to = std::log10(ladder.levels.back().mixed);
    for (int i = 0; i <= points; ++i) {
        const double x = from + (to - from) * i / points;
        double y = growth.centre.value + growth.slope.value * (x - growth.middle_log10);
        if (line == 1 && growth.shift) y -= growth.slope.value * growth.shift->value;
        constexpr double end_log10 = 2.0;
        if (y < end_log10) felt.line.push_back({value(x), value(y)});
    }
    return felt;
}

chart::Chart marks_chart(const State& drill, const perception::Growth& growth, const std::string& note) {
    chart::MarksAgainstLevel data{.title = "How strong you marked " + in_base(drill.plan),
                                  .component = drill.plan.substance.component,
                                  .scale = drill.plan.ladder.scale,
                                  .conditions = {},
                                  .note = note};
    const std::size_t lines = has_conditions(drill.plan) ? 2 : 1;
    for (std::size_t line = 0; line < lines; ++line) {
        chart::FeltCups felt = cups_of_marks(drill, line, growth);
        if (!felt.cups.empty()) data.conditions.push_back(std::move(felt));
    }
    return chart::marks_against_level(data);
}

std::vector<chart::Chart> scaling_charts(const State& drill) {
    const Plan& plan = drill.plan;
    const scaling::Result result = scaling::result(drill);
    chart::WordScale words{.title = "Your words for " + in_base(plan),
                           .component = plan.substance.component,
                           .scale = plan.ladder.scale,
                           .from = 0.7 * plan.ladder.levels.front().mixed,
                           .to = 1.4 * plan.ladder.levels.back().mixed,
                           .words = plan.words,
                           .limits = {},
                           .others = {},
                           .note = "Bars: from one word to the next, 95 %."};
    for (const perception::Estimate& limit : result.limits.log10)
        words.limits.push_back({value(limit.value), value(limit.lower), value(limit.upper)});
    if (scaling::has_label_terms(plan)) {
        words.others = chart::sweetness_terms_beside(std::nullopt);
        words.note +=
            " Beneath: what a label may call a still wine of this sugar, by Regulation (EU) 2019/33, "
            "plain and where the acidity is high enough; no thresholds.";
    }
    const perception::Estimate& slope = result.growth.slope;
    return {chart::word_scale(words),
            marks_chart(drill, result.growth,
                        "Exponent " + with_interval(slope.value, slope.lower, slope.upper) + ".")};
}

std::vector<chart::Chart> balance_charts(const State& drill) {
    const balance::Result result = balance::result(drill);
    std::string note = "Just about right at " +
                       with_interval(value(result.right_log10.value), value(result.right_log10.lower),
                                     value(result.right_log10.upper)) +
                       " " + unit_text(drill.plan.ladder.scale) + ".";
    if (result.hidden_log10)
        note = "Hollow: " + drill.plan.others.front().condition + ", where it takes " +
               with_interval(value(result.hidden_log10->value), value(result.hidden_log10->lower),
                             value(result.hidden_log10->upper)) +
               " times as much to be felt as strong as without. " + note;
    return {marks_chart(drill, result.growth, note)};
}

std::vector<chart::Chart> mouth_charts(const State& drill) {
    const mouth_map::Result result = mouth_map::result(drill);
    std::vector<chart::Chart> charts;
    for (std::size_t thing = 0; thing < line_count(drill.plan); ++thing) {
        const std::vector<threshold::ExactShare>& places = result.of[thing].places;
        const bool is_felt = std::any_of(places.begin(), places.end(),
                                         [](const threshold::ExactShare& one) { return one.value > 0.0; });
        if (is_felt) charts.push_back(mouth_chart(drill.plan, result, thing));
    }
    return charts;
}

chart::Chart persistence_chart(const State& drill) {
    const Plan& plan = drill.plan;
    const persistence::Result result = persistence::result(drill);
    chart::HowLong data{
        .title = "How long the " + persistence::sensation_of(plan) + " lasts, " + in_base(plan),
        .component = plan.substance.component,
        .conditions = {},
        .most_seconds = static_cast<double>(plan.most_seconds),
        .note =
            "Words with limits at 2, 5 and 10 s: common practice, no source. Pale: half of "
            "the times. Bar: the middle, 95 %."};
    const std::size_t lines = has_conditions(plan) ? 2 : 1;
    for (std::size_t line = 0; line < lines; ++line) {
        chart::Lasting lasting;
        lasting.name = line == 0 ? (lines == 1 ? "all cups" : "plain") : plan.others.front().condition;
        for (const Trial& trial : beforehand::done(drill))
            if (trial.series == line) lasting.seconds.push_back(*trial.given->seconds);
        const perception::Estimate middle = result.growth.draws.of(
            [&](std::span<const double> at) { return at[0] + (line == 1 ? at[3] : 0.0); });
        lasting.middle = value(middle.value);
        lasting.lower = value(middle.lower);
        lasting.upper = value(middle.upper);
        const double moved = middle.value - result.growth.centre.value;
        lasting.quarter = value(result.quartiles_log10[0].value + moved);
        lasting.three_quarters = value(result.quartiles_log10[1].value + moved);
        data.conditions.push_back(std::move(lasting));
    }
    return chart::how_long(data);
}

}  // namespace

chart::Chart naming_chart(const Plan& plan, const naming::Result& result) {
    chart::ConfusionTable table{.title = "What you took for what",
                                .y_title = "in the cup (rows), and what you called it (columns)",
                                .rows = result.names,
                                .inks = {},
                                .columns = result.names,
                                .counts = result.counts};
    for (std::size_t line = 0; line < line_count(plan); ++line)
        table.inks.push_back(chart::ink_of(substance_of(plan, line).component));
    table.inks.push_back(chart::Ink::base);
    table.columns.back() = "base";
    for (std::size_t row = 0; row < result.names.size(); ++row)
        for (std::size_t name = 0; name < result.names.size(); ++name)
            if (naming::is_known_overlap(plan, row, name)) table.known_overlaps.emplace_back(row, name);
    table.note = "Framed: right. " +
                 std::string(table.known_overlaps.empty()
                                 ? ""
                                 : "Dashed: a known overlap, weak alcohol tastes bitter to many. ") +
                 "A name tells " + with_interval(result.bits.value, result.bits.lower, result.bits.upper) +
                 " of at most " + significant(result.most_bits, 2) + " bits.";
    return chart::confusion_table(table);
}

chart::Chart mouth_chart(const Plan& plan, const mouth_map::Result& result, std::size_t thing) {
    const std::vector<std::string> names = mouth_map::place_names();
    const mouth_map::Of& of = result.of.at(thing);
    chart::MouthOutline data{
        .title = "Where you felt " + of.name, .component = substance_of(plan, thing).component, .parts = {}};
    for (std::size_t place = 0; place < names.size(); ++place)
        data.parts.push_back({names[place], of.places[place].value,
                              fixed(of.places[place].value * static_cast<double>(of.cups), 0) + " of " +
                                  std::to_string(of.cups)});
    data.note = "Yours, and of these cups. There are no zones of the tongue for one taste each.";
    return chart::mouth_outline(data);
}

chart::Chart curve_of(const State& drill, const threshold::Threshold& threshold, std::size_t series,
                      bool with_answers) {
    const std::size_t line = line_of_series(drill.plan, series);
    const solution::MixedLadder& ladder = ladder_of(drill.plan, line);
    const threshold::Task task = task_of(drill.plan);
    threshold::Posterior posterior(prior_of(drill.plan, line), task, threshold::Fineness::coarse);
    const std::vector<threshold::Answered> answers = answered(drill, series);
    for (const threshold::Answered& answer : answers)
        posterior.update(Log10Level{std::log10(ladder.levels.at(answer.level).mixed)}, answer.correct);
    chart::PsychometricCurve data{.title = {},
                                  .component = substance_of(drill.plan, line).component,
                                  .levels = chart::pooled(ladder, answers),
                                  .curve = chart::curve_over(ladder, posterior),
                                  .threshold = threshold,
                                  .guess = task.guess};
    if (with_answers)
        for (const threshold::Answered& answer : answers)
            data.answers.push_back({ladder.levels[answer.level].mixed, answer.correct});
    return chart::psychometric_curve(data);
}

std::vector<chart::Chart> charts_of(const State& drill) {
    const std::vector<Trial> trials = beforehand::done(drill);
    if (!is_fixed(drill.plan) || trials.empty()) return {};
    const bool only_blanks =
        std::all_of(trials.begin(), trials.end(), [](const Trial& trial) { return trial.is_blank; });
    switch (drill.plan.kind) {
        case Kind::naming:
            return {naming_chart(drill.plan, naming::result(drill))};
        case Kind::ranking:
            return {order_chart(drill, ranking::result(drill), "strongest")};
        case Kind::weight:
            return {order_chart(drill, weight::result(drill), "heaviest")};
        case Kind::scaling:
            return only_blanks ? std::vector<chart::Chart>{} : scaling_charts(drill);
        case Kind::balance:
            return balance_charts(drill);
        case Kind::mouth_map:
            return mouth_charts(drill);
        case Kind::persistence:
            return {persistence_chart(drill)};
        default:
            return {};
    }
}

}  // namespace sipladder::drills

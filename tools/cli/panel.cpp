#include "engine/panel/panel.hpp"

#include "engine/chart/class_spread.hpp"
#include "engine/panel/mixed_model.hpp"
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
    std::string certainty = "fit";
    PriorOptions prior;
    double u_shared_rel = 0.0;
    double width_between = panel::Settings{}.width_between_ln_sd;
    std::string chart;
};

double value(double log10) {
    return std::pow(10.0, log10);
}

std::string stand_name(panel::Stand stand) {
    if (stand == panel::Stand::more_sensitive) return "more sensitive";
    if (stand == panel::Stand::less_sensitive) return "less sensitive";
    return "unclear";
}

Json people_json(const panel::Panel& found) {
    Json people = Json::array();
    for (const panel::Person& person : found.people)
        people.push_back({{"assessor", person.name},
                          {"own_log10", person.own.log10},
                          {"own_sd", person.own.sd_log10},
                          {"log10", person.shrunken.log10},
                          {"lower", person.shrunken.lower_log10},
                          {"upper", person.shrunken.upper_log10},
                          {"sd_log10", person.shrunken.sd_log10},
                          {"value", value(person.shrunken.log10)},
                          {"value_lower", value(person.shrunken.lower_log10)},
                          {"value_upper", value(person.shrunken.upper_log10)},
                          {"probability_above_mean", person.probability_above},
                          {"stands", stand_name(person.stand)}});
    return people;
}

/// Which the answers may not allow: one level, or people who are all right.
Json mixed_model_json(const PanelAnswers& answers, const threshold::Task& task) {
    if (answers.all_counts.size() < 2) return nullptr;
    if (answers.right_or_wrong.empty()) return nullptr;  // grades are not for it
    const panel::MixedModel found = panel::mixed_model(answers.right_or_wrong, task);
    if (!found.converged) return nullptr;
    return {{"mean_log10", found.mean_log10},        {"sd_log10", found.spread_log10},
            {"width_log10", found.width_log10},      {"log_likelihood", found.log_likelihood},
            {"assessors_log10", found.people_log10}, {"assessors_sd_log10", found.people_sd_log10}};
}

Json as_json(const panel::Panel& found, const PanelAnswers& answers, const threshold::Task& task) {
    const std::vector<std::string> words = panel::words(found);
    return {{"panel",
             {{"mean_log10", found.mean.log10},
              {"mean_lower", found.mean.lower_log10},
              {"mean_upper", found.mean.upper_log10},
              {"mean_sd", found.mean.sd_log10},
              {"mixing_sd", found.mixing_sd_log10},
              {"sd_log10", found.spread.log10},
              {"sd_lower", found.spread.lower_log10},
              {"sd_upper", found.spread.upper_log10},
              {"width_log10", found.width_log10},
              {"lapse", found.lapse},
              {"log_likelihood", found.log_likelihood},
              {"value", value(found.mean.log10)},
              {"value_lower", value(found.mean.lower_log10)},
              {"value_upper", value(found.mean.upper_log10)},
              {"unit", unit_text(found.scale)},
              {"people_mean_log10", found.people_mean.log10},
              {"people_mean_lower", found.people_mean.lower_log10},
              {"people_mean_upper", found.people_mean.upper_log10}}},
            {"assessors", people_json(found)},
            {"differing", found.differing},
            {"expected_wrong", found.expected_wrong},
            {"mixed_model", mixed_model_json(answers, task)},
            {"prior", found.prior},
            {"sentences", words}};
}

void say_panel(const panel::Panel& found) {
    const std::string unit = " " + unit_text(found.scale);
    for (const panel::Person& person : found.people) {
        std::string line = person.name;
        line.append(": ").append(with_interval(value(person.shrunken.log10),
                                               value(person.shrunken.lower_log10),
                                               value(person.shrunken.upper_log10)));
        line.append(unit).append("; alone ").append(significant(value(person.own.log10), 2)).append(unit);
        if (person.stand != panel::Stand::unclear)
            line.append("; ").append(stand_name(person.stand)).append(" than the mean");
        say(line);
    }
    for (const std::string& sentence : panel::words(found)) say(sentence);
    say("Prior: " + found.prior + ".");
}

void panel_verb(const Common& common, const Options& options) {
    if (!(options.u_shared_rel >= 0.0 && options.u_shared_rel < 1.0))
        throw Refused("--u-shared-rel", "is " + exact(options.u_shared_rel), "a part from 0 to below 1");
    const Telling telling = telling_from(options.task, options.certainty);
    const threshold::Task task = telling == Telling::grades ? threshold::three_afc : task_from(options.task);
    const PanelAnswers answers = read_panel_answers(read_file(options.file), options.file, telling);
    const threshold::Prior prior = prior_from(options.prior, answers.all_counts, answers.scale, common);
    panel::Settings settings;
    settings.scale = answers.scale;
    settings.u_shared_log10 = options.u_shared_rel / std::numbers::ln10;
    settings.width_between_ln_sd = options.width_between;
    const panel::Panel found = panel::pooled(answers.members, prior, task, settings);
    if (!options.chart.empty()) {
        constexpr double line_pt = 11.0;
        write_chart(chart::class_spread({options.file, solution::Component::sour, found}),
                    line_pt * chart::class_spread_lines(found.people.size()), options.chart);
    }
    if (common.json) return print(as_json(found, answers, task));
    say_panel(found);
}

}  // namespace

void add_panel(arguments::Command app, const Common& common) {
    arguments::Command verb =
        app.add_subcommand("panel", "a class pooled: its threshold, its spread, each person in it");
    auto options = std::make_shared<Options>();
    verb.add_option(
            "file", options->file,
            "assessor, concentration_g_per_L (or _pct_vol), presentations, correct; or one row a trial, with "
            "certainty 1 to 3 if given; or rating")
        .required();
    verb.add_option("--task", options->task,
                    "3-afc (default), 2-afc, m-afc:M, yes-no, rating:4 (quick look, blanks at 0)");
    verb.add_option("--certainty", options->certainty,
                    "fit (default) or leave: only where the taster could not know the level");
    add_prior_options(verb, options->prior);
    verb.add_option("--u-shared-rel", options->u_shared_rel,
                    "relative uncertainty of the mix that all drank from");
    verb.add_option("--width-between", options->width_between,
                    "SD of ln width between people (default 0.25)");
    verb.add_option("--chart", options->chart, "writes the class with its shrinkage, .svg or .png");
    verb.on_run([&common, options] { panel_verb(common, *options); });
}

}  // namespace sipladder::cli

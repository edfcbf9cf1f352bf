#include "engine/content/csv.hpp"
#include "engine/problem.hpp"
#include "engine/safety/caution.hpp"
#include "engine/solution/as_mixed.hpp"
#include "engine/solution/planner.hpp"
#include "engine/text.hpp"
#include "tools/cli/verb.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <memory>

namespace sipladder::cli {

namespace {

struct Options {
    std::string ladder;
    std::string equipment;
    std::string base;  ///< empty: the first of the content
    std::string ingredient;
    std::string readings;
    std::size_t cups{};
    double cup_mL{};
    double spare = 0.1;
    double wanted_u_rel = 0.05;
};

bool is_file(const std::string& name) {
    std::error_code ignored;
    return std::filesystem::is_regular_file(name, ignored);
}

/// Presentations for which `cups` portions of every rung are made; the blanks follow from them.
std::size_t presentations_for(std::size_t cups, double portions_share) {
    return static_cast<std::size_t>(std::floor(static_cast<double>(cups) / portions_share + 1e-9));
}

solution::PlanRequest request_of(const content::Content& content, const Options& options) {
    const solution::Ladder ladder = is_file(options.ladder) ? content::load_ladder(options.ladder, content)
                                                            : content.ladder(options.ladder);
    const auto ingredients = content.ingredients_of(ladder.substance());
    if (options.ingredient.empty() && ingredients.empty())
        throw Refused("--ingredient", "content has none for " + ladder.substance(),
                      "add one to ingredients.json");
    solution::Demand demand;
    demand.presentations = presentations_for(options.cups, demand.portions_share);
    demand.cup = Millilitres{options.cup_mL};
    demand.spare = options.spare;
    return {.ladder = ladder,
            .substance = content.substance(ladder.substance()),
            .ingredient =
                options.ingredient.empty() ? ingredients.front() : content.ingredient(options.ingredient),
            .base = options.base.empty() ? content.bases.front() : content.base(options.base),
            .equipment = is_file(options.equipment) ? content::load_equipment(options.equipment, content)
                                                    : content.kitchen(options.equipment),
            .demand = demand,
            .wanted_u_rel = options.wanted_u_rel};
}

/// Readings from a CSV file with the columns step (from 1, as printed) and reading.
solution::Readings readings_in(const std::string& file, const solution::MixPlan& plan) {
    const content::Table table = content::read_csv(read_file(file), file);
    std::vector<Problem> problems;
    const auto step = content::wanted_column(table, "step", problems);
    const auto reading = content::wanted_column(table, "reading", problems);
    if (!problems.empty()) throw Refused(problems);
    solution::Readings readings;
    for (const content::Table::Row& row : table.rows) {
        const auto number =
            content::integer_in(table, row, *step, 1, static_cast<long>(plan.steps.size()), problems);
        const auto shown = content::number_in(table, row, *reading, 1e-6, 1e6, problems);
        if (number && shown) readings[static_cast<std::size_t>(*number - 1)] = *shown;
    }
    if (!problems.empty()) throw Refused(problems);
    return readings;
}

Json levels_json(const solution::MixPlan& plan, const solution::MixedLadder& mixed) {
    Json levels = Json::array();
    for (const solution::MixedLevel& level : mixed.levels)
        levels.push_back({{"target", level.target},
                          {"mixed", level.mixed},
                          {"unit", plan.request.ladder.scale() == Scale::g_per_L ? "g_per_L" : "pct_vol"},
                          {"u_rel", std::hypot(level.u_own_rel, level.u_shared_rel)},
                          {"u_own_rel", level.u_own_rel},
                          {"u_shared_rel", level.u_shared_rel},
                          {"bottle", level.bottle},
                          {"portions", level.portions}});
    return levels;
}

Json plan_json(const solution::MixPlan& plan, const solution::MixedLadder& mixed) {
    Json stocks = Json::array();
    for (const solution::PlannedStock& stock : plan.stocks)
        stocks.push_back({{"name", stock.name},
                          {"concentration", stock.concentration},
                          {"u_rel", stock.u_rel},
                          {"volume_mL", stock.volume.value},
                          {"made_from", stock.made_from}});
    Json steps = Json::array();
    for (const solution::Step& step : plan.steps)
        steps.push_back({{"text", step.text},
                         {"ingredient", step.from},
                         {"reading", step.reading},
                         {"unit", step.unit},
                         {"into", step.into},
                         {"with", step.with}});
    Json shopping = Json::array();
    for (const solution::ShoppingItem& item : plan.shopping)
        shopping.push_back({{"what", item.what}, {"amount", item.amount}, {"unit", item.unit}});
    Json checks = Json::array();
    for (const solution::Check& check : plan.checks)
        checks.push_back({{"what", check.what},
                          {"expected", check.expected},
                          {"unit", check.unit},
                          {"passes_within", check.passes_within}});
    return {{"met", plan.met},
            {"operations", plan.operations},
            {"levels", levels_json(plan, mixed)},
            {"stocks", stocks},
            {"steps", steps},
            {"shopping", shopping},
            {"checks", checks},
            {"advice", plan.advice},
            {"cautions", plan.cautions}};
}

void say_plan(const solution::MixPlan& plan, const solution::MixedLadder& mixed) {
    const std::string unit = unit_text(plan.request.ladder.scale());
    double worst = 0.0;
    for (const auto& level : mixed.levels)
        worst = std::max(worst, std::hypot(level.u_own_rel, level.u_shared_rel));
    const std::string stocks =
        std::to_string(plan.stocks.size()) + (plan.stocks.size() == 1 ? " stock, " : " stocks, ");
    say(stocks + std::to_string(plan.steps.size()) + " steps, " + std::to_string(plan.operations) +
        " hand operations. Every rung within " + percent(worst) + " (standard uncertainty; wanted " +
        percent(plan.request.wanted_u_rel) + ").");
    if (!plan.advice.empty()) say(plan.advice);
    say("");
    for (std::size_t i = 0; i < plan.steps.size(); ++i)
        say(std::to_string(i + 1) + ". " + plan.steps[i].text);
    say("");
    for (const solution::MixedLevel& level : mixed.levels)
        say("bottle " + level.bottle + ": " + significant(level.mixed, 3) + " " + unit + " ± " +
            percent(std::hypot(level.u_own_rel, level.u_shared_rel)) + " (wanted " +
            significant(level.target, 3) + "), " + std::to_string(level.portions) + " cups");
    for (const solution::Check& check : plan.checks)
        say("Check before tasting: " + check.what + ": " + exact(check.expected) + " " + check.unit +
            ", within " + exact(check.passes_within) + ".");
    say("");
    for (const solution::ShoppingItem& item : plan.shopping)
        say("To have at hand: " + item.what +
            (item.amount > 0.0 ? ", " + significant(item.amount, 3) + " " + item.unit : ""));
    say("");
    for (const std::string& caution : plan.cautions) say(caution);
}

void prepare(const Common& common, const Options& options) {
    const content::Content content = load_content(common);
    solution::MixPlan plan = solution::plan(request_of(content, options));
    for (const safety::Caution& caution : safety::cautions_for(content.cautions, plan.request.substance.id))
        plan.cautions.push_back(caution.text);
    const solution::Readings readings =
        options.readings.empty() ? solution::Readings{} : readings_in(options.readings, plan);
    const solution::MixedLadder mixed = solution::as_mixed(plan, readings);
    if (common.json) return print(plan_json(plan, mixed));
    say_plan(plan, mixed);
}

}  // namespace

void add_prepare(CLI::App& app, const Common& common) {
    CLI::App* verb = app.add_subcommand("prepare", "a dilution plan with its error budget");
    auto options = std::make_shared<Options>();
    verb->add_option("--ladder", options->ladder, "id in content/ladders.json, or a file of that shape")
        ->required();
    verb->add_option("--equipment", options->equipment,
                     "id in content/equipment.json, or a file of that shape")
        ->required();
    verb->add_option("--cups", options->cups, "cups of every rung")->required();
    verb->add_option("--cup-mL", options->cup_mL, "millilitres a cup")->required();
    verb->add_option("--base", options->base, "id in content/bases.json (default: the first there)");
    verb->add_option("--ingredient", options->ingredient,
                     "id in content/ingredients.json (default: the first that fits)");
    verb->add_option("--spare", options->spare, "extra volume, as a part of what is needed (default 0.1)");
    verb->add_option("--want-u", options->wanted_u_rel,
                     "relative standard uncertainty wanted (default 0.05)");
    verb->add_option("--readings", options->readings,
                     "CSV with step,reading: what the scale or syringe really showed");
    verb->callback([&common, options] { prepare(common, *options); });
}

}  // namespace sipladder::cli

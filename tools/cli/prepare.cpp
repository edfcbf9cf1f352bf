#include "drills/sheets/bench_sheet.hpp"
#include "drills/sheets/labels.hpp"
#include "drills/sheets/surface.hpp"
#include "engine/content/csv.hpp"
#include "engine/problem.hpp"
#include "engine/safety/caution.hpp"
#include "engine/safety/costs.hpp"
#include "engine/safety/intake.hpp"
#include "engine/solution/advice.hpp"
#include "engine/solution/as_mixed.hpp"
#include "engine/solution/dilution_tree.hpp"
#include "engine/solution/planner.hpp"
#include "engine/solution/usual_ladders.hpp"
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
    std::string out;  ///< folder for the PDFs; empty: none are wanted
    std::string date;
    std::string paper = "a4";
    double cups{};
    double people = 1;
    double cup_mL{};
    double spare = 0.1;
    double wanted_u_rel = 0.05;
};

bool is_file(const std::string& name) {
    std::error_code ignored;
    return std::filesystem::is_regular_file(name, ignored);
}

/// Fewest presentations for which `cups` portions of every rung are made; the blanks follow from them.
std::size_t presentations_for(std::size_t cups, double portions_share) {
    return 1 + static_cast<std::size_t>(std::floor(static_cast<double>(cups - 1) / portions_share + 1e-9));
}

/// A whole number from 1 on.
std::size_t count_of(double typed, const std::string& option, double most) {
    if (!(typed >= 1.0 && typed <= most) || typed != std::floor(typed))
        throw Refused(option, "is " + exact(typed), "a whole number from 1 to " + exact(most) + " is wanted");
    return static_cast<std::size_t>(typed);
}

/// A file, an id, or a usual ladder by name: "first:SUBSTANCE", "fine:SUBSTANCE", "around:SUBSTANCE:LEVEL".
solution::Ladder ladder_of(const content::Content& content, const std::string& asked) {
    if (is_file(asked)) return content::load_ladder(asked, content);
    const std::size_t colon = asked.find(':');
    if (colon == std::string::npos) return content.ladder(asked);
    const std::string kind = asked.substr(0, colon);
    const std::string rest = asked.substr(colon + 1);
    if (kind == "first") return solution::first_ladder(content.substance(rest));
    if (kind == "fine") return solution::first_ladder(content.substance(rest), solution::Rungs::eight_of_two);
    const std::size_t second = rest.find(':');
    const auto found = second == std::string::npos ? std::nullopt : number_from_file(rest.substr(second + 1));
    if (kind != "around" || !found)
        throw Refused("--ladder", "is \"" + asked + "\"",
                      "a file, an id, first:SUBSTANCE, fine:SUBSTANCE or around:SUBSTANCE:LEVEL is wanted");
    return solution::next_ladder(content.substance(rest.substr(0, second)), *found);
}

solution::PlanRequest request_of(const content::Content& content, const Options& options) {
    const solution::Ladder ladder = ladder_of(content, options.ladder);
    const auto ingredients = content.ingredients_of(ladder.substance());
    if (options.ingredient.empty() && ingredients.empty())
        throw Refused("--ingredient", "content has none for " + ladder.substance(),
                      "add one to ingredients.json");
    solution::Demand demand;
    constexpr double most_cups = 120.0;
    constexpr double most_people = 200.0;
    demand.presentations =
        presentations_for(count_of(options.cups, "--cups", most_cups), demand.portions_share);
    demand.people = count_of(options.people, "--people", most_people);
    demand.cup = Millilitres{options.cup_mL};
    demand.spare = options.spare;
    return {.ladder = ladder,
            .substance = content.substance(ladder.substance()),
            .ingredient =
                options.ingredient.empty() ? ingredients.front() : content.ingredient(options.ingredient),
            .base = options.base.empty() ? content.bases.front() : content.base(options.base),
            .equipment = is_file(options.equipment)
                             ? content::load_equipment(options.equipment, content).equipment
                             : content.kitchen(options.equipment),
            .demand = demand,
            .wanted_u_rel = options.wanted_u_rel,
            .to_buy = solution::every_instrument(content.equipment)};
}

/// What happened at the bench, from a CSV file with the columns step (from 1, as printed), reading, and,
/// where wanted, happened: read (the default), skipped (no reading), or left (spilled, and so much is left).
solution::BenchRecord record_in(const std::string& file, const solution::MixPlan& plan) {
    const content::Table table = content::read_csv(read_file(file), file);
    std::vector<Problem> problems;
    content::only_columns(table, {"step", "reading", "happened"}, problems);
    const auto step = content::wanted_column(table, "step", problems);
    const auto reading = content::wanted_column(table, "reading", problems);
    const auto happened = table.column("happened");
    if (!problems.empty()) throw Refused(problems);
    solution::BenchRecord record;
    for (const content::Table::Row& row : table.rows) {
        const auto number =
            content::integer_in(table, row, *step, 1, static_cast<long>(plan.steps.size()), problems);
        const std::string what = happened ? row.cells[*happened] : "read";
        if (what == "skipped") {
            if (number) record.skipped.insert(static_cast<std::size_t>(*number - 1));
            continue;
        }
        const auto shown = content::number_in(table, row, *reading, 1e-6, 1e6, problems);
        if (!number || !shown) continue;
        const std::size_t index = static_cast<std::size_t>(*number - 1);
        if (what == "read" || what.empty())
            record.readings[index] = *shown;
        else if (what == "left")
            record.left[index] = *shown;
        else
            problems.push_back({content::where_in(table, row, *happened), "is \"" + what + "\"",
                                "read, skipped or left is wanted"});
    }
    if (!problems.empty()) throw Refused(problems);
    return record;
}

std::string unit_name(const solution::MixPlan& plan) {
    return plan.request.ladder.scale() == Scale::g_per_L ? "g_per_L" : "pct_vol";
}

Json budget_json(const std::vector<solution::BudgetLine>& budget) {
    Json lines = Json::array();
    for (const solution::BudgetLine& line : budget) {
        Json one = {{"what", line.what}, {"u_rel", line.u_rel}, {"shared", line.shared}};
        if (!line.instrument.empty()) one["instrument"] = line.instrument;
        if (line.step) one["step"] = *line.step + 1;
        lines.push_back(one);
    }
    return lines;
}

Json levels_json(const solution::MixPlan& plan, const solution::AsMixed& mixed) {
    Json levels = Json::array();
    for (std::size_t i = 0; i < mixed.ladder.levels.size(); ++i) {
        const solution::MixedLevel& level = mixed.ladder.levels[i];
        levels.push_back({{"target", level.target},
                          {"mixed", level.mixed},
                          {"unit", unit_name(plan)},
                          {"u_rel", mixed.covariance.u_rel(i)},
                          {"u_own_rel", level.u_own_rel},
                          {"u_shared_rel", level.u_shared_rel},
                          {"bottle", level.bottle},
                          {"portions", level.portions},
                          {"budget", budget_json(mixed.budgets[i])}});
    }
    return levels;
}

/// Row by row, in the order of the levels.
Json covariance_json(const solution::LevelCovariance& covariance) {
    Json rows = Json::array();
    for (std::size_t row = 0; row < covariance.bottles.size(); ++row) {
        Json one = Json::array();
        for (std::size_t column = 0; column < covariance.bottles.size(); ++column)
            one.push_back(covariance.at(row, column));
        rows.push_back(one);
    }
    return rows;
}

std::string kind_name(solution::TreeNodeKind kind) {
    switch (kind) {
        case solution::TreeNodeKind::ingredient:
            return "ingredient";
        case solution::TreeNodeKind::base:
            return "base";
        case solution::TreeNodeKind::stock:
            return "stock";
        case solution::TreeNodeKind::level:
            return "level";
    }
    SIPLADDER_EXPECT(false);
}

Json tree_json(const solution::DilutionTree& tree) {
    Json nodes = Json::array();
    for (const solution::TreeNode& node : tree.nodes)
        nodes.push_back({{"kind", kind_name(node.kind)},
                         {"name", node.name},
                         {"concentration", node.concentration},
                         {"u_rel", node.u_rel},
                         {"volume_mL", node.volume.value},
                         {"drawn_mL", node.drawn.value},
                         {"batches", node.batches}});
    Json edges = Json::array();
    for (const solution::TreeEdge& edge : tree.edges)
        edges.push_back({{"from", edge.from},
                         {"to", edge.to},
                         {"amount", edge.amount},
                         {"unit", edge.unit},
                         {"how", edge.how},
                         {"step", edge.step + 1}});
    return {{"nodes", nodes}, {"edges", edges}};
}

Json costs_json(const safety::Costs& costs) {
    return {{"cups", costs.cups},
            {"minutes", costs.minutes},
            {"bench_minutes", costs.bench_minutes},
            {"most_ethanol_g", costs.worst.ethanol.value},
            {"most_sugar_g", costs.worst.sugar.value},
            {"most_acid_g", costs.worst.acid.value},
            {"most_acid_cups", costs.worst.acid_cups},
            {"most_caffeine_mg", costs.worst.caffeine.value},
            {"most_salt_g", costs.worst.salt.value},
            {"most_tannin_g", costs.worst.tannin.value}};
}

Json missed_json(const std::vector<solution::Missed>& missed) {
    Json all = Json::array();
    for (const solution::Missed& one : missed)
        all.push_back({{"bottle", one.bottle},
                       {"target", one.target},
                       {"mixed", one.mixed},
                       {"left_out", one.left_out},
                       {"reason", one.reason}});
    return all;
}

Json plan_json(const solution::MixPlan& plan, const solution::BenchRecord& record,
               const solution::AsMixed& mixed) {
    Json stocks = Json::array();
    for (const solution::PlannedStock& stock : plan.stocks)
        stocks.push_back({{"name", stock.name},
                          {"concentration", stock.concentration},
                          {"u_rel", stock.u_rel},
                          {"volume_mL", stock.volume.value},
                          {"drawn_mL", stock.drawn.value},
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
        shopping.push_back(
            {{"what", item.what}, {"amount", item.amount}, {"unit", item.unit}, {"why", item.why}});
    Json checks = Json::array();
    for (const solution::Check& check : plan.checks)
        checks.push_back({{"what", check.what},
                          {"expected", check.expected},
                          {"unit", check.unit},
                          {"passes_within", check.passes_within},
                          {"of", check.of},
                          {"instrument", check.instrument}});
    Json keeping = Json::array();
    for (const solution::Keeping& one : plan.keeping)
        keeping.push_back({{"what", one.what}, {"hours", one.hours}, {"how", one.how}});
    return {{"met", plan.met},
            {"operations", plan.operations},
            {"levels", levels_json(plan, mixed)},
            {"stocks", stocks},
            {"steps", steps},
            {"shopping", shopping},
            {"checks", checks},
            {"advice", plan.advice},
            {"cautions", plan.cautions},
            {"covariance_rel", covariance_json(mixed.covariance)},
            {"tree", tree_json(solution::dilution_tree(plan, record))},
            {"costs", costs_json(safety::costs_of(plan))},
            {"keeping", keeping},
            {"missed", missed_json(mixed.missed)},
            {"notes", mixed.notes},
            {"base_mL", plan.base_volume.value},
            {"left_over_mL", plan.left_over.value}};
}

void say_intake(const safety::Intake& worst) {
    std::string text;
    for (const std::string& amount : safety::amounts(worst))
        text.append(text.empty() ? "" : ", ").append(amount);
    if (!text.empty()) say("If every cup is the strongest and all is swallowed: " + text + ".");
}

/// What follows the steps: bottles, checks, costs, shopping, keeping.
void say_bottles(const solution::MixPlan& plan, const solution::AsMixed& mixed) {
    const std::string unit = unit_text(plan.request.ladder.scale());
    for (std::size_t i = 0; i < mixed.ladder.levels.size(); ++i) {
        const solution::MixedLevel& level = mixed.ladder.levels[i];
        say("bottle " + level.bottle + ": " + significant(level.mixed, 3) + " " + unit + " ± " +
            percent(mixed.covariance.u_rel(i)) + " (wanted " + significant(level.target, 3) + "), " +
            std::to_string(level.portions) + " cups");
        if (!mixed.budgets[i].empty())
            say("    mostly " + mixed.budgets[i].front().what + " (" +
                percent(mixed.budgets[i].front().u_rel) + ")");
    }
    for (const solution::Missed& missed : mixed.missed) say(missed.reason);
    for (const std::string& note : mixed.notes) say(note);
    for (const solution::Check& check : plan.checks)
        say("Check before tasting: " + check.what + ": " +
            with_uncertainty(check.expected, check.passes_within) + " " + check.unit + " passes.");
}

void say_plan(const solution::MixPlan& plan, const solution::AsMixed& mixed) {
    double worst = 0.0;
    for (std::size_t i = 0; i < mixed.ladder.levels.size(); ++i)
        worst = std::max(worst, mixed.covariance.u_rel(i));
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
    say_bottles(plan, mixed);
    say("");
    const safety::Costs costs = safety::costs_of(plan);
    say("One drill: " + std::to_string(costs.cups) + " cups a person, about " +
        std::to_string(costs.minutes) + " min; to mix it, about " + std::to_string(costs.bench_minutes) +
        " min.");
    say_intake(costs.worst);
    say("");
    for (const solution::ShoppingItem& item : plan.shopping)
        say("To have at hand: " + item.what +
            (item.amount > 0.0 ? ", " + exact(item.amount) + " " +
                                     (item.unit == "pieces" && item.amount == 1.0 ? "piece" : item.unit)
                               : "") +
            (item.why.empty() ? "" : " (" + item.why + ")"));
    for (const solution::Keeping& one : plan.keeping)
        say("Keeps: " + one.what + ", " + std::to_string(one.hours) + " h at most, " + one.how + ".");
    say("");
    for (const std::string& caution : plan.cautions) say(caution);
}

/// Bench sheet and bottle labels; both are made before the first is written.
std::vector<std::string> write_sheets(const solution::MixPlan& plan, const Options& options) {
    namespace sheets = drills::sheets;
    if (options.out.empty()) return {};
    if (options.date.empty())
        throw Refused("--date", "is missing",
                      "the day of mixing, as 2026-11-26; it stands on sheet and labels");
    const sheets::Paper paper = options.paper == "a4" ? sheets::Paper::a4 : sheets::Paper::us_letter;
    sheets::SheetInfo info;
    info.made = noon_from_day(options.date, "--date");
    const std::string bench = sheets::bench_sheet_pdf(plan, info, paper);
    const std::string labels =
        sheets::labels_pdf(sheets::bottle_labels(plan, info.made), {}, paper, "Bottle labels", info.made);
    std::error_code error;
    std::filesystem::create_directories(options.out, error);
    if (error)
        throw Refused("--out", options.out + " cannot be made: " + error.message(),
                      "a folder that may be written");
    const std::filesystem::path folder(options.out);
    std::vector<std::string> files{(folder / "bench_sheet.pdf").string(),
                                   (folder / "bottle_labels.pdf").string()};
    sheets::write_whole(files[0], bench);
    sheets::write_whole(files[1], labels);
    return files;
}

void prepare(const Common& common, const Options& options) {
    const content::Content content = load_content(common);
    solution::MixPlan plan = solution::plan(request_of(content, options));
    safety::refuse_above_caps(plan, content.cautions.caps);
    for (const safety::Caution& caution : safety::cautions_for(content.cautions, plan.request.substance.id))
        plan.cautions.push_back(caution.text);
    const solution::BenchRecord record =
        options.readings.empty() ? solution::BenchRecord{} : record_in(options.readings, plan);
    const solution::AsMixed mixed = solution::after_mixing(plan, record);
    const std::vector<std::string> files = write_sheets(plan, options);
    if (common.json) {
        Json json = plan_json(plan, record, mixed);
        json["files"] = files;
        return print(json);
    }
    say_plan(plan, mixed);
    for (const std::string& file : files) say("wrote " + file);
}

}  // namespace

void add_prepare(arguments::Command app, const Common& common) {
    arguments::Command verb = app.add_subcommand("prepare", "a dilution plan with its error budget");
    auto options = std::make_shared<Options>();
    verb.add_option("--ladder", options->ladder,
                    "id in content/ladders.json, a file of that shape, first:SUBSTANCE (6 rungs of ratio 3), "
                    "fine:SUBSTANCE (8 of 2) or around:SUBSTANCE:LEVEL (5 of 2 around what was found)")
        .required();
    verb.add_option("--equipment", options->equipment,
                    "id in content/equipment.json, or a file of that shape")
        .required();
    verb.add_option("--cups", options->cups, "cups of every rung for each person").required();
    verb.add_option("--people", options->people, "so many do the whole drill from these bottles (default 1)");
    verb.add_option("--cup-mL", options->cup_mL, "millilitres a cup").required();
    verb.add_option("--base", options->base, "id in content/bases.json (default: the first there)");
    verb.add_option("--ingredient", options->ingredient,
                    "id in content/ingredients.json (default: the first that fits)");
    verb.add_option("--spare", options->spare, "extra volume, as a part of what is needed (default 0.1)");
    verb.add_option("--want-u", options->wanted_u_rel, "relative standard uncertainty wanted (default 0.05)");
    verb.add_option("--readings", options->readings,
                    "CSV with step,reading[,happened]: what the scale or syringe really showed; happened is "
                    "read, skipped or left (spilled)");
    verb.add_option("--out", options->out, "folder for bench sheet and bottle labels as PDFs");
    verb.add_option("--date", options->date, "the day of mixing, as 2026-11-26; wanted with --out");
    verb.add_option("--paper", options->paper, "a4 | letter (default a4)").one_of({"a4", "letter"});
    verb.on_run([&common, options] { prepare(common, *options); });
}

}  // namespace sipladder::cli

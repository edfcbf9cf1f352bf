#include "drills/plans.hpp"
#include "engine/content/field.hpp"
#include "engine/content/json_file.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "tools/cli/verb.hpp"
#include "tools/simulate/drill_run.hpp"

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <memory>
#include <string>
#include <vector>

namespace sipladder::cli {

namespace {

struct Options {
    std::string drill;
    std::size_t assessors = 1000;
    std::uint64_t seed = 1;
    std::string truth;
    std::size_t presentations = 12;
    int portions = 0;
    std::string blinding = "served";
    std::string order = "adaptive";
    std::string prior = "assumed";
    double stop_sd = 0.0;
    int minutes = 0;
    double u_own_rel = 0.02;
    double u_shared_rel = 0.02;
    std::size_t threads = 0;
};

constexpr double most_log10 = 10.0;

void read_width(const content::Field& width, simulate::Truth& truth) {
    width.only({"from", "to"});
    constexpr double narrowest = 0.05;
    const double from = width.at("from").number(narrowest, most_log10);
    const double to = width.at("to").number(narrowest, most_log10);
    if (to < from) width.note("runs from " + exact(from) + " to " + exact(to), "from at most to");
    truth.width_log10 = simulate::Spread{from, to};
}

void read_mixing(const content::Field& mixing, simulate::Truth& truth) {
    mixing.only({"own_rel", "shared_rel"});
    truth.own_error_rel = mixing.at("own_rel").number(0.0, 1.0);
    truth.shared_error_rel = mixing.at("shared_rel").number(0.0, 1.0);
    truth.mixing_errors = *truth.own_error_rel > 0.0 || *truth.shared_error_rel > 0.0;
}

simulate::Truth read_truth(const std::string& file) {
    std::vector<Problem> problems;
    const auto document = content::read_json_file(file, problems);
    if (!document) throw Refused(problems);
    const content::Field root(*document, file, problems);
    root.only({"schema", "theta_log10", "width_log10", "lapse", "position_bias_d_prime", "fatigue_log10",
               "carry_over_log10", "weibull", "mixing_error", "note"});
    root.at("schema").one_of({"sipladder-truth/1"});
    simulate::Truth truth;
    if (const content::Field theta = root.at("theta_log10"); theta.is_there()) {
        theta.only({"mean", "sd"});
        truth.theta_mean_log10 = theta.at("mean").number(-most_log10, most_log10);
        truth.theta_sd_log10 = theta.at("sd").number(0.0, most_log10);
    }
    if (const content::Field width = root.at("width_log10"); width.is_there()) read_width(width, truth);
    const auto number = [&root](const char* key, double lo, double hi) -> std::optional<double> {
        const content::Field field = root.at(key);
        return field.is_there() ? std::optional(field.number(lo, hi)) : std::nullopt;
    };
    constexpr double most_lapse = 0.6;
    constexpr double most_bias = 4.0;
    truth.lapse = number("lapse", 0.0, most_lapse);
    truth.position_bias_d_prime = number("position_bias_d_prime", 0.0, most_bias).value_or(0.0);
    truth.fatigue_log10 = number("fatigue_log10", -1.0, 1.0).value_or(0.0);
    truth.carry_over_log10 = number("carry_over_log10", -1.0, most_log10).value_or(0.0);
    if (const content::Field weibull = root.at("weibull"); weibull.is_there())
        truth.weibull = weibull.boolean();
    if (const content::Field mixing = root.at("mixing_error"); mixing.is_there()) read_mixing(mixing, truth);
    if (!problems.empty()) throw Refused(problems);
    return truth;
}

/// "recognition:sucrose_first,tartaric_acid_first" in two parts; a bare ladder is detection.
struct DrillId {
    drills::Kind kind = drills::Kind::detection;
    std::vector<std::string> ladders;
};

DrillId read_drill(const std::string& text) {
    DrillId id;
    std::string rest = text;
    if (const auto colon = text.find(':'); colon != std::string::npos) {
        const std::string name = text.substr(0, colon);
        rest = text.substr(colon + 1);
        std::string known;
        bool is_known = false;
        for (const drills::Kind kind : drills::every_kind) {
            known += (known.empty() ? "" : ", ") + drills::name_of(kind);
            if (drills::name_of(kind) != name) continue;
            id.kind = kind;
            is_known = true;
        }
        if (!is_known) throw Refused("--drill", "names the drill \"" + name + "\"", "one of " + known);
    }
    for (std::size_t from = 0; from <= rest.size();) {
        const std::size_t to = std::min(rest.find(',', from), rest.size());
        id.ladders.push_back(rest.substr(from, to - from));
        from = to + 1;
    }
    return id;
}

drills::Blinding blinding_of(const std::string& name) {
    if (name == "sealed-key") return drills::Blinding::sealed_key;
    return name == "served" ? drills::Blinding::served : drills::Blinding::shuffled_tray;
}

/// The ladder as if mixed on target, with bottles A, B, C … and what a good kitchen leaves uncertain.
solution::MixedLadder ladder_of(const solution::Ladder& ladder, const DrillId& id, const Options& options) {
    constexpr double stock_share = 0.6;  // portions of each rung, of the presentations
    const int usual =
        drills::is_fixed(id.kind)
            ? drills::portions_needed(id.kind, blinding_of(options.blinding), options.presentations,
                                      id.ladders.size(), ladder.size())
            : static_cast<int>(std::ceil(stock_share * static_cast<double>(options.presentations)));
    solution::MixedLadder mixed{ladder.substance(), "water", ladder.scale(), {}};
    for (std::size_t i = 0; i < ladder.size(); ++i) {
        const std::string letter(1, static_cast<char>('A' + static_cast<int>(i % 26)));
        mixed.levels.push_back({ladder.targets()[i], ladder.targets()[i], options.u_own_rel,
                                options.u_shared_rel, i < 26 ? letter : letter + letter,
                                options.portions > 0 ? options.portions : usual + 1});
    }
    return mixed;
}

/// Bottles of several ladders bear letters of their own.
std::vector<solution::MixedLadder> ladders_of(const content::Content& content, const DrillId& id,
                                              const Options& options) {
    std::vector<solution::MixedLadder> ladders;
    for (const std::string& name : id.ladders) {
        ladders.push_back(ladder_of(content.ladder(name), id, options));
        if (ladders.size() > 1)
            for (solution::MixedLevel& level : ladders.back().levels)
                level.bottle += std::to_string(ladders.size());
    }
    // The same ladder a second time is another condition of it.
    const bool has_conditions = id.kind == drills::Kind::balance || id.kind == drills::Kind::persistence;
    if (has_conditions && ladders.size() == 2) ladders.back().base = "water_with_acid";
    return ladders;
}

drills::Plan plan_of(const content::Content& content, const Options& options) {
    const DrillId id = read_drill(options.drill);
    drills::DrillOptions wanted;
    wanted.blinding = blinding_of(options.blinding);
    wanted.order = options.order == "ascending" ? drills::Order::ascending : drills::Order::adaptive;
    wanted.presentations = options.presentations;
    wanted.stop_sd_log10 = options.stop_sd;
    wanted.prior = options.prior == "flat" ? drills::PriorChoice::flat : drills::PriorChoice::assumed;
    std::vector<solution::MixedLadder> ladders = ladders_of(content, id, options);
    // The weakest rung stands in every presentation.
    if (id.kind == drills::Kind::difference)
        ladders.front().levels.front().portions = static_cast<int>(options.presentations) + 1;
    drills::Plan plan = drills::drill_plan(content, id.kind, ladders, wanted);
    plan.most_minutes = options.minutes;
    return plan;
}

Json figure(const simulate::Figure& one) {
    return one.value;
}

void show(const Common& common, const Options& options, const simulate::DrillFigures& found) {
    if (common.json) {
        Json json{{"rmse_log10", figure(found.rmse_log10)},
                  {"bias_log10", figure(found.bias_log10)},
                  {"coverage_95", figure(found.coverage_95)},
                  {"mean_presentations", figure(found.presentations)},
                  {"mean_cups", figure(found.cups)},
                  {"mean_claimed_sd_log10", figure(found.claimed_sd_log10)},
                  {"standard_errors",
                   {{"rmse_log10", found.rmse_log10.standard_error},
                    {"bias_log10", found.bias_log10.standard_error},
                    {"coverage_95", found.coverage_95.standard_error},
                    {"mean_presentations", found.presentations.standard_error},
                    {"mean_cups", found.cups.standard_error},
                    {"mean_claimed_sd_log10", found.claimed_sd_log10.standard_error}}},
                  {"warned", Json::object()},
                  {"ended", Json::object()},
                  {"assessors", options.assessors},
                  {"seed", options.seed}};
        if (found.ratio_coverage_95) {
            json["ratio_bias_log10"] = figure(*found.ratio_bias_log10);
            json["ratio_coverage_95"] = figure(*found.ratio_coverage_95);
        }
        for (const auto& [name, one] : found.measured)
            json["measures"][name] = {{"bias", one.bias.value},
                                      {"bias_standard_error", one.bias.standard_error},
                                      {"bias_in", one.by_ratio ? "log10 units" : "its own unit"},
                                      {"coverage_95", one.coverage_95.value},
                                      {"coverage_95_standard_error", one.coverage_95.standard_error}};
        for (const auto& [name, share] : found.warned)
            json["warned"][name] = {{"share", share.value}, {"standard_error", share.standard_error}};
        for (const auto& [why, share] : found.ended) json["ended"][why] = share.value;
        return print(json);
    }
    const auto line = [](const std::string& what, const simulate::Figure& one, int decimals) {
        say(what + " " + fixed(one.value, decimals) + " (standard error " +
            fixed(one.standard_error, decimals + 1) + ")");
    };
    say(std::to_string(options.assessors) + " simulated assessors through " + options.drill + ", seed " +
        std::to_string(options.seed));
    for (const auto& [name, one] : found.measured) {
        line("bias of " + name + (one.by_ratio ? " (log10 units)" : ""), one.bias, 3);
        line("share of its 95 % intervals that hold the truth", one.coverage_95, 3);
    }
    if (found.measured.empty()) {
        line("error of the threshold (RMSE, log10 units)", found.rmse_log10, 3);
        line("bias (log10 units)", found.bias_log10, 3);
        line("claimed standard deviation (log10 units)", found.claimed_sd_log10, 3);
        line("share of 95 % intervals that hold the truth", found.coverage_95, 3);
    }
    if (found.ratio_coverage_95) {
        line("bias of closed over open (log10 units)", *found.ratio_bias_log10, 3);
        line("share of its 95 % intervals that hold the truth", *found.ratio_coverage_95, 3);
    }
    line("presentations", found.presentations, 1);
    line("cups", found.cups, 1);
    for (const auto& [why, share] : found.ended) line("ended: " + why, share, 3);
    for (const auto& [name, share] : found.warned) line("warned: " + name, share, 3);
}

void simulate_drill(const Common& common, const Options& options) {
    simulate::DrillRun run;
    run.plan = plan_of(load_content(common), options);
    if (!options.truth.empty()) run.truth = read_truth(options.truth);
    run.assessors = options.assessors;
    run.seed = Seed{options.seed};
    run.threads = options.threads;
    if (isatty(STDERR_FILENO) != 0)
        run.progress = [&options](std::size_t done) {
            std::cerr << "\r\033[K";
            if (done < options.assessors) std::cerr << done << " of " << options.assessors << std::flush;
        };
    show(common, options, simulate::run_drill(run));
}

}  // namespace

void add_simulate(arguments::Command app, const Common& common) {
    arguments::Command verb =
        app.add_subcommand("simulate", "simulated assessors through a real drill: how good is it?");
    auto options = std::make_shared<Options>();
    verb.add_option(
            "--drill", options->drill,
            "a drill by the ids of its ladders in content: sucrose_first, quick_look:sucrose_first, nose:…, "
            "difference:…, recognition:sucrose_first,sodium_chloride_first, naming:…,…, ranking:…, "
            "scaling:…, mouth_map:…,…, weight:…; balance:… and persistence:… with the same ladder again for "
            "a second condition")
        .required();
    verb.add_option("--assessors", options->assessors, "how many (default 1000)").between(1, 1'000'000);
    verb.add_option("--seed", options->seed, "another seed, other assessors (default 1)");
    verb.add_option("--truth", options->truth,
                    "JSON of what is true of them; without it all is as the prior and the ladder say");
    verb.add_option("--presentations", options->presentations, "at most so many (default 12)")
        .between(1, 200);
    verb.add_option("--portions", options->portions,
                    "of each rung (default 0.6 of the presentations, and the known cup)")
        .between(1, 1000);
    verb.add_option("--blinding", options->blinding, "served | shuffled-tray | sealed-key (default served)")
        .one_of({"served", "shuffled-tray", "sealed-key"});
    verb.add_option("--order", options->order, "adaptive | ascending (default adaptive)")
        .one_of({"adaptive", "ascending"});
    verb.add_option("--prior", options->prior, "assumed | flat (default assumed)")
        .one_of({"assumed", "flat"});
    verb.add_option("--stop-sd", options->stop_sd,
                    "stop when the claimed SD is at or below this, log10 units")
        .between(0.0, 10.0);
    verb.add_option("--minutes", options->minutes, "stop once so many minutes have passed").between(0, 2880);
    verb.add_option("--u-own-rel", options->u_own_rel, "what each level claims for itself (default 0.02)")
        .between(0.0, 1.0);
    verb.add_option("--u-shared-rel", options->u_shared_rel, "what the whole ladder claims (default 0.02)")
        .between(0.0, 1.0);
    verb.add_option("--threads", options->threads, "0: all cores; the figures do not depend on it")
        .between(0, 1024);
    verb.on_run([&common, options] { simulate_drill(common, *options); });
}

}  // namespace sipladder::cli

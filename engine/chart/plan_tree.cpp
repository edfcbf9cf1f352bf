// A plan's steps tell the tree: what goes into a container first is taken from its source, the next step
// fills it up. For the drawing a gram of solution counts as the part of the whole that it is, so no density
// is needed.
#include "engine/chart/dilution_tree.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <map>

namespace sipladder::chart {

namespace {

using solution::MixPlan;
using solution::Step;

bool is_load(const Step& step) {
    return step.kind == solution::StepKind::weigh || step.kind == solution::StepKind::measure_volume ||
           step.kind == solution::StepKind::count_pieces || step.kind == solution::StepKind::draw_stock;
}

/// The steps that fill one container, all its batches.
struct Filled {
    std::string from;
    double taken{};  ///< of `from`, in `unit`
    std::string unit;
    double total{};  ///< in `total_unit`; 0 where nothing is filled up
    std::string total_unit;
    std::size_t batches = 0;
    std::string how;
};

std::map<std::string, Filled> filled_by(const MixPlan& plan) {
    std::map<std::string, Filled> all;
    for (const Step& step : plan.steps) {
        Filled& filled = all[step.into];
        if (is_load(step)) {
            ++filled.batches;
            filled.from = step.from;
            filled.taken += step.reading;
            filled.unit = step.unit;
            if (filled.batches == 1)
                filled.how = significant(step.reading, 4) + " " + step.unit + " of " + step.from + " (" +
                             step.with + ")";
        } else {
            filled.total += step.reading;
            filled.total_unit = step.unit;
            if (filled.batches == 1)
                filled.how += ", filled up with " + step.from + " to " + significant(step.reading, 4) + " " +
                              step.unit + " (" + step.with + ")";
        }
    }
    return all;
}

std::string amount_text(double amount, const std::string& unit) {
    if (unit == "mL" && amount >= 1000.0) return significant(amount / 1000.0, 3) + " L";
    return significant(amount, amount < 1000.0 ? 3 : 4) + " " + unit;
}

}  // namespace

DilutionTree dilution_tree(const MixPlan& plan) {
    DilutionTree tree;
    tree.component = plan.request.substance.component;
    tree.scale = plan.request.ladder.scale();
    const std::map<std::string, Filled> filled = filled_by(plan);
    const std::string& bought = plan.request.ingredient.name;
    tree.nodes.push_back(
        {.kind = TreeNode::Kind::ingredient, .name = bought, .from = {}, .amount = {}, .how = {}});
    std::map<std::string, std::size_t> made{{bought, 0}};
    const auto add = [&](TreeNode node, const std::string& into) {
        const auto found = filled.find(into);
        if (found != filled.end()) {
            const Filled& steps = found->second;
            const auto source = made.find(steps.from);
            node.from = source == made.end() ? 0 : source->second;
            TreeNode& parent = tree.nodes[*node.from];
            node.taken_mL = steps.taken;
            if (*node.from == 0) {
                parent.volume_mL += steps.taken;
                parent.amount = amount_text(parent.volume_mL, steps.unit);
            } else if (const auto whole = filled.find(steps.from);
                       steps.unit == "g" && whole != filled.end() && whole->second.total_unit == "g" &&
                       whole->second.total > 0.0) {
                node.taken_mL = parent.volume_mL * steps.taken / whole->second.total;
            }
            node.batches = std::max<std::size_t>(steps.batches, 1);
            node.how = steps.how + (steps.batches > 1 ? ", each batch" : "");
        }
        made[into] = tree.nodes.size();
        tree.nodes.push_back(std::move(node));
    };
    for (const solution::PlannedStock& stock : plan.stocks)
        add({.kind = TreeNode::Kind::stock,
             .name = stock.name,
             .from = 0,
             .volume_mL = stock.volume.value,
             .amount = amount_text(stock.volume.value, "mL"),
             .level = stock.concentration,
             .u_rel = stock.u_rel,
             .how = {}},
            stock.name);
    for (const solution::PlannedLevel& level : plan.levels)
        add({.kind = TreeNode::Kind::level,
             .name = level.bottle,
             .from = 0,
             .volume_mL = level.volume.value,
             .amount = amount_text(level.volume.value, "mL"),
             .level = level.mixed,
             .u_rel = level.u_rel(),
             .how = {}},
            "bottle " + level.bottle);
    return tree;
}

}  // namespace sipladder::chart

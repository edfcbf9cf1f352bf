#include "engine/solution/dilution_tree.hpp"

#include "engine/solution/bench_steps.hpp"
#include "engine/solution/followed.hpp"
#include "engine/solution/mixture.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::solution {

namespace {

constexpr std::size_t ingredient_node = 0;
constexpr std::size_t base_node = 1;

std::size_t node_named(const DilutionTree& tree, const std::string& name) {
    const auto found = std::find_if(tree.nodes.begin(), tree.nodes.end(),
                                    [&](const TreeNode& node) { return node.name == name; });
    return static_cast<std::size_t>(found - tree.nodes.begin());
}

double level_of(const MixPlan& plan, double held_g_per_L) {
    return held_g_per_L > 0.0 ? level_from_held(plan.request.substance, GramsPerLitre{held_g_per_L}) : 0.0;
}

TreeNode ingredient_of(const MixPlan& plan) {
    TreeNode node;
    node.kind = TreeNodeKind::ingredient;
    node.name = plan.request.ingredient.name;
    node.concentration = level_of(plan, held_of(plan.request.ingredient).value);
    node.u_rel = u_rel_of(plan.request.ingredient);
    return node;
}

TreeNode bottle_of(const MixPlan& plan, const Followed& done, const Bottle& bottle, std::size_t depth) {
    TreeNode node;
    node.kind = bottle.name.starts_with("stock") ? TreeNodeKind::stock : TreeNodeKind::level;
    node.name = bottle.name;
    node.concentration = level_of(plan, bottle.held_g_per_L);
    node.u_rel = std::sqrt(covariance_rel(bottle, bottle));
    node.volume = Millilitres{bottle.volume_mL};
    node.batches = bottle.makings.size();
    node.depth = depth;
    for (const std::size_t i : bottle.makings) node.drawn += drawn_from(done.makings, done.mixtures, i);
    return node;
}

/// Volume of what a load takes from its source; 0 for a powder.
double load_mL(const MixPlan& plan, const Followed& done, const Making& making) {
    if (making.load.instrument.is_count) return 0.0;
    if (!making.load.instrument.is_balance) return making.load.value;
    const bool is_bought = making.from == ingredient_itself;
    const double held =
        is_bought ? held_of(plan.request.ingredient).value : done.mixtures[making.from].held_g_per_L;
    if (held <= 0.0 && is_bought) return 0.0;
    const double mass_fraction = is_bought
                                     ? mass_fraction_of(plan.request.ingredient, plan.request.substance).value
                                     : done.mixtures[making.from].mass_fraction;
    return held > 0.0 ? 1000.0 * making.load.value * mass_fraction / held : making.load.value;
}

std::string how(const MixPlan& plan, const Reading& reading, std::size_t batches) {
    const Equipment& equipment = plan.request.equipment;
    if (reading.instrument.is_count) return shown(equipment, reading) + " by counting";
    const std::string& instrument = reading.instrument.is_balance
                                        ? equipment.balances.at(reading.instrument.index).name
                                        : equipment.vessels.at(reading.instrument.index).name;
    return (batches > 1 ? std::to_string(batches) + " times " : "") + shown(equipment, reading) +
           (reading.instrument.is_balance ? " on the " : " with the ") + instrument;
}

void add_edges(DilutionTree& tree, const MixPlan& plan, const Followed& done, const Bottle& bottle) {
    const std::size_t to = tree.nodes.size() - 1;
    const Making& first = done.makings[bottle.makings.front()];
    const std::size_t from =
        first.from == ingredient_itself ? ingredient_node : node_named(tree, done.makings[first.from].into);
    TreeEdge load{from, to, 0.0, "mL", {}, {}, 0};
    if (first.load.instrument.is_balance) load.unit = "g";
    if (first.load.instrument.is_count) load.unit = "pieces";
    TreeEdge base{base_node, to, 0.0, "mL", {}, {}, 0};
    for (const std::size_t i : bottle.makings) {
        const Making& making = done.makings[i];
        const double taken_mL = making.has_load ? load_mL(plan, done, making) : 0.0;
        if (making.has_load) load.amount += making.load.value;
        load.volume += Millilitres{taken_mL};
        if (!making.is_filled_up) continue;
        base.volume += Millilitres{std::max(0.0, done.mixtures[i].volume_mL - taken_mL)};
    }
    base.amount = base.volume.value;
    load.how = how(plan, first.load, bottle.makings.size());
    base.how = "filled up to " + how(plan, first.total, bottle.makings.size());
    load.step = done.first_step + 2 * bottle.makings.front();
    base.step = load.step + 1;
    tree.nodes[ingredient_node].drawn += from == ingredient_node ? load.volume : Millilitres{0.0};
    tree.nodes[base_node].drawn += base.volume;
    if (load.amount > 0.0) tree.edges.push_back(std::move(load));
    if (base.volume.value > 0.0) tree.edges.push_back(std::move(base));
}

}  // namespace

DilutionTree dilution_tree(const MixPlan& plan, const BenchRecord& record) {
    const Followed done = followed(plan, record);
    DilutionTree tree;
    tree.nodes.push_back(ingredient_of(plan));
    tree.nodes.emplace_back();
    tree.nodes[base_node].kind = TreeNodeKind::base;
    tree.nodes[base_node].name = plan.request.base.name;
    for (const Bottle& bottle : done.bottles) {
        const std::size_t from = done.makings[bottle.makings.front()].from;
        const std::size_t above =
            from == ingredient_itself ? 0 : tree.nodes[node_named(tree, done.makings[from].into)].depth;
        tree.nodes.push_back(bottle_of(plan, done, bottle, above + 1));
        add_edges(tree, plan, done, bottle);
    }
    tree.nodes[base_node].volume = tree.nodes[base_node].drawn;
    return tree;
}

}  // namespace sipladder::solution

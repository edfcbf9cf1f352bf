#pragma once

#include "engine/solution/as_mixed.hpp"
#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// Which mixture is made from which, as data: what a picture of the plan, a table or a script needs.
namespace sipladder::solution {

enum class TreeNodeKind { ingredient, base, stock, level };

struct TreeNode {
    TreeNodeKind kind{};
    std::string name;        ///< as in the steps: the ingredient's, "stock A", "bottle K"
    double concentration{};  ///< on the ladder's scale; 0 for the base and for a powder
    double u_rel{};          ///< relative standard uncertainty of it (of the purity for a powder)
    Millilitres volume;      ///< made; for the base: used by the levels and stocks; 0 for a powder
    Millilitres drawn;       ///< of it, by all that is made from it
    std::size_t batches = 1;
    std::size_t depth{};  ///< 0 for ingredient and base, else one more than what its load is taken from
};

/// A load, or the base that fills it up.
struct TreeEdge {
    std::size_t from{};  ///< index into DilutionTree::nodes
    std::size_t to{};
    double amount{};     ///< of all batches together
    std::string unit;    ///< "g", "mL" or "pieces"
    Millilitres volume;  ///< the same as volume, where it has one; 0 for a powder
    std::string how;     ///< "5.00 g on the pocket scale", "4.0 mL with the syringe, 5 mL"
    std::size_t step{};  ///< index into MixPlan::steps, of the first batch
};

/// Ingredient first, base second, then stocks and levels in the order of the steps.
struct DilutionTree {
    std::vector<TreeNode> nodes;
    std::vector<TreeEdge> edges;
};

/// @param record  what happened at the bench; concentrations and uncertainties follow from it
/// @throws Refused  as after_mixing
DilutionTree dilution_tree(const MixPlan& plan, const BenchRecord& record = {});

}  // namespace sipladder::solution

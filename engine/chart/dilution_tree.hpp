#pragma once

#include "engine/chart/chart.hpp"
#include "engine/solution/mix_plan.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace sipladder::chart {

/// Something in a container: what is bought, a stock, or a rung in its bottle.
struct TreeNode {
    enum class Kind { ingredient, stock, level };
    Kind kind{};
    std::string name;                 ///< "white table sugar", "stock A", "K"
    std::optional<std::size_t> from;  ///< the node it is made from, which stands before it; only the
                                      ///< ingredient has none
    double volume_mL{};               ///< of the whole, all batches together; of a powder its grams
    double taken_mL{};                ///< how much of `from` goes into it; of a powder its grams
    std::string amount;               ///< the volume or mass in words: "150 mL", "9.2 g"
    double level{};                   ///< strength on the ladder's scale; not of the ingredient
    double u_rel{};                   ///< relative standard uncertainty of it
    std::size_t batches = 1;          ///< equal parts it is made in
    std::string how;                  ///< "2.99 g of white table sugar, filled up to 150.00 g"; may be empty
};

/// Where every rung comes from: ingredient, stocks, rungs from left to right.
struct DilutionTree {
    std::string title;  ///< may be empty: no room is kept for it
    solution::Component component{};
    Scale scale{};
    std::vector<TreeNode> nodes;  ///< levels weakest first
};

/// The tree of a plan, by its steps.
DilutionTree dilution_tree(const solution::MixPlan& plan);

/// Lays the tree out in `area` and draws it: heights are volumes, a fuller colour is a smaller uncertainty,
/// and both stand beside it as numbers. No text leaves the area or touches another; where there is no room
/// for all of a label its end is left out, and all of it stays in the hits.
/// @return every ingredient, stock and rung, in the order of the nodes: its amount, uncertainty and how it is
/// made
std::vector<Hit> draw(const DilutionTree& tree, Rect area, Painter& painter);

/// The height that shows every label, as a multiple of the painter's small text height.
double height_in_lines(const DilutionTree& tree);

}  // namespace sipladder::chart

#pragma once

#include "engine/solution/search.hpp"

#include <vector>

/// What a plan needs beyond its steps: what to buy, how long things keep, what to check, what to beware of.
namespace sipladder::solution {

/// Base that the levels, the stocks and the blanks of everybody need.
Millilitres base_needed(const PlanRequest& request, const std::vector<Mixture>& all);

/// The plan has its steps, levels and stocks already.
void add_shopping(MixPlan& plan, const Candidate& candidate, const std::vector<Mixture>& all);
/// What several plans on one bench need together, each thing once.
std::vector<ShoppingItem> shopping_together(const std::vector<const MixPlan*>& plans);
void add_keeping(MixPlan& plan);
void add_checks(MixPlan& plan, const Candidate& candidate, const std::vector<Mixture>& all);
void add_cautions(MixPlan& plan);

}  // namespace sipladder::solution

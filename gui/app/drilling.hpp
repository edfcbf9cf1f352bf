#pragma once

#include "drills/drill.hpp"
#include "drills/plans.hpp"
#include "drills/record.hpp"
#include "engine/chart/chart.hpp"
#include "gui/app/app.hpp"

#include <string>
#include <variant>
#include <vector>

namespace sipladder::gui {

/// A drill as the Taste screen offers it.
struct Offer {
    std::string id;  ///< as forms and journal name it
    drills::Kind kind{};
    drills::Order order{};
    std::string label;
    std::string answers;  ///< what it is for, in a few words
    std::string note;
    std::vector<drills::Blinding> blindings;  ///< that suit it; the first is taken unless another was chosen
    std::vector<std::size_t> presentations;   ///< to choose from
    std::size_t usual{};                      ///< the number that is chosen first
};
/// Those that this program carries out.
const std::vector<Offer>& offers();
/// Whether mixes beside the first can belong to it: other substances, or the same in another base.
bool takes_several(drills::Kind kind);
/// Whether Prepare offers it with a ladder of any substance; others come in ready-made sittings, whose
/// ladders suit them.
bool is_prepared_alone(const Offer& offer);
/// Whether every drill of a ready-made sitting is one of these: others are not in the window yet.
bool are_offered(const content::Programme& programme);
const Offer& chosen_offer(const App& app);
/// The first of them for an id that is none.
const Offer& offer_named(const std::string& id);
const Offer& offer_of(drills::Kind kind, drills::Order order);
/// The chosen one where it suits the drill, else the first that does.
drills::Blinding chosen_blinding(const App& app);
/// In the words of the start screen.
std::string text_of(drills::Blinding blinding);

/// "detection", "recognition" …, as people read it.
std::string name_of_drill(drills::Kind kind, drills::Order order);
std::string name_of_drill(const drills::Plan& plan);
/// "tartaric acid in still water".
std::string title_of(const drills::Plan& plan);
/// The person's last result with this mix's substance and base, if there is one: what a drill on it can start
/// from.
std::optional<drills::OwnHistory> own_history_for(const App& app, const drills::record::KeptMix& mix);
/// What the drill starts from: as chosen, else own history where there is one, else what is assumed.
drills::PriorChoice prior_choice(const App& app, const drills::record::KeptMix& mix);

/// What the bottles of a mix still hold: as mixed, less what was poured for drills since.
solution::MixedLadder left_of(const History& history, const drills::record::KeptMix& mix);

/// The closed plan by what is chosen on the Taste screen, or all that stands against it.
std::variant<drills::Plan, std::vector<Problem>> drill_plan(const App& app);

/// Taken in by drills of this sitting so far.
safety::Intake taken_in(const History& history, const Uuid& sitting);
/// The codes that its cups bear, so that none comes twice in one sitting.
std::vector<drills::BlindCode> codes_in(const History& history, const Uuid& sitting);

}  // namespace sipladder::gui

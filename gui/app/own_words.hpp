#pragma once

#include "drills/drill.hpp"
#include "gui/app/app.hpp"

#include <string>
#include <variant>
#include <vector>

/// A person's own words, and the finish of their own wine.
namespace sipladder::gui {

/// Drills in which a person's own words are asked for: scaling and persistence.
bool takes_own_words(drills::Kind kind);

/// The words of the chosen drill: as typed; else those of the last drill of its kind about this component;
/// else the usual ones (empty).
std::vector<std::string> own_words(const App& app, drills::Kind kind, const std::string& substance);
/// Between commas, each trimmed.
std::vector<std::string> words_in(const std::string& typed);
/// "dry, a little sweet, sweet"
std::string joined_words(const std::vector<std::string>& words);

/// How long the flavour of the wine typed in stays, as a drill; or what is wrong with what was typed.
std::variant<drills::Plan, std::vector<Problem>> own_wine_drill(const App& app);

}  // namespace sipladder::gui

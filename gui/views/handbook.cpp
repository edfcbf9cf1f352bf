#include "gui/views/handbook.hpp"

#include "drills/plans.hpp"
#include "engine/chart/psychometric_curve.hpp"
#include "gui/app/app.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

using threshold::Answered;

/// Twelve invented presentations of sucrose, through the same fit and the same chart as everybody's.
chart::Chart invented_curve(const content::Content& content) {
    const solution::Substance& sucrose = content.substance("sucrose");
    solution::MixedLadder ladder{
        .substance = sucrose.id, .base = "water", .scale = Scale::g_per_L, .levels = {}};
    for (const double level : {0.15, 0.44, 1.3, 4.0, 12.0, 36.0})
        ladder.levels.push_back({.target = level,
                                 .mixed = level,
                                 .u_own_rel = 0.02,
                                 .u_shared_rel = 0.02,
                                 .bottle = {},
                                 .portions = 0});
    std::vector<Answered> answers;
    const auto add = [&](std::size_t level, int right, int wrong) {
        for (int i = 0; i < right + wrong; ++i)
            answers.push_back({.level = level, .correct = i < right, .certainty = {}});
    };
    add(1, 0, 1);
    add(2, 1, 2);
    add(3, 3, 2);
    add(4, 3, 0);
    const threshold::Prior prior = drills::assumed_prior(sucrose);
    const threshold::Threshold found = threshold::threshold(ladder, answers, prior, threshold::three_afc);
    threshold::Posterior posterior(prior, threshold::three_afc, threshold::Fineness::fine);
    for (const threshold::Counts& at : threshold::counts_of(ladder, answers)) posterior.update(at);
    return chart::psychometric_curve({.title = "sucrose in water, invented answers",
                                      .component = sucrose.component,
                                      .levels = chart::pooled(ladder, answers),
                                      .curve = chart::curve_over(ladder, posterior),
                                      .threshold = found});
}

std::string source_text(std::size_t number, const content::Source& source) {
    std::string text = "[";
    text.append(std::to_string(number)).append("] ").append(source.authors);
    if (source.year > 0) text.append(" (").append(std::to_string(source.year)).append(")");
    return text.append(". ")
        .append(source.title)
        .append(". ")
        .append(source.where)
        .append(" (")
        .append(source.provenance)
        .append(")");
}

}  // namespace

HandbookView handbook_view(const App& app) {
    HandbookView view;
    const std::vector<content::Chapter>& all = app.content->handbook;
    if (all.empty()) return view;
    const std::size_t open = std::min(app.chapter, all.size() - 1);
    for (std::size_t i = 0; i < all.size(); ++i)
        view.chapters.push_back({.label = all[i].title, .is_chosen = i == open, .note = {}, .component = {}});
    const content::Chapter& chapter = all[open];
    view.title = chapter.title;
    view.blocks = chapter.blocks;
    for (const content::Block& block : chapter.blocks)
        if (block.figure == "curve") view.figures.emplace(block.figure, invented_curve(*app.content));
    for (std::size_t i = 0; i < chapter.sources.size(); ++i)
        view.sources.push_back(source_text(i + 1, app.content->sources.at(chapter.sources[i])));
    return view;
}

}  // namespace sipladder::gui

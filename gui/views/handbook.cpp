#include "gui/views/handbook.hpp"

#include "gui/app/app.hpp"
#include "gui/views/handbook_figures.hpp"

#include <algorithm>
#include <utility>

namespace sipladder::gui {

namespace {

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
        if (auto figure = handbook_figure(block.figure, *app.content))
            view.figures.emplace(block.figure, std::move(*figure));
    for (std::size_t i = 0; i < chapter.sources.size(); ++i)
        view.sources.push_back(source_text(i + 1, app.content->sources.at(chapter.sources[i])));
    return view;
}

}  // namespace sipladder::gui

#include "engine/content/loading.hpp"

namespace sipladder::content {

void load_sources(Loading& loading, const std::filesystem::path& file) {
    const auto root = loading.root(file, "sources", {"schema", "sources"});
    if (!root) return;
    for (const Field::Entry& entry : root->at("sources").entries()) {
        const Field& field = entry.value;
        field.only({"authors", "year", "title", "where", "provenance"});
        Source source{.key = entry.key,
                      .authors = field.at("authors").text(),
                      .year = static_cast<int>(field.at("year").integer(0, 2100)),
                      .title = field.at("title").text(),
                      .where = field.at("where").text(),
                      .provenance = field.at("provenance").text()};
        loading.content.sources.emplace(entry.key, std::move(source));
    }
}

}  // namespace sipladder::content

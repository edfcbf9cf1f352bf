#include "engine/content/own_file.hpp"

#include "engine/content/loading.hpp"

namespace sipladder::content {

solution::Ladder ladder_in(const Content& shipped, const std::filesystem::path& file) {
    Loading loading;
    loading.content = shipped;
    loading.content.ladders.clear();
    load_ladders(loading, file);
    loading.finish();
    if (loading.content.ladders.empty())
        throw Refused(file.string(), "holds no ladder", "give at least one under \"ladders\"");
    return loading.content.ladders.front();
}

solution::Equipment kitchen_in(const Content& shipped, const std::filesystem::path& file) {
    Loading loading;
    loading.content = shipped;
    loading.content.equipment.clear();
    load_equipment(loading, file);
    loading.finish();
    if (loading.content.equipment.empty())
        throw Refused(file.string(), "holds no kitchen", "give at least one under \"equipment\"");
    return loading.content.equipment.front();
}

}  // namespace sipladder::content

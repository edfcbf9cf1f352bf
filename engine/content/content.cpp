#include "engine/content/content.hpp"

#include "engine/content/loading.hpp"
#include "engine/content/own.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <utility>

// Every file is read before anything is refused, so that one run shows the problems of all of them.
// References wait until then, since a substance may stand in a file that is read later.

namespace sipladder::content {

namespace {

const std::string& id_of(const solution::Ladder& ladder) {
    return ladder.id();
}
template <class Entry>
const std::string& id_of(const Entry& entry) {
    return entry.id;
}

template <class Entry>
const Entry& named(const std::vector<Entry>& entries, const std::string& id, const std::string& kind) {
    std::string known;
    for (const Entry& entry : entries) {
        if (id_of(entry) == id) return entry;
        known += (known.empty() ? "" : ", ") + id_of(entry);
    }
    throw Refused(kind, "\"" + id + "\" is not known",
                  "one of " + (known.empty() ? "none" : known) + " is wanted");
}

/// Ids of a person's own things begin so: a shipped one would stand in their way.
template <class Entry>
void refuse_own_ids(Loading& loading, const std::vector<Entry>& entries, const std::filesystem::path& file) {
    for (const Entry& entry : entries)
        if (is_own(id_of(entry)))
            loading.problems.push_back({file.generic_string(), "has the id \"" + id_of(entry) + "\"",
                                        "an id that does not begin with " + std::string(own_prefix)});
}

/// A substance that cannot be bought or has no ladder could be chosen nowhere, and one that no caution names
/// would be served without a word. Only of content that is otherwise good: what is broken is not there.
void expect_complete(Loading& loading, const std::filesystem::path& folder) {
    const Content& content = loading.content;
    const auto want = [&](bool is_there, const char* file, const std::string& id, const char* what) {
        if (!is_there)
            loading.problems.push_back(
                {(folder / file).generic_string(), "has nothing for \"" + id + "\"", what});
    };
    for (const solution::Substance& one : content.substances) {
        const auto is_of = [&](const auto& ladder) { return ladder.substance() == one.id; };
        const auto is_about = [&](const safety::Caution& caution) {
            return std::ranges::find(caution.substances, one.id) != caution.substances.end();
        };
        want(!content.ingredients_of(one.id).empty(), "ingredients.json", one.id,
             "at least one ingredient that holds it is wanted");
        want(std::ranges::any_of(content.ladders, is_of), "ladders.json", one.id,
             "at least one ladder is wanted");
        want(std::ranges::any_of(content.cautions.texts, is_about), "cautions.json", one.id,
             "at least one text that names it is wanted");
    }
}

/// What a file of one's own refers to, and nothing more of the shipped content.
Loading beside(const Content& content) {
    Loading loading;
    loading.content.substances = content.substances;
    loading.content.sources = content.sources;
    loading.content.bases = content.bases;
    return loading;
}

template <class Entry>
Entry only_one(Loading& loading, const std::vector<Entry>& entries, const std::filesystem::path& file) {
    if (loading.problems.empty() && entries.size() != 1)
        loading.problems.push_back(
            {file.generic_string(), "holds " + std::to_string(entries.size()) + " entries", "one is wanted"});
    loading.finish();
    return entries.front();
}

}  // namespace

const solution::Substance& Content::substance(const std::string& id) const {
    return named(substances, id, "substance");
}

const solution::Ingredient& Content::ingredient(const std::string& id) const {
    return named(ingredients, id, "ingredient");
}

const solution::Base& Content::base(const std::string& id) const {
    return named(bases, id, "base");
}

const solution::Equipment& Content::kitchen(const std::string& id) const {
    return named(equipment, id, "equipment");
}

const solution::Ladder& Content::ladder(const std::string& id) const {
    for (const solution::Ladder& pedestal : pedestals)
        if (pedestal.id() == id) return pedestal;
    return named(ladders, id, "ladder");
}

const Programme& Content::programme(const std::string& id) const {
    return named(programmes, id, "programme");
}

std::vector<solution::Ingredient> Content::ingredients_of(const std::string& substance) const {
    std::vector<solution::Ingredient> found;
    std::copy_if(ingredients.begin(), ingredients.end(), std::back_inserter(found),
                 [&](const solution::Ingredient& one) { return one.substance == substance; });
    return found;
}

Content::Content() = default;
Content::Content(const Content&) = default;
Content::Content(Content&&) noexcept = default;
Content& Content::operator=(const Content&) = default;
Content& Content::operator=(Content&&) noexcept = default;
Content::~Content() = default;

Content load(const std::filesystem::path& folder) {
    Loading loading;
    load_sources(loading, folder / "sources.json");
    load_substances(loading, folder / "substances.json");
    load_ingredients(loading, folder / "ingredients.json");
    load_bases(loading, folder / "bases.json");
    load_equipment(loading, folder / "equipment.json");
    load_ladders(loading, folder / "ladders.json");
    load_reference_thresholds(loading, folder / "reference_thresholds.json");
    load_cautions(loading, folder / "cautions.json");
    load_programmes(loading, folder / "programmes.json");
    load_handbook(loading, folder / "handbook");
    refuse_own_ids(loading, loading.content.substances, folder / "substances.json");
    refuse_own_ids(loading, loading.content.ingredients, folder / "ingredients.json");
    refuse_own_ids(loading, loading.content.equipment, folder / "equipment.json");
    refuse_own_ids(loading, loading.content.ladders, folder / "ladders.json");
    refuse_own_ids(loading, loading.content.pedestals, folder / "ladders.json");
    loading.finish();
    expect_complete(loading, folder);
    loading.finish();
    return std::move(loading.content);
}

solution::Ladder load_ladder(const std::filesystem::path& file, const Content& content) {
    Loading loading = beside(content);
    load_ladders(loading, file);
    return only_one(loading, loading.content.ladders, file);
}

EquipmentEntry load_equipment(const std::filesystem::path& file, const Content& content) {
    Loading loading = beside(content);
    load_equipment(loading, file);
    solution::Equipment only = only_one(loading, loading.content.equipment, file);
    std::string entry = loading.content.equipment_entries.at(only.id);
    return {std::move(only), std::move(entry)};
}

}  // namespace sipladder::content

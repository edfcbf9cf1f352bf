#include "engine/content/loading.hpp"
#include "engine/text.hpp"

#include <algorithm>

namespace sipladder::content {

namespace {

/// Each level's place, for the problems that are found once the substance is known.
struct ReadLevels {
    std::vector<Field> fields;
    std::vector<double> targets;
    bool sound = true;
};

ReadLevels levels_of(const Loading& loading, const Field& list, const std::string& key, double most) {
    const std::size_t problems_before = loading.problems.size();
    ReadLevels read;
    for (const Field& level : list.each(2)) {
        level.only({key, "note"});
        optional_text(level.at("note"));
        const Field target = level.at(key);
        const std::size_t before = loading.problems.size();
        const double value = target.number(1e-6, most);
        if (loading.problems.size() > before) continue;  // a stand-in is no level to compare with
        if (!read.targets.empty() && value <= read.targets.back()) {
            const std::string how = value < read.targets.back() ? "less than" : "the same as";
            target.note("is " + target.shown() + ", " + how + " the level before it (" +
                            read.fields.back().shown() + ")",
                        "levels run weakest to strongest");
        }
        read.fields.push_back(target);
        read.targets.push_back(value);
    }
    if (read.targets.size() > 40)
        list.note("holds " + std::to_string(read.targets.size()), "at most 40 levels are wanted");
    read.sound = loading.problems.size() == problems_before;
    return read;
}

void check_against_substance(Loading& loading, const Field& field, const std::string& substance, Scale scale,
                             const ReadLevels& levels) {
    const auto named = [substance](const Content& content) {
        return std::find_if(content.substances.begin(), content.substances.end(),
                            [&](const solution::Substance& one) { return one.id == substance; });
    };
    loading.references.push_back([=](const Content& content) {
        const auto found = named(content);
        if (found != content.substances.end() && found->scale != scale)
            field.at("scale").note("is " + field.at("scale").shown(),
                                   found->name + " is counted in " + unit_text(found->scale));
    });
    loading.caps.push_back([=](const Content& content) {
        const auto found = named(content);
        if (found == content.substances.end() || found->scale != scale) return;
        for (std::size_t i = 0; i < levels.targets.size(); ++i)
            if (levels.targets[i] > found->strongest_cup)
                levels.fields[i].note("is " + levels.fields[i].shown() + ", above the strongest cup of " +
                                          found->name + " (" + exact(found->strongest_cup) + " " +
                                          unit_text(scale) + ")",
                                      "a weaker level is wanted");
    });
}

/// The base that it is meant for; may be left out.
void read_base(Loading& loading, const Field& field, const std::string& ladder) {
    if (!field.is_there()) return;
    const std::string base = field.id();
    if (base.empty()) return;
    loading.content.ladder_bases.emplace(ladder, base);
    loading.references.push_back([field, base](const Content& content) {
        std::string known;
        for (const solution::Base& one : content.bases) {
            if (one.id == base) return;
            known += (known.empty() ? "" : ", ") + one.id;
        }
        field.note("is \"" + base + "\", which bases.json lacks", "one of " + known + " is wanted");
    });
}

void read_ladders(Loading& loading, const Field& list, std::vector<solution::Ladder>& ladders) {
    for (const Field& field : list.each()) {
        field.only({"id", "substance", "scale", "base", "levels", "why", "source", "rests_on"});
        source_of(loading, field.at("source"));
        rests_on(loading, field.at("rests_on"));
        const std::string id = field.at("id").id();
        const std::string substance = substance_of(loading, field.at("substance"));
        const Scale scale = scale_of(field.at("scale"));
        const ReadLevels levels =
            levels_of(loading, field.at("levels"), "target" + unit_suffix(scale), most_on(scale));
        check_against_substance(loading, field, substance, scale, levels);
        const std::string why = field.at("why").text();
        if (!id.empty() && !loading.content.ladder_reasons.emplace(id, why).second)
            field.at("id").note("is \"" + id + "\", which an entry before it has", "another id is wanted");
        read_base(loading, field.at("base"), id);
        if (levels.sound) ladders.emplace_back(id, substance, scale, levels.targets, field.where());
    }
}

}  // namespace

void load_ladders(Loading& loading, const std::filesystem::path& file) {
    const auto root = loading.root(file, "ladders", {"schema", "ladders", "pedestals"});
    if (!root) return;
    read_ladders(loading, root->at("ladders"), loading.content.ladders);
    if (const Field pedestals = root->at("pedestals"); pedestals.is_there())
        read_ladders(loading, pedestals, loading.content.pedestals);
}

}  // namespace sipladder::content

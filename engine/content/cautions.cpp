#include "engine/content/loading.hpp"

namespace sipladder::content {

namespace {

const std::initializer_list<std::string_view> capped{"ethanol_g", "sugar_g",     "acid_g",
                                                     "acid_cups", "caffeine_mg", "salt_g",
                                                     "tannin_g",  "glycerol_g",  "thickener_g"};

safety::Caution caution_at(Loading& loading, const Field& field) {
    field.only({"id", "for_who_mixes", "text", "substances", "source"});
    safety::Caution caution{.id = own_id(field, loading.content.cautions.texts),
                            .text = field.at("text").text(),
                            .substances = {},
                            .source = source_of(loading, field.at("source"))};
    if (const Field list = field.at("substances"); list.is_there())
        for (const Field& part : list.each()) caution.substances.push_back(substance_of(loading, part));
    if (const Field mixes = field.at("for_who_mixes"); mixes.is_there())
        caution.for_who_mixes = mixes.boolean();
    return caution;
}

safety::Cap cap_at(Loading& loading, const Field& field) {
    field.only({"what", "per_sitting", "per_day", "why", "source", "rests_on"});
    rests_on(loading, field.at("rests_on"));
    safety::Cap cap{.what = field.at("what").one_of(capped),
                    .per_sitting = field.at("per_sitting").number(1e-3, 1000.0),
                    .per_day = field.at("per_day").number(1e-3, 1000.0),
                    .source = source_of(loading, field.at("source")),
                    .why = field.at("why").text()};
    for (const safety::Cap& before : loading.content.cautions.caps)
        if (before.what == cap.what)
            field.at("what").note("is \"" + cap.what + "\", which a cap before it has",
                                  "one cap each is wanted");
    if (cap.per_day < cap.per_sitting)
        field.at("per_day").note("is " + field.at("per_day").shown() + ", less than for one sitting (" +
                                     field.at("per_sitting").shown() + ")",
                                 "at least that is wanted");
    return cap;
}

/// A cap that is missing would be a cap that never stops anyone.
void check_all_capped(const Field& list, const std::vector<safety::Cap>& caps) {
    for (const std::string_view what : capped) {
        bool found = false;
        for (const safety::Cap& cap : caps) found = found || cap.what == what;
        if (!found) list.note("has no cap on " + std::string(what), "a cap on each is wanted");
    }
}

}  // namespace

void load_cautions(Loading& loading, const std::filesystem::path& file) {
    const auto root = loading.root(file, "cautions", {"schema", "texts", "caps", "no_ethanol"});
    if (!root) return;
    safety::Cautions& cautions = loading.content.cautions;
    for (const Field& field : root->at("texts").each()) cautions.texts.push_back(caution_at(loading, field));
    for (const Field& field : root->at("caps").each()) cautions.caps.push_back(cap_at(loading, field));
    check_all_capped(root->at("caps"), cautions.caps);
    const Field no_ethanol = root->at("no_ethanol");
    no_ethanol.only({"reasons", "source"});
    source_of(loading, no_ethanol.at("source"));
    cautions.no_ethanol_reasons = no_ethanol.at("reasons").texts();
}

}  // namespace sipladder::content

#pragma once

#include "gui/app/own_form.hpp"
#include "gui/app/own_things.hpp"
#include "gui/views/own_things.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <initializer_list>
#include <string>
#include <utility>

/// Somebody who fills in the forms of own equipment, ladders and substances.
namespace sipladder::tests {

using namespace gui;
using content::OwnKind;

using Typing = std::initializer_list<std::pair<const char*, const char*>>;

inline void type(AtWindow& at, OwnList list, std::size_t index, Typing typing) {
    for (const auto& [field, text] : typing) at.want(TypeOwn{{list, index, field}, text});
}

inline void type(AtWindow& at, Typing typing) {
    type(at, OwnList::head, 0, typing);
}

/// A scale of 0.01 g and a 10 mL syringe, typed with commas as some do.
inline void fill_in_equipment(AtWindow& at, const char* name = "my kitchen") {
    at.want(ShowSettings{SettingsPart::equipment});
    at.want(BeginOwn{OwnKind::equipment});
    type(at, {{"name", name}});
    type(at, OwnList::balances, 0, {{"resolution", "0,01"}, {"capacity", "500"}});
    at.want(AddOwnTool{OwnList::vessels});
    type(at, OwnList::vessels, 0, {{"nominal", "10"}, {"graduation", "0,5"}, {"new", "true"}});
    at.want(AddOwnTool{OwnList::vessels});
    type(at, OwnList::vessels, 1, {{"kind", "jug"}, {"nominal", "1000"}, {"graduation", "50"}});
}

inline void fill_in_ladder(AtWindow& at, const std::string& substance = "sucrose") {
    at.want(ShowSettings{SettingsPart::ladders});
    at.want(BeginOwn{OwnKind::ladder});
    type(at, {{"name", "fine around mine"},
              {"substance", substance.c_str()},
              {"base", "purified_water"},
              {"lowest", "0,8"},
              {"ratio", "1.5"},
              {"count", "5"}});
}

inline void fill_in_substance(AtWindow& at) {
    at.want(ShowSettings{SettingsPart::substances});
    at.want(BeginOwn{OwnKind::substance});
    type(at, {{"name", "lactose"},
              {"asked_for", "milk sugar"},
              {"component", "sweet"},
              {"counts_as", "sugar"},
              {"cup", "60"},
              {"stock", "100"},
              {"centre", "8"},
              {"dissolves", "18"},
              {"strength", "99"},
              {"within", "1"},
              {"allergens", "milk"}});
}

inline std::string all_said(const AtWindow& at) {
    std::string said;
    if (at.app.notice)
        for (const std::string& line : at.app.notice->lines) said += line + "\n";
    if (!at.app.own_form) return said;
    for (const OwnProblem& problem : problems_of(*at.app.own_form, *at.app.content))
        said += problem.place.field + ": " + problem.text + "\n";
    return said;
}

inline std::string problem_at(const AtWindow& at, const OwnPlace& place) {
    for (const OwnGroupView& group : own_form_view(at.app).groups)
        for (const OwnFieldView& field : group.fields)
            if (field.place == place) return field.field.problem;
    return "no such field";
}

inline std::string problem_at(const AtWindow& at, const char* field) {
    return problem_at(at, {OwnList::head, 0, field});
}

inline bool holds(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

inline const OwnThing& only_thing(const AtWindow& at) {
    REQUIRE(at.app.own.size() == 1);
    return at.app.own.front();
}

inline constexpr std::array every_vessel{"syringe", "pipette", "cylinder", "flask", "jug"};

/// Vessels of every kind, from the first on. @param fields  of each
inline void add_vessels(AtWindow& at, Typing fields) {
    std::size_t i = 0;
    for (const char* kind : every_vessel) {
        at.want(AddOwnTool{OwnList::vessels});
        at.want(TypeOwn{{OwnList::vessels, i, "kind"}, kind});
        type(at, OwnList::vessels, i++, fields);
    }
}

/// All but its strength.
inline void fill_in_brandy(AtWindow& at) {
    fill_in_substance(at);
    type(at, {{"name", "plum brandy"},
              {"asked_for", "brandy"},
              {"component", "alcohol"},
              {"counts_as", "ethanol"},
              {"scale", "pct_vol"},
              {"cup", "10"},
              {"stock", "14"},
              {"centre", "1"},
              {"form", "spirit"}});
}

inline void strike(AtWindow& at, const Uuid& fact, bool puts_back) {
    at.want(AskToStrike{fact, puts_back});
    at.want(TypeReason{puts_back ? "found again" : "sold"});
    at.want(StrikeOut{});
}

template <class Entries>
inline bool has(const Entries& labels, const std::string& label) {
    return std::ranges::any_of(labels, [&](const Choice& one) { return one.label == label; });
}

inline void choose_kitchen(AtWindow& at, const std::string& id) {
    Setup setup = at.app.bench.setup;
    setup.kitchen = id;
    at.want(ChangeSetup{setup});
}

inline AtWindow with_own_kitchen() {
    AtWindow at;
    at.arrive();
    fill_in_equipment(at);
    at.want(KeepOwn{});
    return at;
}

inline AtWindow with_lactose() {
    AtWindow at;
    at.arrive();
    fill_in_substance(at);
    at.want(KeepOwn{});
    return at;
}

}  // namespace sipladder::tests

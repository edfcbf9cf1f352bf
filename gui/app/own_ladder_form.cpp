// A ladder is a list of rungs, or the weakest of them with a ratio; either becomes levels in the text.

#include "engine/text.hpp"
#include "gui/app/own_form_parts.hpp"
#include "gui/app/planning.hpp"

#include <algorithm>
#include <sstream>

namespace sipladder::gui {

namespace {

using content::OwnKind;
using content::OwnValue;

constexpr const char* levels = "/ladders/0/levels";

bool is_list(const OwnForm& form) {
    return head_text(form, "rungs_are") == "list";
}

const solution::Substance* substance_in(const OwnForm& form, const content::Content& content) {
    const auto found =
        std::ranges::find(content.substances, head_text(form, "substance"), &solution::Substance::id);
    return found == content.substances.end() ? nullptr : &*found;
}

void add_rungs(OwnGroup& group, const OwnForm& form, const std::string& unit) {
    const auto field = [](const char* name) { return OwnPlace{OwnList::head, 0, name}; };
    group.fields.push_back({.place = field("rungs_are"),
                            .label = "Its rungs",
                            .unit = {},
                            .choices = {{"ratio", "by their ratio"}, {"list", "one by one"}},
                            .usual = "ratio",
                            .may_be_empty = true});
    if (is_list(form)) {
        group.fields.push_back({.place = field("rungs"),
                                .label = "Rungs",
                                .unit = unit,
                                .explains = "weakest first, with blanks between: 0.1 0.2 0.4",
                                .pointer = levels});
        return;
    }
    group.fields.push_back({.place = field("lowest"), .label = "Weakest", .unit = unit, .pointer = levels});
    group.fields.push_back({.place = field("ratio"),
                            .label = "Ratio",
                            .unit = "from one rung to the next",
                            .usual = "2",
                            .may_be_empty = true});
    group.fields.push_back(
        {.place = field("count"), .label = "Rungs", .unit = "in all", .usual = "6", .may_be_empty = true});
}

std::string or_usual(const OwnForm& form, const char* field, const char* usual) {
    const std::string typed = head_text(form, field);
    return typed.empty() ? usual : typed;
}

/// Each rung as it goes into the text; what is no number stays as it was typed.
std::vector<std::string> rungs_of(const OwnForm& form) {
    std::vector<std::string> rungs;
    if (is_list(form)) {
        std::string typed = head_text(form, "rungs");
        std::replace(typed.begin(), typed.end(), ';', ' ');
        std::istringstream words(typed);
        for (std::string word; words >> word;) rungs.push_back(word);
        return rungs;
    }
    const auto typed =
        rungs_typed(head_text(form, "lowest"), or_usual(form, "ratio", "2"), or_usual(form, "count", "6"));
    if (const auto* numbers = std::get_if<std::vector<double>>(&typed))
        for (const double number : *numbers) rungs.push_back(exact(number));
    return rungs;
}

template <class Entries, class Name>
bool is_taken(const Entries& entries, const std::string& name, Name name_of) {
    return std::ranges::any_of(entries, [&](const auto& one) { return name_of(one) == name; });
}

/// Two of one name could not be told apart where they are offered.
bool is_name_taken(const OwnForm& form, const content::Content& content) {
    const std::string name = head_text(form, "name");
    if (form.kind == OwnKind::equipment)
        return is_taken(content.equipment, name, [](const auto& one) { return one.name; });
    if (form.kind == OwnKind::substance)
        return std::ranges::any_of(content.substances, [&](const auto& one) {
            return one.name == name && !content.struck_out.contains(one.id);
        });
    return std::ranges::any_of(content.ladders, [&](const auto& one) {
        const auto why = content.ladder_reasons.find(one.id());
        return content::is_own(one.id()) && one.substance() == head_text(form, "substance") &&
               why != content.ladder_reasons.end() && why->second == name;
    });
}

}  // namespace

std::string head_text(const OwnForm& form, const std::string& field) {
    return std::string(trimmed(typed_at(form, {OwnList::head, 0, field})));
}

std::vector<OwnGroup> ladder_groups(const OwnForm& form, const content::Content& content) {
    const auto field = [](const char* name) { return OwnPlace{OwnList::head, 0, name}; };
    OwnField substances{
        .place = field("substance"), .label = "Of", .unit = {}, .pointer = "/ladders/0/substance"};
    for (const solution::Substance& one : content.substances)
        if (!content.struck_out.contains(one.id)) substances.choices.emplace_back(one.id, one.name);
    OwnField bases{.place = field("base"),
                   .label = "In",
                   .unit = {},
                   .explains = "the base that it is made for; another can still be chosen in Prepare",
                   .may_be_empty = true,
                   .pointer = "/ladders/0/base"};
    for (const solution::Base& one : content.bases) bases.choices.emplace_back(one.id, one.name);
    OwnGroup group{"Ladder", OwnList::head, 0, {}};
    group.fields = {{.place = field("name"),
                     .label = "Its name",
                     .unit = {},
                     .explains = "as Prepare offers it: fine around mine, for the club",
                     .pointer = "/ladders/0/why"},
                    std::move(substances),
                    std::move(bases)};
    const solution::Substance* substance = substance_in(form, content);
    add_rungs(group, form, substance == nullptr ? "g/L or % vol" : unit_text(substance->scale));
    return {std::move(group)};
}

void work_in_ladder(OwnValues& values, const OwnForm& form, const content::Content& content,
                    const std::string& id) {
    const solution::Substance* substance = substance_in(form, content);
    const bool is_vol = substance != nullptr && substance->scale == Scale::pct_vol;
    values["/ladders/0/id"] = said(id);
    values["/ladders/0/source"] = said(std::string(content::own_statement));
    values["/ladders/0/scale"] = said(is_vol ? "pct_vol" : "g_per_L");
    values[levels] = {OwnValue::Kind::list, {}, 1.0};
    const std::vector<std::string> rungs = rungs_of(form);
    for (std::size_t i = 0; i < rungs.size(); ++i)
        values[std::string(levels) + "/" + std::to_string(i) + "/target_" +
               (is_vol ? "pct_vol" : "g_per_L")] = counted_as_number(rungs[i]);
}

std::vector<Problem> problems_beyond(const OwnForm& form, const content::Content& content) {
    std::vector<Problem> problems;
    const std::string name = head_text(form, "name");
    if (!name.empty() && is_name_taken(form, content))
        problems.push_back({"name", "\"" + name + "\" is here already", "another name is wanted"});
    if (form.kind != OwnKind::ladder || is_list(form)) return problems;
    const auto typed =
        rungs_typed(head_text(form, "lowest"), or_usual(form, "ratio", "2"), or_usual(form, "count", "6"));
    if (const auto* wrong = std::get_if<std::vector<Problem>>(&typed))
        for (const Problem& problem : *wrong)
            problems.push_back({problem.where == label::lowest  ? "lowest"
                                : problem.where == label::ratio ? "ratio"
                                                                : "count",
                                problem.what, problem.right});
    return problems;
}

}  // namespace sipladder::gui

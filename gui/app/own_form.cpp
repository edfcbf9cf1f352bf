#include "gui/app/own_form.hpp"

#include "engine/text.hpp"
#include "gui/app/own_form_parts.hpp"

#include <algorithm>
#include <utility>

namespace sipladder::gui {

using content::OwnKind;
using content::OwnValue;

OwnForm new_form(OwnKind kind) {
    OwnForm form{.kind = kind, .head = {}, .balances = {}, .vessels = {}};
    if (kind == OwnKind::equipment) form.balances.emplace_back();
    return form;
}

void begin_at(OwnForm& form, OwnPlace place) {
    form.begins = std::move(place);
    ++form.times_begun;
}

namespace {

const OwnTyped* list_at(const OwnForm& form, const OwnPlace& place) {
    if (place.list == OwnList::head) return &form.head;
    const auto& tools = place.list == OwnList::balances ? form.balances : form.vessels;
    return place.index < tools.size() ? &tools[place.index] : nullptr;
}

/// What stands in a field, its usual value where it is empty.
std::string held(const OwnForm& form, const OwnField& field) {
    const std::string typed{trimmed(typed_at(form, field.place))};
    return typed.empty() ? field.usual : typed;
}

/// The field whose pointer the problem's is, or begins with; the longest of them.
const OwnField* field_of(const std::vector<OwnGroup>& groups, const std::string& pointer) {
    const OwnField* found = nullptr;
    for (const OwnGroup& group : groups)
        for (const OwnField& field : group.fields) {
            if (field.pointer.empty()) continue;
            const bool is_it = pointer == field.pointer || pointer.starts_with(field.pointer + "/") ||
                               field.pointer == pointer + "/value";  // the whole figure is missing
            if (is_it && (found == nullptr || field.pointer.size() > found->pointer.size())) found = &field;
        }
    return found;
}

/// The pointer in "mine: /equipment/0/name".
std::string pointer_in(const std::string& where) {
    const std::size_t at = where.find(": /");
    return at == std::string::npos ? std::string() : where.substr(at + 2);
}

void say(std::vector<OwnProblem>& problems, OwnProblem problem) {
    const auto same = [&](const OwnProblem& one) {
        return one.is_of_field == problem.is_of_field && one.place == problem.place;
    };
    // One sentence a field: the first, from which the others often follow.
    if (problem.is_of_field && std::ranges::any_of(problems, same)) return;
    problems.push_back(std::move(problem));
}

void say_of(std::vector<OwnProblem>& problems, const OwnForm& form, const OwnField& field,
            const Problem& problem) {
    const bool is_empty = held(form, field).empty();
    if (is_empty && field.may_be_empty) return;  // follows from another field, where it is said
    std::string text = problem.what + ": " + problem.right;
    if (is_empty) text = field.choices.empty() ? "is still to be filled in" : "is still to be chosen";
    // The check speaks of fractions where a percentage was typed.
    if (!is_empty && !field.right.empty()) text = "\"" + held(form, field) + "\": " + field.right;
    say(problems, {.place = field.place, .is_of_field = true, .text = std::move(text)});
}

}  // namespace

std::string typed_at(const OwnForm& form, const OwnPlace& place) {
    const OwnTyped* list = list_at(form, place);
    if (list == nullptr) return {};
    const auto found = list->find(place.field);
    return found == list->end() ? std::string() : found->second;
}

void type_at(OwnForm& form, const OwnPlace& place, const std::string& text) {
    if (list_at(form, place) == nullptr) return;
    OwnTyped& list = place.list == OwnList::head       ? form.head
                     : place.list == OwnList::balances ? form.balances[place.index]
                                                       : form.vessels[place.index];
    list[place.field] = text;
}

std::vector<OwnGroup> groups_of(const OwnForm& form, const content::Content& content) {
    switch (form.kind) {
        case OwnKind::equipment:
            return equipment_groups(form);
        case OwnKind::ladder:
            return ladder_groups(form, content);
        case OwnKind::substance:
            break;
    }
    return substance_groups(form);
}

std::string text_of(const OwnForm& form, const content::Content& content, const std::string& id) {
    std::map<std::string, OwnValue> values;
    for (const OwnGroup& group : groups_of(form, content))
        for (const OwnField& field : group.fields)
            if (!field.pointer.empty()) values[field.pointer] = {field.kind, held(form, field), field.scale};
    const std::string whole = std::string(content::own_prefix) + id;
    switch (form.kind) {
        case OwnKind::equipment:
            work_in_equipment(values, form, whole);
            return content::own_text("equipment", values);
        case OwnKind::ladder:
            work_in_ladder(values, form, content, whole);
            return content::own_text("ladders", values);
        case OwnKind::substance:
            break;
    }
    work_in_substance(values, form, whole);
    return content::own_text("own-substance", values);
}

std::vector<OwnProblem> problems_of(const OwnForm& form, const content::Content& content) {
    std::vector<OwnProblem> problems;
    const std::vector<OwnGroup> groups = groups_of(form, content);
    for (const Problem& problem :
         problems_beyond(form, content))  // `where` is the name of a field of the head
        for (const OwnField& field : groups.front().fields)
            if (field.place.field == problem.where) say_of(problems, form, field, problem);
    const bool has_rungs = std::ranges::none_of(problems, [](const OwnProblem& problem) {
        const std::string& field = problem.place.field;
        return field == "lowest" || field == "ratio" || field == "count";
    });
    std::string first;
    content::Content with = content;
    for (const Problem& problem : content::add_own(with, form.kind, text_of(form, content, "new"), "mine")) {
        const std::string pointer = pointer_in(problem.where);
        if (!has_rungs && pointer.starts_with("/ladders/0/levels")) continue;  // follows from what was said
        const OwnField* field = field_of(groups, pointer);
        if (field != nullptr)
            say_of(problems, form, *field, problem);
        else
            say(problems, {.place = {}, .is_of_field = false, .text = problem.what + ": " + problem.right});
        first = first.empty() ? to_text(problem) : first;
    }
    // Nothing is refused without a word.
    if (problems.empty() && !first.empty())
        problems.push_back({.place = {}, .is_of_field = false, .text = first});
    return problems;
}

}  // namespace sipladder::gui

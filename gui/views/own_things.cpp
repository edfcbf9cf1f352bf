#include "gui/views/own_things.hpp"

#include "engine/safety/intake.hpp"
#include "engine/text.hpp"
#include "gui/app/app.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

using content::OwnKind;

std::string name_of(OwnKind kind) {
    switch (kind) {
        case OwnKind::equipment:
            return "equipment";
        case OwnKind::ladder:
            return "ladder";
        case OwnKind::substance:
            break;
    }
    return "substance";
}

std::string about_equipment(const content::Content& content, const std::string& id) {
    std::string about;
    for (const solution::Equipment& one : content.equipment) {
        if (one.id != id) continue;
        for (const solution::Balance& balance : one.balances)
            about.append(about.empty() ? "" : "; ").append(balance.name);
        for (const solution::Vessel& vessel : one.vessels)
            about.append(about.empty() ? "" : "; ").append(vessel.name);
    }
    return about;
}

std::string about_ladder(const content::Content& content, const std::string& id) {
    for (const solution::Ladder& one : content.ladders)
        if (one.id() == id)
            return content.substance(one.substance()).name + ", " + counted(one.size(), "rung", "rungs") +
                   " from " + significant(one.targets().front(), 2) + " to " +
                   significant(one.targets().back(), 2) + " " + unit_text(one.scale());
    return {};
}

std::string about_substance(const content::Content& content, const std::string& id) {
    for (const solution::Substance& one : content.substances) {
        if (one.id != id) continue;
        std::string about = "counts as " + safety::counts_as(one) + "; cups up to " +
                            exact(one.strongest_cup) + " " + unit_text(one.scale);
        for (const solution::Ingredient& ingredient : content.ingredients_of(id))
            about.append("; from ").append(ingredient.name);
        return about;
    }
    return {};
}

std::string about(const content::Content& content, const OwnThing& thing) {
    switch (thing.kind) {
        case OwnKind::equipment:
            return about_equipment(content, thing.id);
        case OwnKind::ladder:
            return about_ladder(content, thing.id);
        case OwnKind::substance:
            break;
    }
    return about_substance(content, thing.id);
}

RecordAskedView asked_about(const OwnThing& thing, const RecordsLook& look) {
    RecordAskedView asked = asked_for(look);
    const std::string what = name_of(thing.kind) + " \"" + thing.name + "\"?";
    asked.title = (look.puts_back ? "Put back the " : "Strike out the ") + what;
    asked.explains =
        look.puts_back ? "It is offered again; that it was struck out, and why it is back, stays in the "
                         "journal."
                       : "It is not offered any more. What was mixed and tasted with it stays. Records puts "
                         "it back.";
    return asked;
}

Field shown_in(const OwnForm& form, const OwnField& field) {
    const std::string typed = typed_at(form, field.place);
    return {.text = typed.empty() ? field.usual : typed, .unit = field.unit, .problem = {}};
}

std::string sentence(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text.empty() ? text : text + ".";
}

OwnFieldView view_of(const OwnForm& form, const OwnField& field) {
    OwnFieldView view{.place = field.place,
                      .label = field.label,
                      .field = shown_in(form, field),
                      .choices = {},
                      .values = {},
                      .explains = sentence(field.explains)};
    view.begins = form.begins == field.place;
    for (const auto& [value, label] : field.choices) {
        view.choices.push_back(
            {.label = label, .is_chosen = value == view.field.text, .note = {}, .component = {}});
        view.values.push_back(value);
    }
    return view;
}

std::string explanation(OwnKind kind) {
    switch (kind) {
        case OwnKind::equipment:
            return "What your scale shows and what your syringes are marked with. Every number in a plan "
                   "will be "
                   "one that these can show.";
        case OwnKind::ladder:
            return "Levels of your own choice, weakest first, none above the strongest cup of its substance.";
        case OwnKind::substance:
            break;
    }
    return "Food grade only, from a pack whose label you can read. It counts against the same limits as what "
           "is "
           "shipped, gets the same cautions, and no cup is stronger. If you are unsure what it counts as, "
           "leave "
           "it out.";
}

/// One more of what is there, once that is begun with.
std::vector<OwnAdds> adds_of(const OwnForm& form) {
    std::vector<OwnAdds> adds;
    const auto offer = [&](OwnList list, const std::vector<OwnTyped>& tools, const char* what) {
        const auto is_typed = [](const auto& one) { return !one.second.empty(); };
        if (tools.empty())
            adds.push_back({list, std::string("Add a ").append(what)});
        else if (std::ranges::any_of(tools.back(), is_typed))
            adds.push_back({list, std::string("One more ").append(what)});
    };
    offer(OwnList::balances, form.balances, "scale");
    offer(OwnList::vessels, form.vessels, "syringe or vessel");
    return adds;
}

/// What becomes of what was done with a thing that is changed now.
std::string what_stays(OwnKind kind) {
    switch (kind) {
        case OwnKind::equipment:
            return "What was mixed with it before keeps the equipment it was mixed with.";
        case OwnKind::ladder:
            return "What was mixed and tasted by it before keeps its rungs.";
        case OwnKind::substance:
            break;
    }
    return "Bottles and answers from before stay with the substance as it was, under the same name. As it is "
           "changed it counts as another one: its thresholds begin anew, and own ladders go on with the one "
           "before until they are changed too.";
}

}  // namespace

OwnListView own_list(const App& app, std::optional<OwnKind> kind) {
    OwnListView view;
    for (const OwnThing& thing : app.own) {
        if (kind && (thing.kind != *kind || thing.struck)) continue;
        view.lines.push_back({.fact = thing.fact,
                              .kind = name_of(thing.kind),
                              .name = thing.name,
                              .about = thing.problem.empty() ? about(*app.content, thing) : std::string(),
                              .since = to_date(thing.at),
                              .struck = struck_text(thing.struck),
                              .problem = thing.problem,
                              .can_change = !thing.struck});
        if (app.records_look.asked && *app.records_look.asked == thing.fact)
            view.asked = asked_about(thing, app.records_look);
    }
    if (!view.lines.empty()) return view;
    if (!app.person)
        view.empty = "Own things are kept with a person: say who tastes first.";
    else
        view.empty = kind ? "None yet." : "None yet. Settings (F4) adds equipment, ladders and substances.";
    return view;
}

OwnFormView own_form_view(const App& app) {
    OwnFormView view;
    if (!app.own_form) return view;
    const OwnForm& form = *app.own_form;
    const bool is_new = !form.changes;
    view.title = is_new ? "New " + name_of(form.kind) : "Change this " + name_of(form.kind);
    view.explains = is_new ? explanation(form.kind) : what_stays(form.kind);
    view.label = is_new ? "Keep this " + name_of(form.kind) : "Keep it as changed";
    view.leaves = is_new ? "Throw this form away" : "Leave it as it was";
    if (form.kind == OwnKind::equipment) view.adds = adds_of(form);
    view.times_begun = form.times_begun;
    const auto content = content_for_form(app);
    const std::vector<OwnProblem> problems = problems_of(form, *content);
    for (const OwnGroup& group : groups_of(form, *content)) {
        view.groups.push_back({.title = group.title,
                               .list = group.list,
                               .index = group.index,
                               .can_remove = group.list != OwnList::head,
                               .fields = {}});
        for (const OwnField& field : group.fields) {
            OwnFieldView shown = view_of(form, field);
            const bool is_touched = !typed_at(form, field.place).empty();
            for (const OwnProblem& problem : problems)
                if (problem.is_of_field && problem.place == field.place && (is_touched || form.was_tried))
                    shown.field.problem = problem.text;
            view.groups.back().fields.push_back(std::move(shown));
        }
    }
    if (form.was_tried && !problems.empty())
        view.problems.push_back("Not kept yet: " + counted(problems.size(), "thing is", "things are") +
                                " to be put right.");
    if (form.was_tried)
        for (const OwnProblem& problem : problems)
            if (!problem.is_of_field) view.problems.push_back(problem.text);
    return view;
}

}  // namespace sipladder::gui

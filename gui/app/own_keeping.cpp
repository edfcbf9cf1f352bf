// What is kept never changes: a changed thing is a new one with an id of its own, and the one before is
// struck out in the same transaction. So whatever was mixed, tasted or planned under the old id means what it
// meant; the form in Prepare and what is usual go over to the new one.

#include "drills/record_own.hpp"
#include "engine/text.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/own_form_parts.hpp"
#include "gui/app/own_things.hpp"
#include "gui/app/sitting.hpp"

#include <algorithm>
#include <utility>

namespace sipladder::gui {

namespace {

using content::OwnKind;

/// "my scale, 0.01 g" becomes "my_scale_0_01_g": what a person can tell apart in a file.
std::string slug_of(const std::string& name) {
    constexpr std::size_t longest = 24;
    std::string slug;
    for (const char c : name) {
        const bool is_upper = c >= 'A' && c <= 'Z';
        const bool is_kept = is_upper || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
        if (is_kept && slug.size() < longest) slug += is_upper ? static_cast<char>(c - 'A' + 'a') : c;
        if (!is_kept && !slug.empty() && slug.back() != '_') slug += '_';
    }
    while (!slug.empty() && slug.back() == '_') slug.pop_back();
    return slug.empty() ? "thing" : slug;
}

bool is_named_in(const Setup& setup, const OwnThing& thing) {
    switch (thing.kind) {
        case OwnKind::equipment:
            return setup.kitchen == thing.id;
        case OwnKind::ladder:
            return setup.rungs == Rungs::kept && setup.ladder == thing.id;
        case OwnKind::substance:
            break;
    }
    return setup.substance == thing.id;
}

/// The thing in this row, as it stands to be changed.
const OwnThing& to_be_changed(const App& app, const Uuid& fact) {
    const auto found = std::ranges::find(app.own, fact, &OwnThing::fact);
    if (found == app.own.end() || found->struck)
        throw Refused("Settings", "what was to be changed is not there any more",
                      "put it back in Records first, or add it anew");
    for (const Bench* bench : benches(app))
        if (is_named_in(bench->setup, *found) && (!bench->notes.empty() || bench->waiting))
            throw Refused("Settings",
                          "\"" + found->name + "\" is in use: steps of its plan are ticked or read already",
                          "keep that mix in Prepare first, or clear what was noted");
    return *found;
}

std::string body_of(const App& app, const OwnThing& thing) {
    const auto fact = app.journal->fact(thing.fact);
    return fact ? fact->body : std::string();
}

/// The forms in Prepare, and what is usual, that named the one name the other; their plans are made anew.
void go_over(App& app, const OwnThing& from, const std::string& to) {
    for (std::size_t i = 0; i <= app.beside.size(); ++i) {
        Bench& bench = bench_at(app, i);
        if (!is_named_in(bench.setup, from)) continue;
        if (from.kind == OwnKind::equipment) bench.setup.kitchen = to;
        if (from.kind == OwnKind::ladder) bench.setup.ladder = to;
        if (from.kind == OwnKind::substance) {
            bench.setup.substance = to;
            bench.setup.ingredient.clear();
        }
        if (bench.plan) bench.former_plan = std::exchange(bench.plan, nullptr);
        bench.job.reset();
        app.bench.unsaved_since_ms = app.now.monotonic_ms;  // a start of the program finds the new one
    }
    if (from.kind == OwnKind::equipment && app.usual.kitchen == from.id) app.usual.kitchen = to;
}

/// To the first field, in the order of the form, that is not right.
void begin_at_first(OwnForm& form, const std::vector<OwnProblem>& problems, const content::Content& content) {
    for (const OwnGroup& group : groups_of(form, content))
        for (const OwnField& field : group.fields)
            if (std::ranges::any_of(problems, [&](const OwnProblem& one) {
                    return one.is_of_field && one.place == field.place;
                }))
                return begin_at(form, field.place);
}

}  // namespace

std::shared_ptr<const content::Content> content_for_form(const App& app) {
    if (!app.own_form || !app.own_form->changes) return app.content;
    const auto changed = std::ranges::find(app.own, *app.own_form->changes, &OwnThing::fact);
    if (changed == app.own.end()) return app.content;
    auto without = std::make_shared<content::Content>(*app.content);
    content::strike_own(*without, changed->kind, changed->id);
    return without;
}

void check_put_back(const App& app, const Uuid& fact) {
    const auto thing = std::ranges::find(app.own, fact, &OwnThing::fact);
    if (thing == app.own.end()) return;
    const OwnForm form = form_of(thing->kind, body_of(app, *thing), *app.content);
    for (const Problem& problem : problems_beyond(form, *app.content))
        if (problem.where == "name")
            throw Refused("Put back", problem.what,
                          "strike that one out first, or change its name; the two could not be told apart");
}

void on(Next& next, const ChangeOwn& intent) {
    App& app = next.app;
    const OwnThing& thing = to_be_changed(app, intent.fact);
    on(next, ShowSettings{thing.kind == OwnKind::equipment ? SettingsPart::equipment
                          : thing.kind == OwnKind::ladder  ? SettingsPart::ladders
                                                           : SettingsPart::substances});
    app.own_form = form_of(thing.kind, body_of(app, thing), *app.content);
    app.own_form->changes = thing.fact;
}

void on(Next& next, const KeepOwn&) {
    App& app = next.app;
    if (!app.own_form) throw Refused("Settings", "no form is open", "begin a new one");
    if (!app.person) throw Refused("Settings", "nobody is chosen", "say who tastes first");
    OwnForm& form = *app.own_form;
    form.was_tried = true;
    const auto content = content_for_form(app);
    if (const std::vector<OwnProblem> problems = problems_of(form, *content); !problems.empty())
        return begin_at_first(form, problems, *content);  // said beside the fields from now on
    const std::string name{trimmed(typed_at(form, {OwnList::head, 0, "name"}))};
    const OwnThing* before = form.changes ? &to_be_changed(app, *form.changes) : nullptr;
    if (before != nullptr &&
        text_of(form, *content, before->id.substr(content::own_prefix.size())) == body_of(app, *before)) {
        app.notice = Notice{.lines = {"Nothing was changed: " + name + " is as it was."}};
        app.own_form.reset();
        return;
    }
    const Uuid fact = uuid_from(app.chance);
    constexpr std::size_t digits_of_id = 8;
    const std::string id = slug_of(name) + "_" + fact.text.substr(0, digits_of_id);
    next.rows.emplace_back(journal::Fact{.id = fact,
                                         .person = *app.person,
                                         .kind = drills::record::kind_of_own(form.kind),
                                         .at = app.now,
                                         .body = text_of(form, *content, id),
                                         .struck = {}});
    if (before != nullptr) {
        next.rows.emplace_back(journal::StrikeRow{.id = uuid_from(app.chance),
                                                  .target = before->fact,
                                                  .strikes = true,
                                                  .reason = "changed: \"" + name + "\" is in its place",
                                                  .at = app.now});
        go_over(app, *before, std::string(content::own_prefix) + id);
    }
    app.notice = Notice{.lines = {name + (before != nullptr ? " is kept as changed" : " is kept") +
                                  ", and offered in Prepare" +
                                  (form.kind == OwnKind::equipment ? " and Class." : ".")}};
    app.own_form.reset();
    next.read_again = true;
}

}  // namespace sipladder::gui

// What is shipped never changes; what is the person's own is put beside it anew whenever their rows change.
// Forms, lists and fits then see one content and need not ask whose a thing is.

#include "gui/app/own_things.hpp"

#include "drills/record_own.hpp"
#include "engine/text.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/usual.hpp"

#include <algorithm>
#include <array>

namespace sipladder::gui {

namespace {

using content::OwnKind;

std::vector<OwnThing> things_in(const std::vector<journal::Fact>& facts) {
    std::vector<OwnThing> things;
    for (const journal::Fact& fact : facts) {
        const auto kind = drills::record::own_kind_of(fact);
        if (!kind) continue;
        const content::OwnTitle title = content::title_of_own(*kind, fact.body);
        things.push_back({.fact = fact.id,
                          .kind = *kind,
                          .at = fact.at,
                          .id = title.id,
                          .name = title.name.empty() ? "what cannot be read" : title.name,
                          .problem = {},
                          .struck = fact.struck});
    }
    return things;
}

bool is_same(const std::vector<OwnThing>& before, const std::vector<OwnThing>& now) {
    return std::ranges::equal(before, now, [](const OwnThing& a, const OwnThing& b) {
        return a.fact == b.fact && a.struck == b.struck;
    });
}

/// What is shipped, and equipment that was read from a file since the start.
content::Content beginning(const App& app) {
    content::Content content = *app.shipped;
    for (const solution::Equipment& one : app.content->equipment) {
        const auto same = std::ranges::find(content.equipment, one.id, &solution::Equipment::id);
        if (same != content.equipment.end() || content::is_own(one.id)) continue;
        content.equipment.push_back(one);
        content.equipment_entries[one.id] = app.content->equipment_entries.at(one.id);
    }
    return content;
}

void add(content::Content& content, OwnThing& thing, const std::string& body) {
    const bool is_offered = !thing.struck.has_value();
    if (!is_offered && thing.kind != OwnKind::substance) return;
    const std::vector<Problem> problems = content::add_own(content, thing.kind, body, thing.name);
    if (!problems.empty())
        thing.problem = to_text(problems.front());
    else if (!is_offered)
        content::strike_own(content, thing.kind, thing.id);
}

}  // namespace

bool take_own_things(App& app) {
    std::vector<journal::Fact> facts;
    if (app.person) facts = app.journal->facts(*app.person, drills::record::own_kinds());
    std::vector<OwnThing> things = things_in(facts);
    if (is_same(app.own, things)) return false;
    auto content = std::make_shared<content::Content>(beginning(app));
    std::map<Uuid, std::string> bodies;
    for (const journal::Fact& fact : facts) bodies[fact.id] = fact.body;
    // A ladder may be of a substance that came after it, as rows of two journals do.
    for (const OwnKind kind : {OwnKind::substance, OwnKind::equipment, OwnKind::ladder})
        for (OwnThing& thing : things)
            if (thing.kind == kind) add(*content, thing, bodies[thing.fact]);
    const bool is_as_new = app.bench.setup == first_setup(app);
    app.own = std::move(things);
    app.content = std::move(content);
    if (is_as_new) app.bench.setup = first_setup(app);  // the usual equipment may be one's own
    for (const OwnThing& thing : app.own)
        if (!thing.problem.empty() && !thing.struck)
            app.notice = Notice{
                .lines = {"Of your own things, \"" + thing.name + "\" is not offered: " + thing.problem,
                          "Settings (F4) lists it."},
                .is_problem = true};
    return true;
}

void drop_own_things(App& app) {
    if (app.own.empty()) return;
    app.content = std::make_shared<const content::Content>(beginning(app));
    app.own.clear();
}

namespace {

OwnForm& open_form(Next& next) {
    if (!next.app.own_form) throw Refused("Settings", "no form is open", "begin a new one");
    return *next.app.own_form;
}

constexpr std::size_t most_tools = 20;  // of one kind in an equipment: what a cupboard holds

/// To the first field of a tool; of the head, where there is none.
void begin_at_tool(OwnForm& form, OwnList list, std::size_t index, const content::Content& content) {
    const std::vector<OwnGroup> groups = groups_of(form, content);
    const auto found = std::ranges::find_if(
        groups, [&](const OwnGroup& one) { return one.list == list && one.index == index; });
    begin_at(form, (found == groups.end() ? groups.front() : *found).fields.front().place);
}

}  // namespace

void on(Next& next, const ShowSettings& intent) {
    next.app.dialog = Dialog::settings;
    next.app.settings_part = intent.part;
    next.app.typed_usual_cup.reset();
    next.app.records_look.asked.reset();
    next.app.records_look.reason.clear();
}

void on(Next& next, const BeginOwn& intent) {
    if (!next.app.person)
        throw Refused("Settings", "nobody is chosen",
                      "say who tastes first: what is one's own is kept with a person");
    next.app.own_form = new_form(intent.kind);
}

void on(Next& next, const TypeOwn& intent) {
    type_at(open_form(next), intent.place, intent.text);
}

void on(Next& next, const AddOwnTool& intent) {
    OwnForm& form = open_form(next);
    auto& tools = intent.list == OwnList::balances ? form.balances : form.vessels;
    if (tools.size() >= most_tools)
        throw Refused("Equipment", "holds " + std::to_string(most_tools) + " of these already",
                      "another equipment for the rest");
    tools.emplace_back();
    begin_at_tool(form, intent.list, tools.size() - 1, *next.app.content);
}

void on(Next& next, const RemoveOwnTool& intent) {
    OwnForm& form = open_form(next);
    auto& tools = intent.list == OwnList::balances ? form.balances : form.vessels;
    if (intent.index >= tools.size()) return;
    tools.erase(tools.begin() + static_cast<std::ptrdiff_t>(intent.index));
    begin_at_tool(form, intent.list, std::min(intent.index, std::max<std::size_t>(tools.size(), 1) - 1),
                  *next.app.content);
}

void on(Next& next, const LeaveOwn&) {
    next.app.own_form.reset();
}

}  // namespace sipladder::gui

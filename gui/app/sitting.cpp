#include "gui/app/sitting.hpp"

#include "drills/pacing.hpp"
#include "engine/solution/as_mixed.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/planning.hpp"

#include <algorithm>
#include <utility>

namespace sipladder::gui {

namespace {

using drills::Blinding;
using drills::Kind;

constexpr std::size_t least_told_apart = 2;  // of recognition
constexpr std::size_t usually_told_apart = 3;

drills::WantedDrill wanted_drill(Kind kind, drills::Order order, Blinding blinding, std::size_t presentations,
                                 std::size_t ladders) {
    drills::WantedDrill drill{
        .kind = kind, .order = order, .blinding = blinding, .presentations = presentations, .ladders = {}};
    for (std::size_t i = 0; i < ladders; ++i) drill.ladders.push_back(i);
    return drill;
}

/// A programme is written for one who pours; it can be had the other way too.
Blinding as_poured(const drills::WantedDrill& drill, Pours pours) {
    if (pours == Pours::as_written || drill.kind == Kind::tray_check) return drill.blinding;
    if (pours == Pours::helper) return Blinding::served;
    const bool is_single =
        drill.kind == Kind::quick_look || drill.kind == Kind::recognition || drills::is_fixed(drill.kind);
    return is_single ? Blinding::sealed_key : Blinding::shuffled_tray;
}

Setup fresh_form(const App& app, const std::string& substance) {
    Setup setup;
    setup.substance = substance;
    const auto fitting = app.content->ingredients_of(substance);
    if (!fitting.empty()) setup.ingredient = fitting.front().id;
    return setup;
}

/// The form that holds what is known of this ladder already, the open one's newest words first.
template <class Is>
Setup known_form(const App& app, const Setup& open, Is is, Setup otherwise) {
    if (is(open)) return open;
    for (const Bench* bench : benches(app))
        if (is(bench->setup)) return bench->setup;
    return otherwise;
}

/// What all ladders share, where the open one stands in a base of its own: the base of the others.
Setup common_of(const App& app, const Setup& open) {
    if (open.base_of_its_own.empty()) return open;
    Setup common = open;
    common.base = app.content->programme(open.programme).base;
    for (const Bench* bench : benches(app))
        if (bench->setup.base_of_its_own.empty() && bench->setup.programme == open.programme)
            common.base = bench->setup.base;
    return common;
}

/// In the order of drills::sitting_of: each ladder once in each base.
Forms forms_of_programme(const App& app, const Setup& open) {
    Forms forms;
    const Setup common = common_of(app, open);
    const auto add = [&](const std::string& id, const std::string& base) {
        const auto is_it = [&](const Setup& one) {
            return one.rungs == Rungs::written && one.ladder == id && one.base_of_its_own == base;
        };
        if (std::ranges::any_of(forms.all, is_it)) return;
        Setup fresh = fresh_form(app, app.content->ladder(id).substance());
        fresh.ladder = id;
        fresh.rungs = Rungs::written;
        fresh.base_of_its_own = base;
        if (is_it(open) && open.substance == fresh.substance) forms.open = forms.all.size();
        const auto is_known = [&](const Setup& one) {
            return is_it(one) && one.substance == fresh.substance;
        };
        forms.all.push_back(shared_from(known_form(app, open, is_known, fresh), common));
    };
    for (const content::ProgrammeDrill& drill : app.content->programme(open.programme).drills) {
        for (const std::string& id : drill.ladders) add(id, {});
        if (!drill.other_base.empty()) add(drill.ladders.front(), drill.other_base);
    }
    return forms;
}

/// At least two substances; the one that is open first, then those that are commonly told apart.
Forms forms_of_recognition(const App& app, const Setup& open) {
    Forms forms{.all = {}, .open = app.open_ladder};
    const std::vector<const Bench*> before = benches(app);
    const bool goes_on = before.size() >= least_told_apart && app.bench.setup.programme.empty() &&
                         app.bench.setup.drill == "recognition";
    if (goes_on) {
        for (std::size_t i = 0; i < before.size(); ++i)
            forms.all.push_back(shared_from(i == app.open_ladder ? open : before[i]->setup, open));
        return forms;
    }
    forms.open = 0;
    forms.all.push_back(open);
    for (const char* substance : {"sucrose", "tartaric_acid", "sodium_chloride", "caffeine"}) {
        if (forms.all.size() >= usually_told_apart) break;
        const auto& known = app.content->substances;
        const bool is_there = std::ranges::find(known, substance, &solution::Substance::id) != known.end() &&
                              std::ranges::find(forms.all, substance, &Setup::substance) == forms.all.end();
        if (is_there) forms.all.push_back(shared_from(fresh_form(app, substance), open));
    }
    return forms;
}

}  // namespace

std::vector<const Bench*> benches(const App& app) {
    std::vector<const Bench*> all;
    for (const Bench& one : app.beside) all.push_back(&one);
    all.insert(all.begin() + static_cast<std::ptrdiff_t>(app.open_ladder), &app.bench);
    return all;
}

Bench& bench_at(App& app, std::size_t place) {
    if (place == app.open_ladder) return app.bench;
    return app.beside.at(place < app.open_ladder ? place : place - 1);
}

Forms forms_with(const App& app, const Setup& open) {
    if (!open.programme.empty()) return forms_of_programme(app, open);
    if (offer_named(open.drill).kind == Kind::recognition) return forms_of_recognition(app, open);
    return {.all = {open}, .open = 0};
}

Blinding blinding_of(const Setup& setup) {
    const std::vector<Blinding>& suit = offer_named(setup.drill).blindings;
    const bool can_be_served = std::ranges::find(suit, Blinding::served) != suit.end();
    return setup.pours == Pours::helper && can_be_served ? Blinding::served : suit.front();
}

drills::WantedSitting wanted_sitting(const App& app, const Setup& setup,
                                     std::vector<solution::Ladder> ladders) {
    drills::WantedSitting sitting;
    if (!setup.programme.empty()) {
        sitting = drills::sitting_of(app.content->programme(setup.programme), *app.content);
        for (drills::WantedDrill& drill : sitting.drills) drill.blinding = as_poured(drill, setup.pours);
    } else {
        const Offer& offer = offer_named(setup.drill);
        sitting.name = "this drill";
        if (offer.kind == Kind::tray_check) {
            // Nobody mixes a ladder to look at a tray: what follows is the drill that the tray is for.
            const Offer& after = offer_named("detection");
            sitting.drills = {wanted_drill(Kind::tray_check, offer.order, Blinding::shuffled_tray,
                                           offer.usual, ladders.size()),
                              wanted_drill(after.kind, after.order, Blinding::shuffled_tray,
                                           setup.presentations, ladders.size())};
        } else {
            sitting.drills = {wanted_drill(offer.kind, offer.order, blinding_of(setup), setup.presentations,
                                           ladders.size())};
        }
    }
    sitting.ladders = std::move(ladders);
    sitting.base = setup.base;
    sitting.bases.clear();
    if (!setup.programme.empty())
        for (const Setup& form : forms_with(app, setup).all) {
            sitting.bases.push_back(form.base_of_its_own);
            if (form.base_of_its_own.empty()) sitting.base = form.base;
        }
    sitting.cup = Millilitres{number_from_typed(setup.cup_mL).value_or(10.0)};
    return sitting;
}

std::size_t usual_presentations(const App& app, const Setup& setup) {
    const Offer& offer = offer_named(setup.drill);
    std::vector<std::size_t> counts =
        offer.kind == Kind::tray_check ? offer_named("detection").presentations : offer.presentations;
    std::ranges::sort(counts, std::ranges::greater{});
    Setup tried = setup;
    for (const std::size_t count : counts) {
        if (count > offer.usual) continue;
        tried.presentations = count;
        std::vector<solution::Ladder> ladders;
        for (const Asked& asked : requests_of(app, forms_with(app, tried).all))
            if (const auto* request = std::get_if<solution::PlanRequest>(&asked))
                ladders.push_back(request->ladder);
        if (ladders.empty()) break;
        try {
            const drills::WantedSitting sitting = wanted_sitting(app, tried, std::move(ladders));
            const auto plans = drills::plans_of(sitting, *app.content, drills::on_target(sitting));
            if (drills::problems_of(sitting, *app.content, plans).empty()) return count;
        } catch (const Refused&) {
            break;  // something else is wrong with it, which the form says
        }
    }
    return offer.usual;
}

std::optional<Prepared> prepared(const App& app) {
    std::vector<solution::Ladder> ladders;
    std::vector<std::optional<solution::MixedLadder>> mixed;
    for (const Bench* bench : benches(app)) {
        const solution::PlanRequest* request = request_in(*bench);
        if (request == nullptr) return std::nullopt;
        ladders.push_back(request->ladder);
        mixed.emplace_back();
        if (bench->plan) mixed.back() = solution::as_planned(*bench->plan);
        // What was misread may have made the strongest rung stronger than planned.
        if (bench->plan) try {
                mixed.back() = mixed_after(*bench->plan, read_notes(*bench).record).ladder;
            } catch (const Refused&) {
                // Fewer than two levels are left: said where the notes stand.
            }
    }
    Prepared found{.sitting = wanted_sitting(app, app.bench.setup, std::move(ladders)), .plans = {}};
    std::vector<solution::MixedLadder> all = drills::on_target(found.sitting);
    for (std::size_t i = 0; i < all.size(); ++i)
        if (mixed[i]) all[i] = *mixed[i];
    try {
        found.plans = drills::plans_of(found.sitting, *app.content, all,
                                       app.history ? app.history->taken_today : safety::Intake{});
    } catch (const Refused&) {
        return std::nullopt;
    }
    return found;
}

namespace {

void note_readings(const App& app, std::vector<std::string>& against) {
    for (const Bench* bench : benches(app)) {
        if (!bench->plan) continue;
        const ReadNotes read = read_notes(*bench);
        if (!read.problems.empty()) against.emplace_back("A reading cannot be read; see the step.");
        if (read.problems.empty()) try {
                mixed_after(*bench->plan, read.record);
            } catch (const Refused& refused) {
                for (const Problem& problem : refused.problems()) against.push_back(to_text(problem));
            }
    }
}

}  // namespace

std::vector<std::string> against_keeping(const App& app) {
    std::vector<std::string> against;
    const auto note = [&](const std::string& reason) {
        if (std::ranges::find(against, reason) == against.end()) against.push_back(reason);
    };
    if (const auto sitting = prepared(app)) {
        const bool is_one = sitting->plans.size() == 1;
        for (const drills::Plan& plan : sitting->plans) try {
                drills::check_shape(plan);
                drills::check_caps(plan);
            } catch (const Refused& refused) {
                for (const Problem& one : refused.problems())
                    note(one.where == "caps" ? one.what + " Right: " + one.right + "." : to_text(one));
            }
        if (!is_one)
            for (const Problem& one : drills::limits_crossed(sitting->sitting, *app.content, sitting->plans))
                note(to_text(one));
        const bool holds_ethanol = std::ranges::any_of(sitting->plans, drills::holds_ethanol);
        if (holds_ethanol && app.history && !app.history->no_ethanol_reasons.empty())
            note(
                "You ticked a reason not to take part in alcohol drills; another substance is as good a "
                "start.");
    }
    note_readings(app, against);
    if (!app.person)
        note("Nobody is set to taste it yet: add a person.");
    else if (!app.history->cautions_read)
        note("The cautions have not been read yet.");
    return against;
}

std::string sitting_name(const App& app) {
    const Setup& setup = app.bench.setup;
    return setup.programme.empty() ? offer_named(setup.drill).label
                                   : app.content->programme(setup.programme).name;
}

std::string line_of(const drills::Plan& plan) {
    std::string names;
    const std::size_t lines = drills::line_count(plan);
    for (std::size_t line = 0; line < lines; ++line) {
        if (line > 0) names += line + 1 == lines ? " and " : ", ";
        names += drills::substance_of(plan, line).name;
    }
    const std::string what =
        plan.kind == Kind::tray_check ? " rounds"
        : drills::cups_together(plan) == 1
            ? " cups"
            : " presentations of " + std::to_string(drills::cups_together(plan)) + " cups";
    return name_of_drill(plan) + ", " + names + ": " + std::to_string(plan.most_presentations) + what + ", " +
           text_of(plan.blinding);
}

std::string beyond_one_sitting(const App& app, const Prepared& prepared) {
    if (prepared.plans.size() > 1) return {};
    const auto crossed = drills::limits_crossed(prepared.sitting, *app.content, prepared.plans);
    if (crossed.empty()) return {};
    return "More than one sitting (" + crossed.front().right + "): stop half-way, and go on within 48 hours.";
}

namespace {

/// Whether this was the planned drill, by what it is and what it poured.
bool is_done_by(const PastDrill& past, const drills::record::PlannedDrill& planned, const History& history) {
    const drills::Plan& plan = past.state.plan;
    if (plan.kind != planned.kind || plan.order != planned.order || planned.mixes.empty()) return false;
    const auto mix = mix_of_id(history, planned.mixes.front());
    return mix && history.mixes[*mix].substance == plan.substance.id &&
           history.mixes[*mix].base_name == plan.base_name;
}

}  // namespace

Progress progress_of(const App& app) {
    Progress progress;
    if (!app.history || !app.history->planned) return progress;
    const History& history = *app.history;
    if (drills::pacing::too_old(history.planned->at, app.now)) return progress;
    progress.planned = &*history.planned;
    std::vector<const PastDrill*> since;
    for (std::size_t i = 0; i < history.done.size(); ++i)
        if (history.done.lines()[i].started.utc_ms >= history.planned->at.utc_ms)
            since.push_back(&history.done[i]);
    for (const drills::record::PlannedDrill& planned : history.planned->plan.drills) {
        const auto by = std::ranges::find_if(
            since, [&](const PastDrill* past) { return is_done_by(*past, planned, history); });
        progress.done.push_back(by != since.end());
        if (by != since.end())
            since.erase(by);
        else if (!progress.next)
            progress.next = progress.done.size() - 1;
    }
    return progress;
}

std::string line_of(const App& app, const drills::record::PlannedDrill& drill) {
    std::vector<const drills::record::KeptMix*> mixes;
    for (const Uuid& id : drill.mixes) {
        if (const auto mix = mix_of_id(*app.history, id)) mixes.push_back(&app.history->mixes[*mix]);
    }
    std::string line = name_of_drill(drill.kind, drill.order);
    for (const drills::record::KeptMix* mix : mixes) {
        const auto is_same = [&](const auto* one) { return one->substance == mix->substance; };
        line += ", " + app.content->substance(mix->substance).name;
        if (std::ranges::count_if(mixes, is_same) > 1) line += " in " + mix->base_name;
    }
    return line + ", " + text_of(drill.blinding);
}

std::string next_drill_of(const App& app) {
    const Progress progress = progress_of(app);
    if (!progress.next || progress.done.size() < 2) return {};
    return line_of(app, progress.planned->plan.drills[*progress.next]);
}

void follow_sitting(App& app) {
    const Progress progress = progress_of(app);
    if (app.own_choice || !progress.next) return;
    const drills::record::PlannedDrill& next = progress.planned->plan.drills[*progress.next];
    std::vector<std::size_t> mixes;
    for (const Uuid& id : next.mixes) {
        const auto mix = mix_of_id(*app.history, id);
        if (!mix) return;
        mixes.push_back(*mix);
    }
    if (mixes.empty()) return;
    const Offer& offer = offer_of(next.kind, next.order);
    app.chosen_offer = static_cast<std::size_t>(&offer - offers().data());
    app.chosen_mix = mixes.front();
    app.chosen_others = {mixes.begin() + 1, mixes.end()};
    app.chosen_blinding = next.blinding;
    app.chosen_presentations = next.presentations;
    app.chosen_cup = progress.planned->plan.cup;
    app.chosen_condition = next.condition;
    app.chosen_prior.reset();
}

}  // namespace sipladder::gui

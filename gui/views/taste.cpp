#include "gui/views/taste.hpp"

#include "drills/blinding/sealed_key.hpp"
#include "drills/pacing.hpp"
#include "drills/plans.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/own_words.hpp"
#include "gui/app/sitting.hpp"
#include "gui/views/finding.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

constexpr std::size_t most_mixes_offered = 6;

void show_unfinished(TasteStartView& view, const App& app) {
    for (const PastDrill& past : app.history->unfinished) {
        std::size_t done = 0;
        for (const drills::Trial& trial : past.state.trials) done += trial.given ? 1U : 0U;
        const bool is_too_old =
            !past.state.trials.empty() &&
            drills::pacing::too_old(past.state.trials.front().given->at, app.now).has_value();
        view.unfinished.push_back(
            {past.drill,
             name_of_drill(past.state.plan) + ", " + title_of(past.state.plan) + ", begun " +
                 to_date(past.started) + ": " + std::to_string(done) + " of " +
                 std::to_string(past.state.plan.most_presentations) + " answered" +
                 (is_too_old ? ". More than 48 hours ago: it cannot be gone on with." : ""),
             is_too_old});
    }
}

std::string about_pouring(drills::Blinding blinding) {
    switch (blinding) {
        case drills::Blinding::served:
            return "A helper pours by a printed card. You see a letter and codes; the helper says nothing.";
        case drills::Blinding::shuffled_tray:
            return "Opaque cups that look alike, with a ring, a cross and a dot drawn beneath. You pour, "
                   "spin the tray with your eyes "
                   "shut, taste "
                   "with your eyes shut, and look beneath only after your answer is locked.";
        case drills::Blinding::sealed_key:
            return "You pour more cups than are served, write beneath what they hold, shuffle them and set "
                   "codes "
                   "on top. You answer against codes; the key is read in at the end.";
        case drills::Blinding::class_service:
            break;
    }
    return {};
}

void show_blinding(TasteStartView& view, const App& app) {
    view.blinding_kinds = chosen_offer(app).blindings;
    const drills::Blinding chosen = chosen_blinding(app);
    for (const drills::Blinding one : view.blinding_kinds)
        view.blindings.push_back(
            {.label = text_of(one), .is_chosen = one == chosen, .note = about_pouring(one), .component = {}});
    view.blinding_note = about_pouring(chosen);
}

/// The drills that the mixes were made for, and how far they have come.
void show_prepared(TasteStartView& view, const App& app) {
    const Progress progress = progress_of(app);
    if (progress.planned == nullptr || !progress.next) return;
    const drills::record::SittingPlan& plan = progress.planned->plan;
    for (std::size_t i = 0; i < plan.drills.size(); ++i) {
        const std::string text = line_of(app, plan.drills[i]);
        view.stages.push_back({text, progress.done[i] ? "done" : i == *progress.next ? "next" : "then"});
        if (i == *progress.next) view.follows = text;
    }
    view.prepared = plan.name.empty() ? "What you prepared" : "Your sitting: " + plan.name;
    if (app.own_choice)
        view.stages.clear();
    else
        view.follows.clear();
}

void show_offers(TasteStartView& view, const App& app) {
    for (const Offer& offer : offers())
        view.offers.push_back({.label = offer.label,
                               .is_chosen = &offer == &chosen_offer(app),
                               .note = offer.answers,
                               .component = {}});
    view.offer_note = chosen_offer(app).note;
    for (const std::size_t count : chosen_offer(app).presentations) {
        view.presentations.push_back({.label = std::to_string(count),
                                      .is_chosen = count == app.chosen_presentations,
                                      .note = {},
                                      .component = {}});
        view.presentation_counts.push_back(count);
    }
}

/// What the answers are added to: own history where there is one, said in full.
void show_priors(TasteStartView& view, const App& app, const drills::record::KeptMix& mix) {
    using drills::Kind;
    using drills::PriorChoice;
    const Kind kind = chosen_offer(app).kind;
    if (kind == Kind::tray_check || drills::is_fixed(kind)) return;  // no threshold to start from
    const bool is_detection = kind == Kind::detection;
    const std::optional<drills::OwnHistory> own =
        is_detection ? own_history_for(app, mix) : std::optional<drills::OwnHistory>{};
    const PriorChoice chosen = prior_choice(app, mix);
    const auto add = [&](PriorChoice choice, const std::string& label, const threshold::Prior& prior,
                         const std::string& note) {
        view.priors.push_back(
            {.label = label, .is_chosen = choice == chosen, .note = prior.name, .component = {}});
        view.prior_choices.push_back(choice);
        if (choice == chosen) view.prior_note = note;
    };
    if (own)
        add(PriorChoice::own_history, "own history of " + own->date, drills::own_prior(*own),
            "Your last result, " + with_interval(own->last.value(), own->last.lower(), own->last.upper()) +
                " " + unit_text(own->last.scale) + ", carried forward and widened for the time since.");
    const threshold::Prior assumed = drills::assumed_prior(app.content->substance(mix.substance));
    const bool is_of_its_own = kind == Kind::recognition || kind == Kind::difference;
    add(PriorChoice::assumed, "what is assumed of anyone", assumed,
        is_of_its_own ? "As if nothing were known of you; what is assumed is told with the result."
                      : "As if nothing were known of you: " + assumed.name + ".");
    const threshold::Prior flat = drills::flat_prior(mix.ladder);
    add(PriorChoice::flat, "nothing", flat,
        "Only the answers count: " + flat.name + "; intervals come out wider.");
}

std::string label_of(const App& app, const drills::record::KeptMix& mix) {
    return app.content->substance(mix.substance).name + " in " + mix.base_name + ", mixed " + to_date(mix.at);
}

void show_mixes(TasteStartView& view, const App& app) {
    const History& history = *app.history;
    const std::size_t offered = std::min(history.mixes.size(), most_mixes_offered);
    if (offered < history.mixes.size())
        view.older_mixes = counted(history.mixes.size() - offered, "older mix", "older mixes") +
                           " in the journal; solutions do not keep for weeks.";
    for (std::size_t i = 0; i < offered; ++i) {
        const auto& mix = history.mixes[i];
        view.mixes.push_back({.label = label_of(app, mix),
                              .is_chosen = app.chosen_mix == i,
                              .note = mix.ingredient_name + "; " + mix.equipment_name,
                              .component = app.content->substance(mix.substance).component});
    }
}

/// Mixes of other substances in the same base: recognition asks which of them it is.
void show_others(TasteStartView& view, const App& app) {
    const drills::Kind kind = chosen_offer(app).kind;
    if (!takes_several(kind) || !app.chosen_mix) return;
    const bool is_other_base = kind == drills::Kind::balance || kind == drills::Kind::persistence;
    const auto& first = app.history->mixes.at(*app.chosen_mix);
    for (std::size_t i = 0; i < std::min(app.history->mixes.size(), most_mixes_offered); ++i) {
        const auto& mix = app.history->mixes[i];
        const bool is_same = mix.substance == first.substance;
        if (is_same != is_other_base || (mix.base_name == first.base_name) == is_other_base) continue;
        view.others.push_back({.label = label_of(app, mix),
                               .is_chosen = app.chosen_others.contains(i),
                               .note = {},
                               .component = app.content->substance(mix.substance).component});
        view.other_mixes.push_back(i);
    }
    if (is_other_base)
        view.others_note =
            view.others.empty() ? std::string() : "Tick a second base to compare with and without it.";
    else
        view.others_note = view.others.empty()
                               ? "Nothing else is in bottles in this base: prepare a second substance first."
                               : "Tick the substances that it may be as well.";
}

/// Asked for once a sitting.
void show_circumstances(TasteStartView& view, const App& app) {
    if (const OpenSitting* sitting = sitting_to_join(app)) {
        view.sitting =
            "The sitting goes on: " +
            (sitting->drills_done == 0 ? "one drill left open"
                                       : counted(sitting->drills_done, "drill", "drills") + " done") +
            ", " + counted(app.history->cups_today, "cup", "cups") +
            " today. What you noted at its start still holds, and the same budget.";
        return;
    }
    for (const content::Spoiler& spoiler : app.content->sitting.spoilers)
        view.spoilers.push_back({.label = spoiler.text,
                                 .is_chosen = app.spoilers.ticked.contains(spoiler.text),
                                 .note = {},
                                 .component = {}});
    view.temperature = {.text = app.spoilers.temperature, .unit = "\u00b0C", .problem = {}};
}

void show_cost(TasteStartView& view, const drills::Plan& plan, VolumeUnit unit) {
    const std::size_t cups = plan.blinding == drills::Blinding::sealed_key
                                 ? drills::sealed_key::cups_poured(plan)
                                 : drills::cups_together(plan) * plan.most_presentations;
    const bool tastes = plan.kind != drills::Kind::tray_check;
    view.will_take = counted(tastes ? cups : drills::places, "cup", "cups") + " of " +
                     volume_text(plan.cup, unit) +
                     (tastes ? " and " + counted(drills::known_cups(plan), "known one", "known ones") : "") +
                     ", about " + std::to_string(drills::minutes_of(plan)) + " min. " +
                     (tastes ? "Spit every cup." : "Nothing is tasted.");
}

/// The words as typed, or as they will be, for who wants others.
void show_words(TasteStartView& view, const App& app, const std::vector<std::string>& planned) {
    const drills::Kind kind = chosen_offer(app).kind;
    view.asks_words = takes_own_words(kind);
    if (!view.asks_words) return;
    view.words.text = app.typed_words.empty() ? joined_words(planned) : app.typed_words;
    view.words_note = kind == drills::Kind::scaling
                          ? "Your own words for how strong it is, weakest first, with commas between."
                          : "Your own words for what a finish is like, with commas between.";
}

void show_wine(TasteStartView& view, const App& app) {
    TasteStartView::Wine& wine = view.wine;
    wine.is_open = app.own_wine.is_open;
    wine.name = {.text = app.own_wine.name, .unit = {}, .problem = {}};
    wine.strength = {.text = app.own_wine.strength, .unit = "% vol", .problem = {}};
    if (!wine.is_open) return;
    const auto planned = own_wine_drill(app);
    if (const auto* problems = std::get_if<std::vector<Problem>>(&planned)) {
        const Problem& first = problems->front();
        if (first.where == "Strength")
            wine.strength.problem = app.own_wine.strength.empty() ? std::string() : first.right;
        else
            wine.against = to_text(first);
        return;
    }
    const auto& plan = std::get<drills::Plan>(planned);
    wine.can_start = true;
    wine.will_take = counted(plan.most_presentations, "sip", "sips") + " of " +
                     volume_text(plan.cup, app.usual.volume) + ", about " +
                     std::to_string(drills::minutes_of(plan)) +
                     " min. Spit every sip. Its flavour alone counts, not its sweetness, acid or burn.";
}

/// Why it cannot be started, each reason once; what is of one field stands beside it.
void show_against(TasteStartView& view, const std::vector<Problem>& problems) {
    for (const Problem& problem : problems) {
        if (problem.where == "Temperature")
            view.temperature.problem = problem.right;
        else
            view.against.push_back(to_text(problem));
    }
}

TasteStartView start_view(const App& app) {
    TasteStartView view;
    if (!app.history) return view;
    show_unfinished(view, app);
    show_prepared(view, app);
    show_offers(view, app);
    show_mixes(view, app);
    show_others(view, app);
    show_blinding(view, app);
    show_circumstances(view, app);
    show_wine(view, app);
    if (!app.chosen_mix || *app.chosen_mix >= app.history->mixes.size()) {
        if (!app.history->mixes.empty()) view.against.push_back("Which mix? Choose one above to go on.");
        return view;
    }
    const drills::record::KeptMix& mix = app.history->mixes[*app.chosen_mix];
    show_priors(view, app, mix);
    view.asks_for_closed_nose = app.content->substance(mix.substance).closed_nose && view.sitting.empty() &&
                                chosen_offer(app).kind != drills::Kind::nose;
    view.nose_is_closed = app.spoilers.closed_nose;
    const auto planned = drill_plan(app);
    const auto* plan = std::get_if<drills::Plan>(&planned);
    if (plan != nullptr) show_cost(view, *plan, app.usual.volume);
    show_words(view, app,
               plan != nullptr ? plan->words : own_words(app, chosen_offer(app).kind, mix.substance));
    if (const auto* against = std::get_if<std::vector<Problem>>(&planned)) show_against(view, *against);
    view.can_start = std::holds_alternative<drills::Plan>(planned);
    return view;
}

}  // namespace

TasteView taste_view(const App& app) {
    TasteView view;
    if (app.running) {
        view.drill = drill_view(app);
        return view;
    }
    if (app.just_done && app.history)
        if (const PastDrill* past = done_drill(*app.history, *app.just_done)) {
            view.finding = finding_view(app, *past);
            return view;
        }
    view.start = start_view(app);
    return view;
}

}  // namespace sipladder::gui

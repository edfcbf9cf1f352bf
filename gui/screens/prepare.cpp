#include "gui/app/drilling.hpp"
#include "gui/screens/prepare_parts.hpp"
#include "gui/screens/screens.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

/// A choice becomes a changed form.
template <class Change>
void on_choice(std::optional<Intent>& intent, const PrepareView& view, std::optional<std::size_t> chosen,
               Change change) {
    if (!chosen) return;
    Setup setup = view.setup;
    change(setup, *chosen);
    intent = ChangeSetup{std::move(setup)};
}

/// A typed field becomes a changed form.
void on_field(std::optional<Intent>& intent, const PrepareView& view, const Theme& theme, const char* id,
              const Field& shown, float width_em, std::string Setup::*part) {
    const auto text = field(theme, id, shown, width_em);
    if (!text) return;
    Setup setup = view.setup;
    setup.*part = *text;
    intent = ChangeSetup{std::move(setup)};
}

/// Stays on the line of the last field where this much room is left.
void flow_on(const Theme& theme, float width_em) {
    const float edge = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    if (ImGui::GetItemRectMax().x + (width_em + 1.2F) * theme.em() <= edge)
        ImGui::SameLine(0.0F, 1.2F * theme.em());
}

void draw_drill(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    begin_row(theme, "Drill");
    on_choice(intent, view, choose_line(theme, "drill", view.drills), [](Setup& setup, std::size_t i) {
        setup.drill = offers()[i].id;
        setup.programme.clear();
    });
    if (view.setup.programme.empty()) faint(theme, view.drill_note);
    end_row();
    begin_row(theme, "or ready-made");
    on_choice(intent, view, choose(theme, "programme", view.programmes),
              [&](Setup& setup, std::size_t i) { setup.programme = view.programme_ids[i]; });
    if (!view.setup.programme.empty()) faint(theme, view.drill_note);
    for (const std::string& line : view.sitting) paragraph(theme, line);
    end_row();
}

/// Which of several ladders is shown below, and what else could be told apart.
void draw_ladders(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    if (view.ladders.empty()) return;
    begin_row(theme, "Ladders");
    std::vector<Choice> tabs;
    for (const LadderTab& tab : view.ladders) {
        tabs.push_back(tab.choice);
        tabs.back().label += ": " + tab.state;
    }
    if (const auto opened = choose(theme, "ladder", tabs)) intent = OpenLadder{*opened};
    if (!view.more.empty()) {
        ImGui::SetNextItemWidth(13.0F * theme.em());
        if (ImGui::BeginCombo("##more", "tell apart one more …")) {
            for (std::size_t i = 0; i < view.more.size(); ++i)
                if (ImGui::Selectable(view.more[i].label.c_str())) intent = AddLadder{view.more_ids[i]};
            ImGui::EndCombo();
        }
    }
    if (view.can_remove) {
        const auto open =
            std::ranges::find_if(view.ladders, [](const LadderTab& tab) { return tab.choice.is_chosen; });
        const std::string label = "Leave out " + open->choice.label;
        if (!view.more.empty()) beside(theme, label, 0.0F);
        if (quiet(theme, label)) intent = RemoveLadder{static_cast<std::size_t>(open - view.ladders.begin())};
    }
    faint(theme, "Below: the ladder that is chosen here. They share base, kitchen and cups.");
    end_row();
}

void draw_what(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    begin_row(theme, "What");
    if (view.is_written)
        for (const Choice& substance : view.substances) {
            if (!substance.is_chosen) continue;
            ImVec2 at = ImGui::GetCursorScreenPos();
            at.y += ImGui::GetStyle().FramePadding.y;
            if (substance.component) mark_at(theme, *substance.component, at);
            ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 1.7F * theme.em());
            ImGui::AlignTextToFramePadding();
            paragraph(theme, substance.label);
        }
    else
        on_choice(intent, view, choose(theme, "substance", view.substances),
                  [&](Setup& setup, std::size_t i) { setup.substance = view.substance_ids[i]; });
    if (!view.substance_note.empty()) faint(theme, view.substance_note);
    end_row();
    begin_row(theme, "From");
    on_choice(intent, view, choose(theme, "ingredient", view.ingredients),
              [&](Setup& setup, std::size_t i) { setup.ingredient = view.ingredient_ids[i]; });
    if (!view.ingredient_note.empty()) faint(theme, view.ingredient_note);
    if (!view.allergens.empty()) caution(theme, view.allergens);
    word_before(theme, "this pack states", 4.5F);
    on_field(intent, view, theme, "##strength", view.strength, 4.5F, &Setup::strength);
    if (view.strength.problem.empty()) flow_on(theme, 5.0F);
    word_before(theme, "±", 4.0F);
    on_field(intent, view, theme, "##within", view.strength_within, 4.0F, &Setup::strength_within);
    end_row();
}

void draw_ends(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    word_before(theme, "weakest", 8.0F);
    on_field(intent, view, theme, "##lowest", view.lowest, 5.0F, &Setup::lowest);
    flow_on(theme, 7.0F);
    word_before(theme, "ratio", 4.0F);
    on_field(intent, view, theme, "##ratio", view.ratio, 4.0F, &Setup::ratio);
    flow_on(theme, 7.0F);
    word_before(theme, "rungs", 3.0F);
    on_field(intent, view, theme, "##count", view.count, 3.0F, &Setup::count);
}

void draw_ladder(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    begin_row(theme, "Ladder");
    if (!view.is_written)
        on_choice(intent, view, choose(theme, "rungs", view.rungs), [&](Setup& setup, std::size_t i) {
            setup.rungs = view.rung_kinds[i];
            if (setup.rungs == Rungs::kept) setup.ladder = view.rung_ladders[i];
        });
    if (view.setup.rungs == Rungs::own)
        on_field(intent, view, theme, "##rungs", view.own_rungs, 18.0F, &Setup::own_rungs);
    if (view.setup.rungs == Rungs::from_end_to_end) draw_ends(view, theme, intent);
    if (view.strip) {
        const auto pulled =
            draw_strip(theme, *view.strip, view.strip_ends,
                       std::min(ImGui::GetContentRegionAvail().x, 44.0F * theme.em()), 4.8F * theme.em());
        if (pulled && view.can_drag) intent = DragEnd{pulled->is_highest, pulled->to};
        faint(theme, view.can_drag ? view.rungs_note +
                                         ". Drag an end; or, with the strip in focus, Q W move the weakest "
                                         "rung and O P the strongest."
                                   : view.rungs_note + ".");
    }
    end_row();
}

void draw_for(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    begin_row(theme, "For");
    on_choice(intent, view, choose(theme, "pours", view.pours),
              [&](Setup& setup, std::size_t i) { setup.pours = view.pours_kinds[i]; });
    faint(theme, view.blinding_note);
    if (!view.presentations.empty()) {
        word_before(theme, view.presentations_are, 6.0F);
        on_choice(intent, view, choose(theme, "presentations", view.presentations),
                  [&](Setup& setup, std::size_t i) { setup.presentations = view.presentation_counts[i]; });
    }
    word_before(theme, "cups of", 7.0F);
    on_field(intent, view, theme, "##cup", view.cup, 4.0F, &Setup::cup_mL);
    flow_on(theme, 12.0F);
    word_before(theme, "from these bottles", 7.0F);
    on_field(intent, view, theme, "##people", view.people, 3.0F, &Setup::people);
    end_row();
}

void draw_base_and_kitchen(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    begin_row(theme, "Base");
    on_choice(intent, view, choose(theme, "base", view.bases),
              [&](Setup& setup, std::size_t i) { setup.base = view.base_ids[i]; });
    if (!view.base_text.empty()) faint(theme, view.base_text);
    word_before(theme, "hydrogen carbonate of its water", 8.0F);
    on_field(intent, view, theme, "##bicarbonate", view.bicarbonate, 4.5F, &Setup::bicarbonate);
    if (!view.base_note.empty()) faint(theme, view.base_note);
    end_row();
    begin_row(theme, "With");
    on_choice(intent, view, choose(theme, "kitchen", view.kitchens),
              [&](Setup& setup, std::size_t i) { setup.kitchen = view.kitchen_ids[i]; });
    faint(theme, view.kitchen_note);
    word_before(theme, "my own, from a file", 14.0F);
    if (const auto path = field(theme, "##kitchen", view.kitchen_path, 14.0F))
        intent = TypeKitchenPath{*path};
    beside(theme, "Use it", 0.0F);
    ImGui::BeginDisabled(view.kitchen_path.text.empty());
    if (quiet(theme, "Use it")) intent = LoadKitchen{};
    ImGui::EndDisabled();
    beside(theme, "Type my own in", 0.0F);
    if (quiet(theme, "Type my own in")) intent = ShowSettings{SettingsPart::equipment};
    end_row();
}

void draw_costs(const PrepareView& view, const Theme& theme) {
    begin_row(theme, "Costs");
    ImGui::AlignTextToFramePadding();
    for (std::size_t i = 0; i < view.costs.items.size(); ++i) {
        const float width = ImGui::CalcTextSize(view.costs.items[i].text.c_str()).x + 1.4F * theme.em();
        if (i > 0 && ImGui::GetItemRectMax().x + width <
                         ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x)
            ImGui::SameLine(0.0F, 1.4F * theme.em());
        shown(theme, view.costs.items[i]);
    }
    if (!view.costs.note.empty()) faint(theme, view.costs.note);
    for (const std::string& reason : view.costs.against) caution(theme, reason);
    end_row();
}

}  // namespace

std::optional<Intent> draw_prepare(const PrepareView& view, const Theme& theme) {
    std::optional<Intent> intent;
    heading(theme, view.title);
    draw_drill(view, theme, intent);
    draw_ladders(view, theme, intent);
    draw_what(view, theme, intent);
    draw_ladder(view, theme, intent);
    draw_for(view, theme, intent);
    draw_base_and_kitchen(view, theme, intent);
    draw_costs(view, theme);
    gap(theme, 0.3F);
    rule(theme);
    for (const std::string& problem : view.problems) caution(theme, problem);
    if (view.is_planning)
        faint(theme, view.is_former ? "Planning anew; below, greyed, the plan before the last change."
                                    : "Finding the fewest steps that your equipment can hit …");
    if (view.plan) {
        ImGui::BeginDisabled(view.is_former);
        draw_plan(*view.plan, view.budget_open, theme, intent);
        ImGui::EndDisabled();
        gap(theme, 0.6F);
        if (!view.keep_note.empty()) faint(theme, view.keep_note);
        if (primary(theme, view.ladders.empty() ? "Keep this mix" : "Keep these mixes", view.can_keep))
            intent = KeepMix{};
        beside(theme, "Print bench sheet");
        if (quiet(theme, "Print bench sheet", "Ctrl+P")) intent = PrintShown{};
        if (!view.can_keep && !view.is_former)
            for (const std::string& reason : view.costs.against) caution(theme, reason);
        gap(theme, 1.0F);
    }
    return intent;
}

}  // namespace sipladder::gui

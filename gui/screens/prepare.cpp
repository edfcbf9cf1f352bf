#include "gui/screens/screens.hpp"
#include "gui/widgets/widgets.hpp"

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

void draw_what(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    begin_row(theme, "What");
    const auto substance = choose(theme, "substance", view.substances);
    on_choice(intent, view, substance,
              [&](Setup& setup, std::size_t i) { setup.substance = view.substance_ids[i]; });
    if (!view.substance_note.empty()) faint(theme, view.substance_note);
    end_row();
    begin_row(theme, "From");
    const auto ingredient = choose(theme, "ingredient", view.ingredients);
    on_choice(intent, view, ingredient,
              [&](Setup& setup, std::size_t i) { setup.ingredient = view.ingredient_ids[i]; });
    if (!view.ingredient_note.empty()) faint(theme, view.ingredient_note);
    end_row();
}

void draw_ladder(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    begin_row(theme, "Ladder");
    on_choice(intent, view, choose(theme, "rungs", view.rungs),
              [&](Setup& setup, std::size_t i) { setup.rungs = view.rung_kinds[i]; });
    if (view.types_rungs) {
        if (const auto text = field(theme, "##rungs", view.own_rungs, 18.0F)) {
            Setup setup = view.setup;
            setup.own_rungs = *text;
            intent = ChangeSetup{std::move(setup)};
        }
    }
    if (view.strip)
        draw_chart(theme, "strip", *view.strip,
                   std::min(ImGui::GetContentRegionAvail().x, 44.0F * theme.em()), 4.6F * theme.em());
    end_row();
}

void draw_for_and_with(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    begin_row(theme, "For");
    on_choice(intent, view, choose(theme, "blinding", view.blindings), [](Setup& setup, std::size_t i) {
        setup.blinding = i == 0 ? drills::Blinding::shuffled_tray : drills::Blinding::served;
    });
    faint(theme, view.blinding_note);
    end_row();
    begin_row(theme, "Times");
    on_choice(intent, view, choose(theme, "presentations", view.presentations),
              [&](Setup& setup, std::size_t i) { setup.presentations = view.presentation_counts[i]; });
    end_row();
    begin_row(theme, "Cup");
    if (const auto text = field(theme, "##cup", view.cup, 4.0F)) {
        Setup setup = view.setup;
        setup.cup_mL = *text;
        intent = ChangeSetup{std::move(setup)};
    }
    end_row();
    begin_row(theme, "Base");
    on_choice(intent, view, choose(theme, "base", view.bases),
              [&](Setup& setup, std::size_t i) { setup.base = view.base_ids[i]; });
    end_row();
    begin_row(theme, "With");
    on_choice(intent, view, choose(theme, "kitchen", view.kitchens),
              [&](Setup& setup, std::size_t i) { setup.kitchen = view.kitchen_ids[i]; });
    faint(theme, view.kitchen_note);
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
    for (const std::string& reason : view.costs.against) caution(theme, reason);
    end_row();
}

void draw_step(const StepView& step, std::size_t index, const Theme& theme, bool is_wide,
               std::optional<Intent>& intent) {
    ImGui::PushID(static_cast<int>(index));
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    if (tick(theme, std::to_string(index + 1), step.is_done)) intent = TickStep{index, !step.is_done};
    ImGui::TableNextColumn();
    ImGui::PushStyleColor(ImGuiCol_Text, step.is_done ? theme.colour.faint : theme.colour.ink);
    ImGui::TextWrapped("%s", step.text.c_str());
    ImGui::PopStyleColor();
    if (is_wide) ImGui::TableNextColumn();
    if (step.takes_reading) {
        ImGui::AlignTextToFramePadding();
        ImGui::PushStyleColor(ImGuiCol_Text, theme.colour.faint);
        ImGui::TextUnformatted(step.reading.unit == "g" ? "scale showed" : "was really");
        ImGui::PopStyleColor();
        ImGui::SameLine();
        if (const auto text = field(theme, "##reading", step.reading, 5.0F))
            intent = TypeReading{index, *text};
    }
    ImGui::PopID();
}

void draw_steps(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    const float width = std::min(ImGui::GetContentRegionAvail().x, 52.0F * theme.em());
    const bool is_wide = width > 36.0F * theme.em();
    if (!ImGui::BeginTable("steps", is_wide ? 3 : 2, ImGuiTableFlags_BordersInnerH, {width, 0.0F})) return;
    ImGui::TableSetupColumn("done", ImGuiTableColumnFlags_WidthFixed, 3.2F * theme.em());
    ImGui::TableSetupColumn("step", ImGuiTableColumnFlags_WidthStretch);
    if (is_wide) ImGui::TableSetupColumn("reading", ImGuiTableColumnFlags_WidthFixed, 14.5F * theme.em());
    for (std::size_t i = 0; i < view.steps.size(); ++i) draw_step(view.steps[i], i, theme, is_wide, intent);
    ImGui::EndTable();
}

void draw_plan(const PrepareView& view, const Theme& theme, std::optional<Intent>& intent) {
    section(theme, view.result);
    if (!view.advice.empty()) caution(theme, view.advice);
    if (!view.shopping.empty()) {
        std::string list = "You need ";
        for (std::size_t i = 0; i < view.shopping.size(); ++i)
            list += (i == 0 ? "" : "; ") + view.shopping[i];
        paragraph(theme, list + ".");
    }
    gap(theme, 0.3F);
    draw_steps(view, theme, intent);
    if (!view.checks.empty()) section(theme, "Check before tasting");
    for (const std::string& check : view.checks) paragraph(theme, check);
    if (view.mixed) {
        section(theme, "Planned (hollow) against mixed (filled), from the target");
        draw_chart(theme, "mixed", *view.mixed,
                   std::min(ImGui::GetContentRegionAvail().x, 40.0F * theme.em()), 16.0F * theme.em());
    }
    gap(theme, 0.4F);
    for (const std::string& text : view.cautions) caution(theme, text);
}

}  // namespace

std::optional<Intent> draw_prepare(const PrepareView& view, const Theme& theme) {
    std::optional<Intent> intent;
    heading(theme, "Prepare a ladder");
    draw_what(view, theme, intent);
    draw_ladder(view, theme, intent);
    draw_for_and_with(view, theme, intent);
    draw_costs(view, theme);
    gap(theme, 0.3F);
    ImGui::Separator();
    for (const std::string& problem : view.problems) caution(theme, problem);
    if (view.is_planning) faint(theme, "Finding the fewest steps that your equipment can hit …");
    if (view.has_plan) draw_plan(view, theme, intent);
    gap(theme, 0.6F);
    if (view.has_plan) {
        if (primary(theme, "Keep this mix", view.can_keep)) intent = KeepMix{};
        beside(theme, "Print bench sheet");
        if (quiet(theme, "Print bench sheet", "Ctrl+P")) intent = PrintShown{};
        gap(theme, 1.0F);
    }
    return intent;
}

}  // namespace sipladder::gui

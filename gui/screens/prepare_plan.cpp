#include "gui/screens/prepare_parts.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>
#include <array>

namespace sipladder::gui {

namespace {

constexpr std::array<const char*, 3> fate_names{"as written", "skipped", "spilled"};

/// Whether a step was done as it is written.
void draw_fate(const StepView& step, std::size_t index, const Theme& theme, std::optional<Intent>& intent) {
    ImGui::SetNextItemWidth(6.6F * theme.em());
    const auto present = static_cast<std::size_t>(step.fate);
    ImGui::PushStyleColor(ImGuiCol_Text,
                          step.fate == Fate::as_written ? theme.colour.faint : theme.colour.ink);
    const bool is_open = ImGui::BeginCombo("##fate", fate_names.at(present));
    ImGui::PopStyleColor();
    if (!is_open) return;
    for (std::size_t i = 0; i < fate_names.size(); ++i)
        if (ImGui::Selectable(fate_names.at(i), i == present)) intent = SetFate{index, static_cast<Fate>(i)};
    ImGui::EndCombo();
}

void draw_step(const StepView& step, std::size_t index, const Theme& theme, bool is_wide,
               std::optional<Intent>& intent) {
    ImGui::PushID(static_cast<int>(index));
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    if (tick(theme, std::to_string(index + 1), step.is_done)) intent = TickStep{index, !step.is_done};
    ImGui::TableNextColumn();
    cell_text(theme, step.text, step.is_done);
    if (is_wide) ImGui::TableNextColumn();
    if (step.takes_reading && step.fate != Fate::skipped) {
        word_before(theme, step.reading.unit == "g" ? "scale showed" : "was really", 6.5F);
        if (const auto text = field(theme, "##reading", step.reading, 5.0F))
            intent = TypeReading{index, *text};
    }
    if (step.fate == Fate::spilled) {
        word_before(theme, "left, about", 6.5F);
        if (const auto text = field(theme, "##left", step.left, 5.0F)) intent = TypeLeft{index, *text};
    }
    if (is_wide) ImGui::TableNextColumn();
    draw_fate(step, index, theme, intent);
    ImGui::PopID();
}

void draw_steps(const PlanView& view, const Theme& theme, std::optional<Intent>& intent) {
    const float width = std::min(ImGui::GetContentRegionAvail().x, 58.0F * theme.em());
    const bool is_wide = width > 40.0F * theme.em();
    if (!ImGui::BeginTable("steps", is_wide ? 4 : 2, ImGuiTableFlags_BordersInnerH, {width, 0.0F})) return;
    ImGui::TableSetupColumn("done", ImGuiTableColumnFlags_WidthFixed, 3.2F * theme.em());
    ImGui::TableSetupColumn("step", ImGuiTableColumnFlags_WidthStretch);
    if (is_wide) {
        ImGui::TableSetupColumn("reading", ImGuiTableColumnFlags_WidthFixed, 14.0F * theme.em());
        ImGui::TableSetupColumn("fate", ImGuiTableColumnFlags_WidthFixed, 7.0F * theme.em());
    }
    for (std::size_t i = 0; i < view.steps.size(); ++i) draw_step(view.steps[i], i, theme, is_wide, intent);
    ImGui::EndTable();
}

void draw_checks(const PlanView& view, const Theme& theme, std::optional<Intent>& intent) {
    if (view.checks.empty()) return;
    section(theme, "Check before tasting, with what you have of these");
    for (std::size_t i = 0; i < view.checks.size(); ++i) {
        const CheckView& check = view.checks[i];
        ImGui::PushID(static_cast<int>(i));
        paragraph(theme, check.text);
        word_before(theme, "it read", 5.0F);
        if (const auto text = field(theme, "##check", check.read, 5.0F)) intent = TypeCheck{check.id, *text};
        if (!check.found.empty() && check.passes) {
            ImGui::SameLine();
            paragraph(theme, check.found);
        } else if (!check.found.empty()) {
            caution(theme, check.found);
        }
        ImGui::PopID();
    }
}

void draw_budget(const BudgetView& budget, std::size_t index, const Theme& theme) {
    section(theme, budget.title);
    ImGui::PushID(static_cast<int>(index));
    if (ImGui::BeginTable("budget", 3, ImGuiTableFlags_BordersInnerH,
                          {std::min(ImGui::GetContentRegionAvail().x, 44.0F * theme.em()), 0.0F})) {
        ImGui::TableSetupColumn("what may be off");
        ImGui::TableSetupColumn("its own", ImGuiTableColumnFlags_WidthFixed, 4.5F * theme.em());
        ImGui::TableSetupColumn("shared", ImGuiTableColumnFlags_WidthFixed, 4.5F * theme.em());
        ImGui::TableHeadersRow();
        for (const BudgetView::Line& line : budget.lines) {
            ImGui::TableNextColumn();
            cell_text(theme, line.what);
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(line.own.c_str());
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(line.shared.c_str());
        }
        ImGui::EndTable();
    }
    ImGui::PopID();
}

void draw_list(const Theme& theme, const char* title, const std::vector<std::string>& lines) {
    if (lines.empty()) return;
    section(theme, title);
    for (const std::string& line : lines) paragraph(theme, line);
}

}  // namespace

void draw_plan(const PlanView& view, bool budget_open, const Theme& theme, std::optional<Intent>& intent) {
    section(theme, view.result);
    if (!view.advice.empty()) caution(theme, view.advice);
    draw_tree(theme, "tree", view.tree, std::min(ImGui::GetContentRegionAvail().x, 58.0F * theme.em()));
    draw_list(theme, "To have at hand", view.shopping);
    gap(theme, 0.5F);
    draw_steps(view, theme, intent);
    for (const std::string& line : view.missed) caution(theme, line);
    draw_checks(view, theme, intent);
    if (view.mixed) {
        section(theme, "Planned (hollow) against mixed (filled), from the target");
        const float row = 2.4F * theme.em();
        draw_chart(theme, "mixed", *view.mixed,
                   std::min(ImGui::GetContentRegionAvail().x, 44.0F * theme.em()),
                   row * (static_cast<float>(view.mixed->y.ticks.size()) + 2.2F));
    }
    gap(theme, 0.3F);
    if (quiet(theme, budget_open ? "Hide the error budget" : "Show the error budget"))
        intent = ToggleBudget{};
    if (budget_open)
        for (std::size_t i = 0; i < view.budgets.size(); ++i) draw_budget(view.budgets[i], i, theme);
    draw_list(theme, "How long it keeps", view.keeping);
    gap(theme, 0.4F);
    for (const std::string& text : view.cautions) caution(theme, text);
}

}  // namespace sipladder::gui

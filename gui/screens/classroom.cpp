// The Class place: its steps above, the present one below.

#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>
#include <string>
#include <utility>

namespace sipladder::gui {

namespace {

using What = ShapeClass::What;

/// Deliberate, and never ticked beforehand: a word that nobody gave is none.
constexpr const char* all_agree = "I asked: all agree";

std::optional<Intent> draw_list(const ClassroomView& view, const Theme& theme, const Edit& edit) {
    std::optional<Intent> intent;
    heading(theme, "Which class?");
    for (std::size_t i = 0; i < view.classes.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        if (quiet(theme, view.classes[i].label)) intent = OpenClass{view.ids[i]};
        ImGui::PopID();
    }
    section(theme, view.classes.empty() ? "Your class" : "A new class");
    faint(theme,
          "A few words that its people will find on their ballots: \"Evening class, sweet and sour\".");
    if (edit.is_new && view.classes.empty()) ImGui::SetKeyboardFocusHere();  // else the newest class has it
    if (const auto text =
            field(theme, "##class", Field{.text = view.typed_title, .unit = {}, .problem = {}}, 24.0F))
        intent = TypeClassTitle{*text};
    const bool entered = ImGui::IsItemFocused() && pressed_enter();
    gap(theme, 0.4F);
    if (primary(theme, "Make it and go on", !view.typed_title.empty(), "Enter") ||
        (entered && !view.typed_title.empty()))
        intent = MakeClass{};
    return intent;
}

std::optional<Intent> draw_steps(const ClassroomView& view, const Theme& theme) {
    std::optional<Intent> intent;
    std::size_t here = 0;
    for (std::size_t i = 0; i < view.steps.size(); ++i) {
        const ClassStepView& step = view.steps[i];
        if (step.is_here) here = i;
        if (i > 0) beside(theme, step.label, 0.0F);
        ImGui::PushStyleColor(ImGuiCol_Button, step.is_here ? theme.colour.hover : ImVec4{0, 0, 0, 0});
        ImGui::BeginDisabled(!step.can_go);
        if (ImGui::Button(step.label.c_str())) intent = GoToStep{step.step};
        ImGui::EndDisabled();
        ImGui::PopStyleColor();
    }
    if (pressed(Key::f6) && here > 0) intent = GoToStep{view.steps[here - 1].step};
    if (pressed(Key::f7) && here + 1 < view.steps.size() && view.steps[here + 1].can_go)
        intent = GoToStep{view.steps[here + 1].step};
    return intent;
}

std::optional<Intent> draw_erasing(const RosterView& view, const Theme& theme) {
    std::optional<Intent> intent;
    std::string asked = "Erase ";
    asked.append(view.erasing).append("?");
    section(theme, asked);
    paragraph(
        theme,
        "Name, ballots and all else of this person go from the journal and from the copies that the program "
        "keeps. It cannot be taken back. Copies and exports made elsewhere, and paper, are yours to erase.");
    faint(theme, "Type the name to be sure.");
    if (const auto text =
            field(theme, "##erase", Field{.text = view.typed_erase, .unit = {}, .problem = {}}, 18.0F))
        intent = TypeErase{*text};
    gap(theme, 0.3F);
    if (quiet(theme, "Erase for good")) intent = EraseMember{};
    beside(theme, "Keep them", 0.0F);
    if (quiet(theme, "Keep them")) intent = AskToErase{};
    return intent;
}

std::optional<Intent> roster_row(const RosterView::Row& row, std::size_t number, const Theme& theme) {
    std::optional<Intent> intent;
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::AlignTextToFramePadding();
    ImGui::Text("%d", static_cast<int>(number + 1));
    ImGui::TableNextColumn();
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(row.name.c_str());
    ImGui::TableNextColumn();
    if (tick(theme, "agrees", row.agrees)) intent = TickAgrees{number, !row.agrees};
    ImGui::TableNextColumn();
    if (tick(theme, "no ethanol", row.no_ethanol)) intent = TickNoEthanol{number, !row.no_ethanol};
    ImGui::TableNextColumn();
    if (quiet(theme, "Take off")) intent = UnlistMember{number};
    beside(theme, "Erase", 0.0F);
    if (quiet(theme, "Erase")) intent = AskToErase{number};
    return intent;
}

std::optional<Intent> draw_roster(const RosterView& view, const Theme& theme, const Edit& edit) {
    std::optional<Intent> intent;
    const float em = theme.em();
    if (!view.erasing.empty()) return draw_erasing(view, theme);
    faint(theme, "Names with commas between them; or a number, such as 24, for as many seats without names.");
    if (edit.is_new) ImGui::SetKeyboardFocusHere();
    if (const auto text =
            field(theme, "##members", Field{.text = view.typed, .unit = {}, .problem = {}}, 30.0F))
        intent = TypeMembers{*text};
    const bool entered = ImGui::IsItemFocused() && pressed_enter();
    if (entered) ImGui::SetKeyboardFocusHere(-1);  // the next names are typed without reaching for the mouse
    beside(theme, "Add");
    if (quiet(theme, "Add", "Enter") || (entered && !view.typed.empty())) intent = AddMembers{};
    gap(theme, 0.4F);
    paragraph(theme, view.note);
    if (!view.unticked.empty()) {
        if (quiet(theme, all_agree, "F8") || pressed(Key::f8)) intent = AllAgree{};
        beside(theme, view.unticked, 0.0F);
        ImGui::AlignTextToFramePadding();
        faint(theme, view.unticked);
    }
    gap(theme, 0.2F);
    if (view.has_design)
        faint(theme,
              "A design is kept: whoever is added now is in the next one; late-comers take its spare seats.");
    if (!view.rows.empty() &&
        ImGui::BeginTable("roster", 5, ImGuiTableFlags_BordersInnerH,
                          {std::min(ImGui::GetContentRegionAvail().x, 56.0F * em), 0.0F})) {
        ImGui::TableSetupColumn("seat", ImGuiTableColumnFlags_WidthFixed, 2.4F * em);
        ImGui::TableSetupColumn("name", ImGuiTableColumnFlags_WidthStretch);
        ImGui::TableSetupColumn("is recorded", ImGuiTableColumnFlags_WidthFixed, 7.0F * em);
        ImGui::TableSetupColumn("cautions", ImGuiTableColumnFlags_WidthFixed, 9.0F * em);
        ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, 10.0F * em);
        for (std::size_t i = 0; i < view.rows.size(); ++i) {
            ImGui::PushID(static_cast<int>(i));
            if (auto wanted = roster_row(view.rows[i], i, theme)) intent = std::move(wanted);
            ImGui::PopID();
        }
        ImGui::EndTable();
    }
    gap(theme, 0.6F);
    if (primary(theme, "Plan what they taste", !view.rows.empty())) intent = GoToStep{ClassStep::plan};
    return intent;
}

std::optional<Intent> draw_planned_drill(const ClassPlanView::Drill& view, std::size_t drill,
                                         const Theme& theme) {
    std::optional<Intent> intent;
    const auto want = [&](What what, std::size_t number, std::string id = {}) {
        intent = ShapeClass{what, drill, number, std::move(id)};
    };
    section(theme, view.name);
    faint(theme, "\"" + view.question + "\"  " + view.each);
    begin_row(theme, "Task");
    if (const auto chosen = choose(theme, "task", view.tasks)) want(What::task, *chosen);
    end_row();
    begin_row(theme, "Ladder");
    if (const auto chosen = choose(theme, "ladder", view.ladders))
        want(What::ladder, 0, view.ladder_ids[*chosen]);
    end_row();
    begin_row(theme, "In");
    if (const auto chosen = choose(theme, "base", view.bases)) want(What::base, 0, view.base_ids[*chosen]);
    end_row();
    begin_row(theme, "Times");
    if (const auto chosen = choose(theme, "times", view.times)) want(What::times, *chosen + 1);
    end_row();
    begin_row(theme, "Cup");
    if (const auto chosen = choose(theme, "cup", view.cups)) want(What::cup, view.cup_mL[*chosen]);
    end_row();
    if (!view.left_out.empty()) caution(theme, "Holds ethanol; sit it out: " + view.left_out + ".");
    if (quiet(theme, "Leave this drill out")) want(What::remove_drill, 0);
    return intent;
}

std::optional<Intent> draw_plan(const ClassPlanView& view, bool waits, const Theme& theme) {
    std::optional<Intent> intent;
    const auto take = [&](std::optional<Intent> wanted) {
        if (wanted) intent = std::move(wanted);
    };
    const auto want = [&](What what, std::size_t number, std::string id = {}) {
        intent = ShapeClass{what, 0, number, std::move(id)};
    };
    if (!view.costs.empty()) emphasis(theme, view.costs);
    faint(theme, view.beside);
    if (!view.problem.empty()) caution(theme, view.problem);
    gap(theme, 0.4F);
    if (primary(theme, view.has_design ? "Keep another design" : "Keep this design",
                view.problem.empty() && !waits))
        intent = KeepClass{};
    faint(theme,
          "The recipe is worked out for everybody, codes and orders are drawn; then the sheets can be "
          "printed.");
    for (std::size_t i = 0; i < view.drills.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        take(draw_planned_drill(view.drills[i], i, theme));
        ImGui::PopID();
    }
    gap(theme, 0.4F);
    if (view.can_add && quiet(theme, "Another drill")) want(What::add_drill, 0);
    section(theme, "For all of it");
    begin_row(theme, "With");
    if (const auto chosen = choose(theme, "kitchen", view.kitchens))
        want(What::kitchen, 0, view.kitchen_ids[*chosen]);
    faint(theme, view.kitchen_note);
    end_row();
    begin_row(theme, "Spare seats");
    if (const auto chosen = choose(theme, "spares", view.spares))
        want(What::spares, view.spare_counts[*chosen]);
    faint(theme, "Poured like the others, for late-comers.");
    end_row();
    begin_row(theme, "Groups");
    if (const auto chosen = choose(theme, "groups", view.groups))
        want(What::groups, view.group_counts[*chosen]);
    faint(theme, "Neighbours sit in different groups; each group has codes of its own for the same bottles.");
    end_row();
    return intent;
}

std::optional<Intent> draw_sheets(const ClassSheetsView& view, bool waits, const Theme& theme) {
    std::optional<Intent> intent;
    if (primary(theme, "Write all sheets", !waits)) intent = WriteClassSheets{};
    faint(theme,
          "Bench sheet with shopping list and recipe, bottle and cup labels, pour list, tray maps, a ballot "
          "a seat, "
          "and the key, for the panel leader only.");
    section(theme, "What it takes");
    for (const std::string& fact : view.facts) paragraph(theme, fact);
    section(theme, "Cautions");
    for (const std::string& text : view.cautions) caution(theme, text);
    return intent;
}

}  // namespace

std::optional<Intent> draw_classroom(const ClassroomView& view, const Theme& theme, const Edit& edit) {
    if (view.title.empty()) return draw_list(view, theme, edit);
    std::optional<Intent> intent;
    heading(theme, view.title);
    begin_passed_over();
    intent = draw_steps(view, theme);
    beside(theme, "Another class", 0.0F);
    if (quiet(theme, "Another class")) intent = LeaveClass{};
    end_passed_over();
    gap(theme, 0.3F);
    rule(theme, 200.0F);
    gap(theme, 0.5F);
    const bool waits = !view.waits_for.empty();
    if (waits) emphasis(theme, view.waits_for);
    if (!view.written.empty()) {
        section(theme, "Written to " + view.written_to);
        for (const std::string& file : view.written) paragraph(theme, file);
        gap(theme, 0.5F);
    }
    std::optional<Intent> wanted;
    if (view.roster) wanted = draw_roster(*view.roster, theme, edit);
    if (view.plan) wanted = draw_plan(*view.plan, waits, theme);
    if (view.sheets) wanted = draw_sheets(*view.sheets, waits, theme);
    if (view.entry) wanted = draw_class_entry(*view.entry, theme);
    if (view.results) wanted = draw_class_results(*view.results, theme);
    return wanted ? wanted : intent;
}

}  // namespace sipladder::gui

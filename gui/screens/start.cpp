// First start, people, cautions, and the side panel.

#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

namespace sipladder::gui {

void draw_opening(const Theme& theme) {
    const float em = theme.em();
    ImGui::SetNextWindowPos({0.0F, 0.0F});
    ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{1.6F * em, 1.1F * em});
    ImGui::Begin("opening", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
    ImGui::PopStyleVar();
    gap(theme, 2.0F);
    heading(theme, "Reading the journal");
    paragraph(theme, "A record of years takes a moment.");
    ImGui::End();
}

std::optional<Intent> draw_first_start(const Theme& theme) {
    std::optional<Intent> intent;
    gap(theme, 2.0F);
    heading(theme, "How faint a taste can you find?");
    paragraph(theme,
              "Mix a ladder of known strengths with your own kitchen scale, taste it blind, and see your "
              "threshold with its "
              "uncertainty. Nothing here leaves this machine.");
    gap(theme, 1.2F);
    if (primary(theme, "Set up my first ladder")) intent = OpenDialog{Dialog::people};
    faint(
        theme,
        "Your name and the cautions; then what to taste, with which scale, alone or with a helper: filled in "
        "already for a first evening.");
    gap(theme, 1.0F);
    if (quiet(theme, "Look around with the demo")) intent = LookAtDemo{};
    faint(
        theme,
        "An invented person with eight weeks of results, and an invented class; marked as invented on every "
        "screen.");
    gap(theme, 1.0F);
    if (quiet(theme, "I teach a class", "Ctrl+5")) intent = GoTo{Place::classroom};
    faint(theme, "Roster, plan, sheets, ballots typed in, results: for 1 to 200 people.");
    return intent;
}

std::optional<Intent> draw_people(const PeopleView& view, const Theme& theme, const Edit& edit) {
    std::optional<Intent> intent;
    heading(theme, "Who tastes?");
    for (std::size_t i = 0; i < view.people.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        if (quiet(theme, view.people[i].name + (view.people[i].is_here ? "  (now)" : "")))
            intent = SwitchPerson{view.people[i].id};
        ImGui::PopID();
    }
    section(theme, view.people.empty() ? "Your name" : "Someone new");
    faint(theme,
          "A first name or letters will do; results are kept under it in the journal on this machine.");
    if (edit.is_new) ImGui::SetKeyboardFocusHere();
    if (const auto text =
            field(theme, "##name", Field{.text = view.typed_name, .unit = {}, .problem = {}}, 16.0F))
        intent = TypeName{*text};
    const bool entered = ImGui::IsItemFocused() && (pressed_enter());
    gap(theme, 0.4F);
    if (primary(theme, "Add and go on", !view.typed_name.empty(), "Enter") ||
        (entered && !view.typed_name.empty()))
        intent = AddPerson{};
    gap(theme, 0.4F);
    if (quiet(theme, "Back", "Escape")) intent = OpenDialog{Dialog::none};
    return intent;
}

std::optional<Intent> draw_cautions(const CautionsView& view, const Theme& theme) {
    std::optional<Intent> intent;
    heading(theme, "Cautions");
    paragraph(theme, "Local rules and professional advice come before anything said here.");
    if (view.has_person && !view.already_read)
        paragraph(theme,
                  "Read on to the end: there you tick what holds for you, and go on to your first ladder.");
    gap(theme, 0.4F);
    for (const std::string& text : view.texts) {
        caution(theme, text);
        gap(theme, 0.1F);
    }
    section(theme, "Who does not take part in alcohol drills, spat or not");
    faint(theme,
          "Tick what holds for you. Nobody asks further; alcohol drills are then left out, the others stay.");
    for (std::size_t i = 0; i < view.reasons.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        if (tick(theme, view.reasons[i].label, view.reasons[i].is_chosen))
            intent = TickReason{view.reasons[i].label, !view.reasons[i].is_chosen};
        ImGui::PopID();
    }
    gap(theme, 0.8F);
    if (!view.has_person)
        faint(theme, "That you have read them is noted once a person is added.");
    else if (primary(theme, view.already_read ? "I have read them again" : "I have read this"))
        intent = ReadCautions{};
    gap(theme, 0.3F);
    if (quiet(theme, "Back", "Escape")) intent = OpenDialog{Dialog::none};
    return intent;
}

void draw_help(const HelpView& view, const Theme& theme) {
    heading(theme, view.title);
    for (const std::string& text : view.paragraphs) {
        paragraph(theme, text);
        gap(theme, 0.2F);
    }
    section(theme, "Keys");
    if (!ImGui::BeginTable("keys", 2)) return;
    ImGui::TableSetupColumn("key", ImGuiTableColumnFlags_WidthFixed, 6.0F * theme.em());
    ImGui::TableSetupColumn("does", ImGuiTableColumnFlags_WidthStretch);
    for (const auto& [key, does] : view.keys) {
        ImGui::TableNextColumn();
        ImGui::PushFont(theme.fonts.strong);
        ImGui::TextWrapped("%s", key.c_str());
        ImGui::PopFont();
        ImGui::TableNextColumn();
        ImGui::TextWrapped("%s", does.c_str());
    }
    ImGui::EndTable();
}

}  // namespace sipladder::gui

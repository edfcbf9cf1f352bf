// The Records place: sittings and their answers, exchange and copies, the one delete.

#include "engine/text.hpp"
#include "gui/screens/own_things.hpp"
#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <utility>

namespace sipladder::gui {

namespace {

constexpr float list_ems = 52.0F;  // below it the list has date and drill only

/// A line of text as wide as there is room, crossed where it does not count.
void line_text(const Theme& theme, const std::string& text, bool is_crossed) {
    const std::string fits = elided(text, ImGui::GetContentRegionAvail().x);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::PushStyleColor(ImGuiCol_Text, is_crossed ? theme.colour.faint : theme.colour.ink);
    ImGui::TextUnformatted(fits.c_str());
    ImGui::PopStyleColor();
    if (is_crossed && !fits.empty()) {
        const float middle = at.y + 0.55F * ImGui::GetTextLineHeight();
        ImGui::GetWindowDrawList()->AddLine({at.x, middle}, {ImGui::GetItemRectMax().x, middle},
                                            ImGui::GetColorU32(theme.colour.ink), 0.06F * theme.em());
    }
    if (fits != text && ImGui::IsItemHovered()) tooltip(theme, text);
}

/// What holds already, for a choice that changes one thing of it.
FilterRecords filter_of(const RecordListView& list) {
    return {.substance = list.substance,
            .drill = list.drill,
            .text = list.text,
            .from = list.from.text,
            .to = list.to.text};
}

/// Two dates on one line; what is wrong with either stands below.
std::optional<Intent> draw_dates(const RecordListView& list, const Theme& theme) {
    constexpr float date_ems = 7.0F;
    std::optional<Intent> intent;
    FilterRecords wanted = filter_of(list);
    begin_row(theme, "Dates");
    word_before(theme, "from", date_ems);
    if (const auto text = bare_field(theme, "##from", list.from, date_ems)) {
        wanted.from = *text;
        intent = wanted;
    }
    ImGui::SameLine();
    word_before(theme, "to", date_ems);
    if (const auto text = bare_field(theme, "##to", list.to, date_ems)) {
        wanted.to = *text;
        intent = wanted;
    }
    if (!list.from.text.empty() || !list.to.text.empty()) {
        beside(theme, "All dates", 0.0F);
        wanted.from.clear();
        wanted.to.clear();
        if (quiet(theme, "All dates")) intent = wanted;
    } else {
        const std::string forms = "a day, a month or a year: 2026-03-01, 2026-03, 2026";
        beside(theme, forms, 0.0F);
        ImGui::AlignTextToFramePadding();
        faint(theme, forms);
    }
    for (const Field* field : {&list.from, &list.to})
        if (!field->problem.empty()) caution(theme, field->problem);
    end_row();
    return intent;
}

std::optional<Intent> draw_filter(const RecordListView& list, const Theme& theme) {
    std::optional<Intent> intent;
    FilterRecords wanted = filter_of(list);
    const auto name = [](const std::vector<Choice>& choices, std::size_t chosen) {
        return chosen == 0 ? std::string{} : choices[chosen].label;
    };
    begin_row(theme, "Substance");
    if (const auto chosen = choose(theme, "substances", list.substances)) {
        wanted.substance = name(list.substances, *chosen);
        intent = wanted;
    }
    end_row();
    begin_row(theme, "Drill");
    if (const auto chosen = choose(theme, "drills", list.drills)) {
        wanted.drill = name(list.drills, *chosen);
        intent = wanted;
    }
    end_row();
    if (auto dates = draw_dates(list, theme)) intent = std::move(dates);
    begin_row(theme, "With the words");
    if (const auto text =
            field(theme, "##words", Field{.text = list.text, .unit = {}, .problem = {}}, 18.0F)) {
        wanted.text = *text;
        intent = wanted;
    }
    end_row();
    gap(theme, 0.3F);
    faint(theme, list.count);
    return intent;
}

constexpr const char* opens = "open";

/// That the row can be opened, in the way of what can be clicked elsewhere: underlined, not by colour alone.
void opening_word(const Theme& theme) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImU32 colour = ImGui::GetColorU32(theme.colour.accent);
    ImGui::PushStyleColor(ImGuiCol_Text, theme.colour.accent);
    ImGui::TextUnformatted(opens);
    ImGui::PopStyleColor();
    const float below = at.y + 0.98F * ImGui::GetTextLineHeight();
    ImGui::GetWindowDrawList()->AddLine({at.x, below}, {ImGui::GetItemRectMax().x, below}, colour,
                                        std::max(1.0F, 0.06F * theme.em()));
}

std::optional<Intent> draw_line(const RecordLine& line, int number, bool is_wide, const Theme& theme) {
    std::optional<Intent> intent;
    const bool is_struck = !line.struck.empty();
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::PushID(number);
    const ImVec2 at = ImGui::GetCursorPos();
    if (ImGui::Selectable("##open", false, ImGuiSelectableFlags_SpanAllColumns))
        intent = OpenRecord{line.sitting};
    ImGui::SetCursorPos(at);
    line_text(theme, line.date, is_struck);
    ImGui::TableNextColumn();
    line_text(theme, line.what, is_struck);
    if (is_wide) {
        ImGui::TableNextColumn();
        line_text(theme, line.blinding, is_struck);
        ImGui::TableNextColumn();
        line_text(theme, line.presentations, is_struck);
        ImGui::TableNextColumn();
        line_text(theme, line.struck, false);
    }
    ImGui::TableNextColumn();
    opening_word(theme);
    ImGui::PopID();
    return intent;
}

std::optional<Intent> draw_lines(const RecordListView& list, const Theme& theme) {
    std::optional<Intent> intent;
    const float em = theme.em();
    const float width = std::min(ImGui::GetContentRegionAvail().x, 90.0F * em);
    const bool is_wide = width > list_ems * em;
    if (!ImGui::BeginTable("records", is_wide ? 6 : 3, ImGuiTableFlags_BordersInnerH, {width, 0.0F}))
        return intent;
    ImGui::TableSetupColumn("Date", ImGuiTableColumnFlags_WidthFixed, 8.5F * em);
    ImGui::TableSetupColumn("Drill", ImGuiTableColumnFlags_WidthStretch, 2.2F);
    if (is_wide) {
        ImGui::TableSetupColumn("Blinding", ImGuiTableColumnFlags_WidthStretch, 1.0F);
        ImGui::TableSetupColumn("Answers", ImGuiTableColumnFlags_WidthFixed, 7.0F * em);
        ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch, 1.3F);
    }
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, ImGui::CalcTextSize(opens).x);
    ImGui::TableHeadersRow();
    // Years of sittings: only what is on the screen is drawn.
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(list.lines.size()));
    while (clipper.Step())
        for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i)
            if (auto wanted = draw_line(list.lines[static_cast<std::size_t>(i)], i, is_wide, theme))
                intent = std::move(wanted);
    ImGui::EndTable();
    return intent;
}

std::optional<Intent> draw_list(const RecordListView& list, const Theme& theme) {
    std::optional<Intent> intent;
    if (!list.lines.empty() || list.is_filtered) intent = draw_filter(list, theme);
    gap(theme, 0.4F);
    if (!list.empty.empty()) paragraph(theme, list.empty);
    if (list.lines.empty()) {
        gap(theme, 0.4F);
        if (list.is_filtered && primary(theme, "Show all")) intent = FilterRecords{};
        if (!list.is_filtered && primary(theme, "To Taste")) intent = GoTo{Place::taste};
        return intent;
    }
    if (auto wanted = draw_lines(list, theme)) intent = std::move(wanted);
    return intent;
}

std::optional<Intent> strike_button(const Theme& theme, const Uuid& row, bool is_struck) {
    if (quiet(theme, is_struck ? "Put back" : "Strike out")) return AskToStrike{row, is_struck};
    return std::nullopt;
}

std::optional<Intent> draw_notes(const RecordOpenView& view, const Theme& theme) {
    std::optional<Intent> intent;
    for (std::size_t i = 0; i < view.notes.size(); ++i) {
        const RecordRowView& note = view.notes[i];
        ImGui::PushID(static_cast<int>(i));
        ImGui::AlignTextToFramePadding();
        line_text(theme, "Note: " + note.cells.front(), !note.struck.empty());
        if (!note.struck.empty()) faint(theme, note.struck);
        beside(theme, "Strike out", 0.0F);
        if (auto wanted = strike_button(theme, note.row, !note.struck.empty())) intent = std::move(wanted);
        ImGui::PopID();
    }
    word_before(theme, "A note to it", 20.0F);
    if (const auto text = field(theme, "##note", Field{.text = view.note, .unit = {}, .problem = {}}, 20.0F))
        intent = TypeNote{*text};
    const bool entered = ImGui::IsItemFocused() && pressed_enter();
    beside(theme, "Add it");
    if (quiet(theme, "Add it", "Enter") || (entered && !view.note.empty())) intent = AddNote{};
    return intent;
}

std::optional<Intent> draw_answer(const RecordRowView& answer, const Theme& theme) {
    std::optional<Intent> intent;
    const bool is_struck = !answer.struck.empty();
    ImGui::TableNextRow();
    for (const std::string& cell : answer.cells) {
        ImGui::TableNextColumn();
        ImGui::AlignTextToFramePadding();
        line_text(theme, cell, is_struck);
    }
    ImGui::TableNextColumn();
    intent = strike_button(theme, answer.row, is_struck);
    if (is_struck) cell_text(theme, answer.struck, true);
    return intent;
}

std::optional<Intent> draw_answers(const RecordDrillView& drill, const Theme& theme) {
    std::optional<Intent> intent;
    const float em = theme.em();
    const float width = std::min(ImGui::GetContentRegionAvail().x, 76.0F * em);
    const int columns = static_cast<int>(drill.columns.size()) + 1;
    if (!ImGui::BeginTable("answers", columns, ImGuiTableFlags_BordersInnerH, {width, 0.0F})) return intent;
    for (std::size_t i = 0; i < drill.columns.size(); ++i) {
        const bool is_text = i == 1 || i == 2;  // what was in the cup, what was said of it
        const bool is_number = i == 0;
        ImGui::TableSetupColumn(
            drill.columns[i].c_str(),
            is_text ? ImGuiTableColumnFlags_WidthStretch : ImGuiTableColumnFlags_WidthFixed,
            is_text ? 1.0F
                    : (is_number                       ? 2.2F
                       : i + 1 == drill.columns.size() ? 3.6F
                                                       : 4.0F) *
                          em);
    }
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed,
                            ImGui::CalcTextSize("Strike out").x + 2.0F * em);
    ImGui::TableHeadersRow();
    for (std::size_t i = 0; i < drill.answers.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        if (auto wanted = draw_answer(drill.answers[i], theme)) intent = std::move(wanted);
        ImGui::PopID();
    }
    ImGui::EndTable();
    return intent;
}

std::optional<Intent> draw_drill_record(const RecordDrillView& drill, const Theme& theme) {
    std::optional<Intent> intent;
    section(theme, drill.title);
    faint(theme, drill.how);
    if (!drill.struck.empty()) emphasis(theme, drill.struck);
    if (auto wanted = strike_button(theme, drill.id, !drill.struck.empty())) intent = std::move(wanted);
    gap(theme, 0.2F);
    if (!drill.hidden.empty()) paragraph(theme, drill.hidden);
    if (drill.answers.empty()) return intent;
    if (auto wanted = draw_answers(drill, theme)) intent = std::move(wanted);
    return intent;
}

std::optional<Intent> draw_open(const RecordOpenView& view, const Theme& theme) {
    std::optional<Intent> intent;
    const auto take = [&](std::optional<Intent> wanted) {
        if (wanted) intent = std::move(wanted);
    };
    if (quiet(theme, "All sittings", "Escape")) intent = OpenRecord{};
    heading(theme, view.title);
    for (const std::string& fact : view.facts) paragraph(theme, fact);
    if (!view.struck.empty()) emphasis(theme, view.struck);
    if (view.asked) {
        take(draw_asked(*view.asked, theme));
        gap(theme, 0.4F);
    } else {
        take(strike_button(theme, view.id, !view.struck.empty()));
        ImGui::SameLine();
        ImGui::AlignTextToFramePadding();
        faint(theme, "the whole sitting");
    }
    ImGui::PushID("notes");
    take(draw_notes(view, theme));
    ImGui::PopID();
    for (std::size_t i = 0; i < view.drills.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        take(draw_drill_record(view.drills[i], theme));
        ImGui::PopID();
    }
    return intent;
}

std::optional<Intent> draw_exchange(const RecordExchangeView& view, const Theme& theme) {
    std::optional<Intent> intent;
    section(theme, "Export");
    faint(theme, "To " + view.folder + ", readable by you only.");
    if (tick(theme, "everyone in this journal, not " + view.person + " alone", view.everyone))
        intent = TickEveryone{!view.everyone};
    if (quiet(theme, "All rows as JSON")) intent = ExportRecords{.is_csv = false};
    beside(theme, "Answers as CSV", 0.0F);
    if (quiet(theme, "Answers as CSV")) intent = ExportRecords{.is_csv = true};
    faint(theme, "JSON is for another journal; CSV, one row an answer, for R, Python or a spreadsheet.");
    section(theme, "Import");
    word_before(theme, "File", 28.0F);
    if (const auto text =
            field(theme, "##import", Field{.text = view.path, .unit = {}, .problem = {}}, 28.0F))
        intent = TypeImportPath{*text};
    const bool entered = ImGui::IsItemFocused() && pressed_enter();
    if (tick(theme, "where the two disagree, keep what is here and take in the rest", view.keep_ours))
        intent = TickKeepOurs{!view.keep_ours};
    if (quiet(theme, "Take it in", "Enter") || (entered && !view.path.empty())) intent = ImportRecords{};
    faint(
        theme,
        "All of it is taken in or nothing. The day's copy is made before. What is here already is left as it "
        "is.");
    section(theme, "Copies");
    if (quiet(theme, "Make a copy now")) intent = CopyNow{};
    paragraph(theme, view.copies_note);
    for (const std::string& copy : view.copies) faint(theme, copy);
    return intent;
}

std::optional<Intent> draw_erase(const RecordEraseView& view, const Theme& theme) {
    std::optional<Intent> intent;
    section(theme, "Erase " + view.person + "?");
    for (const std::string& sentence : view.sentences) paragraph(theme, sentence);
    gap(theme, 0.3F);
    faint(theme, "Type the name to be sure.");
    if (const auto text = field(theme, "##name", Field{.text = view.typed, .unit = {}, .problem = {}}, 18.0F))
        intent = TypeNameToErase{*text};
    gap(theme, 0.3F);
    ImGui::BeginDisabled(!view.is_right);
    if (quiet(theme, "Erase for good")) intent = ErasePerson{};
    ImGui::EndDisabled();
    return intent;
}

std::optional<Intent> draw_own(const OwnListView& view, const Theme& theme) {
    section(theme, "Your own equipment, ladders and substances");
    std::optional<Intent> intent = draw_own_list(view, theme);
    gap(theme, 0.4F);
    if (quiet(theme, "Add one in Settings", "F4")) intent = ShowSettings{SettingsPart::equipment};
    return intent;
}

}  // namespace

std::optional<Intent> draw_records(const RecordsView& view, const Theme& theme) {
    std::optional<Intent> intent;
    constexpr std::array parts{RecordsPart::sittings, RecordsPart::exchange, RecordsPart::erase,
                               RecordsPart::own_things};
    if (const auto chosen = choose_part(theme, view.parts)) intent = ShowRecords{parts.at(*chosen)};
    gap(theme, 0.4F);
    draw_waits(view.waits, theme);
    std::optional<Intent> wanted;
    if (view.list) wanted = draw_list(*view.list, theme);
    if (view.open) wanted = draw_open(*view.open, theme);
    if (view.exchange) wanted = draw_exchange(*view.exchange, theme);
    if (view.erase) wanted = draw_erase(*view.erase, theme);
    if (view.own) wanted = draw_own(*view.own, theme);
    return wanted ? wanted : intent;
}

}  // namespace sipladder::gui

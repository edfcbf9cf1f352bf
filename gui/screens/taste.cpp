#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

std::optional<Intent> draw_unfinished(const TasteStartView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (view.unfinished.empty()) return intent;
    section(theme, "Left open: go on where it stopped");
    for (std::size_t i = 0; i < view.unfinished.size(); ++i) {
        const TasteStartView::Open& open = view.unfinished[i];
        ImGui::PushID(static_cast<int>(i));
        paragraph(theme, open.text);
        const char* label = open.is_too_old ? "Close it, keep what was done" : "Go on";
        if (i == 0 ? primary(theme, label) : quiet(theme, label))
            intent = open.is_too_old ? Intent{CloseOpen{open.drill}} : Intent{GoOn{open.drill}};
        ImGui::PopID();
    }
    return intent;
}

/// Who pours, how many, and what the result starts from.
std::optional<Intent> draw_pouring(const TasteStartView& view, const Theme& theme) {
    std::optional<Intent> intent;
    begin_row(theme, "Who pours?");
    if (const auto chosen = choose(theme, "blinding", view.blindings))
        intent = ChooseBlinding{view.blinding_kinds[*chosen]};
    faint(theme, view.blinding_note);
    end_row();
    begin_row(theme, "How many?");
    if (const auto chosen = choose(theme, "presentations", view.presentations))
        intent = ChoosePresentations{view.presentation_counts[*chosen]};
    end_row();
    if (view.priors.empty()) return intent;
    begin_row(theme, "Starts from");
    if (const auto chosen = choose(theme, "prior", view.priors))
        intent = ChoosePrior{view.prior_choices[*chosen]};
    faint(theme, view.prior_note);
    end_row();
    return intent;
}

/// Which drill, and on which bottles.
std::optional<Intent> draw_choices(const TasteStartView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (!view.follows.empty()) {
        section(theme, view.prepared);
        paragraph(theme, "Next in it: " + view.follows + ".");
        if (quiet(theme, "Go on with it")) intent = ChooseMyself{false};
    }
    begin_row(theme, "Drill");
    if (const auto chosen = choose_line(theme, "offer", view.offers)) intent = ChooseOffer{*chosen};
    faint(theme, view.offer_note);
    end_row();
    begin_row(theme, "Which mix?");
    if (const auto chosen = choose(theme, "mix", view.mixes)) intent = ChooseMix{*chosen};
    if (!view.older_mixes.empty()) faint(theme, view.older_mixes);
    if (!view.others_note.empty()) paragraph(theme, view.others_note);
    for (std::size_t i = 0; i < view.others.size(); ++i) {
        ImGui::PushID(static_cast<int>(view.other_mixes[i]));
        if (tick(theme, view.others[i].label, view.others[i].is_chosen))
            intent = TickOther{view.other_mixes[i], !view.others[i].is_chosen};
        ImGui::PopID();
    }
    end_row();
    if (auto wanted = draw_pouring(view, theme)) intent = std::move(wanted);
    return intent;
}

/// The sitting as it was prepared: what is done, what is next.
std::optional<Intent> draw_stages(const TasteStartView& view, const Theme& theme) {
    std::optional<Intent> intent;
    const float em = theme.em();
    section(theme, view.prepared);
    if (ImGui::BeginTable("stages", 2, ImGuiTableFlags_None,
                          {std::min(ImGui::GetContentRegionAvail().x, 58.0F * em), 0.0F})) {
        ImGui::TableSetupColumn("state", ImGuiTableColumnFlags_WidthFixed, 3.6F * em);
        ImGui::TableSetupColumn("drill", ImGuiTableColumnFlags_WidthStretch);
        for (const TasteStartView::Stage& stage : view.stages) {
            const bool is_next = stage.state == "next";
            ImGui::PushFont(is_next ? theme.fonts.strong : theme.fonts.body);
            ImGui::TableNextColumn();
            cell_text(theme, stage.state, !is_next);
            ImGui::TableNextColumn();
            cell_text(theme, stage.text, !is_next);
            ImGui::PopFont();
        }
        ImGui::EndTable();
    }
    if (!view.offer_note.empty()) faint(theme, view.offer_note);
    if (quiet(theme, "Choose another drill")) intent = ChooseMyself{true};
    gap(theme, 0.6F);
    if (auto wanted = draw_pouring(view, theme)) intent = std::move(wanted);
    return intent;
}

/// Asked once a sitting.
std::optional<Intent> draw_circumstances(const TasteStartView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (!view.sitting.empty()) {
        begin_row(theme, "This sitting");
        ImGui::AlignTextToFramePadding();
        paragraph(theme, view.sitting);
        if (quiet(theme, "End this sitting, begin a new one")) intent = EndSitting{};
        end_row();
        return intent;
    }
    begin_row(theme, "Today");
    ImGui::AlignTextToFramePadding();
    paragraph(theme, "Does one of these hold? It is noted once, with the sitting.");
    constexpr float column_ems = 24.0F;
    const bool is_wide = ImGui::GetContentRegionAvail().x > 2.0F * column_ems * theme.em();
    const float left = ImGui::GetCursorPosX();
    for (std::size_t i = 0; i < view.spoilers.size(); ++i) {
        if (is_wide && i % 2 == 1) ImGui::SameLine(left + column_ems * theme.em());
        ImGui::PushID(static_cast<int>(i));
        if (tick(theme, view.spoilers[i].label, view.spoilers[i].is_chosen))
            intent = TickSpoiler{view.spoilers[i].label, !view.spoilers[i].is_chosen};
        ImGui::PopID();
    }
    if (view.asks_for_closed_nose &&
        tick(theme, "my nose will be closed (this drill asks for it)", view.nose_is_closed))
        intent = TickClosedNose{!view.nose_is_closed};
    constexpr float temperature_ems = 5.0F;
    word_before(theme, "Temperature of the cups, if measured", temperature_ems);
    if (const auto typed = field(theme, "##temperature", view.temperature, temperature_ems))
        intent = TypeTemperature{*typed};
    end_row();
    return intent;
}

std::optional<Intent> draw_words(const TasteStartView& view, const Theme& theme) {
    std::optional<Intent> intent;
    if (!view.asks_words) return intent;
    section(theme, "In your own words");
    if (const auto text = field(theme, "##words", view.words, 36.0F)) intent = TypeWords{*text};
    faint(theme, view.words_note);
    return intent;
}

/// The finish of a bottle that was not mixed here.
std::optional<Intent> draw_wine(const TasteStartView::Wine& view, const Theme& theme) {
    std::optional<Intent> intent;
    gap(theme, 0.8F);
    if (!view.is_open) {
        if (quiet(theme, "How long does my own wine last?")) intent = ShowOwnWine{true};
        return intent;
    }
    section(theme, "How long does my own wine last?");
    begin_row(theme, "Wine");
    if (const auto text = field(theme, "##wine", view.name, 18.0F))
        intent = TypeWine{*text, view.strength.text};
    end_row();
    begin_row(theme, "Strength");
    if (const auto text = field(theme, "##pct", view.strength, 5.0F))
        intent = TypeWine{view.name.text, *text};
    end_row();
    if (!view.against.empty()) caution(theme, view.against);
    if (!view.will_take.empty()) paragraph(theme, view.will_take);
    ImGui::BeginDisabled(!view.can_start);
    if (quiet(theme, "Time its finish") && view.can_start) intent = StartOwnWine{};
    ImGui::EndDisabled();
    beside(theme, "Not now", 0.0F);
    if (quiet(theme, "Not now")) intent = ShowOwnWine{false};
    return intent;
}

}  // namespace

std::optional<Intent> draw_taste_start(const TasteStartView& view, const Theme& theme) {
    std::optional<Intent> intent;
    const auto take = [&](std::optional<Intent> wanted) {
        if (wanted) intent = std::move(wanted);
    };
    heading(theme, "Taste");
    take(draw_unfinished(view, theme));
    if (view.mixes.empty()) {
        paragraph(theme, "Nothing is in bottles yet. A ladder is prepared first: planned, mixed, and kept.");
        gap(theme, 0.5F);
        if (primary(theme, "Prepare a ladder")) intent = GoTo{Place::prepare};
        take(draw_wine(view.wine, theme));
        return intent;
    }
    take(view.stages.empty() ? draw_choices(view, theme) : draw_stages(view, theme));
    take(draw_words(view, theme));
    take(draw_circumstances(view, theme));
    gap(theme, 0.6F);
    for (const std::string& reason : view.against) caution(theme, reason);
    if (!view.will_take.empty()) paragraph(theme, view.will_take);
    gap(theme, 0.3F);
    ImGui::BeginDisabled(!view.can_start);
    const bool starts =
        view.unfinished.empty() ? primary(theme, "Start", view.can_start) : quiet(theme, "Start a new one");
    ImGui::EndDisabled();
    if (starts && view.can_start) intent = StartDrill{};
    take(draw_wine(view.wine, theme));
    return intent;
}

std::optional<Intent> draw_finding(const FindingView& view, const Theme& theme) {
    std::optional<Intent> intent;
    heading(theme, view.title);
    large_paragraph(theme, view.sentence);
    for (const std::string& line : view.more) paragraph(theme, line);
    gap(theme, 0.5F);
    for (std::size_t i = 0; i < view.curves.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        if (!view.curves[i].name.empty()) section(theme, view.curves[i].name);
        draw_chart(
            theme, "curve", view.curves[i].chart,
            std::min(ImGui::GetContentRegionAvail().x, 44.0F * theme.em()),
            (view.curves.size() > 1 && view.curves[i].chart.shape <= 0.0 ? 13.0F : 16.0F) * theme.em());
        ImGui::PopID();
    }
    for (const std::string& warning : view.warnings) caution(theme, warning);
    gap(theme, 0.3F);
    for (const std::string& line : view.next) paragraph(theme, line);
    faint(theme, view.rests_on);
    gap(theme, 0.6F);
    if (!view.next_drill.empty()) {
        paragraph(theme, "Next in this sitting: " + view.next_drill + ".");
        gap(theme, 0.3F);
        if (primary(theme, "Go on with the sitting")) intent = LeaveFinding{};
        beside(theme, "To my palate");
        if (quiet(theme, "To my palate")) intent = GoTo{Place::palate};
    } else if (primary(theme, "To my palate")) {
        intent = GoTo{Place::palate};
    }
    const char* another = view.sitting_goes_on ? "Another drill in this sitting" : "Another drill";
    beside(theme, another);
    if (quiet(theme, another, "N") || (keys_are_free() && pressed(letter('N')))) intent = LeaveFinding{};
    beside(theme, "Print this curve");
    if (!view.curves.empty() && quiet(theme, "Print this curve", "Ctrl+P")) intent = PrintShown{};
    return intent;
}

}  // namespace sipladder::gui

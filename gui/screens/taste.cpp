#include "gui/screens/screens.hpp"
#include "gui/widgets/keys.hpp"
#include "gui/widgets/widgets.hpp"

#include <algorithm>
#include <array>

namespace sipladder::gui {

std::optional<Intent> draw_taste_start(const TasteStartView& view, const Theme& theme) {
    std::optional<Intent> intent;
    heading(theme, "Taste");
    if (!view.unfinished.empty()) section(theme, "Left open: go on where it stopped");
    for (std::size_t i = 0; i < view.unfinished.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        paragraph(theme, view.unfinished[i].text);
        const bool is_next = i == 0;
        if (is_next ? primary(theme, "Go on") : quiet(theme, "Go on"))
            intent = GoOn{view.unfinished[i].drill};
        ImGui::PopID();
    }
    if (view.mixes.empty()) {
        paragraph(theme, "Nothing is in bottles yet. A ladder is prepared first: planned, mixed, and kept.");
        gap(theme, 0.5F);
        if (primary(theme, "Prepare a ladder")) intent = GoTo{Place::prepare};
        return intent;
    }
    section(theme, "Which mix?");
    if (const auto chosen = choose(theme, "mix", view.mixes)) intent = ChooseMix{*chosen};
    if (!view.older_mixes.empty()) faint(theme, view.older_mixes);
    section(theme, "Who pours?");
    if (const auto chosen = choose(theme, "blinding", view.blindings))
        intent = ChooseBlinding{*chosen == 0 ? drills::Blinding::shuffled_tray : drills::Blinding::served};
    faint(theme, view.blinding_note);
    if (!view.priors.empty()) {
        section(theme, "What does the threshold start from?");
        if (const auto chosen = choose(theme, "prior", view.priors))
            intent = ChoosePrior{view.prior_choices[*chosen]};
        faint(theme, view.prior_note);
    }
    section(theme, "Does one of these hold today?");
    for (std::size_t i = 0; i < view.spoilers.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        if (tick(theme, view.spoilers[i].label, view.spoilers[i].is_chosen))
            intent = TickSpoiler{view.spoilers[i].label, !view.spoilers[i].is_chosen};
        ImGui::PopID();
    }
    if (view.asks_for_closed_nose &&
        tick(theme, "my nose will be closed (this drill asks for it)", view.nose_is_closed))
        intent = TickClosedNose{!view.nose_is_closed};
    gap(theme, 0.6F);
    for (const std::string& reason : view.against) caution(theme, reason);
    if (!view.will_take.empty()) paragraph(theme, view.will_take);
    gap(theme, 0.3F);
    if (view.unfinished.empty() ? primary(theme, "Start", view.can_start)
                                : (ImGui::BeginDisabled(!view.can_start), quiet(theme, "Start a new one")))
        intent = StartDrill{};
    if (!view.unfinished.empty()) ImGui::EndDisabled();
    return intent;
}

namespace {

/// So little room that the keys would fall off the bottom: everything is set smaller then.
bool is_low(const Theme& theme) {
    return ImGui::GetWindowHeight() < 27.0F * theme.em();
}

void say(const Theme& theme, const std::string& text) {
    if (is_low(theme))
        paragraph(theme, text);
    else
        large_paragraph(theme, text);
}

void pause(const Theme& theme, float ems) {
    gap(theme, is_low(theme) ? 0.3F * ems : ems);
}

/// Three large cups from left to right.
std::optional<std::size_t> draw_cups(const DrillView& view, const Theme& theme) {
    std::optional<std::size_t> picked;
    const float em = theme.em();
    const float space = 1.4F * em;
    const auto count = static_cast<float>(view.cup_names.size());
    const float width =
        std::min(10.0F * em, (ImGui::GetContentRegionAvail().x - space * (count - 1.0F)) / count);
    const float height = is_low(theme) ? 4.4F : 6.6F;
    const ImVec2 size{width, height * em};
    for (std::size_t i = 0; i < view.cup_names.size(); ++i) {
        if (i > 0) ImGui::SameLine(0.0F, space);
        ImGui::PushID(static_cast<int>(i));
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const bool is_picked = view.picked == i;
        ImGui::PushStyleColor(ImGuiCol_Border, is_picked ? theme.colour.accent : theme.colour.hairline);
        if (ImGui::Button("##cup", size)) picked = i;
        ImGui::PopStyleColor();
        ImDrawList& list = *ImGui::GetWindowDrawList();
        const ImU32 ink = ImGui::GetColorU32(theme.colour.ink);
        if (is_picked)
            list.AddRect({at.x, at.y}, {at.x + size.x, at.y + size.y},
                         ImGui::GetColorU32(theme.colour.accent), 0.3F * em, 0, 0.22F * em);
        const ImVec2 centre{at.x + size.x / 2, at.y + (height - 4.2F + (is_low(theme) ? 1.3F : 0.0F)) * em};
        list.AddCircle(centre, (is_low(theme) ? 0.9F : 1.5F) * em,
                       is_picked ? ImGui::GetColorU32(theme.colour.accent) : ink, 64, 0.13F * em);
        if (is_picked)
            list.AddCircleFilled(centre, (is_low(theme) ? 0.5F : 0.9F) * em,
                                 ImGui::GetColorU32(theme.colour.accent), 48);
        ImFont* large = is_low(theme) ? theme.fonts.strong : theme.fonts.large;
        const std::string& name = view.cup_names[i];
        const ImVec2 text = large->CalcTextSizeA(large->FontSize, 1e9F, 0.0F, name.c_str());
        list.AddText(large, large->FontSize,
                     {at.x + (size.x - text.x) / 2, at.y + (height - (is_low(theme) ? 1.7F : 2.4F)) * em},
                     ink, name.c_str());
        const std::string key = std::to_string(i + 1);
        list.AddText(theme.fonts.small, theme.fonts.small->FontSize, {at.x + 0.5F * em, at.y + 0.35F * em},
                     ImGui::GetColorU32(theme.colour.faint), key.c_str());
        ImGui::PopID();
        if (pressed(digit(static_cast<int>(i) + 1))) picked = i;
    }
    if (pressed(Key::left)) picked = view.picked ? *view.picked - (*view.picked > 0 ? 1 : 0) : 0;
    if (pressed(Key::right)) picked = view.picked ? std::min<std::size_t>(*view.picked + 1, 2) : 2;
    if (pressed(Key::down) && !view.picked) picked = 1;
    return picked;
}

std::optional<Intent> draw_certainty(const DrillView& view, const Theme& theme) {
    using drills::Certainty;
    constexpr std::array<Certainty, 3> all{Certainty::guessed, Certainty::leaning, Certainty::sure};
    const std::array<const char*, 3> labels{"guessed  (G)", "leaning  (L)", "sure  (S)"};
    constexpr std::array<char, 3> keys{'G', 'L', 'S'};
    std::optional<Intent> intent;
    std::vector<Choice> choices;
    for (std::size_t i = 0; i < all.size(); ++i)
        choices.push_back(
            {.label = labels.at(i), .is_chosen = view.certainty == all.at(i), .note = {}, .component = {}});
    if (const auto chosen = choose(theme, "certainty", choices)) intent = PickCertainty{all.at(*chosen)};
    for (std::size_t i = 0; i < keys.size(); ++i)
        if (pressed(letter(keys.at(i)))) intent = PickCertainty{all.at(i)};
    return intent;
}

std::optional<Intent> draw_answer(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    for (const std::string& line : view.instruction) paragraph(theme, line);
    pause(theme, 0.3F);
    say(theme, view.question);
    pause(theme, 0.4F);
    if (const auto picked = draw_cups(view, theme)) intent = PickCup{*picked};
    pause(theme, 0.5F);
    if (const auto sure = draw_certainty(view, theme)) intent = sure;
    pause(theme, 0.6F);
    if (primary(theme, "Lock", view.can_lock, "Enter") || (view.can_lock && pressed_enter()))
        intent = LockAnswer{};
    if (!view.can_lock)
        faint(theme, view.picked ? "And how sure: G guessed, L leaning, S sure."
                                 : "Pick a cup: 1, 2, 3 or the arrows. A guess is an answer too.");
    return intent;
}

std::optional<Intent> draw_reveal(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    say(theme, view.locked);
    pause(theme, 0.2F);
    say(theme, view.question);
    pause(theme, 0.4F);
    if (const auto picked = draw_cups(view, theme)) intent = FoundSign{*picked};
    pause(theme, 0.6F);
    if (primary(theme, "It was there", view.can_lock, "Enter") || (view.can_lock && pressed_enter()))
        intent = LockSign{};
    return intent;
}

std::optional<Intent> draw_rest(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    const bool is_wide = ImGui::GetContentRegionAvail().x > 30.0F * theme.em();
    ImGui::BeginGroup();
    countdown_ring(theme, view.rest_share, view.rest_left);
    ImGui::EndGroup();
    if (is_wide) ImGui::SameLine(0.0F, 1.5F * theme.em());
    ImGui::BeginGroup();
    for (const std::string& line : view.instruction) {
        say(theme, line);
        pause(theme, 0.1F);
    }
    if (view.is_poured)
        faint(theme, "Poured. It goes on when the rest is over.");
    else if (primary(theme, "Poured", true, "Space") || pressed(Key::space))
        intent = Poured{};
    pause(theme, 0.3F);
    if (quiet(theme, "Cut this rest short", "C") || pressed(letter('C'))) intent = CutRest{};
    faint(theme, "That a rest was cut is noted with the sitting.");
    ImGui::EndGroup();
    return intent;
}

std::optional<Intent> draw_one_key(const DrillView& view, const Theme& theme, const char* label,
                                   Intent then) {
    std::optional<Intent> intent;
    for (const std::string& line : view.instruction) {
        say(theme, line);
        pause(theme, 0.15F);
    }
    pause(theme, 0.6F);
    if (primary(theme, label, true, "Space") || pressed(Key::space)) intent = std::move(then);
    if (view.prints_card) {
        pause(theme, 0.4F);
        if (quiet(theme, "Print the pour card", "Ctrl+P")) intent = PrintShown{};
    }
    return intent;
}

std::optional<Intent> draw_stop(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    pause(theme, 1.4F);
    ImGui::Separator();
    pause(theme, 0.2F);
    if (!view.stop_asked) {
        if (quiet(theme, "Stop here, keep what I did", "X") || pressed(letter('X'))) intent = AskToStop{true};
        return intent;
    }
    paragraph(theme, "Stop this drill for good? What was locked is kept and counts.");
    if (quiet(theme, "Stop it", "Y") || pressed(letter('Y'))) intent = StopDrill{};
    beside(theme, "Go on");
    if (quiet(theme, "Go on", "N") || pressed(letter('N'))) intent = AskToStop{false};
    return intent;
}

}  // namespace

std::optional<Intent> draw_drill(const DrillView& view, const Theme& theme) {
    std::optional<Intent> intent;
    const float em = theme.em();
    const float width = std::min(ImGui::GetContentRegionAvail().x, 48.0F * em);
    // A little above the middle, where there is room to spare.
    ImGui::Dummy({0.0F, std::max(0.0F, 0.5F * (ImGui::GetContentRegionAvail().y - 30.0F * em))});
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + (ImGui::GetContentRegionAvail().x - width) / 2.0F);
    ImGui::BeginGroup();
    ImGui::PushItemWidth(width);
    ImGui::PushFont(theme.fonts.strong);
    ImGui::TextUnformatted(view.heading.c_str());
    ImGui::PopFont();
    ImGui::SameLine(0.0F, 2.0F * em);
    ImGui::PushStyleColor(ImGuiCol_Text, theme.colour.faint);
    ImGui::TextUnformatted(view.cups.c_str());
    ImGui::PopStyleColor();
    pause(theme, 1.2F);
    switch (view.phase) {
        case Phase::acquaint:
            intent = draw_one_key(view, theme, "Done, begin", Acquainted{});
            break;
        case Phase::pour:
            intent = draw_one_key(view, theme, "Done", Poured{});
            break;
        case Phase::answer:
            intent = draw_answer(view, theme);
            break;
        case Phase::reveal:
            intent = draw_reveal(view, theme);
            break;
        case Phase::rest:
            intent = draw_rest(view, theme);
            break;
        case Phase::done:
            break;
    }
    if (std::optional<Intent> stop = draw_stop(view, theme)) intent = std::move(stop);
    ImGui::PopItemWidth();
    ImGui::EndGroup();
    return intent;
}

std::optional<Intent> draw_finding(const FindingView& view, const Theme& theme) {
    std::optional<Intent> intent;
    heading(theme, view.title);
    large_paragraph(theme, view.sentence);
    gap(theme, 0.5F);
    draw_chart(theme, "curve", view.curve, std::min(ImGui::GetContentRegionAvail().x, 44.0F * theme.em()),
               19.0F * theme.em());
    for (const std::string& warning : view.warnings) caution(theme, warning);
    gap(theme, 0.3F);
    for (const std::string& line : view.next) paragraph(theme, line);
    faint(theme, view.rests_on);
    gap(theme, 0.6F);
    if (primary(theme, "To my palate")) intent = GoTo{Place::palate};
    beside(theme, "Print this curve");
    if (quiet(theme, "Print this curve", "Ctrl+P")) intent = PrintShown{};
    return intent;
}

}  // namespace sipladder::gui

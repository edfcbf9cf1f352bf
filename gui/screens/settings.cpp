// Settings: how the window looks and prints, what a new form begins with, and what is a person's own.

#include "gui/screens/own_things.hpp"
#include "gui/screens/screens.hpp"
#include "gui/widgets/widgets.hpp"

#include <array>

namespace sipladder::gui {

namespace {

void draw_look(const WindowSettingsView& view, const Theme& theme, std::optional<Intent>& intent) {
    begin_row(theme, "Look");
    if (const auto chosen = choose(theme, "look",
                                   {{.label = "paper", .is_chosen = !view.dark, .note = {}, .component = {}},
                                    {.label = "dark", .is_chosen = view.dark, .note = {}, .component = {}}}))
        intent = SetLook{*chosen == 1};
    end_row();
    begin_row(theme, "Size");
    constexpr std::array<std::pair<double, const char*>, 7> sizes{{{0.75, "75 %"},
                                                                   {1.0, "100 %"},
                                                                   {1.25, "125 %"},
                                                                   {1.5, "150 %"},
                                                                   {2.0, "200 %"},
                                                                   {2.5, "250 %"},
                                                                   {3.0, "300 %"}}};
    std::vector<Choice> choices;
    choices.reserve(sizes.size());
    for (const auto& [scale, label] : sizes)
        choices.push_back({.label = label, .is_chosen = view.scale == scale, .note = {}, .component = {}});
    if (const auto chosen = choose(theme, "size", choices)) intent = SetScale{sizes[*chosen].first};
    end_row();
    using drills::sheets::Paper;
    begin_row(theme, "Prints on");
    if (const auto chosen =
            choose(theme, "print",
                   {{.label = "A4", .is_chosen = view.paper == Paper::a4, .note = {}, .component = {}},
                    {.label = "US Letter",
                     .is_chosen = view.paper == Paper::us_letter,
                     .note = {},
                     .component = {}}}))
        intent = SetPaper{*chosen == 0 ? Paper::a4 : Paper::us_letter};
    end_row();
    begin_row(theme, "Volumes in");
    if (const auto chosen = choose(theme, "volume", view.volumes))
        intent = SetVolumeUnit{view.volume_units[*chosen]};
    faint(theme, view.volume_note);
    end_row();
}

void draw_usual(const WindowSettingsView& view, const Theme& theme, std::optional<Intent>& intent) {
    section(theme, "What a new form in Prepare begins with");
    begin_row(theme, "Who pours");
    if (const auto chosen = choose(theme, "pours", view.pours))
        intent = SetUsualPours{view.pours_kinds[*chosen]};
    end_row();
    begin_row(theme, "Cups of");
    if (const auto text = field(theme, "##cup", view.cup, 4.0F)) intent = TypeUsualCup{*text};
    if (!view.cup_note.empty()) faint(theme, view.cup_note);
    end_row();
    begin_row(theme, "With");
    if (const auto chosen = choose(theme, "kitchen", view.kitchens))
        intent = SetUsualKitchen{view.kitchen_ids[*chosen]};
    if (!view.kitchen_note.empty())
        faint(theme, view.kitchen_note + ". Other scales and syringes: Own equipment, above.");
    end_row();
    faint(theme, view.kept);
}

std::optional<Intent> draw_own(const SettingsView& view, const Theme& theme, const Edit& edit) {
    if (view.form) return draw_own_form(*view.form, theme, edit);
    std::optional<Intent> intent;
    paragraph(theme, view.explains);
    gap(theme, 0.4F);
    if (view.list) intent = draw_own_list(*view.list, theme);
    if (view.list && view.list->asked) return intent;
    if (view.adds.empty()) {
        if (primary(theme, "Say who tastes")) intent = OpenDialog{Dialog::people};
    } else if (primary(theme, view.adds)) {
        intent = BeginOwn{view.kind};
    }
    return intent;
}

}  // namespace

std::optional<Intent> draw_settings(const SettingsView& view, const Theme& theme, const Edit& edit) {
    std::optional<Intent> intent;
    heading(theme, "Settings");
    constexpr std::array parts{SettingsPart::window, SettingsPart::equipment, SettingsPart::ladders,
                               SettingsPart::substances};
    if (const auto chosen = choose_part(theme, view.parts)) intent = ShowSettings{parts.at(*chosen)};
    gap(theme, 0.4F);
    if (view.window) {
        draw_look(*view.window, theme, intent);
        draw_usual(*view.window, theme, intent);
    } else if (auto wanted = draw_own(view, theme, edit)) {
        intent = std::move(wanted);
    }
    gap(theme, 0.8F);
    if (quiet(theme, "Back", "Escape")) intent = OpenDialog{Dialog::none};
    return intent;
}

}  // namespace sipladder::gui

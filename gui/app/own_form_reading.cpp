// A kept thing back in its form. Which fields a form has depends on what some of them hold, so they are
// filled until nothing more is found; what is as usual is left untouched, so that it still follows the
// others.

#include "engine/text.hpp"
#include "gui/app/own_form_parts.hpp"

#include <cmath>

namespace sipladder::gui {

namespace {

using content::OwnKind;
using content::OwnValue;

constexpr int digits_typed = 12;  // what a person types has fewer; the last digits of a double are not theirs

std::string text_in(const OwnValue& value, const OwnField& field) {
    const std::optional<double> number = number_from_file(value.typed);
    if (value.kind != OwnValue::Kind::number || !number || field.scale == 1.0) return value.typed;
    return shortest(*number / field.scale, digits_typed);
}

/// @return whether a field was filled that was empty
bool fill(OwnForm& form, const OwnValues& values, const content::Content& content) {
    bool any = false;
    for (const OwnGroup& group : groups_of(form, content))
        for (const OwnField& field : group.fields) {
            const auto found = values.find(field.pointer);
            if (found == values.end() || !typed_at(form, field.place).empty()) continue;
            type_at(form, field.place, text_in(found->second, field));
            any = any || !typed_at(form, field.place).empty();
        }
    return any;
}

std::size_t tools_in(const OwnValues& values, const std::string& list) {
    std::size_t count = 0;
    while (values.contains("/equipment/0/" + list + "/" + std::to_string(count) + "/id")) ++count;
    return count;
}

/// One by one: by which ratio they came is not kept.
void fill_rungs(OwnForm& form, const OwnValues& values) {
    std::string rungs;
    for (std::size_t i = 0;; ++i) {
        const std::string level = "/ladders/0/levels/" + std::to_string(i) + "/target_";
        auto found = values.find(level + "g_per_L");
        if (found == values.end()) found = values.find(level + "pct_vol");
        if (found == values.end()) break;
        rungs.append(rungs.empty() ? "" : " ").append(found->second.typed);
    }
    type_at(form, {OwnList::head, 0, "rungs_are"}, "list");
    type_at(form, {OwnList::head, 0, "rungs"}, rungs);
}

/// A factor, where the text has the standard deviation of log10.
void fill_spread(OwnForm& form, const OwnValues& values) {
    constexpr int digits_of_factor = 6;
    const auto found = values.find("/substances/0/prior/sd_log10");
    if (found == values.end()) return;
    if (const auto sd = number_from_file(found->second.typed))
        type_at(form, {OwnList::head, 0, "spread"}, shortest(std::pow(10.0, *sd), digits_of_factor));
}

void leave_what_is_usual(OwnForm& form, const content::Content& content) {
    for (const OwnGroup& group : groups_of(form, content))
        for (const OwnField& field : group.fields)
            if (!field.usual.empty() && typed_at(form, field.place) == field.usual)
                type_at(form, field.place, {});
}

}  // namespace

OwnForm form_of(OwnKind kind, const std::string& text, const content::Content& content) {
    const OwnValues values = content::own_values(text);
    OwnForm form = new_form(kind);
    form.balances.resize(tools_in(values, "balances"));
    form.vessels.resize(tools_in(values, "vessels"));
    if (kind == OwnKind::ladder) fill_rungs(form, values);
    if (kind == OwnKind::substance) fill_spread(form, values);
    while (fill(form, values, content)) {
    }
    leave_what_is_usual(form, content);
    return form;
}

}  // namespace sipladder::gui

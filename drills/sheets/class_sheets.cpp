#include "drills/sheets/class_sheets.hpp"

#include "drills/sheets/blocks.hpp"
#include "drills/sheets/page_flow.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace sipladder::drills::sheets {

namespace {

using classroom::ClassDrill;
using classroom::Cup;
using classroom::PourLine;
using classroom::Seat;
using classroom::Service;
using classroom::Serving;
using classroom::Task;

constexpr double box_pt = 13.0;
constexpr double code_pt = 17.0;
constexpr double number_width = 26.0;
const char* const certainties[] = {"guessed", "leaning", "sure"};

void add(std::vector<Block>& all, std::vector<Block> more) {
    for (Block& block : more) all.push_back(std::move(block));
}

std::string seat_name(const Service& service, const Seat& seat) {
    return "seat " + std::to_string(seat.number) + (seat.is_spare ? " (spare)" : "") +
           (service.plan.groups > 1 ? ", group " + std::to_string(seat.group + 1) : "");
}

std::string name_of(const ClassInfo& info, const Seat& seat) {
    return seat.number <= info.names.size() ? info.names[seat.number - 1] : "";
}

std::string codes_of(const Serving& serving) {
    std::string text;
    for (const Cup& cup : serving.cups)  // no-break spaces: a presentation stays on one line
        text += (text.empty() ? "" : "\u00A0\u00A0") + cup.code.digits;
    return text;
}

/// Title, for whom it is, date.
void add_head(std::vector<Block>& blocks, cairo_t* context, const ClassInfo& info, const std::string& what,
              const std::string& for_whom, double width) {
    blocks.push_back(paragraph(context, what, {.size_pt = 19.0, .bold = true}, width));
    if (!for_whom.empty())
        blocks.push_back(paragraph(context, for_whom, {.size_pt = 10.5, .bold = true}, width, 4.0));
    std::vector<Fact> list{{"class", info.title}, {"date", to_date(info.made)}};
    add(blocks, facts(context, list, width));
}

std::string titled_pdf(const ClassInfo& info, Paper paper, const std::string& what,
                       const std::function<std::vector<Block>(cairo_t*)>& blocks_of) {
    std::string footer = what;
    footer.append(": ").append(info.title).append(", ").append(to_date(info.made));
    return paged_pdf(paper, what + ": " + info.title, footer, info.made, blocks_of);
}

/// In full, at the end of every sheet; small enough that a ballot of the usual class stays one page of A4.
void add_cautions(std::vector<Block>& blocks, cairo_t* context, const std::vector<std::string>& cautions,
                  double width) {
    for (const std::string& caution : cautions)
        blocks.push_back(paragraph(context, caution, {.size_pt = 8.0, .ink = chart::Ink::muted}, width,
                                   &caution == &cautions.front() ? 8.0 : 1.0));
}

// ---- ballots

/// A row of a ballot: its number, then what `draw` puts beside it; a thin rule below.
Block ballot_row(const std::string& number, double height, double width,
                 const std::function<void(cairo_t*, double left, double middle)>& draw) {
    Block block;
    block.height = height;
    block.draw = [=](cairo_t* page, double left, double top) {
        const double middle = top + 0.5 * height;
        const Look look{.size_pt = 9.0, .ink = chart::Ink::muted};
        draw_text(page, number, look, {left, middle - 0.5 * line_height(page, look.size_pt)});
        draw(page, left + number_width, middle);
        draw_rule(page, left, left + width, top + height, 0.5, chart::Ink::grid);
    };
    return block;
}

void draw_middle(cairo_t* page, const std::string& text, const Look& look, double left, double middle,
                 double width = 0.0) {
    draw_text(page, text, look, {left, middle - 0.5 * extent_of(page, text, look).height}, width);
}

/// Three codes with a box each, then how certain.
Block three_row(const std::string& number, const Serving& serving, double width) {
    const double step = 0.6 * (width - number_width) / 3.0;
    return ballot_row(number, 28.0, width, [=](cairo_t* page, double left, double middle) {
        for (std::size_t i = 0; i < serving.cups.size(); ++i) {
            const double x = left + static_cast<double>(i) * step;
            draw_tick_box(page, {x, middle - 0.5 * box_pt}, box_pt);
            draw_middle(page, serving.cups[i].code.digits, {.size_pt = code_pt, .bold = true},
                        x + box_pt + 7.0, middle);
        }
        const double from = left + 3.0 * step;
        const double each = (width - number_width - 3.0 * step) / 3.0;
        for (std::size_t i = 0; i < 3; ++i) {
            const double x = from + static_cast<double>(i) * each;
            draw_tick_box(page, {x, middle - 4.5}, 9.0);
            draw_middle(page, certainties[i], {.size_pt = 9.0}, x + 13.0, middle);
        }
    });
}

/// One code, then the answers that may be ticked, in as many lines as they need.
Block choices_row(cairo_t* context, const std::string& number, const Serving& serving,
                  const ClassDrill& drill, double width) {
    constexpr double code_width = 58.0;
    constexpr double gap = 14.0;
    constexpr double line = 21.0;
    struct Place {
        double x{};
        std::size_t row{};
    };
    std::vector<Place> placed;
    double x = 0.0;
    std::size_t row = 0;
    for (const std::string& choice : drill.choices) {
        const double needed = 13.0 + extent_of(context, choice, {.size_pt = 10.0}).width + gap;
        if (x > 0.0 && x + needed - gap > width - number_width - code_width) {
            x = 0.0;
            ++row;
        }
        placed.push_back({x, row});
        x += needed;
    }
    const double height = 2.0 + line * static_cast<double>(row + 1);
    return ballot_row(number, height, width, [=](cairo_t* page, double left, double middle) {
        draw_middle(page, serving.cups[0].code.digits, {.size_pt = code_pt, .bold = true}, left, middle);
        const double first = middle - 0.5 * line * static_cast<double>(row);
        for (std::size_t i = 0; i < placed.size(); ++i) {
            const double at = left + code_width + placed[i].x;
            const double y = first + line * static_cast<double>(placed[i].row);
            draw_tick_box(page, {at, y - 4.5}, 9.0);
            draw_middle(page, drill.choices[i], {.size_pt = 10.0}, at + 13.0, y);
        }
    });
}

/// Codes from left to right, in as many rows as they need, with room for a rank below each.
std::vector<Block> rank_rows(const Serving& serving, double width) {
    constexpr std::size_t a_row = 6;
    constexpr double rank_box = 24.0;
    std::vector<Block> blocks;
    for (std::size_t from = 0; from < serving.cups.size(); from += a_row) {
        const std::size_t count = std::min(a_row, serving.cups.size() - from);
        const double step = width / static_cast<double>(a_row);
        Block block;
        block.height = 54.0;
        block.space_before = 4.0;
        const std::vector<Cup> cups(serving.cups.begin() + static_cast<std::ptrdiff_t>(from),
                                    serving.cups.begin() + static_cast<std::ptrdiff_t>(from + count));
        block.draw = [=](cairo_t* page, double left, double top) {
            for (std::size_t i = 0; i < cups.size(); ++i) {
                const double x = left + (static_cast<double>(i) + 0.5) * step;
                draw_text(page, cups[i].code.digits,
                          {.size_pt = code_pt, .bold = true, .align = Align::centre}, {x - 0.5 * step, top},
                          step);
                draw_tick_box(page, {x - 0.5 * rank_box, top + 28.0}, rank_box);
            }
        };
        blocks.push_back(std::move(block));
    }
    return blocks;
}

std::string known_words(const ClassDrill& drill, VolumeUnit unit) {
    const std::string volume = volume_text(drill.cup, unit, significant(drill.cup.value, 2) + " mL");
    return "First taste the cup marked " + std::string("\u201Cknown\u201D") +
           ", which is what to look for, then the one marked " + "\u201Cbase\u201D; " + volume +
           " each. Then from top to bottom; spit, rinse and wait between the lines.";
}

void add_drill(std::vector<Block>& blocks, cairo_t* context, const ClassDrill& drill,
               const std::vector<Serving>& servings, double width, VolumeUnit volume) {
    blocks.push_back(heading(context, drill.name, width));
    if (servings.empty()) {
        blocks.push_back(paragraph(context, "You sit this drill out.", {.size_pt = 11.0}, width, 2.0));
        return;
    }
    blocks.push_back(paragraph(context, drill.question, {.size_pt = 11.0, .bold = true}, width, 2.0));
    blocks.back().with_next = true;
    const bool is_ranking = drill.task == Task::ranking;
    const std::string how =
        drill.known_cup ? known_words(drill, volume)
        : is_ranking
            ? "Taste from left to right; spit and rinse between the cups. 1 is the weakest; no rank twice."
            : "From top to bottom; spit, rinse and wait between the lines.";
    blocks.push_back(paragraph(context, how, {.size_pt = 9.5, .ink = chart::Ink::muted}, width, 2.0));
    blocks.back().with_next = true;
    if (is_ranking) {
        add(blocks, rank_rows(servings.front(), width));
        return;
    }
    for (std::size_t i = 0; i < servings.size(); ++i) {
        const std::string number = std::to_string(i + 1);
        blocks.push_back(drill.task == Task::which_of_three
                             ? three_row(number, servings[i], width)
                             : choices_row(context, number, servings[i], drill, width));
    }
}

std::vector<Block> ballot(cairo_t* context, const Service& service, const ClassInfo& info, const Seat& seat,
                          double width) {
    std::vector<Block> blocks;
    blocks.push_back(
        paragraph(context, "Ballot, " + seat_name(service, seat), {.size_pt = 19.0, .bold = true}, width));
    blocks.back().new_page = true;
    std::string name = name_of(info, seat);
    if (name.empty()) name = "________________________";
    add(blocks,
        facts(context, {{"name or code", name}, {"class", info.title + ", " + to_date(info.made)}}, width));
    for (std::size_t d = 0; d < seat.servings.size(); ++d)
        add_drill(blocks, context, service.plan.drills[d], seat.servings[d], width, info.volume);
    add_cautions(blocks, context, info.taster_cautions, width);
    return blocks;
}

// ---- key, pour list, trays

std::vector<std::string> key_row(const ClassDrill& drill, const Serving& serving, std::size_t number) {
    std::string bottles;
    std::string what;
    if (drill.task == Task::which_of_three) {
        const auto target = std::find_if(serving.cups.begin(), serving.cups.end(),
                                         [](const Cup& cup) { return !cup.is_blank; });
        bottles = target->code.digits + ": " + drill.samples[target->sample].bottle;
        what = drill.samples[target->sample].what;
    } else {
        for (const Cup& cup : serving.cups) {
            bottles +=
                (bottles.empty() ? "" : ", ") + cup.code.digits + ": " + drill.samples[cup.sample].bottle;
            if (serving.cups.size() == 1) what = drill.samples[cup.sample].what;
        }
        if (what.empty()) {  // the ranks that are right, weakest bottle first
            for (const classroom::Sample& sample : drill.samples)
                what += (what.empty() ? "" : " < ") + sample.bottle;
        }
    }
    return {std::to_string(number), codes_of(serving), bottles, what};
}

std::string unit_name(VolumeUnit unit) {
    return unit == VolumeUnit::mL ? "mL" : "US fl oz";
}

std::string amount_in(Millilitres volume, VolumeUnit unit) {
    return unit == VolumeUnit::mL ? fixed(volume.value, 0) : us_fl_oz_text(volume);
}

/// How much of each bottle there must be before the first cup is filled.
std::vector<Block> bottle_rows(cairo_t* context, const Service& service, double width, std::size_t offset,
                               VolumeUnit unit) {
    constexpr double spare = 1.1;  // what stays in bottle and syringe; judgement
    std::vector<std::vector<std::string>> rows;
    for (const classroom::BottleNeed& need : classroom::bottle_needs(service))
        rows.push_back({need.bottle, service.plan.drills[need.drill].name, std::to_string(need.cups),
                        amount_in(need.in_cups, unit),
                        amount_in(Millilitres{std::ceil(spare * need.in_cups.value)}, unit)});
    const std::string name = unit_name(unit);
    std::vector<Block> blocks{heading(context, "Bottles, all groups", width)};
    add(blocks, table(context,
                      {{"bottle", 0.16, Align::left, true},
                       {"drill", 0.36},
                       {"cups", 0.12, Align::right},
                       {name + " in cups", 0.16, Align::right},
                       {"have ready, " + name, 0.2, Align::right}},
                      rows, width, offset + 1));
    return blocks;
}

}  // namespace

std::string ballots_pdf(const Service& service, const ClassInfo& info, Paper paper) {
    const double width = text_width(paper);
    return titled_pdf(info, paper, "Ballots", [&](cairo_t* context) {
        std::vector<Block> blocks;
        for (const Seat& seat : service.seats) add(blocks, ballot(context, service, info, seat, width));
        return blocks;
    });
}

std::string key_pdf(const Service& service, const ClassInfo& info, Paper paper) {
    const double width = text_width(paper);
    return titled_pdf(info, paper, "Key", [&](cairo_t* context) {
        std::vector<Block> blocks;
        add_head(blocks, context, info, "Key", "For the panel leader only, until every ballot is in.", width);
        for (const Seat& seat : service.seats)
            for (std::size_t d = 0; d < seat.servings.size(); ++d) {
                const ClassDrill& drill = service.plan.drills[d];
                std::string name = name_of(info, seat);
                if (!name.empty()) name.insert(0, ", ");
                blocks.push_back(heading(context,
                                         "Seat " + std::to_string(seat.number) +
                                             (seat.is_spare ? " (spare)" : name) + ": " + drill.name,
                                         width));
                std::vector<std::vector<std::string>> rows;
                if (seat.servings[d].empty()) rows.push_back({"", "sits this drill out", "", ""});
                for (std::size_t s = 0; s < seat.servings[d].size(); ++s)
                    rows.push_back(key_row(drill, seat.servings[d][s], s + 1));
                add(blocks, table(context,
                                  {{"", 0.06},
                                   {"codes, left to right", 0.28},
                                   {"holds", 0.3, Align::left, true},
                                   {"what", 0.36}},
                                  rows, width, blocks.size()));
            }
        add_cautions(blocks, context, info.cautions, width);
        return blocks;
    });
}

std::string pour_list_pdf(const Service& service, const ClassInfo& info, Paper paper) {
    const double width = text_width(paper);
    return titled_pdf(info, paper, "Pour list", [&](cairo_t* context) {
        std::vector<Block> blocks;
        add_head(blocks, context, info, "Pour list", "For who pours. Who tastes must not see this list.",
                 width);
        add(blocks, bottle_rows(context, service, width, blocks.size(), info.volume));
        const std::vector<PourLine> lines = classroom::pour_lines(service);
        for (std::size_t at = 0; at < lines.size();) {
            const PourLine& first = lines[at];
            const ClassDrill& drill = service.plan.drills[first.drill];
            const bool is_known = first.code.digits.empty();
            std::string head =
                drill.name + (is_known ? ": known cups" : ": group " + std::to_string(first.group + 1));
            blocks.push_back(heading(context, head, width));
            std::vector<std::vector<std::string>> rows;
            for (; at < lines.size() && lines[at].drill == first.drill && lines[at].group == first.group &&
                   lines[at].code.digits.empty() == is_known;
                 ++at) {
                const PourLine& line = lines[at];
                const bool is_base = line.bottle == drill.blank_bottle;
                rows.push_back({is_known ? (is_base ? "base" : "known") : line.code.digits, line.bottle,
                                std::to_string(line.cups), significant(drill.cup.value, 2),
                                amount_in(static_cast<double>(line.cups) * drill.cup, info.volume),
                                "\u25A1"});
            }
            add(blocks, table(context,
                              {{"on the cup", 0.2, Align::left, true},
                               {"bottle", 0.2},
                               {"cups", 0.14, Align::right},
                               {"mL each", 0.16, Align::right},
                               {unit_name(info.volume) + " in all", 0.18, Align::right},
                               {"done", 0.12, Align::right}},
                              rows, width, blocks.size(), 11.0));
        }
        add_cautions(blocks, context, info.cautions, width);
        return blocks;
    });
}

std::string tray_maps_pdf(const Service& service, const ClassInfo& info, Paper paper) {
    const double width = text_width(paper);
    return titled_pdf(info, paper, "Tray maps", [&](cairo_t* context) {
        std::vector<Block> blocks;
        add_head(blocks, context, info, "Tray maps",
                 "Which codes stand before whom, in the order of tasting.", width);
        for (std::size_t d = 0; d < service.plan.drills.size(); ++d) {
            blocks.push_back(heading(context, service.plan.drills[d].name, width));
            std::vector<std::vector<std::string>> rows;
            for (const Seat& seat : service.seats) {
                std::string codes = seat.servings[d].empty() ? "sits this drill out" : "";
                for (const Serving& serving : seat.servings[d])
                    codes += (codes.empty() ? "" : "  | ") + codes_of(serving);
                rows.push_back({std::to_string(seat.number) + (seat.is_spare ? " (spare)" : ""), codes});
            }
            add(blocks,
                table(context, {{"seat", 0.14, Align::left, true}, {"codes, from left to right", 0.86}}, rows,
                      width, blocks.size()));
        }
        add_cautions(blocks, context, info.cautions, width);
        return blocks;
    });
}

std::vector<Label> cup_labels(const Service& service) {
    std::vector<Label> labels;
    for (const PourLine& line : classroom::pour_lines(service)) {
        const ClassDrill& drill = service.plan.drills[line.drill];
        const bool is_known = line.code.digits.empty();
        Label label{is_known ? (line.bottle == drill.blank_bottle ? "base" : "known") : line.code.digits,
                    {drill.name}};
        if (!is_known && service.plan.groups > 1)
            label.lines.front() += ", group " + std::to_string(line.group + 1);
        label.lines.emplace_back("taste, spit; keep from children");  // the same on all: it tells nothing
        labels.insert(labels.end(), line.cups, label);
    }
    return labels;
}

}  // namespace sipladder::drills::sheets

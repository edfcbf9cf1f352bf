// What is served next under each blinding, and the helper's pour card, drawn from the seed for one named use.

#include "drills/beforehand.hpp"
#include "drills/blinding/sealed_key.hpp"
#include "drills/blinding/served.hpp"
#include "drills/blinding/shuffled_tray.hpp"
#include "drills/drill_parts.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace sipladder::drills {

namespace {

/// The portions of all lines one after the other, and the blanks where single ones are served.
std::vector<int> portions_of_deck(const Plan& plan) {
    std::vector<int> all;
    for (std::size_t line = 0; line < line_count(plan); ++line) {
        const std::vector<int> portions = portions_to_serve(plan, line);
        all.insert(all.end(), portions.begin(), portions.end());
    }
    if (rules_of(plan.kind).has_blanks) all.push_back(static_cast<int>(plan.most_presentations));
    return all;
}
std::vector<served::Card> deck_of(const Plan& plan, Seed seed) {
    return served::deck(portions_of_deck(plan), seed, cups_together(plan), plan.codes_before);
}
/// Where a level, or the blanks, stand among the portions of the deck.
std::size_t index_in_deck(const Plan& plan, const Wanted& wanted) {
    std::size_t before = 0;
    const std::size_t lines = wanted.is_blank ? line_count(plan) : line_of_series(plan, wanted.series);
    for (std::size_t line = 0; line < lines; ++line) before += ladder_of(plan, line).levels.size();
    return wanted.is_blank ? before : before + wanted.level;
}

void serve_by_card(const State& drill, const Wanted& wanted, Served& now) {
    const auto used = [&](const served::Card& card) {
        return std::any_of(drill.trials.begin(), drill.trials.end(),
                           [&](const Trial& trial) { return trial.shown.letter == card.letter; });
    };
    const std::size_t index = index_in_deck(drill.plan, wanted);
    for (const served::Card& card : deck_of(drill.plan, drill.seed)) {
        if (card.level != index || used(card)) continue;
        now.shown.letter = card.letter;
        now.shown.codes = card.codes;
        now.place = card.place;
        return;
    }
    SIPLADDER_EXPECT(false);  // portions_left counted a card that the deck has not
}

/// The first card whose letter no answer bears.
std::optional<beforehand::Card> next_card(const State& drill) {
    for (beforehand::Card& card : beforehand::cards(drill.plan, drill.seed)) {
        const bool is_used = std::any_of(drill.trials.begin(), drill.trials.end(), [&](const Trial& trial) {
            return trial.shown.letter == card.letter;
        });
        if (!is_used) return std::move(card);
    }
    return std::nullopt;
}

void put_held(const Plan& plan, const std::vector<Held>& held, Served& now) {
    now.place = 0;
    if (is_set(plan)) {
        now.held = held;
        return;
    }
    now.level = held.front().level;
    now.series = held.front().series;
    now.is_blank = held.front().is_blank;
}

void serve_on_tray(const State& drill, const Wanted& wanted, Served& now) {
    const auto& levels = ladder_of(drill.plan, line_of_series(drill.plan, wanted.series)).levels;
    now.shown.bottle = levels[wanted.level].bottle;
    // A tray that is not tasted from is filled once and spun anew.
    const std::size_t filling = rules_of(drill.plan.kind).tastes ? drill.trials.size() : 0;
    now.shown.sign = shuffled_tray::drawn_sign(drill.seed, filling, cups_together(drill.plan));
}

void serve_to_class(const State& drill, Served& now) {
    const Setting& setting = drill.plan.seat->settings.at(drill.trials.size());
    now.place = setting.place;
    now.shown.codes = setting.codes;
    if (is_fixed(drill.plan)) put_held(drill.plan, setting.held, now);
}

}  // namespace

Served parts::serve_by_code(const State& drill) {
    Served now;
    const std::vector<BlindCode> codes = sealed_key::codes(drill.plan, drill.seed);
    const std::size_t together = cups_together(drill.plan);
    for (std::size_t i = 0; i < together; ++i)
        now.shown.codes.push_back(codes.at(together * drill.trials.size() + i));
    return now;
}

std::optional<Served> parts::served_beforehand(const State& drill) {
    Served now;
    if (drill.plan.blinding == Blinding::class_service) {
        serve_to_class(drill, now);
        return now;
    }
    const auto card = next_card(drill);
    if (!card) return std::nullopt;
    now.shown.letter = card->letter;
    now.shown.codes = card->codes;
    put_held(drill.plan, card->held, now);
    return now;
}

Served parts::served_at(const State& drill, const Wanted& wanted) {
    Served now;
    now.level = wanted.level;
    now.series = wanted.series;
    now.is_blank = wanted.is_blank;
    if (drill.plan.kind == Kind::nose) now.shown.nose = wanted.series == 0 ? Nose::open : Nose::closed;
    switch (drill.plan.blinding) {
        case Blinding::served:
            serve_by_card(drill, wanted, now);
            break;
        case Blinding::shuffled_tray:
            serve_on_tray(drill, wanted, now);
            break;
        case Blinding::class_service:
            serve_to_class(drill, now);
            break;
        case Blinding::sealed_key:
            SIPLADDER_EXPECT(false);
    }
    return now;
}

std::vector<CardRow> pour_card(const Plan& plan, Seed seed) {
    std::vector<std::string> bottles;
    for (std::size_t line = 0; line < line_count(plan); ++line)
        for (const auto& level : ladder_of(plan, line).levels) bottles.push_back(level.bottle);
    bottles.emplace_back("base");
    std::vector<CardRow> rows;
    if (is_fixed(plan)) {
        for (beforehand::Card& card : beforehand::cards(plan, seed)) {
            CardRow row{card.letter, {}, card.held.front().level, 0, std::move(card.codes)};
            for (const Held& held : card.held) row.contents.push_back(bottle_of(plan, held));
            if (!is_set(plan)) row.bottle = row.contents.front();
            rows.push_back(std::move(row));
        }
    } else {
        const std::string beside = beside_bottle(plan).empty() ? "base" : beside_bottle(plan);
        for (served::Card& card : deck_of(plan, seed)) {
            CardRow row{card.letter, bottles.at(card.level), card.level, card.place, std::move(card.codes)};
            row.contents.assign(row.codes.size(), beside);
            row.contents.at(row.place) = row.bottle;
            rows.push_back(std::move(row));
        }
    }
    std::sort(rows.begin(), rows.end(),
              [](const CardRow& a, const CardRow& b) { return a.letter < b.letter; });
    return rows;
}

std::vector<BlindCode> codes_of(const State& drill) {
    if (drill.plan.blinding == Blinding::sealed_key) return sealed_key::codes(drill.plan, drill.seed);
    std::vector<BlindCode> codes;
    for (const Trial& trial : drill.trials)
        codes.insert(codes.end(), trial.shown.codes.begin(), trial.shown.codes.end());
    return codes;
}

}  // namespace sipladder::drills

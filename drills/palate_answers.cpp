// What was in each cup and what was said of it, in words, for every kind of drill.

#include "drills/palate_detail.hpp"
#include "drills/rules.hpp"
#include "engine/text.hpp"

#include <algorithm>

namespace sipladder::drills {

namespace {

std::string cup_text(const Plan& plan, const Held& held) {
    if (held.is_blank) return "the base alone";
    const std::size_t line = line_of_series(plan, held.series);
    const solution::MixedLadder& ladder = ladder_of(plan, line);
    std::string text = significant(ladder.levels.at(held.level).mixed, 3) + " " + unit_text(ladder.scale);
    if (plan.kind == Kind::nose) return text;
    if (has_conditions(plan)) return line == 0 ? text : text + " " + plan.others.front().condition;
    if (line_count(plan) > 1) text.append(" ").append(substance_of(plan, line).name);
    return plan.kind == Kind::difference ? text + " more" : text;
}

std::string cups_text(const Plan& plan, const Trial& trial) {
    if (trial.held.empty()) return cup_text(plan, trial.single());
    std::string text;
    for (const auto& held : trial.held)
        text += (text.empty() ? "" : ", ") + (held ? cup_text(plan, *held) : std::string("not read in"));
    return text;
}

std::string sure_text(Certainty certainty) {
    switch (certainty) {
        case Certainty::guessed:
            return "guessed";
        case Certainty::leaning:
            return "leaning";
        case Certainty::sure:
            break;
    }
    return "sure";
}

void add(std::string& text, const std::string& more) {
    text.append(text.empty() ? "" : "; ").append(more);
}

std::string said_text(const Plan& plan, const Question& question, const Trial& trial) {
    const Answer& given = *trial.given;
    std::string text;
    if (question.asks_order) {
        std::string order;
        for (const std::size_t place : given.order) {
            const auto& held = trial.held.at(place);
            order += (order.empty() ? "" : " < ") + (held ? cup_text(plan, *held) : std::string("?"));
        }
        add(text, order);
    }
    if (!question.choices.empty()) add(text, question.choices.at(given.choice));
    if (question.asks_certainty) add(text, sure_text(given.certainty));
    if (given.seconds) add(text, significant(*given.seconds, 2) + " s");
    if (given.mark) add(text, "mark " + fixed(*given.mark, 0));
    for (const std::size_t place : given.places) add(text, question.places.at(place));
    for (const std::size_t word : given.words) add(text, question.words.at(word));
    return text;
}

bool has_right(Kind kind) {
    return kind == Kind::detection || kind == Kind::recognition || kind == Kind::difference ||
           kind == Kind::nose || kind == Kind::naming;
}

std::string judged(const Plan& plan, const Trial& trial) {
    if (plan.kind != Kind::naming) return is_right(plan, trial) ? "right" : "wrong";
    const std::size_t row = trial.is_blank ? line_count(plan) : trial.series;
    return trial.given->choice == row ? "right" : "wrong";
}

}  // namespace

PalateTable answers_of(const State& drill, const std::string& title) {
    const Plan& plan = drill.plan;
    const Question question = rules_of(plan.kind).question(plan);
    PalateTable table{title, {"no.", "in the cup", "said"}, {}};
    if (has_right(plan.kind)) table.columns.emplace_back("");
    for (std::size_t i = 0; i < drill.trials.size(); ++i) {
        const Trial& trial = drill.trials[i];
        if (!trial.is_done()) continue;
        table.rows.push_back(
            {std::to_string(i + 1), cups_text(plan, trial), said_text(plan, question, trial)});
        if (has_right(plan.kind)) table.rows.back().push_back(judged(plan, trial));
    }
    return table;
}

}  // namespace sipladder::drills

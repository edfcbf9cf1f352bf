// Each part of an answer is changed by an intent of its own and lives in the drill under way until the answer
// is locked as a whole: what is half given is no answer, and is in no journal.

#include "gui/app/answering.hpp"

#include "drills/rules.hpp"
#include "gui/app/handlers.hpp"

#include <algorithm>
#include <variant>

namespace sipladder::gui {

namespace {

constexpr double ms_per_s = 1000.0;

/// The question that is being answered now; nothing: none is.
std::optional<drills::Serve> asked_now(const Running& running) {
    if (phase_of(running) != Phase::answer) return std::nullopt;
    drills::Step step = step_of(running);
    if (auto* serve = std::get_if<drills::Serve>(&step)) return std::move(*serve);
    return std::nullopt;
}

void toggle(std::vector<std::size_t>& ascending, std::size_t one) {
    const auto at = std::ranges::lower_bound(ascending, one);
    if (at != ascending.end() && *at == one)
        ascending.erase(at);
    else
        ascending.insert(at, one);
}

/// Something is felt after all.
void take_back_nothing(Running& running, const drills::Question& question) {
    if (question.first_is_nothing && running.picked == 0U) running.picked.reset();
}

}  // namespace

std::optional<Problem> missing_in_answer(const Running& running, const drills::Serve& serve) {
    const drills::Question& question = serve.question;
    const AnswerParts& parts = running.parts;
    const std::size_t cups = drills::cups_together(running.state.plan);
    if (question.asks_order && parts.order.size() < cups)
        return Problem{"Answer", "not every cup has its place", "each cup once, the weakest first"};
    if (question.most_seconds > 0 && !parts.seconds)
        return Problem{"Answer", "the watch has not been stopped",
                       "press when you spit, and when it is gone"};
    if (!question.choices.empty() && !running.picked)
        return Problem{
            "Answer", "nothing is picked",
            "pick one of " + std::to_string(question.choices.size()) + "; a guess is an answer too"};
    const bool is_nothing = question.first_is_nothing && running.picked == 0U;
    if (!question.places.empty() && parts.places.empty() && !is_nothing)
        return Problem{"Answer", "it is not said where", "one place or several"};
    if (question.mark && !parts.mark)
        return Problem{"Answer", "there is no mark on the line", "anywhere from one end to the other"};
    if (question.asks_certainty && !running.certainty)
        return Problem{"Answer", "how sure you are is missing", "guessed, leaning or sure"};
    return std::nullopt;
}

drills::Answer answer_so_far(const Running& running, const Instant& now) {
    return {.choice = running.picked.value_or(0),
            .certainty = running.certainty.value_or(drills::Certainty{}),
            .at = now,
            .order = running.parts.order,
            .mark = running.parts.mark,
            .places = running.parts.places,
            .seconds = running.parts.seconds,
            .words = running.parts.words};
}

std::optional<std::int64_t> watch_ends_ms(const Running& running) {
    if (!running.parts.spat_ms || running.parts.seconds) return std::nullopt;
    const auto serve = asked_now(running);
    if (!serve) return std::nullopt;
    return *running.parts.spat_ms + std::int64_t{1000} * serve->question.most_seconds;
}

void stop_watch_at_its_end(Running& running, const Instant& now) {
    const auto ends = watch_ends_ms(running);
    if (!ends || now.monotonic_ms < *ends) return;
    running.parts.seconds = static_cast<double>(*ends - *running.parts.spat_ms) / ms_per_s;
}

void on(Next& next, const PutNext& intent) {
    if (!next.app.running) return;
    Running& running = *next.app.running;
    const auto serve = asked_now(running);
    if (!serve || !serve->question.asks_order) return;
    std::vector<std::size_t>& order = running.parts.order;
    if (const auto at = std::ranges::find(order, intent.cup); at != order.end())
        order.erase(at);
    else if (intent.cup < drills::cups_together(running.state.plan))
        order.push_back(intent.cup);
}

void on(Next& next, const SetMark& intent) {
    if (!next.app.running) return;
    Running& running = *next.app.running;
    const auto serve = asked_now(running);
    if (!serve || !serve->question.mark) return;
    constexpr double end_of_line = 100.0;
    running.parts.mark = std::clamp(intent.mark, 0.0, end_of_line);
    if (*running.parts.mark > 0.0) take_back_nothing(running, serve->question);
}

void on(Next& next, const TickMouth& intent) {
    if (!next.app.running) return;
    Running& running = *next.app.running;
    const auto serve = asked_now(running);
    if (!serve || intent.place >= serve->question.places.size()) return;
    toggle(running.parts.places, intent.place);
    take_back_nothing(running, serve->question);
}

void on(Next& next, const TickWord& intent) {
    if (!next.app.running) return;
    Running& running = *next.app.running;
    const auto serve = asked_now(running);
    if (serve && intent.word < serve->question.words.size()) toggle(running.parts.words, intent.word);
}

void on(Next& next, const PressWatch&) {
    if (!next.app.running) return;
    Running& running = *next.app.running;
    const auto serve = asked_now(running);
    if (!serve || serve->question.most_seconds <= 0 || running.parts.seconds) return;
    const std::int64_t now_ms = next.app.now.monotonic_ms;
    if (!running.parts.spat_ms) {
        running.parts.spat_ms = now_ms;
        return;
    }
    constexpr double shortest_s = 0.1;  // two presses of one finger
    const double passed = static_cast<double>(now_ms - *running.parts.spat_ms) / ms_per_s;
    running.parts.seconds = std::clamp(passed, shortest_s, static_cast<double>(serve->question.most_seconds));
}

void on(Next& next, const ResetWatch&) {
    if (!next.app.running) return;
    next.app.running->parts.spat_ms.reset();
    next.app.running->parts.seconds.reset();
}

}  // namespace sipladder::gui

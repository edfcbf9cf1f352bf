// One way for everything: copy, handle, write in one transaction, assign. An answer is on disk before the
// screen can move on, and whatever is thrown leaves the app as it was with a sentence to read.

#include "gui/app/apply.hpp"

#include "engine/journal/copies.hpp"
#include "gui/app/class_book.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/sitting.hpp"

#include <exception>
#include <utility>

namespace sipladder::gui {

namespace {

struct Append {
    journal::Journal& journal;

    void operator()(const journal::StrikeRow& strike) const {
        if (strike.strikes)
            journal.strike_out(strike.id, strike.target, strike.reason, strike.at);
        else
            journal.put_back(strike.id, strike.target, strike.reason, strike.at);
    }
    void operator()(const auto& one) const { journal.append(one); }
};

void write(journal::Journal& journal, const std::vector<Row>& rows) {
    if (rows.empty()) return;
    journal.together([&] {
        for (const Row& row : rows) append(journal, row);
    });
}

/// The one delete: rows and copies go, and everything that was read of them is read anew.
void erase(Next& next) {
    App& app = next.app;
    const journal::Erased erased = journal::erase_everywhere(*app.journal, *next.erase);
    Notice notice{.lines = {"Erased: " + std::to_string(erased.rows) +
                            " rows of the journal, and the person from " + std::to_string(erased.copies) +
                            " of its copies. Copies and exports that you made "
                            "elsewhere are yours to erase."}};
    for (const std::filesystem::path& file : erased.unreached)
        notice.lines.push_back(file.string() + " could not be opened and may still hold them.");
    std::erase_if(app.people, [&](const journal::Person& person) { return person.id == *next.erase; });
    read_classes(app);
    app.notice = std::move(notice);
}

void read_again(App& app) {
    const bool is_other = take_own_things(app);
    app.history = std::make_shared<const History>(
        read_history(app.journal, *app.content, *app.person, app.now, app.history.get()));
    follow_sitting(app);
    if (is_other) set_up_anew(app);
}

/// The caps of a day begin anew at midnight, but for a drill that runs: it was planned with those of its own.
void turn_the_page(App& app) {
    if (app.person && app.history && !app.running && app.history->today != to_date(app.now)) read_again(app);
}

Notice notice_of(const Refused& refused) {
    Notice notice{.lines = {}, .is_problem = true, .can_retry = false};
    for (const Problem& problem : refused.problems()) notice.lines.push_back(to_text(problem));
    return notice;
}

/// Notes that could not be written are tried again, but not at once and for ever.
void try_later(App& app, const Intent& intent) {
    constexpr std::int64_t ms_to_next_try = 10'000;
    if (app.bench.unsaved_since_ms && intent.as<Tick>() != nullptr)
        *app.bench.unsaved_since_ms += ms_to_next_try;
}

}  // namespace

void append(journal::Journal& journal, const Row& row) {
    std::visit(Append{journal}, row);
}

void apply(App& app, const Intent& intent, const Instant& now) noexcept {
    try {
        Next next{.app = app, .rows = {}, .read_again = false};
        next.app.now = now;
        turn_the_page(next.app);
        intent.visit([&](const auto& wanted) { on(next, wanted); });
        write(*next.app.journal, next.rows);
        if (next.erase) erase(next);
        if (next.read_again && next.app.person) read_again(next.app);
        if (next.app.place == Place::palate) look_at_palate(next.app);
        if (next.app.place == Place::weeks) look_at_weeks(next.app);
        if (next.app.place == Place::records) look_at_records(next.app);
        app = std::move(next.app);
    } catch (const Refused& refused) {
        app.notice = notice_of(refused);
        try_later(app, intent);
    } catch (const Failed& failed) {
        app.notice =
            Notice{.lines = {failed.what(), "Nothing that you did is lost; put it right and do it again."},
                   .is_problem = true,
                   .can_retry = true};
        try_later(app, intent);
    }
}

}  // namespace sipladder::gui

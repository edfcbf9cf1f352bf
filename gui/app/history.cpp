// A person has thousands of rows after years. Which drills and mixes there are is listed at once; what they
// hold is read one by one, where it is asked for, and taken over from reading to reading, since a row never
// changes. Read at once are only the drills that are left open, those whose rows were mended, and those of
// these days.

#include "gui/app/history.hpp"

#include "drills/record_about.hpp"
#include "drills/record_notes.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <map>
#include <ranges>
#include <utility>

namespace sipladder::gui {

namespace record = drills::record;

/// What was found so far; the ids of drills and what they are about hold from reading to reading.
struct DetectionsFound {
    std::shared_ptr<const journal::Journal> journal;
    std::shared_ptr<std::map<Uuid, std::optional<record::About>>> abouts;
    std::map<std::pair<std::string, std::string>, std::optional<PalateEntry>> newest{};

    const std::optional<record::About>& about(const Uuid& drill) {
        const auto [known, is_new] = abouts->try_emplace(drill);
        if (is_new)
            if (const auto row = journal->drill(drill)) known->second = record::about_of(*row);
        return known->second;
    }
};

namespace {

void keep_goal(History& history, record::Goal goal) {
    std::erase_if(history.goals, [&](const record::Goal& one) {
        return one.substance == goal.substance && one.base_name == goal.base_name;
    });
    history.goals.push_back(std::move(goal));
}

/// Of facts that take each other's place only the last one is read.
class Facts {
  public:
    Facts(const journal::Journal& journal, History& history) : journal_(journal), history_(history) {}

    void take(const journal::FactLine& line) {
        if (line.struck) return;
        if (line.kind == "mix") {
            mixes_.push_back({line.id, line.at});
            draft_.reset();
            plans_.clear();
        }
        if (line.kind == "sitting_plan") plans_.push_back(line);
        if (line.kind == "mix_draft") draft_ = line.id;
        if (line.kind == "goal")
            if (const auto fact = journal_.fact(line.id)) keep_goal(history_, record::read_goal(*fact));
        if (line.kind == "cautions_read") cautions_ = line.id;
    }

    void finish() {
        for (MixLine& line : mixes_ | std::views::reverse) history_.mixes.add(std::move(line));
        if (draft_)
            if (const auto fact = journal_.fact(*draft_)) history_.draft = record::read_mix_draft(*fact);
        for (const journal::FactLine& line : plans_ | std::views::reverse) {
            const auto fact = journal_.fact(line.id);
            auto plan = fact ? record::read_sitting_plan(*fact) : std::nullopt;
            if (!plan) continue;  // a later program's
            history_.planned = {line.at, *std::move(plan)};
            break;
        }
        history_.cautions_read = cautions_.has_value();
        if (cautions_)
            if (const auto fact = journal_.fact(*cautions_))
                history_.no_ethanol_reasons = record::read_cautions_read(*fact).no_ethanol_reasons;
    }

  private:
    const journal::Journal& journal_;
    History& history_;
    std::vector<MixLine> mixes_;
    std::vector<journal::FactLine> plans_;
    std::optional<Uuid> draft_;
    std::optional<Uuid> cautions_;
};

void count_today(History& history, const PastDrill& past) {
    // A drill may span two days: what counts is when each cup was tasted.
    const std::string& today = history.today;
    history.taken_today += drills::intake_on(past.state, today);
    history.cups_today += drills::cups_on(past.state, today);
    if (to_date(past.last) != today) return;
    std::int64_t first_ms = past.started.utc_ms;
    if (to_date(past.started) != today)
        for (const drills::Trial& trial : past.state.trials)
            if (trial.given && to_date(trial.given->at) == today) {
                first_ms = trial.given->at.utc_ms;
                break;
            }
    history.seconds_today += static_cast<long>((past.last.utc_ms - first_ms) / 1000);
}

PastDrill read_drill(const journal::Journal& journal, const PastLine& line) {
    const auto row = journal.drill(line.drill);
    if (!row)
        throw Refused("journal drill " + line.drill.text, "is not there any more",
                      "what was erased or replaced is gone; start the program anew");
    return {.sitting = line.sitting,
            .drill = line.drill,
            .started = line.started,
            .last = line.last,
            .rows = line.rows,
            .state = record::read(*row, journal.entries(line.drill))};
}

record::KeptMix read_mix(const journal::Journal& journal, const MixLine& line) {
    const auto fact = journal.fact(line.id);
    if (!fact)
        throw Refused("journal fact " + line.id.text, "is not there any more",
                      "what was erased or replaced is gone; start the program anew");
    return record::read_mix(*fact);
}

/// Bottles of a substance that the content lacks, by an older program or without its own file, are not
/// served, nor is a sitting gone on with that was planned with them. Reads the mixes that are offered first:
/// what cannot be read of them is told here and not by a screen.
void leave_out_unknown(History& history, const content::Content& content) {
    const auto is_unknown = [&](const Uuid& id) {
        const auto mix = mix_of_id(history, id);
        return mix && !is_in(content, history.mixes[*mix].substance);
    };
    const auto holds_unknown = [&](const record::PlannedDrill& drill) {
        return std::ranges::any_of(drill.mixes, is_unknown);
    };
    if (history.planned && std::ranges::any_of(history.planned->plan.drills, holds_unknown))
        history.planned.reset();
    constexpr std::size_t offered_first = 6;
    std::size_t known = 0;
    while (known < std::min(offered_first, history.mixes.size()))
        if (is_in(content, history.mixes[known].substance))
            ++known;
        else
            history.mixes.drop(known);
}

/// Sorts the drills into done and left open, and reads those that cannot wait.
class Drills {
  public:
    Drills(const journal::Journal& journal, History& history, const Instant& now, const History* before)
        : journal_(journal), history_(history), now_(now), before_(before) {
        if (before != nullptr)
            for (std::size_t i = 0; i < before->done.size(); ++i)
                places_before_.emplace(before->done.lines()[i].drill, i);
    }

    void take(const journal::DrillLine& row) {
        if (row.struck || row.sitting_is_struck || !is_known_kind(row.kind)) return;
        PastLine line{.sitting = row.sitting,
                      .drill = row.id,
                      .kind = row.kind,
                      .started = row.started,
                      .last = row.last,
                      .rows = row.entries,
                      .is_mended = row.is_mended};
        std::shared_ptr<const PastDrill> known = known_before(line);
        constexpr std::int64_t these_days_ms = 2 * 86'400'000LL;  // whatever the time zone, today is in it
        const bool is_of_these_days = now_.utc_ms - line.last.utc_ms <= these_days_ms;
        const bool may_wait = row.last_kind == "finished" && !line.is_mended && !is_of_these_days;
        if (!may_wait) {
            if (!known) known = std::make_shared<const PastDrill>(read_drill(journal_, line));
            count_today(history_, *known);
            if (!drills::is_finished(known->state)) {
                history_.unfinished.push_back(*known);
                return;
            }
        }
        done_.emplace_back(std::move(line), std::move(known));
    }

    void finish() {
        for (auto& [line, known] : done_ | std::views::reverse)
            history_.done.add(std::move(line), std::move(known));
        std::ranges::reverse(history_.unfinished);
    }

  private:
    std::shared_ptr<const PastDrill> known_before(const PastLine& line) const {
        const auto place = places_before_.find(line.drill);
        if (place == places_before_.end() || line.is_mended) return nullptr;
        if (before_->done.lines()[place->second] != line) return nullptr;
        return before_->done.if_read(place->second);
    }

    const journal::Journal& journal_;
    History& history_;
    const Instant& now_;
    const History* before_;
    std::map<Uuid, std::size_t> places_before_;
    std::vector<std::pair<PastLine, std::shared_ptr<const PastDrill>>> done_;
};

}  // namespace

History read_history(const std::shared_ptr<const journal::Journal>& journal, const content::Content& content,
                     const Uuid& person, const Instant& now, const History* before) {
    History history;
    history.today = to_date(now);
    history.mixes =
        decltype(history.mixes)([journal](const MixLine& line) { return read_mix(*journal, line); });
    history.done =
        decltype(history.done)([journal](const PastLine& line) { return read_drill(*journal, line); });
    const bool goes_on = before != nullptr && before->detections->journal == journal;
    history.detections = std::make_shared<DetectionsFound>(DetectionsFound{
        .journal = journal,
        .abouts = goes_on ? before->detections->abouts
                          : std::make_shared<std::map<Uuid, std::optional<record::About>>>()});
    Facts facts(*journal, history);
    for (const journal::FactLine& line : journal->fact_lines(person)) facts.take(line);
    facts.finish();
    if (goes_on) history.mixes.take_over(before->mixes);
    leave_out_unknown(history, content);
    Drills drills(*journal, history, now, goes_on ? before : nullptr);
    for (const journal::DrillLine& line : journal->drill_lines(person)) drills.take(line);
    drills.finish();
    return history;
}

bool is_known_kind(std::string_view kind) {
    return std::ranges::any_of(drills::every_kind,
                               [&](drills::Kind one) { return drills::name_of(one) == kind; });
}

bool is_in(const content::Content& content, std::string_view substance) {
    return std::ranges::find(content.substances, substance, &solution::Substance::id) !=
           content.substances.end();
}

const PastDrill* done_drill(const History& history, const Uuid& drill) {
    const auto& lines = history.done.lines();
    const auto line = std::ranges::find(lines, drill, &PastLine::drill);
    if (line == lines.end()) return nullptr;
    return &history.done[static_cast<std::size_t>(line - lines.begin())];
}

std::vector<const PastDrill*> drills_in(const History& history, const Uuid& sitting) {
    std::vector<const PastDrill*> found;
    for (std::size_t i = 0; i < history.done.size(); ++i)
        if (history.done.lines()[i].sitting == sitting) found.push_back(&history.done[i]);
    for (const PastDrill& past : history.unfinished)
        if (past.sitting == sitting) found.push_back(&past);
    return found;
}

std::optional<std::size_t> mix_of_id(const History& history, const Uuid& mix) {
    const auto& lines = history.mixes.lines();
    const auto line = std::ranges::find(lines, mix, &MixLine::id);
    if (line == lines.end()) return std::nullopt;
    return static_cast<std::size_t>(line - lines.begin());
}

const PalateEntry* newest_detection(const History& history, std::string_view substance,
                                    std::string_view base_name) {
    DetectionsFound& found = *history.detections;
    const auto [known, is_new] = found.newest.try_emplace({std::string(substance), std::string(base_name)});
    std::optional<PalateEntry>& entry = known->second;
    for (std::size_t i = 0; is_new && !entry && i < history.done.size(); ++i) {
        const PastLine& line = history.done.lines()[i];
        if (line.kind != drills::name_of(drills::Kind::detection)) continue;
        const std::optional<record::About>& about = found.about(line.drill);
        if (!about || about->substance != substance || about->base_name != base_name) continue;
        const PastDrill* past = history.done.if_readable(i);
        if (past != nullptr && !drills::answered(past->state).empty())
            entry = PalateEntry{*past, drills::threshold_so_far(past->state)};
    }
    return entry ? &*entry : nullptr;
}

}  // namespace sipladder::gui

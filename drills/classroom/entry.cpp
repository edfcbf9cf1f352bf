#include "drills/classroom/entry.hpp"

#include <algorithm>
#include <cctype>
#include <utility>

// Cells stand in the order of the pile: seat by seat, drill by drill, line by line. A pass keeps its answers
// by cell, so that going back and typing over replaces and never doubles.

namespace sipladder::drills::classroom {

namespace {

constexpr std::size_t code_digits = 3;

const ClassDrill& drill_of(const Cell& cell, const Service& service) {
    return service.plan.drills[cell.drill];
}

const Serving& serving_of(const Cell& cell, const Service& service) {
    return service.seats[cell.seat].servings[cell.drill][cell.serving];
}

std::map<Cell, BallotAnswer>& answers(Entry& entry, Pass pass) {
    return entry.passes[static_cast<std::size_t>(pass)];
}

/// All cells of those who came, in order.
std::vector<Cell> cells(const Entry& entry, const Service& service) {
    std::vector<Cell> all;
    for (std::size_t seat = 0; seat < service.seats.size(); ++seat) {
        if (entry.absent.contains(seat)) continue;
        for (std::size_t drill = 0; drill < service.plan.drills.size(); ++drill)
            for (std::size_t line = 0; line < service.seats[seat].servings[drill].size(); ++line)
                all.push_back({seat, drill, line});
    }
    return all;
}

void drop_half_typed(Entry& entry) {
    entry.typed.clear();
    entry.ranks.clear();
    entry.asks_certainty = false;
    entry.complaint.reset();
}

/// To the first cell after this one.
void advance(Entry& entry, const Cell& from, const Service& service) {
    drop_half_typed(entry);
    const std::vector<Cell> all = cells(entry, service);
    const auto next = std::ranges::upper_bound(all, from);
    entry.at = next == all.end() ? std::nullopt : std::optional(*next);
}

void keep(Entry& entry, const Cell& cell, std::vector<std::size_t> picked) {
    answers(entry, entry.pass)[cell] = {cell.seat, cell.drill, cell.serving, std::move(picked), std::nullopt};
}

// ---- codes

std::string codes_of(const Serving& serving) {
    std::string text;
    for (const Cup& cup : serving.cups) text.append(text.empty() ? "" : ", ").append(cup.code.digits);
    return text;
}

void take_digit(Entry& entry, const Cell& cell, char digit, const Service& service) {
    const Serving& serving = serving_of(cell, service);
    const std::string longer = entry.typed + digit;
    const auto begun = std::ranges::find_if(
        serving.cups, [&](const Cup& cup) { return cup.code.digits.starts_with(longer); });
    entry.typed = longer;
    if (begun == serving.cups.end()) {
        entry.complaint = "no cup here begins with " + longer + "; there are " + codes_of(serving);
        entry.typed.clear();
    } else if (longer.size() == code_digits) {
        entry.typed.clear();
        keep(entry, cell, {static_cast<std::size_t>(begun - serving.cups.begin())});
        entry.asks_certainty = true;
    }
}

// ---- ranks

/// As it is typed: with a nought before it where others have two digits.
std::string rank_text(std::size_t rank, std::size_t cups) {
    const std::string text = std::to_string(rank);
    return std::string(std::to_string(cups).size() - text.size(), '0') + text;
}

std::vector<std::size_t> ranks_left(const Entry& entry, std::size_t cups) {
    std::vector<std::size_t> left;
    for (std::size_t rank = 1; rank <= cups; ++rank)
        if (std::ranges::find(entry.ranks, rank) == entry.ranks.end()) left.push_back(rank);
    return left;
}

std::string ranks_left_text(const Entry& entry, std::size_t cups) {
    std::string text;
    for (const std::size_t rank : ranks_left(entry, cups))
        text.append(text.empty() ? "" : ", ").append(rank_text(rank, cups));
    return text;
}

/// Cups from the weakest to the strongest.
std::vector<std::size_t> by_rank(const std::vector<std::size_t>& ranks) {
    std::vector<std::size_t> cups(ranks.size());
    for (std::size_t cup = 0; cup < ranks.size(); ++cup) cups[ranks[cup] - 1] = cup;
    return cups;
}

void take_rank(Entry& entry, const Cell& cell, char digit, const Service& service) {
    const std::size_t cups = serving_of(cell, service).cups.size();
    const std::string longer = entry.typed + digit;
    const std::vector<std::size_t> left = ranks_left(entry, cups);
    const auto begun = std::ranges::find_if(
        left, [&](std::size_t rank) { return rank_text(rank, cups).starts_with(longer); });
    if (begun == left.end()) {
        entry.complaint = "no rank " + longer + " is left here; there are " + ranks_left_text(entry, cups);
        entry.typed.clear();
        return;
    }
    entry.typed = longer;
    if (longer.size() < rank_text(*begun, cups).size()) return;
    entry.typed.clear();
    entry.ranks.push_back(*begun);
    if (entry.ranks.size() < cups) return;
    keep(entry, cell, by_rank(entry.ranks));
    advance(entry, cell, service);
}

// ---- certainty

std::optional<threshold::Certainty> certainty_of(char letter) {
    if (letter == 'g') return threshold::Certainty::guessed;
    if (letter == 'l') return threshold::Certainty::leaning;
    if (letter == 's') return threshold::Certainty::sure;
    return std::nullopt;
}

/// @return whether the key is used up
bool take_certainty(Entry& entry, const Cell& cell, char letter, const Service& service) {
    const auto certainty = certainty_of(letter);
    if (certainty) answers(entry, entry.pass).at(cell).certainty = certainty;
    if (certainty || letter == ' ') {
        advance(entry, cell, service);
        return true;
    }
    if (std::isdigit(static_cast<unsigned char>(letter)) == 0) {
        entry.complaint =
            std::string("\"") + letter + "\" is no certainty; g guessed, l leaning, s sure, space for none";
        return true;
    }
    advance(entry, cell, service);  // the digit begins the next line
    return false;
}

// ---- choices

char lower(char character) {
    return static_cast<char>(std::tolower(static_cast<unsigned char>(character)));
}

std::vector<std::size_t> choices_of(const ClassDrill& drill, char character) {
    std::vector<std::size_t> found;
    if (std::isdigit(static_cast<unsigned char>(character)) != 0) {
        const auto number = static_cast<std::size_t>(character - '0');
        if (number >= 1 && number <= drill.choices.size()) found.push_back(number - 1);
        return found;
    }
    for (std::size_t i = 0; i < drill.choices.size(); ++i)
        if (!drill.choices[i].empty() && lower(drill.choices[i].front()) == character) found.push_back(i);
    return found;
}

std::string numbered(const ClassDrill& drill) {
    std::string text;
    for (std::size_t i = 0; i < drill.choices.size(); ++i)
        text.append(text.empty() ? "" : ", ")
            .append(std::to_string(i + 1))
            .append(" ")
            .append(drill.choices[i]);
    return text;
}

void take_choice(Entry& entry, const Cell& cell, char character, const Service& service) {
    const ClassDrill& drill = drill_of(cell, service);
    const std::vector<std::size_t> found = choices_of(drill, character);
    if (found.size() != 1) {
        entry.complaint = std::string("\"") + character + "\" is " +
                          (found.empty() ? "none" : "the beginning of several") + " of the answers; " +
                          numbered(drill);
        return;
    }
    keep(entry, cell, {found.front()});
    advance(entry, cell, service);
}

}  // namespace

Entry begin(const Service& service) {
    Entry entry;
    for (std::size_t seat = 0; seat < service.seats.size(); ++seat)
        if (service.seats[seat].is_spare) entry.absent.insert(seat);
    const std::vector<Cell> all = cells(entry, service);
    if (!all.empty()) entry.at = all.front();
    return entry;
}

Entry typed(Entry entry, char character, const Service& service) {
    entry.complaint.reset();
    const char key = lower(character);
    if (entry.at && entry.asks_certainty && take_certainty(entry, *entry.at, key, service)) return entry;
    if (!entry.at) return entry;
    const Cell cell = *entry.at;
    const Task task = drill_of(cell, service).task;
    const Serving& serving = serving_of(cell, service);
    if (task == Task::graded || task == Task::naming)
        take_choice(entry, cell, key, service);
    else if (std::isdigit(static_cast<unsigned char>(key)) == 0)
        entry.complaint =
            std::string("\"") + character + "\" is no digit; there are " +
            (task == Task::ranking ? ranks_left_text(entry, serving.cups.size()) : codes_of(serving));
    else if (task == Task::ranking)
        take_rank(entry, cell, key, service);
    else
        take_digit(entry, cell, key, service);
    return entry;
}

Entry back(Entry entry, const Service& service) {
    entry.complaint.reset();
    if (!entry.typed.empty()) {
        entry.typed.pop_back();
        return entry;
    }
    if (!entry.ranks.empty()) {
        entry.ranks.pop_back();
        return entry;
    }
    if (entry.asks_certainty && entry.at) {
        entry.asks_certainty = false;
        answers(entry, entry.pass).erase(*entry.at);
        return entry;
    }
    const std::vector<Cell> all = cells(entry, service);
    const auto here = entry.at ? std::ranges::lower_bound(all, *entry.at) : all.end();
    if (here == all.begin()) return entry;
    entry.at = *std::prev(here);
    answers(entry, entry.pass).erase(*entry.at);
    return entry;
}

Entry skipped(Entry entry, const Service& service) {
    if (entry.at) advance(entry, Cell(*entry.at), service);
    return entry;
}

Entry moved(Entry entry, const Cell& to, const Service& service) {
    if (!std::ranges::binary_search(cells(entry, service), to)) return entry;
    drop_half_typed(entry);
    entry.at = to;
    return entry;
}

Entry came(Entry entry, std::size_t seat, bool yes, const Service& service) {
    if (seat >= service.seats.size() || yes != entry.absent.contains(seat)) return entry;
    if (yes) {
        entry.absent.erase(seat);
        if (entry.at) return entry;
        const std::vector<Cell> all = cells(entry, service);
        const auto first =
            std::ranges::lower_bound(all, Cell{seat, 0, 0});  // they may sit out the first drill
        if (first != all.end() && first->seat == seat) entry.at = *first;
        return entry;
    }
    entry.absent.insert(seat);
    for (auto& pass : entry.passes)
        std::erase_if(pass, [&](const auto& kept) { return kept.first.seat == seat; });
    if (entry.at && entry.at->seat == seat) advance(entry, Cell(*entry.at), service);
    return entry;
}

Entry second_pass(Entry entry, const Service& service) {
    drop_half_typed(entry);
    entry.pass = Pass::second;
    const std::vector<Cell> all = cells(entry, service);
    entry.at = all.empty() ? std::nullopt : std::optional(all.front());
    return entry;
}

const BallotAnswer* answer_at(const Entry& entry, Pass pass, const Cell& cell) {
    const auto& answers = entry.passes[static_cast<std::size_t>(pass)];
    const auto found = answers.find(cell);
    return found == answers.end() ? nullptr : &found->second;
}

Progress progress(const Entry& entry, Pass pass, const Service& service) {
    return {entry.passes[static_cast<std::size_t>(pass)].size(), cells(entry, service).size()};
}

Ballots ballots_of(const Entry& entry, const Service& service) {
    std::vector<BallotAnswer> all;
    for (const auto& [cell, answer] : entry.passes[static_cast<std::size_t>(Pass::first)])
        all.push_back(answer);
    return ballots_of(std::move(all), service);
}

std::vector<Cell> mistyped(const Entry& entry) {
    std::vector<Cell> found;
    for (const auto& [cell, second] : entry.passes[static_cast<std::size_t>(Pass::second)]) {
        const BallotAnswer* first = answer_at(entry, Pass::first, cell);
        if (first == nullptr || *first != second) found.push_back(cell);
    }
    return found;
}

Entry settled(Entry entry, const Cell& cell, Pass right) {
    const Pass other = right == Pass::first ? Pass::second : Pass::first;
    if (const BallotAnswer* answer = answer_at(entry, right, cell))
        answers(entry, other)[cell] = *answer;
    else
        answers(entry, other).erase(cell);
    return entry;
}

}  // namespace sipladder::drills::classroom

#pragma once

#include "drills/classroom/ballots.hpp"

#include <array>
#include <compare>
#include <cstddef>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

/// Typing in a pile of ballots: the next cell is always under the finger, what cannot be is refused at once,
/// and a second pass over the pile finds what was mistyped.
namespace sipladder::drills::classroom {

/// One line of one ballot.
struct Cell {
    std::size_t seat{};
    std::size_t drill{};
    std::size_t serving{};

    bool operator==(const Cell&) const = default;
    auto operator<=>(const Cell&) const = default;
};

enum class Pass { first, second };

/// A state of typing; every verb gives the next. Holds no service: it is handed in, always the same.
struct Entry {
    std::array<std::map<Cell, BallotAnswer>, 2> passes;  ///< first and second
    Pass pass = Pass::first;
    std::optional<Cell> at;                ///< under the finger; nothing after the last
    std::string typed;                     ///< digits of a code or of a rank, not yet enough
    std::vector<std::size_t> ranks;        ///< ranking: as on the ballot, cup by cup from the left, 1 weakest
    bool asks_certainty = false;           ///< the code of this cell is there, its certainty may follow
    std::set<std::size_t> absent;          ///< seats that did not come; spares until somebody takes them
    std::optional<std::string> complaint;  ///< why the last key was refused, and what is right

    bool operator==(const Entry&) const = default;
};

/// At the first cell.
Entry begin(const Service& service);

/// A character typed: a digit of a code (which_of_three); of the rank beneath the next cup, as it stands on
/// the ballot (ranking; two digits each, 01 to 12, where there are ten cups and more); the number of a
/// choice, from 1, or its first letter where no other choice begins with it; after a code of which_of_three
/// g, l or s for guessed, leaning, sure, or a space for none. A whole answer is kept and the next cell comes
/// under the finger. What cannot be is refused at once: a digit with which no code of the line goes on, a
/// rank that is given already.
Entry typed(Entry entry, char character, const Service& service);
/// One step back: the digit, the rank given last, the certainty asked for, or else the answer of the cell
/// before, which is then under the finger, empty.
Entry back(Entry entry, const Service& service);
/// The cell stays as it is, the next comes.
Entry skipped(Entry entry, const Service& service);
/// To a cell; what was half typed is dropped. Nothing happens for one that is not in the service.
Entry moved(Entry entry, const Cell& to, const Service& service);
/// Whether the person of a seat came. Who did not is passed over, and what was typed of them goes.
Entry came(Entry entry, std::size_t seat, bool yes, const Service& service);
/// From the first cell once more; the first pass stays.
Entry second_pass(Entry entry, const Service& service);

/// What was typed of a cell in a pass; nothing where it is empty.
const BallotAnswer* answer_at(const Entry& entry, Pass pass, const Cell& cell);
/// How many lines of those who came are answered, and how many there are.
struct Progress {
    std::size_t answered{};
    std::size_t lines{};
};
Progress progress(const Entry& entry, Pass pass, const Service& service);

/// Ballots of the first pass. Seats without any answer are no-shows.
Ballots ballots_of(const Entry& entry, const Service& service);
/// Cells that the two passes fill differently, as far as the second has come: to look up on paper.
std::vector<Cell> mistyped(const Entry& entry);
/// The paper was looked up: this pass has it right, the other takes it over.
Entry settled(Entry entry, const Cell& cell, Pass right);

}  // namespace sipladder::drills::classroom

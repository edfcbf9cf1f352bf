#pragma once

#include "drills/classroom/class_file.hpp"
#include "drills/classroom/entry.hpp"
#include "engine/journal/journal.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

/// Rows of a class in the journal. A class has a line among the people, under which its own facts stand; its
/// members are people too, so that erasing one takes their ballots along.
namespace sipladder::drills::record {

namespace class_row {
inline constexpr const char* choice = "class";         ///< of the class: what it is to taste, last one counts
inline constexpr const char* kept = "class_kept";      ///< of the class: a design as it is served
inline constexpr const char* member = "class_member";  ///< of a member: last one counts
inline constexpr const char* seat = "class_seat";      ///< of a member: whether they came; last one counts
inline constexpr const char* ballot = "class_ballot";  ///< of a member: one line, last one counts
}  // namespace class_row

/// What a member said to the class.
struct ClassMember {
    Uuid of_class;
    bool agrees = false;      ///< to be recorded: true once they were asked and said so
    bool no_ethanol = false;  ///< takes no cup that holds ethanol; why is nobody's business
    bool is_listed = true;    ///< false: taken off the roster

    bool operator==(const ClassMember&) const = default;
};
std::string body_of(const ClassMember& member);
/// @throws Refused naming the row whose body cannot be read
ClassMember read_class_member(const journal::Fact& fact);

/// @throws Refused as read_class_file; the row is named
classroom::ClassChoice read_class_choice(const journal::Fact& fact, const content::Content& content);

/// A design that was chosen: what was planned for, the bottles, and who sits where. Names are left out of its
/// body: they stand with their people alone, so that erasing one leaves none behind.
struct KeptClass {
    Seed seed;
    classroom::ClassChoice chosen;   ///< with ladders, for the recipe
    classroom::ClassChoice bottled;  ///< as classroom::in_bottles
    std::vector<Uuid> members;       ///< by seat, without spares
};
std::string body_of(const KeptClass& kept);
/// @throws Refused naming the row whose body cannot be read
KeptClass read_kept_class(const journal::Fact& fact, const content::Content& content);

struct SeatTaken {
    Uuid kept;  ///< the fact of the design
    std::size_t seat{};
    bool came = true;

    bool operator==(const SeatTaken&) const = default;
};
std::string body_of(const SeatTaken& taken);
/// @throws Refused naming the row whose body cannot be read
SeatTaken read_seat_taken(const journal::Fact& fact);

/// One line of a ballot as it was typed in; nothing picked: it was emptied.
struct BallotLine {
    Uuid kept;
    classroom::Pass pass{};
    classroom::Cell cell;
    std::optional<classroom::BallotAnswer> answer;
};
std::string body_of(const BallotLine& line, const classroom::Service& service);
/// The design that a line belongs to. @throws Refused naming the row whose body cannot be read
Uuid kept_of_ballot(const journal::Fact& fact);
/// @throws Refused  also where the words kept with it are not what this service prints there: it was made by
///                  another program
BallotLine read_ballot_line(const journal::Fact& fact, const classroom::Service& service);

}  // namespace sipladder::drills::record

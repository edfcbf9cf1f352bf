#pragma once

#include "drills/drill.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

/// Alone, levels fixed beforehand: small cups with what they hold written beneath, more poured than served,
/// the lot shuffled and codes set on top. Answers go against codes; a cup is turned over only when empty, and
/// the key is read in at the end.
namespace sipladder::drills::sealed_key {

/// What may stand beneath a cup: the letter of its bottle, or "base".
struct Identity {
    std::string mark;
    std::size_t series{};
    std::size_t level{};
    bool is_blank = false;
    int poured{};  ///< cups of it; how many of them are served, nobody knows before the key is read in

    bool operator==(const Identity&) const = default;
};

/// Cups poured in all: two in five more than are served, so that what is left over cannot be counted out; of
/// sets none more.
std::size_t cups_poured(const Plan& plan);
/// What to pour, in the order of the ladder: levels fixed beforehand, duplicates and, for graded cups, a
/// third of blanks among them.
std::vector<Identity> pour_list(const Plan& plan);
/// Codes for all the cups poured, in the order in which they are called: the first are served.
std::vector<BlindCode> codes(const Plan& plan, Seed seed);

/// One line of the key as it is read in from a cup turned over.
struct KeyEntry {
    std::string code;
    std::string mark;
};
/// Reads in many lines at once; the order does not matter.
/// @throws Refused with every line that is wrong: a code that was not served or is named twice, a mark that
/// was
///                 not poured, more cups of a mark than were poured
State read_in(State drill, std::span<const KeyEntry> entries, const Instant& at);

}  // namespace sipladder::drills::sealed_key

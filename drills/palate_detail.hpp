#pragma once

#include "drills/palate.hpp"
#include "drills/record.hpp"

#include <functional>
#include <span>
#include <string>
#include <vector>

/// One row of the palate opened: everything that its numbers rest on.
namespace sipladder::drills {

struct PalateTable {
    std::string title;
    std::vector<std::string> columns;
    std::vector<std::vector<std::string>> rows;  ///< a text a column
};

struct PalateDetail {
    std::string title;
    std::optional<solution::Component> component;
    std::vector<PalateNumber> numbers;
    std::vector<PalatePicture> pictures;  ///< curves with every answer, or the row's own
    std::vector<std::string> sentences;
    std::vector<std::string> warnings;
    std::vector<PalateNumber> facts;  ///< mixing against answering, lots, blinding, dates, what was noted
    std::vector<PalateTable> tables;  ///< priors side by side, levels, what papers report, every answer
};

/// The newest mix of the person, not after this moment, that a line of the plan was poured from; nothing
/// where none is kept.
using MixOf =
    std::function<const record::KeptMix*(const Plan& plan, std::size_t line, const Instant& before)>;
/// Looks among these, in any order.
MixOf mix_among(std::span<const record::KeptMix> mixes);

/// @param done    what the row's palate was made of
/// @param mix_of  the lots
/// @checked tests/drills/palate_test.cpp
PalateDetail detail_of(const PalateRow& row, std::span<const Tasted> done, const content::Content& content,
                       const MixOf& mix_of);

/// How a drill was served, in words.
std::string blinding_text(Blinding blinding);
/// Every answer of a drill that is done: number, what was in the cup, what was said, right or wrong.
PalateTable answers_of(const State& drill, const std::string& title);

}  // namespace sipladder::drills

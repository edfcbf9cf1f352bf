#pragma once

#include "drills/drill.hpp"
#include "engine/chart/chart.hpp"
#include "engine/chart/palate_row.hpp"
#include "engine/content/content.hpp"
#include "engine/instant.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

/// What all the drills of one person tell together, as six questions: for the window and for the report.
namespace sipladder::drills {

enum class PalateQuestion { how_little, how_different, which_one, how_strong, where, how_long };
constexpr std::array every_palate_question{PalateQuestion::how_little, PalateQuestion::how_different,
                                           PalateQuestion::which_one,  PalateQuestion::how_strong,
                                           PalateQuestion::where,      PalateQuestion::how_long};
/// "How little?"
std::string text_of(PalateQuestion question);

/// A drill that is done.
struct Tasted {
    const State* state{};
    Instant started;
    Instant last;                         ///< of its last answer
    std::vector<std::string> notes = {};  ///< what may have spoiled its sitting, in words
};

/// A number as text, with what it is and where it came from.
struct PalateNumber {
    std::string what;  ///< "detection"
    std::string text;  ///< "1.4 (0.8 to 2.6) g/L"
    std::string whence;
    std::optional<std::size_t> drill = {};  ///< of a row with several: the one it comes from
};

struct PalatePicture {
    chart::Chart chart;
    double lines{};  ///< height, as a multiple of the painter's small text height
};

/// A threshold with the answers that it rests on.
struct PalateFit {
    std::string name;     ///< "detection", "recognition", "nose closed"
    std::size_t drill{};  ///< index into what was tasted
    std::size_t series{};
    threshold::Threshold threshold;
};

/// One thing that can be said under a question.
struct PalateRow {
    std::string title;  ///< "sucrose in still water"
    std::optional<solution::Component> component;
    std::vector<PalateNumber> numbers;
    std::vector<PalatePicture> pictures;
    std::vector<std::string> sentences;
    std::vector<std::string> warnings;  ///< why a number is not to be relied on
    std::string reported;               ///< what papers report for the same, or that none was found
    std::vector<PalateFit> fits;        ///< newest of each kind
    std::vector<std::size_t> from;  ///< the drills it rests on, indices into what was tasted, newest first
};

struct Palate {
    std::array<std::vector<PalateRow>, every_palate_question.size()> rows;

    const std::vector<PalateRow>& of(PalateQuestion question) const {
        return rows[static_cast<std::size_t>(question)];
    }
};

/// Thresholds and what is perceived: the newest drill of each kind, substance and base; naming: all sittings
/// of the same names in the same base joined. Drills without an answer are passed over. The same drills give
/// the same palate. Costs some milliseconds a drill.
/// @param done  newest first
/// @checked tests/drills/palate_test.cpp
Palate palate(std::span<const Tasted> done, const content::Content& content);

/// What papers report for a substance in the base of this id, of one kind of threshold ("detection",
/// "recognition", "taste": not said which): the widest range, with who reports it. All waters are one base.
std::optional<chart::Reported> reported_of(const content::Content& content, const std::string& substance,
                                           const std::string& base, const std::string& kind);
/// The base as papers call it: "water", else the name of the base.
std::string reported_base(const content::Content& content, const std::string& base);

/// Of the variance of a threshold, what comes from mixing: "7.4 %".
std::string mixing_share(const threshold::Threshold& threshold);
/// Number with interval and unit.
std::string text_of(const threshold::Threshold& threshold);
/// Where it came from: what it is, prior, answers, mixing share.
std::string whence_of(const threshold::Threshold& threshold, const std::string& what, std::size_t answers);

}  // namespace sipladder::drills

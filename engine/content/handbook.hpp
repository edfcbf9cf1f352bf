#pragma once

#include "engine/problem.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace sipladder::content {

/// A piece of a chapter.
struct Block {
    enum class Kind { section, paragraph, item, step, figure };
    Kind kind{};
    std::string text;    ///< of a figure: its caption
    int number{};        ///< of a step, from 1
    std::string figure;  ///< of a figure: which one the program draws
    bool operator==(const Block&) const = default;
};

struct Chapter {
    std::string title;
    std::vector<Block> blocks;
    std::vector<std::string> sources;  ///< keys, in the order of the numbers [1], [2] … in the text
    bool operator==(const Chapter&) const = default;
};

/// Reads a chapter from the part of Markdown that the handbook is written in: `# title` on the first line,
/// `## section`, paragraphs, `- item`, `1. step`, `![caption](figure:id)` on a line of its own, and
/// `[@key]` where a figure has its source; a line that follows a line belongs to the same block.
/// @param file      the name that problems give
/// @param problems  what is anything else, by file and line
Chapter parse_chapter(std::string_view text, const std::string& file, std::vector<Problem>& problems);

}  // namespace sipladder::content

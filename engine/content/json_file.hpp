#pragma once

#include "engine/problem.hpp"

#include <nlohmann/json_fwd.hpp>

#include <cstddef>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace sipladder::content {

/// Bounds that no honest file comes near; they keep a hostile or mistaken one from filling the memory.
constexpr std::size_t largest_file_bytes = 8u << 20;
constexpr std::size_t deepest_nesting = 32;
constexpr std::size_t most_problems = 1000;  ///< of one file; no more are looked for

/// Parses JSON (RFC 8259), stricter than the standard: a key given twice, a number too large for a double,
/// invalid UTF-8 and nesting deeper than `deepest_nesting` are refused.
///
/// @param file      the name that problems give: "content/ladders.json"
/// @param problems  every problem is added here, with line and column (syntax) or JSON pointer (repeated
/// keys)
/// @return          nothing where a problem was found
std::shared_ptr<const nlohmann::json> parse_json(std::string_view text, const std::string& file,
                                                 std::vector<Problem>& problems,
                                                 std::size_t largest_bytes = largest_file_bytes);

/// Reads a text file of at most `largest_file_bytes`. @return nothing, with a problem added, if that cannot
/// be done
std::shared_ptr<const std::string> read_text_file(const std::filesystem::path& path,
                                                  std::vector<Problem>& problems);

/// read_text_file, then parse_json with the path as name.
std::shared_ptr<const nlohmann::json> read_json_file(const std::filesystem::path& path,
                                                     std::vector<Problem>& problems);

/// "line 12, column 5" of a byte of the text, both counted from 1; columns count characters, not bytes.
std::string line_and_column(std::string_view text, std::size_t byte);

/// A key as a part of a JSON pointer (RFC 6901): ~ becomes ~0 and / becomes ~1.
std::string pointer_part(std::string_view key);

}  // namespace sipladder::content

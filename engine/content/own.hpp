#pragma once

#include "engine/content/content.hpp"
#include "engine/problem.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

/// A person's own equipment, ladders and substances: one thing a text, in the shape of the content files and
/// through the same checks.
namespace sipladder::content {

enum class OwnKind { substance, equipment, ladder };

/// Ids of own things begin so, and no shipped one does.
constexpr std::string_view own_prefix = "own_";
bool is_own(std::string_view id);
/// The source of a figure that a person states of a thing of their own.
constexpr std::string_view own_statement = "own statement";

/// Adds the thing that this text holds, if nothing is wrong with it; `content` stays as it is otherwise.
///
/// The text of an equipment or a ladder is a file of content/equipment.json or content/ladders.json with one
/// entry. That of a substance ("sipladder-own-substance/1") holds one in "substances" and what it is bought
/// as in "ingredients". A substance has to say what it counts as; it gets the cautions of the shipped ones
/// that count alike, and no cup or stock of it may be stronger than theirs. Without such cautions, or
/// without a cap, it is refused.
///
/// @param name  as problems call it
/// @return      every problem found: `where` is "name: /pointer" as for a file
std::vector<Problem> add_own(Content& content, OwnKind kind, const std::string& text,
                             const std::string& name);

/// What the text holds, without a check of anything but its shape: for a list. Empty where it cannot be read.
struct OwnTitle {
    std::string id;
    std::string name;
};
OwnTitle title_of_own(OwnKind kind, const std::string& text);

/// Takes an own thing out again; a substance stays known, as struck out.
void strike_own(Content& content, OwnKind kind, const std::string& id);

/// What was typed into a form, value by value, as the text of a thing. Keys are JSON pointers. What should be
/// a number and is none stays a text, so that the check says so; what is empty is left out.
struct OwnValue {
    enum class Kind { text, number, flag, list };  ///< list: an empty one, where nothing else fills it
    Kind kind = Kind::text;
    std::string typed;
    double scale = 1.0;  ///< a number is multiplied by this: 0.01 for what is typed as a percentage
};
std::string own_text(std::string_view schema, const std::map<std::string, OwnValue>& values);
/// The values of a text again, lists taken apart and numbers as they stand there; none where it cannot be
/// read.
std::map<std::string, OwnValue> own_values(const std::string& text);

}  // namespace sipladder::content

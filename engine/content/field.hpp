#pragma once

#include "engine/problem.hpp"

#include <nlohmann/json_fwd.hpp>

#include <cstddef>
#include <initializer_list>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace sipladder::content {

/// A place in a JSON file that knows where it stands. It never throws: every problem is noted, with a
/// stand-in value handed back, so that one run shows all mistakes of a file. What hangs from a place that is
/// wrong stays silent, so that one mistake is one line.
///
/// Usage: `const double target = level.at("target_g_per_L").number(0.001, 400.0);`
///
/// The document and the list of problems must outlive it.
class Field {
  public:
    /// The root of a document. @param file as problems name it: "content/ladders.json"
    Field(const nlohmann::json& document, std::string file, std::vector<Problem>& problems);

    /// Notes every key that is not among these: an unknown key is a misspelt key. Notes it if this is no
    /// object.
    void only(std::initializer_list<std::string_view> keys) const;

    /// The value of a key. If it is not there, its accessor notes that; ask is_there() first where it may be
    /// left out.
    Field at(std::string_view key) const;
    bool is_there() const { return value_ != nullptr; }
    bool is_object() const;

    /// A finite number, lo to hi, both included; stand-in lo.
    double number(double lo, double hi) const;
    /// A whole number, lo to hi, both included; stand-in lo.
    long integer(long lo, long hi) const;
    /// A text that is not blank; stand-in "".
    std::string text() const;
    /// A text, an empty or blank one too; stand-in "".
    std::string any_text() const;
    /// One of these texts; stand-in the first of them.
    std::string one_of(std::initializer_list<std::string_view> choices) const;
    bool boolean() const;
    /// An id: lower-case letters, digits and _, starting with a letter; stand-in "".
    std::string id() const;
    /// The parts of a list of at least `least`; stand-in none.
    std::vector<Field> each(std::size_t least = 1) const;
    /// The values of an object with their keys, sorted by key.
    struct Entry;
    std::vector<Entry> entries() const;
    /// Texts of a list.
    std::vector<std::string> texts(std::size_t least = 1) const;

    /// Notes a problem here: "is 4.0, less than …; levels run weakest to strongest". The same one is noted
    /// once, and no more than `most_problems` of one file are.
    void note(std::string what, std::string right) const;
    /// The value as the file has it, shortened: 4.0, "six", [1, 2 …
    std::string shown() const;
    /// The whole value as JSON in one line, as another parser would read it again.
    std::string as_json() const;
    /// "content/ladders.json: /ladders/2"
    std::string where() const;

  private:
    struct Root;
    Field(std::shared_ptr<const Root> root, const nlohmann::json* value)
        : root_(std::move(root)), value_(value) {}
    std::string pointer() const;
    void wanted(const std::string& kind) const;

    std::shared_ptr<const Root> root_;
    const nlohmann::json* value_;
    const nlohmann::json* holder_ = nullptr;  ///< of a value that is not there: where it would be
    std::string key_;                         ///< and under which key
    bool silent_ = false;                     ///< hangs from a place that is wrong already
};

struct Field::Entry {
    std::string key;
    Field value;
};

}  // namespace sipladder::content

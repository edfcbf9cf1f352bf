#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace sipladder {

/// One thing that is wrong with what was asked, and how to put it right.
struct Problem {
    std::string where;  ///< file and JSON pointer, CSV line, or the field as the screen calls it
    std::string what;   ///< what was found
    std::string right;  ///< what would be right

    bool operator==(const Problem&) const = default;
};

/// `where: what; right`, on one line.
std::string to_text(const Problem& problem);

/// What was asked cannot be done; holds every problem found. Caught in gui/app/apply, in `main` of a tool and
/// in tests, nowhere else.
class Refused : public std::runtime_error {
  public:
    explicit Refused(std::vector<Problem> problems);
    Refused(std::string where, std::string what, std::string right);

    const std::vector<Problem>& problems() const { return problems_; }

  private:
    std::vector<Problem> problems_;
};

/// The world failed: disk full, file locked, no display. State and what was typed stay; a retry is offered.
class Failed : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// Stops the program with file and line; see SIPLADDER_EXPECT.
[[noreturn]] void expectation_failed(const char* condition, const char* file, int line);

}  // namespace sipladder

/// For the programmer's own errors (an index past the ladder, an empty grid), in every build.
#define SIPLADDER_EXPECT(condition) \
    ((condition) ? static_cast<void>(0) : ::sipladder::expectation_failed(#condition, __FILE__, __LINE__))

#include "engine/problem.hpp"

#include <cstdio>
#include <cstdlib>
#include <utility>

namespace sipladder {

namespace {

std::string joined(const std::vector<Problem>& problems) {
    std::string text;
    for (const Problem& problem : problems) {
        if (!text.empty()) text += '\n';
        text += to_text(problem);
    }
    return text;
}

}  // namespace

std::string to_text(const Problem& problem) {
    return problem.where + ": " + problem.what + "; " + problem.right;
}

Refused::Refused(std::vector<Problem> problems)
    : std::runtime_error(joined(problems)), problems_(std::move(problems)) {
    SIPLADDER_EXPECT(!problems_.empty());
}

Refused::Refused(std::string where, std::string what, std::string right)
    : Refused(std::vector<Problem>{Problem{std::move(where), std::move(what), std::move(right)}}) {}

void expectation_failed(const char* condition, const char* file, int line) {
    std::fprintf(stderr, "%s:%d: expected: %s\n", file, line, condition);
    std::abort();
}

}  // namespace sipladder

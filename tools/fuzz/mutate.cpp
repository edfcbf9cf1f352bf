#include "tools/fuzz/mutate.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace sipladder::fuzz {

namespace {

using namespace std::string_view_literals;

constexpr std::array extreme_numbers{"0"sv,
                                     "-1"sv,
                                     "1e308"sv,
                                     "-1e308"sv,
                                     "1e-320"sv,
                                     "1e999"sv,
                                     "NaN"sv,
                                     "1000"sv,
                                     "0.3333"sv,
                                     "9223372036854775807"sv,
                                     "-9223372036854775808"sv,
                                     "4294967296"sv,
                                     "100000000"sv};
constexpr std::array put_in{
    "[[[[[[[["sv,        "{\"a\":"sv, "\""sv,   "\\u0000"sv, "\xC3\x28"sv, "\xED\xA0\x80"sv, "\0"sv, "\r\n"sv,
    "=cmd|"sv,           "../../"sv,  "null"sv, "{}"sv,      "[]"sv,       "\"\""sv,         ",,"sv, "true"sv,
    "\xF4\x90\x80\x80"sv};

std::size_t below(Random& random, std::size_t bound) {
    return static_cast<std::size_t>(random.below(bound));
}

/// Somewhere within the bytes, and up to `longest` of them.
struct Span {
    std::size_t at;
    std::size_t length;
};
Span somewhere(const std::string& bytes, Random& random, std::size_t longest) {
    const std::size_t at = below(random, bytes.size());
    return {at, 1 + below(random, std::min(longest, bytes.size() - at))};
}

void replace_number(std::string& bytes, Random& random) {
    const std::size_t from = below(random, bytes.size());
    const std::size_t at = bytes.find_first_of("0123456789", from);
    if (at == std::string::npos) return;
    const std::size_t end = std::min(bytes.find_first_not_of("0123456789.", at), bytes.size());
    bytes.replace(at, end - at, extreme_numbers[below(random, extreme_numbers.size())]);
}

Span line_at(const std::string& bytes, std::size_t at) {
    const std::size_t before = bytes.rfind('\n', at);
    const std::size_t start = before == std::string::npos ? 0 : before;
    const std::size_t end = std::min(bytes.find('\n', at + 1), bytes.size());
    return {start, end - start};
}

void change_lines(std::string& bytes, Random& random) {
    const Span one = line_at(bytes, below(random, bytes.size()));
    const std::string text = bytes.substr(one.at, one.length);
    switch (random.below(3)) {
        case 0:
            bytes.erase(one.at, one.length);
            break;
        case 1:
            bytes.insert(one.at, text);
            break;
        default:
            bytes.erase(one.at, one.length);
            bytes.insert(bytes.empty() ? 0 : line_at(bytes, below(random, bytes.size())).at, text);
    }
}

void change_once(std::string& bytes, Random& random) {
    constexpr std::size_t longest = 64;
    if (bytes.empty()) {
        bytes += put_in[below(random, put_in.size())];
        return;
    }
    const Span span = somewhere(bytes, random, longest);
    switch (random.below(8)) {
        case 0:
            bytes[span.at] = static_cast<char>(random.below(256));
            break;
        case 1:
            bytes.erase(span.at, span.length);
            break;
        case 2:
            bytes.insert(span.at, bytes.substr(span.at, span.length));
            break;
        case 3:
            bytes.insert(span.at, put_in[below(random, put_in.size())]);
            break;
        case 4:
            change_lines(bytes, random);
            break;
        case 5:
            if (random.below(8) == 0) bytes.resize(span.at);
            break;
        default:
            replace_number(bytes, random);
    }
}

}  // namespace

std::string mutated(std::string bytes, Random& random) {
    const std::uint64_t changes = 1 + random.below(4);
    for (std::uint64_t change = 0; change < changes; ++change) change_once(bytes, random);
    return bytes;
}

}  // namespace sipladder::fuzz

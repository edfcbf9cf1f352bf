// The entry that libFuzzer calls; SIPLADDER_FUZZ_TARGET names the function. What became of the inputs is said
// at the end, as tools/prove adds it up.

#include "tools/fuzz/targets.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdio>

namespace {

struct Tally {
    unsigned long executions = 0;
    unsigned long refused = 0;

    Tally() = default;
    Tally(const Tally&) = delete;
    Tally& operator=(const Tally&) = delete;
    ~Tally() { std::fprintf(stderr, "executions: %lu, inputs refused: %lu\n", executions, refused); }
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using sipladder::fuzz::Outcome;
    static Tally tally;
    ++tally.executions;
    if (sipladder::fuzz::SIPLADDER_FUZZ_TARGET({reinterpret_cast<const char*>(data), size}) ==
        Outcome::refused)
        ++tally.refused;
    return 0;
}

// The entry that libFuzzer calls; SIPLADDER_FUZZ_TARGET names the function.

#include "tools/fuzz/targets.hpp"

#include <cstddef>
#include <cstdint>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    sipladder::fuzz::SIPLADDER_FUZZ_TARGET({reinterpret_cast<const char*>(data), size});
    return 0;
}

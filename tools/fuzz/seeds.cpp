// Writes the seeds of one target into a folder, for libFuzzer to begin from.

#include "tools/fuzz/targets.hpp"

#include <filesystem>
#include <fstream>

int main(int count, char** arguments) {
    if (count != 3) return 2;
    const std::filesystem::path folder = arguments[2];
    std::filesystem::create_directories(folder);
    int number = 0;
    for (const std::string& seed : sipladder::fuzz::seeds_of(arguments[1]))
        std::ofstream(folder / ("seed-" + std::to_string(number++)), std::ios::binary) << seed;
    return number > 0 ? 0 : 1;
}

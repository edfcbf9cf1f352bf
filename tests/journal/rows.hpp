#pragma once

#include "engine/journal/journal.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

/// Rows that the tests of this folder share.
namespace sipladder::tests {

inline Uuid id_of(std::uint64_t number) {
    Random random{Seed{number}};
    return uuid_from(random);
}
inline Instant at_minute(std::int64_t minute) {
    return Instant{1'772'391'900'000 + 60'000 * minute, 60, 60'000 * minute};
}

inline const journal::Person person{id_of(1), "A person of these tests", true, at_minute(0)};
inline const journal::Sitting sitting{id_of(2), person.id, at_minute(1), R"({"temperature_degC":20.5})", {}};
inline const journal::Drill drill{id_of(3), sitting.id, "detection", at_minute(2), R"({"seed":7})", {}};

inline journal::Entry entry(int number) {
    return {
        id_of(100 + static_cast<std::uint64_t>(number)),   drill.id, number, "lock", at_minute(3 + number),
        R"({"place":)" + std::to_string(number % 3) + "}", {}};
}

/// A journal with person, sitting, drill and this many entries.
inline journal::Journal filled(const std::filesystem::path& file, int entries) {
    journal::Journal journal = journal::Journal::open(file);
    journal.together([&] {
        journal.append(person);
        journal.append(sitting);
        journal.append(drill);
        for (int number = 0; number < entries; ++number) journal.append(entry(number));
    });
    return journal;
}

inline std::string bytes_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}
inline void write_bytes(const std::filesystem::path& file, const std::string& bytes) {
    std::ofstream(file, std::ios::binary | std::ios::trunc)
        .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

}  // namespace sipladder::tests

#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

/// Everything that a file or an argument from outside passes through, as functions of its bytes. Each takes
/// any bytes: it either makes something of them or refuses with words; what else happens is a defect. The
/// same functions serve the bounded run of the tests and the long one (tools/fuzz/run).
namespace sipladder::fuzz {

enum class Outcome { taken, refused };

struct Target {
    std::string name;
    Outcome (*take)(std::string_view bytes);
};
/// content, exchange, table, journal, values.
const std::vector<Target>& every_target();

/// A content file in the shipped folder, loaded with the others: the first byte says which file.
Outcome take_content(std::string_view bytes);
/// A file for `journal import`: merged, its bodies read, tabled and followed over weeks, exported again.
Outcome take_exchange(std::string_view bytes);
/// A CSV file.
Outcome take_table(std::string_view bytes);
/// A journal file: checked, opened, read whole, tabled, exported.
Outcome take_journal(std::string_view bytes);
/// A value as typed or as an argument: number, moment, id.
Outcome take_values(std::string_view bytes);

/// Bytes to begin from: real ones, small.
std::vector<std::string> seeds_of(const std::string& target);

}  // namespace sipladder::fuzz

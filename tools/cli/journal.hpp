#pragma once

#include "engine/journal/journal.hpp"
#include "tools/cli/verb.hpp"

#include <string>

namespace sipladder::cli {

/// By id, or by a name that only one person has. @throws Refused  naming what there is
journal::Person person_named(const journal::Journal& journal, const std::string& named);

/// The journal that --journal names. @param verb  as problems name it: "journal export"
journal::Journal open_journal(const Common& common, const std::string& verb);

/// The instant that the machine's clock shows.
Instant instant_now();

/// Writes a file that only its owner can read: beside its name first, then renamed.
/// @throws Failed when it cannot be written
void write_private_file(const std::filesystem::path& file, const std::string& text);

/// The verbs of `journal` that move rows between journals and other programs, and that look after the file.
void add_journal_exchange(arguments::Command journal, const Common& common);
void add_journal_keeping(arguments::Command journal, const Common& common);

}  // namespace sipladder::cli

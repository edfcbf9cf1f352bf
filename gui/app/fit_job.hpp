#pragma once

#include "engine/instant.hpp"
#include "engine/problem.hpp"
#include "engine/uuid.hpp"

#include <cstdint>
#include <memory>
#include <vector>

namespace sipladder::content {
struct Content;
}
namespace sipladder::journal {
class Journal;
}

namespace sipladder::gui {

struct History;

/// What of a person's record is to be read and fitted, for the Palate or for Weeks.
struct FitJob {
    std::uint64_t generation{};
    Uuid person;
    std::shared_ptr<const journal::Journal> journal;
    std::shared_ptr<const content::Content> content;
    std::shared_ptr<const History> history;
    std::size_t journal_rows{};
    Instant now;
};

/// A job that was given to the worker: years of sittings take seconds. It stays here when there are problems,
/// which are told in its place, so that it is not asked for again before the record has changed.
struct Awaited {
    FitJob job;
    std::vector<Problem> problems = {};
};

/// So few drills are read and fitted at once, in some 50 ms; more are the worker's.
bool is_short(const History& history);

struct App;
/// For the person who is there, with a generation of its own.
FitJob fit_job(App& app);

}  // namespace sipladder::gui

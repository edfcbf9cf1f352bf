#pragma once

#include "engine/instant.hpp"
#include "engine/problem.hpp"
#include "engine/uuid.hpp"

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <variant>
#include <vector>

namespace sipladder::content {
struct Content;
}
namespace sipladder::journal {
class Journal;
}

namespace sipladder::gui {

struct History;

/// What of a person's record is to be read or fitted, for the Palate, Weeks or Records.
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

/// So few drills are read, or fitted, at once, in some 50 ms; more are the worker's.
constexpr std::size_t most_at_once = 60;

/// What the worker gives back: the intents PalateReady, WeeksReady and RecordsReady.
template <class Found>
struct Fitted {
    std::uint64_t generation{};
    std::variant<std::shared_ptr<const Found>, std::vector<Problem>> found;
};

/// Of what came, what is still awaited for the person who is there; nothing: it comes too late, or met
/// problems, which are kept with what is awaited.
template <class Found>
std::shared_ptr<const Found> wanted_of(const Fitted<Found>& came, std::optional<Awaited>& awaited,
                                       const std::optional<Uuid>& person) {
    if (!awaited || awaited->job.generation != came.generation || awaited->job.person != person)
        return nullptr;
    if (const auto* problems = std::get_if<std::vector<Problem>>(&came.found)) {
        awaited->problems = *problems;
        return nullptr;
    }
    awaited.reset();
    return std::get<std::shared_ptr<const Found>>(came.found);
}

struct App;
/// For the person who is there, with a generation of its own.
FitJob fit_job(App& app);

}  // namespace sipladder::gui

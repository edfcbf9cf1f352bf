#pragma once

#include "drills/classroom/class_file.hpp"
#include "drills/classroom/entry.hpp"
#include "drills/classroom/results.hpp"
#include "drills/sheets/class_papers.hpp"
#include "engine/instant.hpp"
#include "engine/problem.hpp"
#include "engine/random.hpp"
#include "engine/uuid.hpp"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

/// What the Class place is about.
namespace sipladder::gui {

enum class ClassStep { roster, plan, sheets, entry, results };

struct ClassMember {
    Uuid id;
    std::string name;
    bool agrees = false;      ///< to be recorded: ticked once they were asked and said so
    bool no_ethanol = false;  ///< takes no cup that holds ethanol
};

/// A design that was chosen: what is served, under which codes, to whom.
struct KeptDesign {
    Uuid fact;
    Instant made;
    drills::classroom::ClassChoice chosen;     ///< with ladders
    drills::classroom::PreparedClass bottled;  ///< as the design was made from; without mixes
    drills::classroom::Service service;
};

/// Something of the class that takes over 10 ms: done away from the window, by value.
struct ClassPapers {
    std::string folder;  ///< name of the one they go to, below the folder of sheets
    std::vector<drills::sheets::ClassPaper> papers;
};
using ClassFound =
    std::variant<std::shared_ptr<const drills::classroom::PreparedClass>, std::shared_ptr<const ClassPapers>,
                 std::shared_ptr<const drills::classroom::ClassResults>, std::vector<Problem>>;
struct ClassJob {
    std::uint64_t generation{};
    std::string what;  ///< as the screen tells what is waited for
    std::function<ClassFound()> work;
};

struct ClassName {
    Uuid id;
    std::string title;
};

struct Classroom {
    std::vector<ClassName> all;  ///< classes of this journal, oldest first
    std::optional<Uuid> id;      ///< of the one that is open
    std::string title;
    ClassStep step = ClassStep::roster;

    std::vector<ClassMember> members;  ///< in the order of the roster
    std::string typed_title;
    std::string typed_members;
    std::optional<std::size_t> erasing;  ///< index into members: it is asked whether they are to be erased
    std::string typed_erase;

    drills::classroom::ClassChoice choice;  ///< as far as it is made; people and names follow the roster
    bool is_choice_changed = false;         ///< since it was last written
    Seed seed;                              ///< of the letters and the design that are being worked out

    std::shared_ptr<const KeptDesign> kept;
    std::vector<std::optional<Uuid>> seats;  ///< who sits where, by seat; nothing: a spare seat not taken
    drills::classroom::Entry entry;
    std::shared_ptr<const drills::classroom::ClassResults> results;  ///< of the entry as it is now
    bool for_the_wall = false;

    std::optional<ClassJob> job;
    std::uint64_t generation = 0;
    std::vector<std::string> written;  ///< files, by the last job, with what they are for
    std::string written_to;
};

/// Does a job; may take long. What is refused or fails is found as problems.
ClassFound run(const ClassJob& job) noexcept;

}  // namespace sipladder::gui

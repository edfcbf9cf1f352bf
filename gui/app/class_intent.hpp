#pragma once

#include "drills/classroom/entry.hpp"
#include "gui/app/class_state.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

/// What is wanted in the Class place.
namespace sipladder::gui {

struct TypeClassTitle {
    std::string text;
};
struct MakeClass {};
struct OpenClass {
    Uuid id;
};
struct LeaveClass {};  ///< to the list of classes
struct GoToStep {
    ClassStep step{};
};
// Roster
struct TypeMembers {  ///< names between commas, or a number of seats without names
    std::string text;
};
struct AddMembers {};
struct TickAgrees {
    std::size_t member{};
    bool on{};
};
struct AllAgree {};  ///< everybody on the roster was asked and agrees to be recorded
struct TickNoEthanol {
    std::size_t member{};
    bool on{};
};
struct UnlistMember {
    std::size_t member{};
};
struct AskToErase {
    std::optional<std::size_t> member;
};
struct TypeErase {
    std::string text;
};
struct EraseMember {};
// Plan
struct ShapeClass {
    enum class What { task, ladder, times, cup, base, add_drill, remove_drill, spares, groups, kitchen };
    What what{};
    std::size_t drill{};   ///< of which drill
    std::size_t number{};  ///< task (as drills::classroom::Task), times, cup in mL, spares, groups
    std::string id;        ///< of a ladder (on or off), a base, a kitchen (empty: the one it has)
};
struct KeepClass {};
// The worker's answer
struct ClassReady {
    std::uint64_t generation{};
    ClassFound found;
};
// Sheets and results
struct WriteClassSheets {};
struct WriteClassReports {};
struct TickWall {  ///< names stay off the wall
    bool on{};
};
// Entry
struct BallotKey {
    char character{};
};
struct BallotBack {};
struct BallotSkip {};
struct BallotGo {
    drills::classroom::Cell cell;
};
struct SeatCame {
    std::size_t seat{};
    bool came{};
};
struct BeginPass {
    drills::classroom::Pass pass{};
};
struct SettleBallot {  ///< the paper was looked up
    drills::classroom::Cell cell;
    drills::classroom::Pass right{};
};

}  // namespace sipladder::gui

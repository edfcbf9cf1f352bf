#pragma once

#include "gui/app/app.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

/// What a person, the clock or the worker wants; `apply` decides what becomes of it.
namespace sipladder::gui {

// Frame
struct Tick {};  ///< time has passed
struct GoTo {
    Place place{};
};
struct OpenDialog {
    Dialog dialog{};
};
struct ToggleHelp {};
struct DismissNotice {};
struct SetLook {
    bool dark{};
};
struct SetScale {
    double scale{};
};
struct TakeBack {};
struct PrintShown {};  ///< what the present place can print
struct LookAtDemo {};
struct LeaveDemo {};
// People and cautions
struct TypeName {
    std::string text;
};
struct AddPerson {};
struct SwitchPerson {
    Uuid id;
};
struct TickReason {
    std::string reason;
    bool on{};
};
struct ReadCautions {};
// Prepare
struct ChangeSetup {
    Setup setup;
};
struct PlanReady {
    std::uint64_t generation{};
    std::variant<solution::MixPlan, std::vector<Problem>> found;
};
struct TickStep {
    std::size_t step{};
    bool on{};
};
struct TypeReading {
    std::size_t step{};
    std::string text;
};
struct KeepMix {};
// Taste
struct ChooseMix {
    std::size_t mix{};
};
struct ChooseBlinding {
    drills::Blinding blinding{};
};
struct TickSpoiler {
    std::string what;
    bool on{};
};
struct TickClosedNose {
    bool on{};
};
struct StartDrill {};
struct GoOn {
    Uuid drill;
};
struct Acquainted {};
struct Poured {};
struct PickCup {
    std::size_t place{};
};
struct PickCertainty {
    drills::Certainty certainty{};
};
struct LockAnswer {};
struct FoundSign {
    std::size_t place{};
};
struct LockSign {};
struct CutRest {};
struct AskToStop {
    bool yes = true;
};
struct StopDrill {};
struct LeaveFinding {};
// Palate
struct OpenRow {
    std::size_t row{};
};
struct CloseRow {};

using Intent = std::variant<Tick, GoTo, OpenDialog, ToggleHelp, DismissNotice, SetLook, SetScale, TakeBack,
                            PrintShown, LookAtDemo, LeaveDemo, TypeName, AddPerson, SwitchPerson, TickReason,
                            ReadCautions, ChangeSetup, PlanReady, TickStep, TypeReading, KeepMix, ChooseMix,
                            ChooseBlinding, TickSpoiler, TickClosedNose, StartDrill, GoOn, Acquainted, Poured,
                            PickCup, PickCertainty, LockAnswer, FoundSign, LockSign, CutRest, AskToStop,
                            StopDrill, LeaveFinding, OpenRow, CloseRow>;

}  // namespace sipladder::gui

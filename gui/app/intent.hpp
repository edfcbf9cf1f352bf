#pragma once

#include "gui/app/app.hpp"
#include "gui/app/class_intent.hpp"
#include "gui/app/one_of.hpp"
#include "gui/app/records_intent.hpp"
#include "gui/app/settings_intent.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
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
struct OpenChapter {  ///< of the handbook
    std::size_t chapter{};
};
struct DismissNotice {};
struct MissCopy {  ///< the journal's copy of today could not be made
    std::string why;
};
struct SetLook {
    bool dark{};
};
struct SetScale {
    double scale{};
};
struct SetPaper {
    drills::sheets::Paper paper{};
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
    std::variant<std::shared_ptr<const solution::MixPlan>, std::vector<Problem>> found;
};
struct OpenLadder {  ///< of several in one sitting
    std::size_t place{};
};
struct AddLadder {  ///< another substance to tell apart
    std::string substance;
};
struct RemoveLadder {
    std::size_t place{};
};
struct TickStep {
    std::size_t step{};
    bool on{};
};
struct TypeReading {
    std::size_t step{};
    std::string text;
};
struct SetFate {
    std::size_t step{};
    Fate fate{};
};
struct TypeLeft {  ///< what a spill left
    std::size_t step{};
    std::string text;
};
struct TypeCheck {  ///< what the hydrometer, refractometer or pH strip showed
    std::string check;
    std::string text;
};
struct DragEnd {  ///< an end of the ladder is pulled to this level
    bool is_highest{};
    double to{};
};
struct TypeKitchenPath {
    std::string text;
};
struct LoadKitchen {};  ///< the equipment in the file typed
struct ToggleBudget {};
struct SaveDraft {};  ///< what was noted at the bench goes to the journal now
struct KeepMix {};
// Taste
struct ChooseOffer {  ///< which drill
    std::size_t offer{};
};
struct ChooseMyself {  ///< another drill than the one that is next in the sitting, or that one after all
    bool yes{};
};
struct TickOther {  ///< recognition: another mix beside the first
    std::size_t mix{};
    bool on{};
};
struct ChooseMix {
    std::size_t mix{};
};
struct ChooseBlinding {
    drills::Blinding blinding{};
};
struct ChoosePrior {
    drills::PriorChoice prior{};
};
struct TickSpoiler {
    std::string what;
    bool on{};
};
struct TickClosedNose {
    bool on{};
};
struct TypeTemperature {
    std::string text;
};
struct ChoosePresentations {
    std::size_t presentations{};
};
struct TypeWords {  ///< own words, with commas between
    std::string text;
};
struct ShowOwnWine {
    bool yes{};
};
struct TypeWine {
    std::string name;
    std::string strength;
};
struct StartOwnWine {};
struct EndSitting {};  ///< what is begun next is a sitting of its own
struct StartDrill {};
struct GoOn {
    Uuid drill;
};
struct CloseOpen {  ///< a drill that is too old to be gone on with: what was done is kept
    Uuid drill;
};
struct Acquainted {};
struct Poured {};
struct PickCup {  ///< or a tile: one of what the question offers
    std::size_t place{};
};
struct PickCertainty {
    drills::Certainty certainty{};
};
struct PutNext {  ///< the next cup in order, weakest first; one that has its place is taken out
    std::size_t cup{};
};
struct SetMark {
    double mark{};
};
struct TickMouth {  ///< a place in the mouth, on or off
    std::size_t place{};
};
struct TickWord {  ///< one of several words that fit, on or off
    std::size_t word{};
};
struct PressWatch {};  ///< spat, and later: it is gone
struct ResetWatch {};  ///< pressed by mistake: once more with the next sip of this cup
struct LockAnswer {};
struct FoundSign {  ///< where the sign was, or what stood beneath the cup
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
using PalateReady = Fitted<PalateFound>;
struct ChooseQuestion {
    drills::PalateQuestion question{};
};
struct PrepareNext {  ///< what is advised becomes the Prepare form
    std::size_t which{};
};
struct PrepareOffer {};  ///< the drill that fills the open tab becomes the Prepare form
struct OpenRow {
    std::size_t row{};
};
struct CloseRow {};
struct TypeGoal {  ///< of the row that is open
    std::string text;
};
struct KeepGoal {};
// Weeks
using WeeksReady = Fitted<Weeks>;
struct ComparePeriods {  ///< of this row, or no longer
    std::size_t row{};
};
struct MovePeriod {  ///< an end of the two, to the sitting next to it
    PeriodEnd end{};
    bool forward{};
};

// Charts
struct SeeWeeks {  ///< this part of the time axis; nothing: all
    std::optional<chart::Seen> seen;
};
struct SeePicture {  ///< of the row of the Palate that is open: this part of its axis; nothing: all
    std::size_t picture{};
    std::optional<chart::Seen> seen;
};

using IntentKinds = KindList<
    Tick, GoTo, OpenDialog, ToggleHelp, OpenChapter, DismissNotice, MissCopy, SetLook, SetScale, SetPaper,
    TakeBack, PrintShown, LookAtDemo, LeaveDemo, TypeName, AddPerson, SwitchPerson, TickReason, ReadCautions,
    ChangeSetup, PlanReady, OpenLadder, AddLadder, RemoveLadder, TickStep, TypeReading, SetFate, TypeLeft,
    TypeCheck, DragEnd, TypeKitchenPath, LoadKitchen, ToggleBudget, SaveDraft, KeepMix, ChooseOffer,
    ChooseMyself, TickOther, ChooseMix, ChooseBlinding, ChoosePrior, ChoosePresentations, TickSpoiler,
    TickClosedNose, TypeTemperature, TypeWords, ShowOwnWine, TypeWine, StartOwnWine, StartDrill, EndSitting,
    GoOn, CloseOpen, Acquainted, Poured, PickCup, PickCertainty, PutNext, SetMark, TickMouth, TickWord,
    PressWatch, ResetWatch, LockAnswer, FoundSign, LockSign, CutRest, AskToStop, StopDrill, LeaveFinding,
    PalateReady, WeeksReady, RecordsReady, ChooseQuestion, PrepareNext, PrepareOffer, OpenRow, CloseRow,
    TypeGoal, KeepGoal, ComparePeriods, SeeWeeks, SeePicture, MovePeriod, TypeClassTitle, MakeClass,
    OpenClass, LeaveClass, GoToStep, TypeMembers, AddMembers, TickAgrees, AllAgree, TickNoEthanol,
    UnlistMember, AskToErase, TypeErase, EraseMember, ShapeClass, KeepClass, ClassReady, WriteClassSheets,
    WriteClassReports, TickWall, BallotKey, BallotBack, BallotSkip, BallotGo, SeatCame, BeginPass,
    SettleBallot, ShowRecords, FilterRecords, OpenRecord, AskToStrike, TypeReason, StrikeOut, TypeNote,
    AddNote, ExportRecords, TickEveryone, TypeImportPath, TickKeepOurs, ImportRecords, CopyNow,
    TypeNameToErase, ErasePerson, SetVolumeUnit, SetUsualPours, TypeUsualCup, SetUsualKitchen, ShowSettings,
    BeginOwn, ChangeOwn, TypeOwn, AddOwnTool, RemoveOwnTool, KeepOwn, LeaveOwn>;
using Intent = OneOf<IntentKinds>;

}  // namespace sipladder::gui

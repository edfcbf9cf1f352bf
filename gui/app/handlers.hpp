#pragma once

#include "engine/journal/exchange.hpp"
#include "gui/app/app.hpp"
#include "gui/app/intent.hpp"

#include <optional>
#include <variant>
#include <vector>

/// How `apply` is split over files: one handler an intent, each working on the copy.
namespace sipladder::gui {

using Row = std::variant<journal::Person, journal::Fact, journal::Sitting, journal::Drill, journal::Entry,
                         journal::StrikeRow>;
void append(journal::Journal& journal, const Row& row);

/// The value after the intent, and what the journal must hold before it becomes the app's.
struct Next {
    App app;
    std::vector<Row> rows;
    bool read_again = false;      ///< what is known of the person comes from the journal anew
    std::optional<Uuid> erase{};  ///< a person who goes for good, once the rows are written
};

void on(Next& next, const Tick& intent);
void on(Next& next, const GoTo& intent);
void on(Next& next, const OpenDialog& intent);
void on(Next& next, const ToggleHelp& intent);
void on(Next& next, const OpenChapter& intent);
void on(Next& next, const DismissNotice& intent);
void on(Next& next, const MissCopy& intent);
void on(Next& next, const SetLook& intent);
void on(Next& next, const SetScale& intent);
void on(Next& next, const SetPaper& intent);
void on(Next& next, const TakeBack& intent);
void on(Next& next, const PrintShown& intent);
void on(Next& next, const LookAtDemo& intent);
void on(Next& next, const LeaveDemo& intent);
void on(Next& next, const TypeName& intent);
void on(Next& next, const AddPerson& intent);
void on(Next& next, const SwitchPerson& intent);
void on(Next& next, const TickReason& intent);
void on(Next& next, const ReadCautions& intent);
void on(Next& next, const ChangeSetup& intent);
void on(Next& next, const PlanReady& intent);
void on(Next& next, const OpenLadder& intent);
void on(Next& next, const AddLadder& intent);
void on(Next& next, const RemoveLadder& intent);
void on(Next& next, const TickStep& intent);
void on(Next& next, const TypeReading& intent);
void on(Next& next, const SetFate& intent);
void on(Next& next, const TypeLeft& intent);
void on(Next& next, const TypeCheck& intent);
void on(Next& next, const DragEnd& intent);
void on(Next& next, const TypeKitchenPath& intent);
void on(Next& next, const LoadKitchen& intent);
void on(Next& next, const ToggleBudget& intent);
void on(Next& next, const SaveDraft& intent);
void on(Next& next, const KeepMix& intent);
void on(Next& next, const ChooseOffer& intent);
void on(Next& next, const ChooseMyself& intent);
void on(Next& next, const TickOther& intent);
void on(Next& next, const ChooseMix& intent);
void on(Next& next, const ChooseBlinding& intent);
void on(Next& next, const ChoosePrior& intent);
void on(Next& next, const ChoosePresentations& intent);
void on(Next& next, const TickSpoiler& intent);
void on(Next& next, const TickClosedNose& intent);
void on(Next& next, const TypeTemperature& intent);
void on(Next& next, const TypeWords& intent);
void on(Next& next, const ShowOwnWine& intent);
void on(Next& next, const TypeWine& intent);
void on(Next& next, const StartOwnWine& intent);
void on(Next& next, const StartDrill& intent);
void on(Next& next, const EndSitting& intent);
void on(Next& next, const GoOn& intent);
void on(Next& next, const CloseOpen& intent);
void on(Next& next, const Acquainted& intent);
void on(Next& next, const Poured& intent);
void on(Next& next, const PickCup& intent);
void on(Next& next, const PickCertainty& intent);
void on(Next& next, const PutNext& intent);
void on(Next& next, const SetMark& intent);
void on(Next& next, const TickMouth& intent);
void on(Next& next, const TickWord& intent);
void on(Next& next, const PressWatch& intent);
void on(Next& next, const ResetWatch& intent);
void on(Next& next, const LockAnswer& intent);
void on(Next& next, const FoundSign& intent);
void on(Next& next, const LockSign& intent);
void on(Next& next, const CutRest& intent);
void on(Next& next, const AskToStop& intent);
void on(Next& next, const StopDrill& intent);
void on(Next& next, const LeaveFinding& intent);
void on(Next& next, const ChooseQuestion& intent);
void on(Next& next, const PrepareNext& intent);
void on(Next& next, const PrepareOffer& intent);
void on(Next& next, const TypeClassTitle& intent);
void on(Next& next, const MakeClass& intent);
void on(Next& next, const OpenClass& intent);
void on(Next& next, const LeaveClass& intent);
void on(Next& next, const GoToStep& intent);
void on(Next& next, const TypeMembers& intent);
void on(Next& next, const AddMembers& intent);
void on(Next& next, const TickAgrees& intent);
void on(Next& next, const AllAgree& intent);
void on(Next& next, const TickNoEthanol& intent);
void on(Next& next, const UnlistMember& intent);
void on(Next& next, const AskToErase& intent);
void on(Next& next, const TypeErase& intent);
void on(Next& next, const EraseMember& intent);
void on(Next& next, const ShapeClass& intent);
void on(Next& next, const KeepClass& intent);
void on(Next& next, const ClassReady& intent);
void on(Next& next, const WriteClassSheets& intent);
void on(Next& next, const WriteClassReports& intent);
void on(Next& next, const TickWall& intent);
void on(Next& next, const BallotKey& intent);
void on(Next& next, const BallotBack& intent);
void on(Next& next, const BallotSkip& intent);
void on(Next& next, const BallotGo& intent);
void on(Next& next, const SeatCame& intent);
void on(Next& next, const BeginPass& intent);
void on(Next& next, const SettleBallot& intent);
void on(Next& next, const PalateReady& intent);
void on(Next& next, const OpenRow& intent);
void on(Next& next, const CloseRow& intent);
void on(Next& next, const TypeGoal& intent);
void on(Next& next, const KeepGoal& intent);
void on(Next& next, const WeeksReady& intent);
void on(Next& next, const ComparePeriods& intent);
void on(Next& next, const MovePeriod& intent);
void on(Next& next, const SeeWeeks& intent);
void on(Next& next, const SeePicture& intent);
void on(Next& next, const RecordsReady& intent);
void on(Next& next, const ShowRecords& intent);
void on(Next& next, const FilterRecords& intent);
void on(Next& next, const OpenRecord& intent);
void on(Next& next, const AskToStrike& intent);
void on(Next& next, const TypeReason& intent);
void on(Next& next, const StrikeOut& intent);
void on(Next& next, const TypeNote& intent);
void on(Next& next, const AddNote& intent);
void on(Next& next, const ExportRecords& intent);
void on(Next& next, const TickEveryone& intent);
void on(Next& next, const TypeImportPath& intent);
void on(Next& next, const TickKeepOurs& intent);
void on(Next& next, const ImportRecords& intent);
void on(Next& next, const CopyNow& intent);
void on(Next& next, const TypeNameToErase& intent);
void on(Next& next, const ErasePerson& intent);
void on(Next& next, const SetVolumeUnit& intent);
void on(Next& next, const SetUsualPours& intent);
void on(Next& next, const TypeUsualCup& intent);
void on(Next& next, const SetUsualKitchen& intent);
void on(Next& next, const ShowSettings& intent);
void on(Next& next, const BeginOwn& intent);
void on(Next& next, const ChangeOwn& intent);
void on(Next& next, const TypeOwn& intent);
void on(Next& next, const AddOwnTool& intent);
void on(Next& next, const RemoveOwnTool& intent);
void on(Next& next, const KeepOwn& intent);
void on(Next& next, const LeaveOwn& intent);

/// Those who taste by themselves: members of classes are on their rosters.
std::vector<journal::Person> people_here(const journal::Journal& journal);
/// Another person than this one is there, or nobody and the first start.
void take_another(Next& next, const Uuid& gone);

/// Sets the Prepare form and asks for a plan where the form is complete. Notes of the plan before are gone
/// from the bench: see keep_aside.
void set_up(App& app, Setup setup);
/// The form as it stands, for content that has changed. Notes of a plan that has gone with it are what
/// TakeBack brings back, and the notice says so.
void set_up_anew(App& app);
/// The form as it stands, with the rungs that the person's history asks for and without notes.
void set_up_for_person(App& app);
/// The forms and notes of all ladders, as the journal keeps them.
drills::record::MixDraft draft_of_all(const App& app);
/// Form and notes as they stand become what TakeBack returns to.
void keep_aside(App& app);
/// A form with its notes, taken up again once its plan is there.
void take_up(App& app, drills::record::MixDraft draft);
/// Notes that the journal does not hold yet become a row.
void save_draft(Next& next);
/// How long a pause in typing is, after which the notes are written.
constexpr std::int64_t pause_before_saving_ms = 700;
/// Who pours, and the cup, of a drill of one's own choice.
void take_usual(App& app);
/// The person's own threshold of this form's substance in its base, if there is one.
const PalateEntry* own_of(const App& app, const Setup& setup);

}  // namespace sipladder::gui

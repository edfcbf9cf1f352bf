#include "gui/views/records.hpp"

#include "drills/exchange.hpp"
#include "drills/history.hpp"
#include "drills/palate_detail.hpp"
#include "engine/journal/exchange.hpp"
#include "gui/app/apply.hpp"
#include "gui/views/frame.hpp"
#include "gui/views/weeks.hpp"
#include "tests/gui/people.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <iterator>

using namespace sipladder;
using namespace sipladder::gui;
using tests::AtWindow;

namespace {

/// Somebody with one finished drill of four answers.
AtWindow with_a_drill() {
    AtWindow at;
    at.arrive();
    at.prepare();
    at.start_drill();
    for (std::size_t i = 0; i < 4; ++i) {
        at.answer(i % 3);
        at.go_to_answer();
    }
    at.want(AskToStop{true});
    at.want(StopDrill{});
    at.want(LeaveFinding{});
    return at;
}

void open_newest(AtWindow& at) {
    at.want(GoTo{Place::records});
    REQUIRE(at.app.records);
    REQUIRE(!at.app.records->sittings.empty());
    at.want(OpenRecord{at.app.records->sittings.front().id});
}

void strike(AtWindow& at, const Uuid& row, bool puts_back, const std::string& reason) {
    at.want(AskToStrike{row, puts_back});
    at.want(TypeReason{reason});
    at.want(StrikeOut{});
}

std::string said(const AtWindow& at) {
    return at.app.notice ? at.app.notice->lines.front() : std::string{};
}

/// Answers of a level that the line over weeks rests on.
std::size_t followed_answers(const AtWindow& at) {
    std::size_t answers = 0;
    for (const drills::Followed& followed : drills::followed(*at.app.journal, *at.app.person))
        for (const trend::Sitting& sitting : followed.sittings) {
            for (const threshold::Counts& counts : sitting.counts) answers += counts.presentations;
            for (const auto& told : sitting.told) answers += told.answers.size();
        }
    return answers;
}

std::string whole(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::filesystem::path only_file(const std::filesystem::path& folder, const std::string& ending) {
    for (const auto& one : std::filesystem::directory_iterator(folder))
        if (one.path().extension() == ending) return one.path();
    return {};
}

}  // namespace

TEST_CASE("the list has every sitting, newest first, and says why it is empty") {
    AtWindow at;
    at.arrive();
    at.want(GoTo{Place::records});
    REQUIRE(records_view(at.app).list);
    CHECK(records_view(at.app).list->empty.find("No sitting yet") == 0);
    AtWindow demo;
    demo.want(LookAtDemo{});
    demo.want(GoTo{Place::records});
    const RecordsView view = records_view(demo.app);
    REQUIRE(view.list);
    const auto sittings = demo.app.journal->sittings(*demo.app.person);
    std::size_t drills = 0;
    for (const auto& sitting : sittings) drills += demo.app.journal->drills(sitting.id).size();
    CHECK(view.list->lines.size() == drills);
    CHECK(view.list->lines.front().sitting == sittings.back().id);
    CHECK(view.list->lines.back().sitting == sittings.front().id);
}

TEST_CASE("filters by substance, drill and words hold together, and what is left says so") {
    AtWindow at;
    at.want(LookAtDemo{});
    at.want(GoTo{Place::records});
    const std::size_t all = records_view(at.app).list->lines.size();
    const std::string substance = records_view(at.app).list->substances.back().label;
    at.want(FilterRecords{substance, {}, {}});
    const RecordsView some = records_view(at.app);
    CHECK(!some.list->lines.empty());
    CHECK(some.list->lines.size() < all);
    for (const RecordLine& line : some.list->lines) CHECK(line.what.find(substance) != std::string::npos);
    at.want(FilterRecords{{}, "detection", {}});
    const RecordsView detections = records_view(at.app);
    for (const RecordLine& line : detections.list->lines) CHECK(line.what.find("detection,") == 0);
    at.want(FilterRecords{{}, {}, "no such words"});
    CHECK(records_view(at.app).list->lines.empty());
    CHECK(records_view(at.app).list->empty == "No sitting is like this.");
    at.want(FilterRecords{});
    CHECK(records_view(at.app).list->lines.size() == all);
}

TEST_CASE("dates filter with their ends, beside what else is chosen; a wrong one is told at its field") {
    AtWindow at;
    at.want(LookAtDemo{});
    at.want(GoTo{Place::records});
    const std::vector<RecordSitting>& sittings = at.app.records->sittings;
    const std::string newest = to_date(sittings.front().started);
    const std::string oldest = to_date(sittings.back().started);
    REQUIRE(oldest < newest);
    const auto list = [&] { return records_view(at.app).list; };
    const std::size_t all = list()->lines.size();
    const auto dated = [&](const std::string& from, const std::string& to) {
        at.want(FilterRecords{.from = from, .to = to});
        return list()->lines.size();
    };
    CHECK(dated(oldest, newest) == all);
    CHECK(dated(oldest.substr(0, 7), newest.substr(0, 4)) == all);
    CHECK(dated(" " + newest + " ", "") >= 1);
    CHECK(list()->lines.back().date.substr(0, 10) == newest);
    CHECK(dated("", oldest) + dated(newest, "") <= all);
    CHECK(dated("", "1999") == 0);
    CHECK(list()->empty == "No sitting is like this.");
    CHECK(list()->is_filtered);
    at.want(FilterRecords{.substance = list()->substances.back().label, .from = newest});
    const std::size_t together = list()->lines.size();
    CHECK(together <= dated(newest, ""));
    CHECK(dated("2026-13", "") == all);  // as if it were empty, and told
    CHECK(list()->from.problem == "From is \"2026-13\"; a date, such as 2026-03-01, 2026-03 or 2026");
    CHECK(list()->to.problem.empty());
    CHECK(dated(newest, oldest) == dated(newest, ""));
    at.want(FilterRecords{.from = newest, .to = oldest});
    CHECK(list()->to.problem == "To is \"" + oldest + "\", before " + newest + "; the earlier date first");
    at.want(FilterRecords{});
    CHECK(list()->lines.size() == all);
    CHECK(!list()->is_filtered);
}

TEST_CASE("an opened sitting shows each answer as the journal has it") {
    AtWindow at = with_a_drill();
    open_newest(at);
    const RecordsView view = records_view(at.app);
    REQUIRE(view.open);
    REQUIRE(view.open->drills.size() == 1);
    const RecordDrillView& drill = view.open->drills.front();
    REQUIRE(drill.answers.size() == 4);
    const drills::PalateTable table = drills::answers_of(at.app.history->done.front().state, {});
    for (std::size_t i = 0; i < 4; ++i)
        CHECK(std::equal(table.rows[i].begin(), table.rows[i].end(), drill.answers[i].cells.begin()));
}

TEST_CASE("a drill that is left open tells how many answers it has and nothing of them") {
    AtWindow at;
    at.arrive();
    at.prepare();
    at.start_drill();
    for (std::size_t i = 0; i < 3; ++i) {
        at.answer(i);
        at.go_to_answer();
    }
    at.app = at.begin(Seed{3});  // the program was ended
    open_newest(at);
    const RecordsView view = records_view(at.app);
    REQUIRE(view.open);
    const RecordDrillView& drill = view.open->drills.front();
    CHECK(drill.answers.empty());
    CHECK(drill.how.find("3 answers so far") != std::string::npos);
    CHECK(drill.hidden.find("Left open") == 0);
    CHECK(at.app.record_opened->drills.front().answers.empty());
    // Struck out whole it is still one that nobody may look into.
    strike(at, drill.id, false, "wrong bottles");
    CHECK(at.app.history->unfinished.empty());
    CHECK(records_view(at.app).open->drills.front().answers.empty());
    CHECK(!records_view(at.app).open->drills.front().struck.empty());
    // A table of answers would tell its levels.
    strike(at, drill.id, true, "they were right");
    at.want(ExportRecords{.is_csv = true});
    CHECK(said(at).find("left open") != std::string::npos);
}

TEST_CASE("an answer struck out stays with its reason, counts nowhere, and comes back as it was") {
    AtWindow at = with_a_drill();
    REQUIRE(followed_answers(at) == 4);
    open_newest(at);
    const Uuid row = records_view(at.app).open->drills.front().answers[1].row;
    at.want(AskToStrike{row, false});
    at.want(StrikeOut{});
    CHECK(said(at).find("Reason") == 0);  // none was given
    strike(at, row, false, "the wrong cup");
    RecordsView view = records_view(at.app);
    REQUIRE(view.open);
    REQUIRE(view.open->drills.front().answers.size() == 4);
    CHECK(view.open->drills.front().answers[1].struck.find("the wrong cup") != std::string::npos);
    CHECK(view.open->drills.front().answers[0].struck.empty());
    CHECK(!view.open->asked);
    CHECK(at.app.history->done.front().state.trials.size() == 3);
    at.want(GoTo{Place::weeks});
    REQUIRE(at.app.weeks->entries.size() == 1);
    CHECK(at.app.weeks->entries.front().followed.sittings.size() == 1);
    CHECK(followed_answers(at) == 3);
    at.want(GoTo{Place::records});
    strike(at, row, true, "it was the right one");
    CHECK(records_view(at.app).open->drills.front().answers[1].struck.empty());
    CHECK(followed_answers(at) == 4);
}

TEST_CASE("a drill that came to its end stays done when one of its answers is struck out") {
    AtWindow at;
    at.arrive();
    at.prepare();
    at.want(ChoosePresentations{6});
    at.start_drill();
    for (std::size_t i = 0; i < 30 && at.app.running; ++i) {
        at.answer(i % 3);
        at.go_to_answer();
    }
    REQUIRE(at.app.history->done.size() == 1);
    REQUIRE(!at.app.history->done.front().state.stopped);
    const std::size_t answers = at.app.history->done.front().state.trials.size();
    open_newest(at);
    strike(at, records_view(at.app).open->drills.front().answers.back().row, false, "interrupted");
    CHECK(at.app.history->unfinished.empty());
    REQUIRE(at.app.history->done.size() == 1);
    CHECK(at.app.history->done.front().state.trials.size() == answers - 1);
    CHECK(records_view(at.app).open->drills.front().answers.size() == answers);
}

TEST_CASE("a sitting struck out is gone from Palate, Weeks and history, and nothing joins it") {
    AtWindow at = with_a_drill();
    REQUIRE(at.app.sitting);
    open_newest(at);
    const Uuid sitting = at.app.records->sittings.front().id;
    strike(at, sitting, false, "a cold");
    CHECK(!at.app.sitting);
    CHECK(at.app.history->done.empty());
    const auto& mix = at.app.history->mixes.front();
    CHECK(newest_detection(*at.app.history, mix.substance, mix.base_name) == nullptr);
    at.want(GoTo{Place::weeks});
    CHECK(at.app.weeks->entries.empty());
    at.want(GoTo{Place::palate});
    for (const auto& rows : at.app.palate->palate.rows) CHECK(rows.empty());
    at.want(GoTo{Place::records});
    CHECK(records_view(at.app).open->struck.find("a cold") != std::string::npos);
    strike(at, sitting, true, "it was none");
    CHECK(at.app.history->done.size() == 1);
}

TEST_CASE("a note to a sitting is a flag in Weeks until it is struck out") {
    AtWindow at = with_a_drill();
    open_newest(at);
    at.want(TypeNote{"  a new pack "});
    at.want(AddNote{});
    const RecordsView view = records_view(at.app);
    REQUIRE(view.open->notes.size() == 1);
    CHECK(view.open->notes.front().cells.front() == "a new pack");
    CHECK(view.open->note.empty());
    const auto flagged = [&] {
        at.want(GoTo{Place::weeks});
        const chart::Chart chart = weeks_view(at.app).rows.at(0).chart;
        at.want(GoTo{Place::records});
        return std::ranges::any_of(chart.marks, [](const chart::Mark& mark) {
            const auto* marker = std::get_if<chart::Marker>(&mark);
            return marker != nullptr && marker->label.find("a new pack") != std::string::npos;
        });
    };
    CHECK(flagged());
    at.want(FilterRecords{{}, {}, "NEW PACK"});
    at.want(OpenRecord{});
    CHECK(records_view(at.app).list->lines.size() == 1);
    at.want(OpenRecord{at.app.records->sittings.front().id});
    strike(at, view.open->notes.front().row, false, "it was the old one");
    CHECK(!flagged());
}

TEST_CASE("what is exported at one window is taken in at another, once, and never by half") {
    const tests::TemporaryFolder folder;
    AtWindow at = with_a_drill();
    at.app.sheets = folder.path();
    at.want(GoTo{Place::records});
    at.want(ExportRecords{.is_csv = false});
    at.want(ExportRecords{.is_csv = true});
    const std::filesystem::path file = only_file(folder.path(), ".json");
    REQUIRE(!file.empty());
    const std::string table = whole(only_file(folder.path(), ".csv"));
    CHECK(table == drills::answers_csv(*at.app.journal, *at.app.person));
    CHECK((std::filesystem::status(file).permissions() & std::filesystem::perms::others_all) ==
          std::filesystem::perms::none);

    AtWindow other;
    other.app.chance = Random{Seed{99}};
    other.arrive("Ben");
    other.want(GoTo{Place::records});
    other.want(TypeImportPath{file.string()});
    other.want(ImportRecords{});
    CHECK(said(other).find(" new rows, 0 known already.") != std::string::npos);
    CHECK(other.app.people.size() == 2);
    const std::size_t rows = other.app.journal->rows();
    other.want(TypeImportPath{file.string()});
    other.want(ImportRecords{});
    CHECK(said(other).find("0 new rows, ") == 0);
    CHECK(other.app.journal->rows() == rows);

    // A body that cannot be read: nothing of the file stays.
    std::string text = whole(file);
    const std::string broken_file = (folder.path() / "broken.txt").string();
    const std::string kept = R"(\"body\":1)";
    REQUIRE(text.find(kept) != std::string::npos);
    text.replace(text.find(kept), kept.size(), R"(\"body\":7)");
    std::ofstream(broken_file) << text;
    AtWindow third;
    third.app.chance = Random{Seed{98}};
    third.arrive("Cleo");
    third.want(GoTo{Place::records});
    const std::size_t had = third.app.journal->rows();
    third.want(TypeImportPath{broken_file});
    third.want(ImportRecords{});
    REQUIRE(third.app.notice);
    CHECK(third.app.notice->is_problem);
    CHECK(third.app.journal->rows() == had);
    CHECK(third.app.people.size() == 1);
    third.want(TypeImportPath{"/no/such/file"});
    third.want(ImportRecords{});
    CHECK(said(third).find("/no/such/file") == 0);
}

TEST_CASE("a person is erased once their name stands there to the letter, and the next one is there") {
    AtWindow at = with_a_drill();
    at.want(TypeName{"Ben"});
    at.want(AddPerson{});
    at.want(ReadCautions{});
    const Uuid ben = *at.app.person;
    at.want(GoTo{Place::records});
    at.want(ShowRecords{RecordsPart::erase});
    at.want(TypeNameToErase{"ben"});
    at.want(ErasePerson{});
    CHECK(at.app.journal->people().size() == 2);
    at.want(TypeNameToErase{"Ben"});
    at.want(ErasePerson{});
    REQUIRE(at.app.people.size() == 1);
    CHECK(at.app.journal->people().size() == 1);
    CHECK(at.app.journal->erased() == std::vector<Uuid>{ben});
    CHECK(at.app.person == at.app.people.front().id);
    CHECK(at.app.history->done.size() == 1);
    at.want(GoTo{Place::records});
    at.want(TypeNameToErase{"Ana"});
    at.want(ErasePerson{});
    CHECK(at.app.place == Place::first_start);
    CHECK(!at.app.person);
    CHECK(!at.app.history);
    CHECK(frame_view(at.app).person.empty());
    at.arrive("Ana");  // the name is free again
    CHECK(at.app.history);
}

TEST_CASE("thousands of sittings are listed and searched in a blink") {
    Records records;
    for (int i = 0; i < 3000; ++i) {
        RecordSitting sitting;
        sitting.id = Uuid{std::to_string(i)};
        RecordDrill drill;
        drill.name = "detection";
        drill.about = "sucrose in still water";
        drill.substances = {"sucrose"};
        sitting.drills = {drill, drill};
        records.sittings.push_back(std::move(sitting));
    }
    AtWindow at;
    at.arrive();
    at.want(GoTo{Place::records});
    at.app.records = std::make_shared<const Records>(std::move(records));
    at.app.records_look.text = "still water";
    const auto start = std::chrono::steady_clock::now();
    CHECK(records_view(at.app).list->lines.size() == 6000);
    CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(1));
}

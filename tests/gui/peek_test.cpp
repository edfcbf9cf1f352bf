// Whether anything tells a level or a place before the answer is locked. Two runs of the same drill get other
// seeds, so that they serve other levels at other places to the same answers; what is random by design
// (letters, codes, a tray's bottle and sign, ids, the seed itself) is replaced by its name, and then all that
// the window, the journal and the files show has to be the same to the letter.

#include "drills/blinding/sealed_key.hpp"
#include "drills/record.hpp"
#include "gui/views/frame.hpp"
#include "tests/gui/people.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <set>
#include <sstream>

using namespace sipladder;
using namespace sipladder::gui;
using drills::Blinding;
using tests::AtWindow;
using tests::Case;
using tests::every_case;
using tests::name_of;
using tests::with_two_mixes;

namespace {

void replace_all(std::string& text, const std::string& what, const std::string& by) {
    if (what.empty()) return;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size()))
        text.replace(at, what.size(), by);
}

/// Every text of the window while a drill runs, and when it wakes by itself.
std::string shown_by(const AtWindow& at) {
    App app = at.app;
    app.help_open = true;
    const FrameView frame = frame_view(app);
    const DrillView& drill = *frame.taste->drill;
    std::string all = frame.title;
    const auto add = [&](const std::string& text) { all += "\n" + text; };
    for (const std::string& text : {drill.heading, drill.cups, drill.question, drill.locked, drill.hint,
                                    drill.nose, drill.stop_text, frame.person})
        add(text);
    for (const std::string& line : drill.instruction) add(line);
    for (const std::string& code : drill.codes) add(code);
    for (const Tile& tile : drill.tiles) add(tile.name);
    for (const Shown& item : frame.status) add(item.text + " | " + item.whence);
    if (frame.notice)
        for (const std::string& line : frame.notice->lines) add(line);
    for (const std::string& line : frame.help->paragraphs) add(line);
    add("phase " + std::to_string(static_cast<int>(drill.phase)) + (drill.can_lock ? " can lock" : "") +
        (drill.is_poured ? " poured" : "") + (drill.prints_card ? " card" : ""));
    // A tray's rest comes after the reveal, when the level is no secret any more.
    if (at.app.running->state.plan.blinding == Blinding::shuffled_tray) return all;
    add("rest " + drill.rest_left + " " + std::to_string(drill.rest_share));
    if (const auto wake = next_wake(app)) add("wakes in " + std::to_string(*wake - app.now.monotonic_ms));
    return all;
}

/// Digits of a code by their name; the same digits within a time are none.
void replace_code(std::string& text, const std::string& digits) {
    for (std::size_t at = text.find(digits); at != std::string::npos; at = text.find(digits, at + 1))
        if (at == 0 || text[at - 1] != '.') text.replace(at, digits.size(), "CODE");
}

/// What is random by design, by its name.
std::string masked(std::string text, const AtWindow& at) {
    const drills::State& state = at.app.running->state;
    const drills::Step ahead = drills::next_after_rest(state);
    std::vector<drills::Presentation> shown;
    if (const auto* serve = std::get_if<drills::Serve>(&ahead)) shown.push_back(serve->shown);
    for (const drills::Trial& trial : state.trials) shown.push_back(trial.shown);
    if (state.plan.blinding == Blinding::sealed_key)
        for (const drills::BlindCode& code : drills::sealed_key::codes(state.plan, state.seed))
            replace_code(text, code.digits);
    for (const drills::Presentation& one : shown) {
        for (const drills::BlindCode& code : one.codes) replace_code(text, code.digits);
        replace_all(text, "Letter " + one.letter + ".", "LETTER");
        replace_all(text, "looks " + one.letter + " up", "looks LETTER up");
        if (one.sign) {
            replace_all(text, "Bottle " + one.bottle + ":", "BOTTLE");
            for (const char* sign : {"RING", "CROSS", "DOT", "ring", "cross", "dot"})
                replace_all(text, sign, "SIGN");
        }
        // Which nose is drawn, and says nothing of the level.
        replace_all(text, "Nose CLOSED", "NOSE");
        replace_all(text, "Nose OPEN", "NOSE");
    }
    return text;
}

/// The first line of one that the other has not; empty: they are the same.
std::string first_difference(const std::string& one, const std::string& other) {
    if (one == other) return {};
    std::istringstream lines(one);
    std::istringstream others(other);
    for (std::string line, against; std::getline(lines, line);)
        if (!std::getline(others, against) || line != against) return line + " / " + against;
    return "one is longer";
}

std::string journal_text(const AtWindow& at) {
    std::string all;
    for (const journal::Fact& fact : at.journal->facts(*at.app.person)) all += fact.kind + fact.body + "\n";
    for (const journal::Sitting& sitting : at.journal->sittings(*at.app.person)) {
        all += sitting.body + "\n";
        for (const journal::Drill& drill : at.journal->drills(sitting.id)) {
            all += drill.kind + drill.body + "\n";
            for (const journal::Entry& entry : at.journal->entries(drill.id))
                all += std::to_string(entry.number) + entry.kind + entry.body + "\n";
        }
    }
    return all;
}

/// Somebody with two mixes who has just started this drill.
AtWindow started(const AtWindow& prepared, const Case& one, Seed seed) {
    AtWindow at = prepared.apart(seed);
    at.choose(one.kind, one.order, one.blinding);
    at.want(StartDrill{});
    const std::string notice = at.app.notice ? at.app.notice->lines.front() : std::string{};
    CAPTURE(notice);
    REQUIRE(at.app.running);
    return at;
}

/// What the drill would serve now.
std::string hidden(const AtWindow& at) {
    const auto now = drills::serving(at.app.running->state);
    if (!now) return "none";
    std::string told = std::to_string(now->level);
    told += " at ";
    told += now->place ? std::to_string(*now->place) : "any place";
    told += " of ";
    told += std::to_string(now->series);
    if (now->is_blank) told += " blank";
    return told;
}

}  // namespace

TEST_CASE("before a lock nothing in the window differs between runs that differ in level and place") {
    for (const Case& one : every_case) {
        CAPTURE(name_of(one));
        std::set<std::string> served;
        std::string seen_by_first;
        for (const std::uint64_t seed : {11U, 12U, 13U}) {
            AtWindow at = started(with_two_mixes(), one, Seed{seed});
            std::string seen;
            const auto look = [&] { seen += masked(shown_by(at), at) + "\n----\n"; };
            for (int presentation = 0; presentation < 3; ++presentation) {
                served.insert(std::to_string(presentation) + ": " + hidden(at));
                while (phase_of(*at.app.running) != Phase::answer) {
                    look();
                    if (phase_of(*at.app.running) == Phase::acquaint)
                        at.want(Acquainted{});
                    else if (phase_of(*at.app.running) == Phase::pour)
                        at.want(Poured{});
                    else if (phase_of(*at.app.running) == Phase::reveal)
                        at.look_beneath(0);
                    else
                        at.rest();
                }
                look();
                at.want(PickCup{1});
                at.want(PickCertainty{drills::Certainty::leaning});
                look();
                at.want(LockAnswer{});
                look();
            }
            if (seen_by_first.empty()) seen_by_first = seen;
            const std::string difference = first_difference(seen, seen_by_first);
            CAPTURE(difference);
            CHECK(difference.empty());
        }
        // A sealed key has no secret in the program: its hand shuffles, and the program is told at the end.
        const bool draws = one.blinding == Blinding::served;
        CHECK((!draws || served.size() > 3));
    }
}

TEST_CASE("before a lock the journal holds nothing of the presentation that is on the table") {
    for (const Case& one : every_case) {
        CAPTURE(name_of(one));
        std::string first_text;
        for (const std::uint64_t seed : {21U, 22U}) {
            AtWindow at = started(with_two_mixes(), one, Seed{seed});
            at.go_to_answer();
            // Only the seed tells two unlocked drills apart; nothing else of what it draws is written down.
            std::string text = journal_text(at);
            replace_all(text, std::to_string(at.app.running->state.seed.value), "SEED");
            if (first_text.empty()) first_text = text;
            CHECK(first_difference(text, first_text).empty());
            for (int presentation = 0; presentation < 3; ++presentation) {
                const std::string before = journal_text(at);
                at.want(PickCup{1});
                at.want(PickCertainty{drills::Certainty::sure});
                at.want(ToggleHelp{});
                at.pass(60'000);
                at.want(Tick{});
                CHECK(journal_text(at) == before);
                at.want(LockAnswer{});
                at.go_to_answer();
            }
        }
    }
}

TEST_CASE("file names and notices of what is printed for a drill are the same whatever it serves") {
    for (const Case& one : every_case) {
        if (one.blinding != Blinding::served) continue;
        CAPTURE(name_of(one));
        std::string names_of_first;
        for (const std::uint64_t seed : {31U, 32U}) {
            const tests::TemporaryFolder folder;
            AtWindow at = started(with_two_mixes(), one, Seed{seed});
            at.app.sheets = folder.path();
            at.want(PrintShown{});
            std::string names;
            for (const auto& file : std::filesystem::directory_iterator(folder.path()))
                names += file.path().filename().string() + "\n";
            REQUIRE(at.app.notice);
            for (std::string line : at.app.notice->lines) {
                replace_all(line, folder.path().string(), "FOLDER");
                names += line + "\n";
            }
            CHECK(names.find("pour_card") != std::string::npos);
            if (names_of_first.empty()) names_of_first = names;
            CHECK(names == names_of_first);
        }
    }
}

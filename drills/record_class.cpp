// Bodies are read strictly, as drills/record reads its own. A ballot's line keeps its codes in words beside
// the places, so that a program which would serve the class in another way cannot misread it.

#include "drills/record_class.hpp"

#include "drills/record_parts.hpp"
#include "engine/content/field.hpp"
#include "engine/content/json_file.hpp"
#include "engine/problem.hpp"

#include <nlohmann/json.hpp>

#include <functional>
#include <memory>
#include <utility>

namespace sipladder::drills::record {

namespace {

using content::Field;
using nlohmann::json;

constexpr long most_seats = 400;
constexpr long most_lines = 1000;

/// Reads a body with `read`, which notes what is wrong. @throws Refused with all of it
void read_body(const journal::Fact& fact, const std::function<void(const Field&)>& read) {
    std::vector<Problem> problems;
    const std::string where = "journal: " + fact.kind + " " + fact.id.text;
    const auto document = content::parse_json(fact.body, where, problems);
    if (document) read(Field(*document, where, problems));
    if (!problems.empty()) throw Refused(problems);
}

Uuid read_id(const Field& field) {
    Uuid id{field.text()};
    if (!is_uuid(id.text)) field.note("is no id", "an id of 36 characters");
    return id;
}

std::size_t read_index(const Field& field, long most) {
    return static_cast<std::size_t>(field.integer(0, most));
}

std::string name_of(std::optional<threshold::Certainty> certainty) {
    if (!certainty) return "";
    switch (*certainty) {
        case threshold::Certainty::guessed:
            return "guessed";
        case threshold::Certainty::leaning:
            return "leaning";
        case threshold::Certainty::sure:
            return "sure";
    }
    return "";
}

std::optional<threshold::Certainty> read_certainty(const Field& field) {
    const std::string name = field.one_of({"", "guessed", "leaning", "sure"});
    if (name.empty()) return std::nullopt;
    return name == "guessed"   ? threshold::Certainty::guessed
           : name == "leaning" ? threshold::Certainty::leaning
                               : threshold::Certainty::sure;
}

bool is_in(const classroom::Cell& cell, const classroom::Service& service) {
    return cell.seat < service.seats.size() && cell.drill < service.plan.drills.size() &&
           cell.serving < service.seats[cell.seat].servings[cell.drill].size();
}

/// Whether every place picked is there to be picked.
bool fits(const classroom::BallotAnswer& answer, const classroom::Service& service) {
    const classroom::ClassDrill& drill = service.plan.drills[answer.drill];
    const bool by_code =
        drill.task == classroom::Task::which_of_three || drill.task == classroom::Task::ranking;
    const std::size_t cups = service.seats[answer.seat].servings[answer.drill][answer.serving].cups.size();
    for (const std::size_t picked : answer.picked)
        if (picked >= (by_code ? cups : drill.choices.size())) return false;
    return !answer.picked.empty();
}

}  // namespace

std::string body_of(const ClassMember& member) {
    return json{{"class", member.of_class.text},
                {"agrees", member.agrees},
                {"no_ethanol", member.no_ethanol},
                {"is_listed", member.is_listed}}
        .dump();
}

ClassMember read_class_member(const journal::Fact& fact) {
    ClassMember member;
    read_body(fact, [&](const Field& root) {
        root.only({"class", "agrees", "no_ethanol", "is_listed"});
        member = {read_id(root.at("class")), root.at("agrees").boolean(), root.at("no_ethanol").boolean(),
                  root.at("is_listed").boolean()};
    });
    return member;
}

classroom::ClassChoice read_class_choice(const journal::Fact& fact, const content::Content& content) {
    classroom::ClassChoice choice;
    read_body(fact, [&](const Field& root) { choice = classroom::read_class(root, content); });
    return choice;
}

std::string body_of(const KeptClass& kept) {
    const auto without_names = [](classroom::ClassChoice choice) {
        choice.names.clear();
        return json::parse(classroom::class_json(choice));
    };
    json members = json::array();
    for (const Uuid& member : kept.members) members.push_back(member.text);
    return json{{"seed", std::to_string(kept.seed.value)},
                {"chosen", without_names(kept.chosen)},
                {"bottled", without_names(kept.bottled)},
                {"members", members}}
        .dump();
}

KeptClass read_kept_class(const journal::Fact& fact, const content::Content& content) {
    KeptClass kept;
    read_body(fact, [&](const Field& root) {
        root.only({"seed", "chosen", "bottled", "members"});
        kept.seed = read_seed(root.at("seed"));
        kept.chosen = classroom::read_class(root.at("chosen"), content);
        kept.bottled = classroom::read_class(root.at("bottled"), content);
        for (const Field& member : root.at("members").each(0)) kept.members.push_back(read_id(member));
        if (kept.members.size() != kept.bottled.people)
            root.at("members").note("are " + std::to_string(kept.members.size()),
                                    "one for each of " + std::to_string(kept.bottled.people) + " seats");
    });
    return kept;
}

std::string body_of(const SeatTaken& taken) {
    return json{{"kept", taken.kept.text}, {"seat", taken.seat}, {"came", taken.came}}.dump();
}

SeatTaken read_seat_taken(const journal::Fact& fact) {
    SeatTaken taken;
    read_body(fact, [&](const Field& root) {
        root.only({"kept", "seat", "came"});
        taken = {read_id(root.at("kept")), read_index(root.at("seat"), most_seats - 1),
                 root.at("came").boolean()};
    });
    return taken;
}

std::string body_of(const BallotLine& line, const classroom::Service& service) {
    json body{{"kept", line.kept.text},
              {"pass", line.pass == classroom::Pass::first ? "first" : "second"},
              {"seat", line.cell.seat},
              {"drill", line.cell.drill},
              {"line", line.cell.serving}};
    if (line.answer) {
        body["picked"] = line.answer->picked;
        body["certainty"] = name_of(line.answer->certainty);
        body["says"] = classroom::answer_words(*line.answer, service);
    }
    return body.dump();
}

Uuid kept_of_ballot(const journal::Fact& fact) {
    Uuid kept;
    read_body(fact, [&](const Field& root) { kept = read_id(root.at("kept")); });
    return kept;
}

BallotLine read_ballot_line(const journal::Fact& fact, const classroom::Service& service) {
    BallotLine line;
    read_body(fact, [&](const Field& root) {
        root.only({"kept", "pass", "seat", "drill", "line", "picked", "certainty", "says"});
        line.kept = read_id(root.at("kept"));
        line.pass = root.at("pass").one_of({"first", "second"}) == "first" ? classroom::Pass::first
                                                                           : classroom::Pass::second;
        line.cell = {read_index(root.at("seat"), most_seats - 1), read_index(root.at("drill"), most_lines),
                     read_index(root.at("line"), most_lines)};
        if (!is_in(line.cell, service))
            return root.note("is of no line of this class", "a line that was served");
        const Field picked = root.at("picked");
        if (!picked.is_there()) return;
        classroom::BallotAnswer answer{line.cell.seat, line.cell.drill, line.cell.serving, {}, std::nullopt};
        for (const Field& one : picked.each()) answer.picked.push_back(read_index(one, most_lines));
        answer.certainty = read_certainty(root.at("certainty"));
        if (!fits(answer, service))
            picked.note("picks what was not there", "places or choices of this line");
        else if (root.at("says").text() != classroom::answer_words(answer, service))
            root.at("says").note("is not what this program would have printed there",
                                 "the program that the class was served by");
        else
            line.answer = std::move(answer);
    });
    return line;
}

}  // namespace sipladder::drills::record

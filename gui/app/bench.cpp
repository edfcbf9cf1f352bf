#include "gui/app/bench.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>

namespace sipladder::gui {

namespace {

using drills::record::DraftStep;
using drills::record::MixDraft;

constexpr std::array<std::pair<Rungs, const char*>, 8> rung_names{
    {{Rungs::six_of_three, "six_of_three"},
     {Rungs::eight_of_two, "eight_of_two"},
     {Rungs::around_mine, "around_mine"},
     {Rungs::from_end_to_end, "from_end_to_end"},
     {Rungs::own, "own"},
     {Rungs::pedestal, "pedestal"},
     {Rungs::written, "written"},
     {Rungs::kept, "kept"}}};

constexpr std::array<std::pair<Pours, const char*>, 3> pours_names{
    {{Pours::alone, "alone"}, {Pours::helper, "helper"}, {Pours::as_written, "as_written"}}};

/// The fields that are texts already.
constexpr std::array<std::pair<const char*, std::string Setup::*>, 18> text_fields{
    {{"drill", &Setup::drill},
     {"programme", &Setup::programme},
     {"ladder", &Setup::ladder},
     {"substance", &Setup::substance},
     {"ingredient", &Setup::ingredient},
     {"strength", &Setup::strength},
     {"strength_within", &Setup::strength_within},
     {"base", &Setup::base},
     {"base_of_its_own", &Setup::base_of_its_own},
     {"bicarbonate_mg_per_L", &Setup::bicarbonate},
     {"kitchen", &Setup::kitchen},
     {"kitchen_file", &Setup::kitchen_file},
     {"own_rungs", &Setup::own_rungs},
     {"lowest", &Setup::lowest},
     {"ratio", &Setup::ratio},
     {"count", &Setup::count},
     {"cup_mL", &Setup::cup_mL},
     {"people", &Setup::people}}};

}  // namespace

Setup shared_from(Setup own, const Setup& common) {
    own.drill = common.drill;
    own.programme = common.programme;
    own.base = own.base_of_its_own.empty() ? common.base : own.base_of_its_own;
    own.bicarbonate = common.bicarbonate;
    own.kitchen = common.kitchen;
    own.kitchen_file = common.kitchen_file;
    own.pours = common.pours;
    own.presentations = common.presentations;
    own.cup_mL = common.cup_mL;
    own.people = common.people;
    return own;
}

std::map<std::string, std::string> form_of(const Setup& setup) {
    std::map<std::string, std::string> form;
    for (const auto& [name, field] : text_fields) form[name] = setup.*field;
    for (const auto& [rungs, name] : rung_names)
        if (rungs == setup.rungs) form["rungs"] = name;
    for (const auto& [pours, name] : pours_names)
        if (pours == setup.pours) form["pours"] = name;
    form["presentations"] = std::to_string(setup.presentations);
    return form;
}

Setup setup_from(const std::map<std::string, std::string>& form, Setup otherwise) {
    const auto text = [&](const char* name) -> const std::string* {
        const auto found = form.find(name);
        return found == form.end() ? nullptr : &found->second;
    };
    for (const auto& [name, field] : text_fields)
        if (const std::string* value = text(name)) otherwise.*field = *value;
    for (const auto& [rungs, name] : rung_names)
        if (const std::string* value = text("rungs"); value != nullptr && *value == name)
            otherwise.rungs = rungs;
    for (const auto& [pours, name] : pours_names)
        if (const std::string* value = text("pours"); value != nullptr && *value == name)
            otherwise.pours = pours;
    if (const std::string* value = text("presentations")) {
        std::size_t count = 0;
        const auto read = std::from_chars(value->data(), value->data() + value->size(), count);
        if (read.ec == std::errc{} && count >= 1 && count <= 100) otherwise.presentations = count;
    }
    return otherwise;
}

const solution::PlanRequest* request_in(const Bench& bench) {
    if (bench.job) return &bench.job->request;
    return bench.plan ? &bench.plan->request : nullptr;
}

MixDraft draft_of(const Bench& bench) {
    MixDraft draft;
    draft.form = form_of(bench.setup);
    // What could not be taken up yet is not lost by writing anew.
    if (bench.waiting) {
        draft.steps = bench.waiting->steps;
        draft.checks = bench.waiting->checks;
    }
    if (!bench.plan) return draft;
    for (const auto& [number, note] : bench.notes.steps)
        draft.steps.push_back({.number = number,
                               .text = bench.plan->steps.at(number).text,
                               .ticked = note.ticked,
                               .reading = note.reading,
                               .fate = note.fate == Fate::skipped   ? "skipped"
                                       : note.fate == Fate::spilled ? "spilled"
                                                                    : "",
                               .left = note.left});
    for (const auto& [check, read] : bench.notes.checks) draft.checks[check] = read;
    return draft;
}

}  // namespace sipladder::gui

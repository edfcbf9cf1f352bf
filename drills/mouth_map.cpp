#include "drills/mouth_map.hpp"

#include "drills/beforehand.hpp"
#include "drills/recognition.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <set>

namespace sipladder::drills {

namespace {

void check(const Plan& plan, Problems& problems) {
    beforehand::check(plan, problems);
    problems.want(line_count(plan) <= 6, "substances", "are " + std::to_string(line_count(plan)), "1 to 6");
    const std::set<std::string> different(plan.words.begin(), plan.words.end());
    problems.want(plan.words.size() >= 2 && plan.words.size() <= 30 &&
                      different.size() == plan.words.size() && !different.contains(""),
                  "feelings", "are " + std::to_string(plan.words.size()) + ", or some of them alike",
                  "2 to 30 different ones, the first for nothing felt");
}

Question question(const Plan& plan) {
    Question asked{.text = "Where do you feel it, and what kind of feeling is it?", .choices = plan.words};
    asked.mark = MarkLine{"How strong is it?", "nothing", "as strong as anything you can think of"};
    asked.places = mouth_map::place_names();
    asked.first_is_nothing = true;
    return asked;
}

/// "tongue tip 5 of 6, palate 2 of 6".
std::string places_text(const mouth_map::Of& of) {
    constexpr double worth_telling = 0.3;
    const std::vector<std::string> names = mouth_map::place_names();
    std::vector<std::size_t> order;
    for (std::size_t place = 0; place < of.places.size(); ++place)
        if (of.places[place].value >= worth_telling) order.push_back(place);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return of.places[a].value > of.places[b].value; });
    std::string text;
    for (const std::size_t place : order)
        text += (text.empty() ? "" : ", ") + names[place] + " " +
                fixed(of.places[place].value * static_cast<double>(of.cups), 0) + " of " +
                std::to_string(of.cups);
    return text.empty() ? "nowhere in particular" : text;
}

Finding found(const State& drill) {
    Finding finding;
    if (beforehand::done(drill).empty()) return finding;
    const mouth_map::Result result = mouth_map::result(drill);
    for (const mouth_map::Of& of : result.of) {
        if (of.cups == 0) continue;
        finding.sentences.push_back(mouth_map::words_for(drill.plan, of));
        if (of.two_alike)
            finding.measures.push_back({of.name + ", two cups alike about a place", of.two_alike->value,
                                        of.two_alike->lower, of.two_alike->upper, ""});
    }
    if (result.alpha)
        finding.sentences.push_back("Your map repeats with an agreement of " + fixed(*result.alpha, 2) +
                                    " (0: as if by lot, 1: always the same).");
    finding.sentences.emplace_back(
        "The old picture of one taste for each zone of the tongue is not how people are built: wherever "
        "there "
        "is taste at all, there is every taste. This map is of you and of these cups.");
    return finding;
}

}  // namespace

const Rules& mouth_map_rules() {
    static constexpr Rules rules{.name = "mouth_map",
                                 .cups_together = 1,
                                 .has_blanks = true,
                                 .is_fixed = true,
                                 .knows_first = false,
                                 .check = check,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace mouth_map {

std::vector<std::string> place_names() {
    return {"lips",
            "teeth",
            "gums",
            "tongue tip",
            "sides of the tongue",
            "middle of the tongue",
            "back of the tongue",
            "cheeks",
            "palate",
            "throat"};
}

std::vector<std::string> usual_feelings() {
    return {"nothing",          "sweet",           "sour",      "bitter",        "salty",
            "rough and drying", "warm or burning", "prickling", "thick or oily", "other"};
}

perception::PlacePrior assumed_places() {
    return {};
}

std::string words_for(const Plan& plan, const Of& of) {
    const auto most = static_cast<std::size_t>(std::max_element(of.feelings.begin(), of.feelings.end()) -
                                               of.feelings.begin());
    return of.name + ": " + places_text(of) + "; mostly \"" + plan.words[most] + "\", " +
           significant(*of.mean_mark, 2) + " of 100 on average.";
}

Result result(const State& drill) {
    constexpr std::uint64_t alike_use = 60'006;  // away from the uses of drills
    const Plan& plan = drill.plan;
    const std::size_t lines = line_count(plan);
    const std::size_t places = place_names().size();
    std::vector<std::vector<const Answer*>> answers(lines + 1);
    const std::vector<Trial> trials = beforehand::done(drill);
    for (const Trial& trial : trials) answers[trial.is_blank ? lines : trial.series].push_back(&*trial.given);
    Result result;
    std::size_t most_cups = 0;
    for (const auto& of : answers) most_cups = std::max(most_cups, of.size());
    std::vector<std::vector<std::optional<int>>> cups_by_units(
        most_cups, std::vector<std::optional<int>>((lines + 1) * places));
    for (std::size_t line = 0; line <= lines; ++line) {
        Of of{line < lines ? recognition::name_asked(plan, line) : "the base alone",
              answers[line].size(),
              {},
              std::vector<std::size_t>(plan.words.size(), 0),
              {},
              {}};
        std::vector<std::size_t> times(places, 0);
        double marks = 0.0;
        for (std::size_t cup = 0; cup < of.cups; ++cup) {
            const Answer& answer = *answers[line][cup];
            ++of.feelings[answer.choice];
            marks += *answer.mark;
            for (std::size_t place = 0; place < places; ++place)
                cups_by_units[cup][line * places + place] = 0;
            for (const std::size_t place : answer.places) {
                ++times[place];
                cups_by_units[cup][line * places + place] = 1;
            }
        }
        if (of.cups > 0) {
            of.mean_mark = marks / static_cast<double>(of.cups);
            std::vector<perception::Named> named;
            for (const std::size_t one : times) {
                of.places.push_back(threshold::exact_share(one, of.cups));
                named.push_back({one, of.cups});
            }
            of.two_alike =
                perception::two_alike(named, assumed_places(), derived(drill.seed, alike_use + line));
        }
        result.of.push_back(std::move(of));
    }
    const auto is_named = [](const Trial& trial) { return !trial.given->places.empty(); };
    if (most_cups > 1 && std::any_of(trials.begin(), trials.end(), is_named))
        result.alpha = perception::krippendorff_nominal(cups_by_units);
    return result;
}

}  // namespace mouth_map

}  // namespace sipladder::drills

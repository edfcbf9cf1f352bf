#include "tools/cli/class_json.hpp"

#include "engine/text.hpp"

#include <nlohmann/json.hpp>

#include <utility>
#include <variant>

namespace sipladder::cli {

namespace classroom = drills::classroom;

namespace {

Json estimate_json(const threshold::Estimate& found) {
    return {{"log10", found.log10},
            {"lower", found.lower_log10},
            {"upper", found.upper_log10},
            {"sd_log10", found.sd_log10}};
}

Json result_json(const classroom::ThresholdResult& result, const classroom::ClassDrill& drill) {
    if (result.seats.empty()) return {{"people", 0}};
    Json people = Json::array();
    for (std::size_t i = 0; i < result.seats.size(); ++i) {
        const panel::Person& person = result.pooled.people[i];
        Json one = estimate_json(person.shrunken);
        one["assessor"] = person.name;
        one["own_log10"] = person.own.log10;
        one["best_estimate_log10"] = result.best[i] ? Json(result.best[i]->log10) : Json(nullptr);
        people.push_back(std::move(one));
    }
    Json rungs = Json::array();
    for (const classroom::RungShare& rung : result.rungs)
        rungs.push_back({{"level", drill.samples[rung.sample].level},
                         {"presentations", rung.presentations},
                         {"correct", rung.correct},
                         {"p_value", rung.test.p_value}});
    return {{"people", result.seats.size()},
            {"unit", unit_text(drill.scale)},
            {"panel", estimate_json(result.pooled.mean)},
            {"best_estimate_log10", result.best_of_class ? Json(result.best_of_class->log10) : Json(nullptr)},
            {"differing", result.pooled.differing},
            {"assessors", people},
            {"rungs", rungs}};
}

Json result_json(const classroom::SinglesResult& result, const classroom::ClassDrill& /*drill*/) {
    Json found{{"counts", result.counts}};
    if (result.named) {
        found["right"] = result.named->right;
        found["answers"] = result.named->answers;
    }
    if (result.bits)
        found["bits"] = {
            {"value", result.bits->value}, {"lower", result.bits->lower}, {"upper", result.bits->upper}};
    Json distances = Json::array();
    for (const auto& distance : result.distances)
        if (distance.d_prime)
            distances.push_back({{"sample", distance.sample},
                                 {"d_prime", *distance.d_prime},
                                 {"standard_error", distance.standard_error}});
    if (!distances.empty()) found["distances"] = distances;
    return found;
}

Json result_json(const classroom::RankingResult& result, const classroom::ClassDrill& /*drill*/) {
    Json found{{"people", result.ranks.seats.size()}};
    if (!result.friedman) return found;
    found["friedman"] = {{"F", result.friedman->statistic}, {"p", result.friedman->p}};
    found["kendall_w"] = result.friedman->kendall_w;
    found["page"] = {{"L", result.page->statistic}, {"p", result.page->p}};
    return found;
}

}  // namespace

Json results_json(const classroom::ClassResults& results, const classroom::Service& service) {
    Json drills = Json::array();
    for (std::size_t i = 0; i < results.drills.size(); ++i) {
        const classroom::ClassDrill& drill = service.plan.drills[i];
        Json one =
            std::visit([&](const auto& result) { return result_json(result, drill); }, results.drills[i]);
        one["drill"] = drill.name;
        drills.push_back(std::move(one));
    }
    return drills;
}

}  // namespace sipladder::cli

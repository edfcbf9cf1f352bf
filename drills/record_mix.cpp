// A mix as kept: what was asked for in short, what the scale showed, and the ladder that came of it.

#include "drills/record.hpp"
#include "drills/record_body.hpp"
#include "drills/record_parts.hpp"
#include "engine/problem.hpp"
#include "engine/solution/recipe.hpp"

#include <nlohmann/json.hpp>

#include <utility>

namespace sipladder::drills::record {

using content::Field;
using nlohmann::json;

namespace {

constexpr const char* mix_schema = "sipladder-mix/1";

}  // namespace

std::string body_of_mix(const solution::MixPlan& plan, const solution::Readings& readings,
                        const solution::MixedLadder& mixed) {
    return body_of_mix(plan, solution::BenchRecord{readings, {}, {}}, mixed);
}

std::string body_of_mix(const solution::MixPlan& plan, const solution::BenchRecord& record,
                        const solution::MixedLadder& mixed) {
    json steps = json::array();
    for (std::size_t i = 0; i < plan.steps.size(); ++i) {
        const solution::Step& step = plan.steps[i];
        json row{{"text", step.text}, {"planned", step.reading}, {"unit", step.unit}};
        if (const auto showed = record.readings.find(i); showed != record.readings.end())
            row["showed"] = showed->second;
        if (record.skipped.contains(i)) row["skipped"] = true;
        if (const auto left = record.left.find(i); left != record.left.end()) row["left"] = left->second;
        steps.push_back(std::move(row));
    }
    const solution::PlanRequest& request = plan.request;
    return json{{"schema", mix_schema},
                {"substance", request.substance.id},
                {"ingredient",
                 {{"id", request.ingredient.id},
                  {"name", request.ingredient.name},
                  {"u_rel", solution::u_rel_of(request.ingredient)},
                  {"source", request.ingredient.source}}},
                {"base",
                 {{"id", request.base.id},
                  {"name", request.base.name},
                  {"bicarbonate_mg_per_L", request.base.bicarbonate_mg_per_L}}},
                {"equipment", {{"id", request.equipment.id}, {"name", request.equipment.name}}},
                {"wanted_u_rel", request.wanted_u_rel},
                {"cup_mL", request.demand.cup.value},
                {"presentations", request.demand.presentations},
                {"steps", std::move(steps)},
                {"ladder", json_of(mixed)}}
        .dump();
}

KeptMix read_mix(const journal::Fact& fact) {
    std::vector<Problem> problems;
    const Body body = parsed(fact.body, "journal mix " + fact.id.text, problems);
    if (!body.document) throw Refused(std::move(problems));
    const Field field(*body.document, body.name, problems);
    field.only({"schema", "substance", "ingredient", "base", "equipment", "wanted_u_rel", "cup_mL",
                "presentations", "steps", "ladder"});
    want_schema(field, mix_schema);
    KeptMix mix{fact.id,
                fact.at,
                read_ladder(field.at("ladder")),
                field.at("substance").id(),
                field.at("ingredient").at("name").text(),
                field.at("base").at("name").text(),
                field.at("equipment").at("name").text()};
    if (!problems.empty()) throw Refused(std::move(problems));
    return mix;
}

}  // namespace sipladder::drills::record

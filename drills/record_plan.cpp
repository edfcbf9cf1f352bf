// A drill's closed plan as the body of its row.

#include "drills/record.hpp"
#include "drills/record_body.hpp"
#include "drills/record_parts.hpp"

#include <nlohmann/json.hpp>

#include <utility>

namespace sipladder::drills::record {

using content::Field;
using nlohmann::json;

namespace {

/// What only some drills have; a plan without is written as ever.
void read_what_some_have(const Field& body, Plan& plan) {
    if (const Field order = body.at("order"); order.is_there()) plan.order = read_order(order);
    if (const Field strong = body.at("rest_strong_s"); strong.is_there())
        plan.rest_strong_s = static_cast<int>(strong.integer(0, 3600));
    if (const Field others = body.at("others"); others.is_there())
        for (const Field& other : others.each()) plan.others.push_back(read_line(other));
    if (const Field pedestal = body.at("pedestal"); pedestal.is_there()) plan.pedestal = read_level(pedestal);
    if (const Field seat = body.at("seat"); seat.is_there()) plan.seat = read_seat(seat);
    if (const Field words = body.at("words"); words.is_there()) plan.words = words.texts();
    if (const Field sensation = body.at("sensation"); sensation.is_there()) plan.sensation = sensation.text();
    if (const Field seconds = body.at("most_seconds"); seconds.is_there())
        plan.most_seconds = static_cast<int>(seconds.integer(1, 600));
    if (const Field codes = body.at("codes_before"); codes.is_there())
        for (std::string& digits : codes.texts(1)) plan.codes_before.push_back({std::move(digits)});
}

void put_what_some_have(json& body, const Plan& plan) {
    if (plan.order != Order::adaptive) body["order"] = text_of(plan.order);
    if (plan.rest_strong_s != 0) body["rest_strong_s"] = plan.rest_strong_s;
    for (const Line& other : plan.others) body["others"].push_back(json_of(other));
    if (plan.pedestal) body["pedestal"] = json_of(*plan.pedestal);
    if (plan.seat) body["seat"] = json_of(*plan.seat);
    if (!plan.words.empty()) body["words"] = plan.words;
    if (!plan.sensation.empty()) body["sensation"] = plan.sensation;
    if (plan.kind == Kind::persistence) body["most_seconds"] = plan.most_seconds;
    for (const BlindCode& code : plan.codes_before) body["codes_before"].push_back(code.digits);
}

}  // namespace

Plan read_plan(const Field& body) {
    body.only({"schema",
               "seed",
               "rule_version",
               "substance",
               "base_name",
               "ladder",
               "prior",
               "blinding",
               "cup_mL",
               "spat",
               "most_presentations",
               "stop_sd_log10",
               "most_minutes",
               "rest_s",
               "caps",
               "blank",
               "taken_this_sitting",
               "taken_today",
               "order",
               "rest_strong_s",
               "others",
               "pedestal",
               "seat",
               "words",
               "sensation",
               "most_seconds",
               "codes_before"});
    Plan plan;
    plan.kind = read_kind(body);
    plan.substance = read_substance(body.at("substance"));
    plan.base_name = body.at("base_name").text();
    plan.ladder = read_ladder(body.at("ladder"));
    plan.prior = read_prior(body.at("prior"));
    plan.blinding = read_blinding(body.at("blinding"));
    plan.cup = Millilitres{body.at("cup_mL").number(0.0, 1000.0)};
    plan.spat = body.at("spat").boolean();
    plan.most_presentations = static_cast<std::size_t>(body.at("most_presentations").integer(1, 1000));
    plan.stop_sd_log10 = body.at("stop_sd_log10").number(0.0, 100.0);
    if (const Field minutes = body.at("most_minutes"); minutes.is_there())
        plan.most_minutes = static_cast<int>(minutes.integer(0, 2880));
    plan.rest_s = static_cast<int>(body.at("rest_s").integer(0, 3600));
    for (const Field& cap : body.at("caps").each(0)) plan.caps.push_back(read_cap(cap));
    // Rows of older versions have none: their bases held nothing.
    if (const Field blank = body.at("blank"); blank.is_there()) plan.blank = read_intake(blank);
    plan.taken_this_sitting = read_intake(body.at("taken_this_sitting"));
    plan.taken_today = read_intake(body.at("taken_today"));
    plan.rule_version = static_cast<int>(body.at("rule_version").integer(1, 1000));
    read_what_some_have(body, plan);
    return plan;
}

std::string body_of(const Plan& plan, Seed seed) {
    json caps = json::array();
    for (const safety::Cap& cap : plan.caps) caps.push_back(json_of(cap));
    json body{{"schema", schema_of(plan.kind)},
              {"seed", std::to_string(seed.value)},
              {"rule_version", plan.rule_version},
              {"substance", json_of(plan.substance)},
              {"base_name", plan.base_name},
              {"ladder", json_of(plan.ladder)},
              {"prior", json_of(plan.prior)},
              {"blinding", text_of(plan.blinding)},
              {"cup_mL", plan.cup.value},
              {"spat", plan.spat},
              {"most_presentations", plan.most_presentations},
              {"stop_sd_log10", plan.stop_sd_log10},
              {"most_minutes", plan.most_minutes},
              {"rest_s", plan.rest_s},
              {"caps", std::move(caps)},
              {"blank", json_of(plan.blank)},
              {"taken_this_sitting", json_of(plan.taken_this_sitting)},
              {"taken_today", json_of(plan.taken_today)}};
    put_what_some_have(body, plan);
    return body.dump();
}

}  // namespace sipladder::drills::record

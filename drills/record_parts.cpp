// Every enum has its words once, in the order of its values. A text that may be empty is left out where it
// is.

#include "drills/record_parts.hpp"

#include "engine/journal/instant_range.hpp"

#include <nlohmann/json.hpp>

#include <charconv>
#include <initializer_list>
#include <limits>
#include <string_view>
#include <system_error>

namespace sipladder::drills::record {

namespace {

using content::Field;
using nlohmann::json;

constexpr double any = std::numeric_limits<double>::max();
constexpr double tiny = std::numeric_limits<double>::denorm_min();

using Words = std::initializer_list<std::string_view>;
const Words components{"sweet", "sour", "alcohol", "astringent", "bitter", "salty", "weight"};
const Words counted_as{"component", "glycerol", "thickener"};
const Words density_models{"sucrose", "ethanol", "apparent_volume"};
const Words scales{"g_per_L", "pct_vol"};
const Words prior_kinds{"assumed", "normal", "flat"};
const Words blindings{"served", "shuffled_tray", "sealed_key", "class_service"};
const Words orders{"adaptive", "ascending"};
const Words noses{"open", "closed"};
const Words signs{"ring", "cross", "dot"};
const Words certainties{"guessed", "leaning", "sure"};

template <class Enum>
std::string word(Words words, Enum value) {
    const auto index = static_cast<std::size_t>(value);
    SIPLADDER_EXPECT(index < words.size());
    return std::string(words.begin()[index]);
}

template <class Enum>
Enum read_word(const Field& field, Words words) {
    const std::string found = field.one_of(words);
    std::size_t index = 0;
    while (index + 1 < words.size() && words.begin()[index] != found) ++index;
    return static_cast<Enum>(index);
}

void put_text(json& object, const char* key, const std::string& text) {
    if (!text.empty()) object[key] = text;
}
std::string text_if_there(const Field& field) {
    return field.is_there() ? field.text() : std::string();
}

}  // namespace

json json_of(const solution::Substance& substance) {
    json object{{"id", substance.id},
                {"name", substance.name},
                {"asked_for", substance.asked_for},
                {"component", word(components, substance.component)},
                {"scale", word(scales, substance.scale)},
                {"molar_mass_g_per_mol", substance.molar_mass.value},
                {"solubility_g_per_L", substance.solubility.value},
                {"apparent_volume_mL_per_g", substance.apparent_volume_mL_per_g},
                {"density_model", word(density_models, substance.density_model)},
                {"strongest_cup", substance.strongest_cup},
                {"strongest_stock", substance.strongest_stock},
                {"rest_s", substance.rest_s},
                {"closed_nose", substance.closed_nose},
                {"prior", {{"centre", substance.prior.centre}, {"sd_log10", substance.prior.sd_log10}}}};
    if (substance.rest_strong_s != 0) object["rest_strong_s"] = substance.rest_strong_s;
    if (substance.counts_as != solution::CountsAs::component)
        object["counts_as"] = word(counted_as, substance.counts_as);
    put_text(object["prior"], "why", substance.prior.why);
    put_text(object["prior"], "source", substance.prior.source);
    put_text(object, "note", substance.note);
    return object;
}

solution::Substance read_substance(const Field& field) {
    field.only({"id", "name", "asked_for", "component", "scale", "molar_mass_g_per_mol", "solubility_g_per_L",
                "apparent_volume_mL_per_g", "density_model", "strongest_cup", "strongest_stock", "counts_as",
                "rest_s", "rest_strong_s", "closed_nose", "prior", "note"});
    solution::Substance substance;
    substance.id = field.at("id").id();
    substance.name = field.at("name").text();
    substance.asked_for = field.at("asked_for").text();
    substance.component = read_word<solution::Component>(field.at("component"), components);
    substance.scale = read_word<Scale>(field.at("scale"), scales);
    substance.molar_mass = GramsPerMole{field.at("molar_mass_g_per_mol").number(0.0, any)};
    substance.solubility = GramsPerLitre{field.at("solubility_g_per_L").number(0.0, any)};
    substance.apparent_volume_mL_per_g = field.at("apparent_volume_mL_per_g").number(-any, any);
    substance.density_model = read_word<solution::DensityModel>(field.at("density_model"), density_models);
    substance.strongest_cup = field.at("strongest_cup").number(0.0, any);
    substance.strongest_stock = field.at("strongest_stock").number(0.0, any);
    if (const Field counts = field.at("counts_as"); counts.is_there())
        substance.counts_as = read_word<solution::CountsAs>(counts, counted_as);
    substance.rest_s = static_cast<int>(field.at("rest_s").integer(0, 3600));
    if (const Field strong = field.at("rest_strong_s"); strong.is_there())
        substance.rest_strong_s = static_cast<int>(strong.integer(0, 3600));
    substance.closed_nose = field.at("closed_nose").boolean();
    const Field prior = field.at("prior");
    prior.only({"centre", "sd_log10", "why", "source"});
    substance.prior = {prior.at("centre").number(0.0, any), prior.at("sd_log10").number(0.0, any),
                       text_if_there(prior.at("why")), text_if_there(prior.at("source"))};
    substance.note = text_if_there(field.at("note"));
    return substance;
}

json json_of(const solution::MixedLevel& level) {
    return {{"target", level.target},       {"mixed", level.mixed},
            {"u_own_rel", level.u_own_rel}, {"u_shared_rel", level.u_shared_rel},
            {"bottle", level.bottle},       {"portions", level.portions}};
}

solution::MixedLevel read_level(const Field& field) {
    field.only({"target", "mixed", "u_own_rel", "u_shared_rel", "bottle", "portions"});
    return {field.at("target").number(tiny, any),
            field.at("mixed").number(tiny, any),
            field.at("u_own_rel").number(0.0, any),
            field.at("u_shared_rel").number(0.0, any),
            field.at("bottle").text(),
            static_cast<int>(field.at("portions").integer(0, 100'000))};
}

json json_of(const solution::MixedLadder& ladder) {
    json levels = json::array();
    for (const solution::MixedLevel& level : ladder.levels) levels.push_back(json_of(level));
    return {{"substance", ladder.substance},
            {"base", ladder.base},
            {"scale", word(scales, ladder.scale)},
            {"levels", std::move(levels)}};
}

solution::MixedLadder read_ladder(const Field& field) {
    field.only({"substance", "base", "scale", "levels"});
    solution::MixedLadder ladder;
    ladder.substance = field.at("substance").id();
    ladder.base = field.at("base").text();
    ladder.scale = read_word<Scale>(field.at("scale"), scales);
    for (const Field& level : field.at("levels").each()) ladder.levels.push_back(read_level(level));
    return ladder;
}

json json_of(const threshold::Prior& prior) {
    json lapses = json::array();
    for (const auto& node : prior.lapses) lapses.push_back({{"lapse", node.lapse}, {"weight", node.weight}});
    json object{{"kind", word(prior_kinds, prior.kind)},
                {"mean_log10", prior.mean_log10},
                {"sd_log10", prior.sd_log10},
                {"lower_log10", prior.lower_log10},
                {"upper_log10", prior.upper_log10},
                {"width_ln_mean", prior.width_ln_mean},
                {"width_ln_sd", prior.width_ln_sd},
                {"width_lower", prior.width_lower},
                {"width_upper", prior.width_upper},
                {"lapses", std::move(lapses)}};
    put_text(object, "name", prior.name);
    return object;
}

threshold::Prior read_prior(const Field& field) {
    field.only({"kind", "name", "mean_log10", "sd_log10", "lower_log10", "upper_log10", "width_ln_mean",
                "width_ln_sd", "width_lower", "width_upper", "lapses"});
    threshold::Prior prior;
    prior.kind = read_word<threshold::Prior::Kind>(field.at("kind"), prior_kinds);
    prior.name = text_if_there(field.at("name"));
    prior.mean_log10 = field.at("mean_log10").number(-any, any);
    prior.sd_log10 = field.at("sd_log10").number(0.0, any);
    prior.lower_log10 = field.at("lower_log10").number(-any, any);
    prior.upper_log10 = field.at("upper_log10").number(-any, any);
    prior.width_ln_mean = field.at("width_ln_mean").number(-any, any);
    prior.width_ln_sd = field.at("width_ln_sd").number(0.0, any);
    prior.width_lower = field.at("width_lower").number(0.0, any);
    prior.width_upper = field.at("width_upper").number(0.0, any);
    prior.lapses.clear();
    for (const Field& node : field.at("lapses").each()) {
        node.only({"lapse", "weight"});
        prior.lapses.push_back({node.at("lapse").number(0.0, 1.0), node.at("weight").number(0.0, any)});
    }
    return prior;
}

json json_of(const safety::Cap& cap) {
    json object{{"what", cap.what}, {"per_sitting", cap.per_sitting}, {"per_day", cap.per_day}};
    put_text(object, "source", cap.source);
    put_text(object, "why", cap.why);
    return object;
}

safety::Cap read_cap(const Field& field) {
    field.only({"what", "per_sitting", "per_day", "source", "why"});
    safety::Cap cap;
    cap.what = field.at("what").text();
    cap.per_sitting = field.at("per_sitting").number(0.0, any);
    cap.per_day = field.at("per_day").number(0.0, any);
    cap.source = text_if_there(field.at("source"));
    cap.why = text_if_there(field.at("why"));
    return cap;
}

json json_of(const safety::Intake& intake) {
    return {{"ethanol_g", intake.ethanol.value},    {"sugar_g", intake.sugar.value},
            {"acid_g", intake.acid.value},          {"acid_cups", intake.acid_cups},
            {"caffeine_mg", intake.caffeine.value}, {"salt_g", intake.salt.value},
            {"tannin_g", intake.tannin.value},      {"glycerol_g", intake.glycerol.value},
            {"thickener_g", intake.thickener.value}};
}

safety::Intake read_intake(const Field& field) {
    field.only({"ethanol_g", "sugar_g", "acid_g", "acid_cups", "caffeine_mg", "salt_g", "tannin_g",
                "glycerol_g", "thickener_g"});
    safety::Intake intake;
    intake.ethanol = Grams{field.at("ethanol_g").number(0.0, any)};
    intake.sugar = Grams{field.at("sugar_g").number(0.0, any)};
    intake.acid = Grams{field.at("acid_g").number(0.0, any)};
    intake.acid_cups = field.at("acid_cups").number(0.0, any);
    intake.caffeine = Milligrams{field.at("caffeine_mg").number(0.0, any)};
    intake.salt = Grams{field.at("salt_g").number(0.0, any)};
    intake.tannin = Grams{field.at("tannin_g").number(0.0, any)};
    // Rows of older versions know neither.
    if (const Field one = field.at("glycerol_g"); one.is_there())
        intake.glycerol = Grams{one.number(0.0, any)};
    if (const Field one = field.at("thickener_g"); one.is_there())
        intake.thickener = Grams{one.number(0.0, any)};
    return intake;
}

json json_of(const Instant& instant) {
    return {{"utc_ms", instant.utc_ms},
            {"offset_min", instant.offset_min},
            {"monotonic_ms", instant.monotonic_ms}};
}

Instant read_instant(const Field& field) {
    field.only({"utc_ms", "offset_min", "monotonic_ms"});
    return {
        field.at("utc_ms").integer(journal::earliest_utc_ms, journal::latest_utc_ms),
        static_cast<int>(field.at("offset_min").integer(-journal::most_offset_min, journal::most_offset_min)),
        field.at("monotonic_ms").integer(-journal::most_monotonic_ms, journal::most_monotonic_ms)};
}

json json_of(const Presentation& shown) {
    json object = json::object();
    put_text(object, "letter", shown.letter);
    for (const BlindCode& code : shown.codes) object["codes"].push_back(code.digits);
    put_text(object, "bottle", shown.bottle);
    if (shown.sign) object["sign"] = word(signs, *shown.sign);
    if (shown.nose) object["nose"] = word(noses, *shown.nose);
    return object;
}

Presentation read_presentation(const Field& field) {
    field.only({"letter", "codes", "bottle", "sign", "nose"});
    Presentation shown;
    shown.letter = text_if_there(field.at("letter"));
    if (field.at("codes").is_there())
        for (std::string& digits : field.at("codes").texts(1)) shown.codes.push_back({std::move(digits)});
    shown.bottle = text_if_there(field.at("bottle"));
    if (field.at("sign").is_there()) shown.sign = read_word<Sign>(field.at("sign"), signs);
    if (field.at("nose").is_there()) shown.nose = read_word<Nose>(field.at("nose"), noses);
    return shown;
}

json json_of(const Held& held) {
    if (held.is_blank) return {{"blank", true}};
    json object{{"level", held.level}};
    if (held.series != 0) object["series"] = held.series;
    return object;
}
Held read_held(const Field& field) {
    field.only({"level", "series", "blank"});
    Held held;
    if (const Field blank = field.at("blank"); blank.is_there()) held.is_blank = blank.boolean();
    if (held.is_blank) return held;
    held.level = static_cast<std::size_t>(field.at("level").integer(0, 1000));
    if (const Field series = field.at("series"); series.is_there())
        held.series = static_cast<std::size_t>(series.integer(0, 1000));
    return held;
}

json json_of(const Answer& answer, bool about_places) {
    json object{{about_places ? "place" : "choice", answer.choice},
                {"certainty", word(certainties, answer.certainty)},
                {"at", json_of(answer.at)}};
    // What only some drills ask for; an answer without is written as ever.
    if (!answer.order.empty()) object["order"] = answer.order;
    if (answer.mark) object["mark"] = *answer.mark;
    if (!answer.places.empty()) object["places"] = answer.places;
    if (answer.seconds) object["seconds"] = *answer.seconds;
    if (!answer.words.empty()) object["words"] = answer.words;
    return object;
}

Answer read_answer(const Field& field, std::size_t choices) {
    field.only({"place", "choice", "certainty", "at", "order", "mark", "places", "seconds", "words"});
    const Field choice = field.at(field.at("choice").is_there() ? "choice" : "place");
    Answer answer{static_cast<std::size_t>(choice.integer(0, static_cast<long>(choices) - 1)),
                  read_word<Certainty>(field.at("certainty"), certainties), read_instant(field.at("at"))};
    const auto indices = [&](const char* key, std::vector<std::size_t>& into) {
        if (const Field list = field.at(key); list.is_there())
            for (const Field& one : list.each())
                into.push_back(static_cast<std::size_t>(one.integer(0, 1000)));
    };
    const auto number = [&](const char* key, std::optional<double>& into) {
        if (const Field one = field.at(key); one.is_there()) into = one.number(0.0, any);
    };
    indices("order", answer.order);
    indices("places", answer.places);
    indices("words", answer.words);
    number("mark", answer.mark);
    number("seconds", answer.seconds);
    return answer;
}

json json_of(const Line& line) {
    json object{{"substance", json_of(line.substance)},
                {"ladder", json_of(line.ladder)},
                {"prior", json_of(line.prior)}};
    put_text(object, "condition", line.condition);
    if (!line.condition.empty()) object["beside"] = json_of(line.beside);
    if (line.same_bottles) object["same_bottles"] = true;
    return object;
}
Line read_line(const Field& field) {
    field.only({"substance", "ladder", "prior", "condition", "beside", "same_bottles"});
    Line line{read_substance(field.at("substance")), read_ladder(field.at("ladder")),
              read_prior(field.at("prior"))};
    line.condition = text_if_there(field.at("condition"));
    if (const Field beside = field.at("beside"); beside.is_there()) line.beside = read_intake(beside);
    if (const Field same = field.at("same_bottles"); same.is_there()) line.same_bottles = same.boolean();
    return line;
}

json json_of(const Seat& seat) {
    json settings = json::array();
    for (const Setting& setting : seat.settings) {
        json codes = json::array();
        for (const BlindCode& code : setting.codes) codes.push_back(code.digits);
        settings.push_back({{"place", setting.place}, {"codes", std::move(codes)}});
        for (const Held& held : setting.held) settings.back()["held"].push_back(json_of(held));
    }
    return {{"number", seat.number}, {"settings", std::move(settings)}};
}
Seat read_seat(const Field& field) {
    field.only({"number", "settings"});
    constexpr long most = 1000;
    Seat seat{static_cast<std::size_t>(field.at("number").integer(0, most)), {}};
    for (const Field& one : field.at("settings").each()) {
        one.only({"place", "codes", "held"});
        Setting setting{static_cast<std::size_t>(one.at("place").integer(0, most)), {}};
        for (std::string& digits : one.at("codes").texts()) setting.codes.push_back({std::move(digits)});
        if (const Field held = one.at("held"); held.is_there())
            for (const Field& cup : held.each()) setting.held.push_back(read_held(cup));
        seat.settings.push_back(std::move(setting));
    }
    return seat;
}

Seed read_seed(const Field& field) {
    const std::string digits = field.text();
    Seed seed;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), seed.value);
    if (!digits.empty() && (error != std::errc{} || end != digits.data() + digits.size()))
        field.note("is \"" + digits + "\"", "a whole number up to 2^64 - 1, as text, is wanted");
    return seed;
}

std::string text_of(Order order) {
    return word(orders, order);
}
Order read_order(const Field& field) {
    return read_word<Order>(field, orders);
}

std::string text_of(Blinding blinding) {
    return word(blindings, blinding);
}
Blinding read_blinding(const Field& field) {
    return read_word<Blinding>(field, blindings);
}

}  // namespace sipladder::drills::record

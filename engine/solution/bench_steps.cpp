#include "engine/solution/bench_steps.hpp"

#include "engine/problem.hpp"
#include "engine/solution/base_steps.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::solution {

namespace {

/// Decimals that a display or scale with this step has.
int decimals_of(double step) {
    int decimals = 0;
    for (double scaled = step; decimals < 6 && std::abs(scaled - std::round(scaled)) > 1e-6; scaled *= 10.0)
        ++decimals;
    return decimals;
}

std::string id_of(const Equipment& equipment, const Instrument& instrument) {
    if (instrument.is_count) return "count";
    return instrument.is_balance ? equipment.balances.at(instrument.index).id
                                 : equipment.vessels.at(instrument.index).id;
}

bool is_stock(const std::string& container) {
    return container.starts_with("stock");
}

/// The container by name; with its batch where there are several.
std::string named(const Making& making) {
    if (making.batches == 1) return making.into;
    return making.into + " (" + std::to_string(making.batch) + " of " + std::to_string(making.batches) + ")";
}

std::string bottle_marked(const Making& making) {
    const std::string name = named(making);
    const std::string label = is_stock(name) ? name : name.substr(std::string("bottle ").size());
    return "a clean, dry, light bottle marked " + label;
}

/// "Stand … on the scale and set it to zero": wherever the total is weighed.
std::string tared(const Making& making, const std::string& balance) {
    return "Stand " + bottle_marked(making) + " on the " + within_sentence(balance) + " and set it to zero";
}

std::string in_fills(const Equipment& equipment, const Reading& load) {
    if (load.fills == 1) return "";
    Reading fill = load;
    fill.value /= static_cast<double>(load.fills);
    return ", in " + std::to_string(load.fills) + " fills of " + shown(equipment, fill);
}

std::string load_text(const Equipment& equipment, const Making& making, const std::string& from) {
    const std::string instrument = instrument_name(equipment, making.load.instrument);
    const std::string total = instrument_name(equipment, making.total.instrument);
    const std::string amount = shown(equipment, making.load);
    if (making.load.instrument.is_count) {
        const std::string crushed = amount + " of " + from;
        if (making.total.instrument.is_balance)
            return tared(making, total) + "; crush " + crushed + " and put all of it in.";
        return "Crush " + crushed + " and put all of it into the clean " + total + ", for " + named(making) +
               ".";
    }
    if (making.load.instrument.is_balance) {
        if (making.load.instrument == making.total.instrument)
            return tared(making, total) + "; weigh in " + amount + " of " + from + ".";
        return "Weigh " + amount + " of " + from + " into a small clean glass on the " + instrument +
               ", for " + named(making) + ".";
    }
    const std::string measure =
        amount + " of " + from + " with the " + instrument + in_fills(equipment, making.load);
    if (making.total.instrument.is_balance) return tared(making, total) + "; add " + measure + ".";
    return "Put " + measure + " into the clean " + total + ", for " + named(making) + ".";
}

std::string total_text(const Equipment& equipment, const Making& making, const std::string& base,
                       bool is_dry) {
    const std::string instrument = instrument_name(equipment, making.total.instrument);
    const std::string amount = shown(equipment, making.total);
    const bool is_counted = making.load.instrument.is_count;
    const std::string mix =
        is_counted ? "shake it for two minutes, let it settle, and pour the clear part through a paper filter"
        : is_dry   ? "swirl until all is dissolved"
                   : "turn it over ten times";
    if (making.total.instrument.is_balance) {
        if (making.load.instrument.is_balance && !(making.load.instrument == making.total.instrument))
            return tared(making, instrument) + "; rinse the glass into it with " + base +
                   ", fill up until it shows " + amount + " in all, close it and " + mix + ".";
        return "Without setting the scale to zero again, fill " + named(making) + " up with " + base +
               " until the " + within_sentence(instrument) + " shows " + amount + " in all; close it and " +
               mix + ".";
    }
    if (is_counted)
        return "With " + base + ", fill the " + within_sentence(instrument) + " up to " + amount + ", " +
               mix + " into " + bottle_marked(making) + ".";
    const std::string rinse = making.load.instrument.is_balance
                                  ? "Rinse the glass into the clean " + within_sentence(instrument) +
                                        " with " + base + ", " + (is_dry ? "dissolve, " : "")
                                  : "With " + base + ", ";
    return rinse + "fill the " + within_sentence(instrument) + " up to " + amount +
           ", mix, and pour it all into " + bottle_marked(making) + ".";
}

Step step_of(const Equipment& equipment, const Making& making, const Reading& reading) {
    Step step;
    step.into = making.into;
    step.with = instrument_name(equipment, reading.instrument);
    step.with_id = id_of(equipment, reading.instrument);
    step.fills = reading.fills;
    step.batch = making.batch;
    step.batches = making.batches;
    step.reading = reading.value;
    step.unit = reading.instrument.is_count ? "pieces" : reading.instrument.is_balance ? "g" : "mL";
    step.u_own = reading.u_own;
    step.u_shared_rel = reading.u_shared_rel;
    // One mark, or nothing: a flask is full or it is not.
    step.takes_reading = reading.instrument.is_balance || reading.instrument.is_count ||
                         equipment.vessels.at(reading.instrument.index).graduation.value > 0.0;
    return step;
}

Reading reading_of(const PlanRequest& request, const Step& step, const std::string& where) {
    if (step.unit == "pieces") return counted(step.reading);
    const Equipment& equipment = request.equipment;
    Reading reading{{step.unit == "g", 0}, step.reading, step.fills, step.u_own, step.u_shared_rel};
    const auto find = [&](const auto& instruments) {
        const auto found = std::find_if(instruments.begin(), instruments.end(),
                                        [&](const auto& one) { return one.id == step.with_id; });
        if (found == instruments.end())
            throw Refused(where, "uses \"" + step.with_id + "\", which the equipment lacks",
                          "the plan's own equipment");
        reading.instrument.index = static_cast<std::size_t>(found - instruments.begin());
    };
    if (reading.instrument.is_balance)
        find(equipment.balances);
    else
        find(equipment.vessels);
    return reading;
}

}  // namespace

std::string instrument_name(const Equipment& equipment, const Instrument& instrument) {
    if (instrument.is_count) return "by counting";
    return instrument.is_balance ? equipment.balances.at(instrument.index).name
                                 : equipment.vessels.at(instrument.index).name;
}

std::string shown(const Equipment& equipment, const Reading& reading) {
    if (reading.instrument.is_count)
        return fixed(reading.value, 0) + (reading.value == 1.0 ? " piece" : " pieces");
    if (reading.instrument.is_balance)
        return fixed(reading.value,
                     decimals_of(equipment.balances.at(reading.instrument.index).resolution.value)) +
               " g";
    const double graduation = equipment.vessels.at(reading.instrument.index).graduation.value;
    return fixed(reading.value, decimals_of(graduation > 0.0 ? graduation : reading.value)) + " mL";
}

std::string within_sentence(const std::string& instrument) {
    return instrument.find(',') == std::string::npos ? instrument : instrument + ",";
}

std::vector<Step> steps_of(const PlanRequest& request, const std::vector<Making>& makings) {
    const Equipment& equipment = request.equipment;
    std::vector<Step> steps;
    for (const Making& making : makings) {
        const bool is_bought = making.from == ingredient_itself;
        const std::string from = is_bought ? request.ingredient.name : makings.at(making.from).into;
        const bool dissolves = is_bought && is_dry(request.ingredient);
        Step load = step_of(equipment, making, making.load);
        load.kind = making.load.instrument.is_count     ? StepKind::count_pieces
                    : making.load.instrument.is_balance ? StepKind::weigh
                    : is_bought                         ? StepKind::measure_volume
                                                        : StepKind::draw_stock;
        load.from = from;
        load.text = load_text(equipment, making, from);
        Step total = step_of(equipment, making, making.total);
        total.kind =
            making.total.instrument.is_balance ? StepKind::make_up_to_mass : StepKind::make_up_to_mark;
        total.from = request.base.name;
        total.text = total_text(equipment, making, request.base.name, dissolves);
        steps.push_back(std::move(load));
        steps.push_back(std::move(total));
    }
    return steps;
}

std::vector<Making> makings_of(const PlanRequest& request, const std::vector<Step>& steps) {
    const auto after_base =
        std::find_if(steps.begin(), steps.end(), [](const Step& step) { return step.into != the_base; });
    const std::size_t first = static_cast<std::size_t>(after_base - steps.begin());
    if ((steps.size() - first) % 2 != 0)
        throw Refused("steps", "are " + std::to_string(steps.size() - first) + " after the base",
                      "each load is followed by filling up");
    std::vector<Making> makings;
    for (std::size_t i = first; i < steps.size(); i += 2) {
        const std::string where = "step " + std::to_string(i + 1);
        const Step& load = steps[i];
        const Step& total = steps[i + 1];
        if (load.into != total.into || load.batch != total.batch)
            throw Refused(where, "goes into " + load.into + ", the next one into " + total.into,
                          "both into the same");
        Making making{load.into, ingredient_itself, reading_of(request, load, where),
                      reading_of(request, total, where)};
        making.batch = load.batch;
        making.batches = load.batches;
        const auto found = std::find_if(makings.begin(), makings.end(),
                                        [&](const Making& one) { return one.into == load.from; });
        if (found != makings.end())
            making.from = static_cast<std::size_t>(found - makings.begin());
        else if (is_stock(load.from) && load.from != request.ingredient.name)
            throw Refused(where, "takes from " + load.from + ", which no step before it makes",
                          "a stock made before");
        makings.push_back(std::move(making));
    }
    return makings;
}

}  // namespace sipladder::solution

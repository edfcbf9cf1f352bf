#include "engine/solution/ways.hpp"

#include "engine/solution/mixture.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

// Every total that a scale or vessel can show, with every load that fits it. Among ways that meet what is
// wanted: fewest operations, then no more made than is needed, then the more certain, the less wasteful, the
// rounder.

namespace sipladder::solution {

namespace {

constexpr double fullest = 0.98;           // load as part of the total, so that there is something to fill up
constexpr double furthest_off = 0.05;      // a rounded reading may move a level by so much; judgement
constexpr std::size_t most_fills = 6;      // of one syringe for one bottle; judgement
constexpr double most_pieces = 40.0;       // of tablets to crush for one bottle; judgement
constexpr double smallest_made_mL = 25.0;  // so much may always be made, however little is needed; judgement
constexpr double largest_bottle_mL = 2000.0;  // common practice, no source
constexpr double tie = 1e-9;                  // arithmetic alone
constexpr double hardly_more = 1.5;
constexpr double some_more = 3.0;

/// Round numbers of grams or millilitres that a bottle or flask may be filled to.
constexpr std::array<double, 14> round_sizes{10, 12, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90};
/// Smaller batches still might suit a finer scale; beyond so many that is no longer tried.
constexpr std::size_t enough_batches = 3;
constexpr std::array<std::size_t, 8> batch_counts{1, 2, 3, 4, 5, 6, 8, 12};

double rounded_to(double value, double step) {
    return std::round(value / step) * step;
}

/// A load as it can be shown: to the nearest step, or the step below where the nearest is too strong.
double load_shown(double exact_load, double step, double most_over) {
    const double nearest = rounded_to(exact_load, step);
    return nearest > exact_load * (1.0 + most_over) ? nearest - step : nearest;
}

/// A light bottle on the pan with so much in it; common practice, no source.
double bottle_g(double content_g) {
    return 30.0 + 0.03 * content_g;
}

std::vector<double> sizes_between(double least, double most) {
    std::vector<double> sizes;
    for (const double decade : {1.0, 10.0, 100.0, 1000.0})
        for (const double size : round_sizes)
            if (decade * size >= least && decade * size <= most) sizes.push_back(decade * size);
    return sizes;
}

/// One reading, and the volume or mass that it stands for.
struct Sized {
    Reading reading;
    double volume_mL{};
};

/// Every way to say when the container is full.
std::vector<Sized> totals(const PlanRequest& request, const Target& wanted, double needed_mL,
                          double oversize) {
    std::vector<Sized> all;
    const double density = wanted.held_g_per_L / 1000.0 / wanted.mass_fraction;
    const double most_mL = std::min(largest_bottle_mL, std::max(oversize * needed_mL, smallest_made_mL));
    const Equipment& equipment = request.equipment;
    for (std::size_t i = 0; i < equipment.balances.size(); ++i) {
        const Balance& balance = equipment.balances[i];
        for (const double size : sizes_between(needed_mL * density, most_mL * density)) {
            const double shown = rounded_to(size, balance.resolution.value);
            if (shown + bottle_g(shown) > balance.capacity.value) break;
            if (shown >= needed_mL * density && shown >= balance.smallest_load.value)
                all.push_back({weighed(equipment, i, Grams{shown}), shown / density});
        }
    }
    for (std::size_t i = 0; i < equipment.vessels.size(); ++i) {
        const Vessel& vessel = equipment.vessels[i];
        const double nominal = vessel.nominal.value;
        if (vessel.kind == VesselKind::syringe || vessel.kind == VesselKind::pipette) continue;
        if (vessel.kind == VesselKind::flask || vessel.graduation.value <= 0.0) {
            if (nominal >= needed_mL && nominal <= most_mL)
                all.push_back({measured(equipment, i, vessel.nominal, 1), nominal});
            continue;
        }
        for (const double size :
             sizes_between(std::max(needed_mL, vessel.smallest.value), std::min(most_mL, nominal)))
            if (std::abs(rounded_to(size, vessel.graduation.value) - size) < 1e-9)
                all.push_back({measured(equipment, i, Millilitres{size}, 1), size});
    }
    return all;
}

/// Every way to bring the substance in, for one total.
void add_loads(std::vector<Reading>& all, const PlanRequest& request, const Target& wanted,
               const Source& source, const Reading& total) {
    all.clear();
    const Equipment& equipment = request.equipment;
    const double substance_g = total.instrument.is_balance ? wanted.mass_fraction * total.value
                                                           : wanted.held_g_per_L * total.value / 1000.0;
    const double load_g = substance_g / source.mass_fraction;
    const double density =
        source.held_g_per_L > 0.0 ? source.held_g_per_L / 1000.0 / source.mass_fraction : 1.0;
    if (source.place == ingredient_itself && request.ingredient.form == IngredientForm::tablet) {
        const double pieces = load_shown(load_g, 1.0, wanted.most_over);
        if (pieces >= 1.0 && pieces <= most_pieces && std::abs(pieces / load_g - 1.0) <= furthest_off)
            all.push_back(counted(pieces));
        return;
    }
    if ((total.instrument.is_balance ? load_g : load_g / density) > fullest * total.value) return;
    for (std::size_t i = 0; i < equipment.balances.size(); ++i) {
        const Balance& balance = equipment.balances[i];
        const double shown = load_shown(load_g, balance.resolution.value, wanted.most_over);
        if (shown < balance.smallest_load.value || shown <= 0.0 ||
            shown + bottle_g(shown) > balance.capacity.value)
            continue;
        if (std::abs(shown / load_g - 1.0) <= furthest_off)
            all.push_back(weighed(equipment, i, Grams{shown}));
    }
    if (source.held_g_per_L <= 0.0) return;
    const double load_mL = 1000.0 * substance_g / source.held_g_per_L;
    for (std::size_t i = 0; i < equipment.vessels.size(); ++i) {
        const Vessel& vessel = equipment.vessels[i];
        if (vessel.kind == VesselKind::jug || vessel.kind == VesselKind::flask) continue;
        const double times = std::max(1.0, std::ceil(load_mL / vessel.nominal.value - 1e-9));
        if (times > static_cast<double>(most_fills)) continue;
        const double step = vessel.graduation.value > 0.0 ? vessel.graduation.value : vessel.nominal.value;
        const double fill = load_shown(load_mL / times, step, wanted.most_over);
        if (fill <= 0.0 || fill < vessel.smallest.value - 1e-9 || fill > vessel.nominal.value + 1e-9)
            continue;
        if (std::abs(times * fill / load_mL - 1.0) <= furthest_off)
            all.push_back(measured(equipment, i, Millilitres{times * fill}, static_cast<std::size_t>(times)));
    }
}

/// Relative standard uncertainty by the short way: no slope of the density, the same balance twice cancels.
double quick_u_rel(const Reading& load, const Reading& total, double source_u_rel) {
    double squares = source_u_rel * source_u_rel;
    if (!(load.instrument == total.instrument))
        squares += load.u_shared_rel * load.u_shared_rel + total.u_shared_rel * total.u_shared_rel;
    else if (load.instrument.is_balance)
        squares -= total.u_own * total.u_own / (load.value * total.value);  // one tare for both
    const double load_rel = load.u_own / load.value;
    const double total_rel = total.u_own / total.value;
    return std::sqrt(squares + load_rel * load_rel + total_rel * total_rel);
}

std::size_t digits_of(double reading) {
    if (reading <= 0.0) return 0;
    double mantissa = reading / std::pow(10.0, std::floor(std::log10(reading)));
    std::size_t digits = 1;
    for (; digits < 6 && std::abs(mantissa - std::round(mantissa)) > 1e-6; ++digits) mantissa *= 10.0;
    return digits;
}

std::size_t excess_of(double volume_mL, double needed_mL) {
    if (volume_mL <= std::max(hardly_more * needed_mL, smallest_made_mL)) return 0;
    return volume_mL <= some_more * needed_mL ? 1 : 2;
}

}  // namespace

Source source_of(const PlanRequest& request) {
    return {ingredient_itself, mass_fraction_of(request.ingredient, request.substance).value,
            held_of(request.ingredient).value, u_rel_of(request.ingredient)};
}

Target target_of(const PlanRequest& request, double level, double cap, Millilitres needed) {
    Target wanted;
    const GramsPerLitre held = held_from_level(request.substance, level);
    wanted.held_g_per_L = held.value;
    wanted.mass_fraction = mass_fraction_in_base(request, held).value;
    wanted.needed_mL = needed.value;
    wanted.wanted_u_rel = request.wanted_u_rel;
    wanted.most_over = std::max(0.0, held_from_level(request.substance, cap).value / held.value - 1.0) + tie;
    return wanted;
}

double printed(double u_rel) {
    if (!(u_rel > 0.0)) return 0.0;
    double scale = 100.0;  // an uncertainty of 10 to 99 % has its two digits here; logarithms would cost more
    while (u_rel * scale < 10.0 && scale < 1e12) scale *= 10.0;
    return std::round(u_rel * scale) / scale;
}

bool is_better(const Way& one, const Way& other, Aim aim) {
    if (aim == Aim::least_uncertain)
        return std::tuple(one.u_rel, one.operations, one.volume_mL) <
               std::tuple(other.u_rel, other.operations, other.volume_mL);
    if (one.met != other.met) return one.met;
    if (!one.met) return one.u_rel < other.u_rel;
    if (one.operations != other.operations) return one.operations < other.operations;
    if (one.excess != other.excess) return one.excess < other.excess;
    if (one.u_printed != other.u_printed) return one.u_printed < other.u_printed;
    return std::tuple(one.volume_mL, one.digits) < std::tuple(other.volume_mL, other.digits);
}

std::optional<Way> best_way(const PlanRequest& request, const Target& wanted,
                            const std::vector<Source>& sources, double oversize, Aim aim) {
    std::optional<Way> best;
    std::vector<Reading> loads;
    for (const std::size_t batches : batch_counts) {
        if (batches > wanted.most_batches || (best && (best->met || batches > enough_batches))) break;
        const double needed_mL = wanted.needed_mL / static_cast<double>(batches);
        for (const Sized& total : totals(request, wanted, needed_mL, oversize))
            for (const Source& source : sources) {
                add_loads(loads, request, wanted, source, total.reading);
                for (const Reading& load : loads) {
                    Way way;
                    way.u_rel = quick_u_rel(load, total.reading, source.u_rel);
                    way.met = way.u_rel <= wanted.wanted_u_rel;
                    if (best && best->met && !way.met && aim == Aim::fewest_operations) continue;
                    way.making = {"", source.place, load, total.reading, 1, batches, true, true};
                    way.operations = batches * operations(way.making);
                    way.volume_mL = static_cast<double>(batches) * total.volume_mL;
                    way.excess = excess_of(total.volume_mL, needed_mL);
                    if (aim == Aim::fewest_operations && way.met) {
                        if (best && best->met &&
                            std::tuple(way.operations, way.excess) >
                                std::tuple(best->operations, best->excess))
                            continue;
                        way.u_printed = printed(way.u_rel);
                        way.digits = digits_of(load.value) + digits_of(total.reading.value);
                    }
                    if (!best || is_better(way, *best, aim)) best = std::move(way);
                }
            }
    }
    return best;
}

std::size_t operations(const Making& making) {
    const bool fills_on_balance = making.total.instrument.is_balance;
    const bool moved = fills_on_balance && making.load.instrument.is_balance &&
                       !(making.load.instrument == making.total.instrument);
    return making.load.fills + (fills_on_balance && !moved ? 1 : 2);
}

}  // namespace sipladder::solution

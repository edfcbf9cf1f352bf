#include "engine/solution/search.hpp"

#include "engine/solution/mixture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

// Candidates are enumerated: every level straight from the ingredient; one stock of some round strength; two
// stocks, the second from the ingredient or the first. Within a candidate each mixture takes the way of
// weighing or measuring that meets what is wanted with fewest operations. Which stock volumes are needed is
// known only when the levels are chosen, and how certain a stock is only when it is made, so a candidate is
// built twice: with stocks as wanted, then as they come out. The ranking uses the full sum of recipe.cpp, not
// the shortcut used to choose within a candidate.

namespace sipladder::solution {

namespace {

constexpr double bottle_g = 30.0;      // a light bottle on the pan; common practice, no source
constexpr double fullest = 0.98;       // load as part of the total, so that there is something to fill up
constexpr double furthest_off = 0.1;   // a rounded reading may move a level by so much; judgement
constexpr std::size_t most_fills = 6;  // of one syringe for one bottle; judgement
constexpr double stock_spare = 1.05;   // drawn stock, with what clings to glass and syringe; judgement
constexpr double stock_dead_mL = 2.0;
constexpr double stock_share = 0.5;  // of the uncertainty wanted that a stock may take up; judgement
constexpr std::array<double, 2> oversizes{
    3.0, 10.0};  // volume made, as a multiple of what is needed: tried in order

/// Round numbers of grams or millilitres that a bottle or flask may be filled to.
constexpr std::array<double, 12> round_sizes{10, 12, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90};
constexpr std::array<double, 10> round_strengths{1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8};
constexpr std::array<double, 4> coarse_strengths{1, 2, 3, 5};

/// Something that a load can be taken from.
struct Source {
    std::size_t place{ingredient_itself};
    double mass_fraction{};
    double held_g_per_L{};  ///< 0: cannot be measured by volume
    double u_rel{};
};

/// What is wanted of one mixture.
struct Target {
    double mass_fraction{};
    double held_g_per_L{};
    double needed_mL{};
    double wanted_u_rel{};
};

/// One way to make it.
struct Way {
    Making making;
    double size{};  ///< g or mL
    double u_rel{};
    bool met{};
};

/// Makings with fewer operations first where both meet what is wanted, then the smaller, then the more
/// certain.
bool is_better(const Way& one, const Way& other) {
    if (one.met != other.met) return one.met;
    if (!one.met) return one.u_rel < other.u_rel;
    return std::tuple(operations(one.making), one.size, one.u_rel) <
           std::tuple(operations(other.making), other.size, other.u_rel);
}

double rounded_to(double value, double step) {
    return std::round(value / step) * step;
}

class Bench {
  public:
    Bench(const PlanRequest& request, double oversize) : request_(request), oversize_(oversize) {
        ingredient_.mass_fraction = mass_fraction_of(request.ingredient, request.substance).value;
        ingredient_.held_g_per_L = held_of(request.ingredient).value;
        ingredient_.u_rel = u_rel_of(request.ingredient);
        for (const double level : request.ladder.targets()) levels_.push_back(target(level));
    }

    std::optional<Candidate> candidate(const std::vector<double>& stock_strengths) const;

  private:
    Target target(double level) const;
    std::vector<Reading> totals(const Target& wanted) const;
    std::vector<Reading> loads(const Target& wanted, const Source& source, const Reading& total) const;
    std::optional<Way> best_way(const Target& wanted, const std::vector<Source>& sources) const;
    std::optional<std::vector<Way>> level_ways(const std::vector<Source>& sources) const;
    std::optional<std::vector<Target>> with_volumes(std::vector<Target> stocks) const;
    std::optional<std::vector<Making>> recipe(const std::vector<Target>& stocks) const;
    std::optional<Candidate> judged(std::vector<Making> makings, std::size_t stocks) const;

    const PlanRequest& request_;
    double oversize_;
    Source ingredient_;
    std::vector<Target> levels_;
};

Target Bench::target(double level) const {
    Target wanted;
    const GramsPerLitre held = held_from_level(request_.substance, level);
    wanted.held_g_per_L = held.value;
    wanted.mass_fraction = mass_fraction_from_held(request_.substance, held).value;
    wanted.needed_mL = volume_needed(request_.demand).value;
    wanted.wanted_u_rel = request_.wanted_u_rel;
    return wanted;
}

/// The round sizes from `least` to `most`.
std::vector<double> sizes_between(double least, double most) {
    std::vector<double> sizes;
    for (double decade = 1.0; decade <= 1000.0; decade *= 10.0)
        for (const double size : round_sizes)
            if (decade * size >= least && decade * size <= most) sizes.push_back(decade * size);
    return sizes;
}

/// Every way to say when the container is full.
std::vector<Reading> Bench::totals(const Target& wanted) const {
    std::vector<Reading> all;
    const double density = wanted.held_g_per_L / 1000.0 / wanted.mass_fraction;
    const double most_mL = std::max(oversize_ * wanted.needed_mL, 25.0);
    const Equipment& equipment = request_.equipment;
    for (std::size_t i = 0; i < equipment.balances.size(); ++i) {
        const Balance& balance = equipment.balances[i];
        const double most_g = std::min(most_mL * density, balance.capacity.value - bottle_g);
        for (const double size : sizes_between(wanted.needed_mL * density, most_g)) {
            const double shown = rounded_to(size, balance.resolution.value);
            if (shown >= wanted.needed_mL * density && shown >= balance.smallest_load.value)
                all.push_back(weighed(equipment, i, Grams{shown}));
        }
    }
    for (std::size_t i = 0; i < equipment.vessels.size(); ++i) {
        const Vessel& vessel = equipment.vessels[i];
        const double nominal = vessel.nominal.value;
        if (vessel.kind == VesselKind::syringe || vessel.kind == VesselKind::pipette) continue;
        if (vessel.kind == VesselKind::flask || vessel.graduation.value <= 0.0) {
            if (nominal >= wanted.needed_mL && nominal <= std::max(most_mL, wanted.needed_mL))
                all.push_back(measured(equipment, i, vessel.nominal, 1));
            continue;
        }
        for (const double size :
             sizes_between(std::max(wanted.needed_mL, vessel.smallest.value), std::min(most_mL, nominal)))
            if (std::abs(rounded_to(size, vessel.graduation.value) - size) < 1e-9)
                all.push_back(measured(equipment, i, Millilitres{size}, 1));
    }
    return all;
}

/// Every way to bring the substance in, for one total.
std::vector<Reading> Bench::loads(const Target& wanted, const Source& source, const Reading& total) const {
    std::vector<Reading> all;
    const Equipment& equipment = request_.equipment;
    const double substance_g = total.instrument.is_balance ? wanted.mass_fraction * total.value
                                                           : wanted.held_g_per_L * total.value / 1000.0;
    const double load_g = substance_g / source.mass_fraction;
    const double density =
        source.held_g_per_L > 0.0 ? source.held_g_per_L / 1000.0 / source.mass_fraction : 1.0;
    const double fills_g = total.instrument.is_balance ? load_g : load_g / density;
    if (fills_g > fullest * total.value) return all;
    for (std::size_t i = 0; i < equipment.balances.size(); ++i) {
        const Balance& balance = equipment.balances[i];
        const double shown = rounded_to(load_g, balance.resolution.value);
        if (shown < balance.smallest_load.value || shown <= 0.0 || shown > balance.capacity.value - bottle_g)
            continue;
        if (std::abs(shown / load_g - 1.0) <= furthest_off)
            all.push_back(weighed(equipment, i, Grams{shown}));
    }
    if (source.held_g_per_L <= 0.0) return all;
    const double load_mL = 1000.0 * substance_g / source.held_g_per_L;
    for (std::size_t i = 0; i < equipment.vessels.size(); ++i) {
        const Vessel& vessel = equipment.vessels[i];
        if (vessel.kind == VesselKind::jug || vessel.kind == VesselKind::flask) continue;
        const double times = std::max(1.0, std::ceil(load_mL / vessel.nominal.value - 1e-9));
        if (times > static_cast<double>(most_fills)) continue;
        const double step = vessel.graduation.value > 0.0 ? vessel.graduation.value : vessel.nominal.value;
        const double fill = rounded_to(load_mL / times, step);
        if (fill <= 0.0 || fill < vessel.smallest.value || fill > vessel.nominal.value + 1e-9) continue;
        if (std::abs(times * fill / load_mL - 1.0) <= furthest_off)
            all.push_back(measured(equipment, i, Millilitres{times * fill}, static_cast<std::size_t>(times)));
    }
    return all;
}

/// Relative standard uncertainty by the short way: no slope of the density, the same instrument twice
/// cancels.
double quick_u_rel(const Making& making, double source_u_rel) {
    const bool cancels = making.load.instrument == making.total.instrument;
    const double calibration =
        cancels ? 0.0 : std::hypot(making.load.u_shared_rel, making.total.u_shared_rel);
    const double reading =
        std::hypot(making.load.u_own / making.load.value, making.total.u_own / making.total.value);
    return std::hypot(source_u_rel, reading, calibration);
}

std::optional<Way> Bench::best_way(const Target& wanted, const std::vector<Source>& sources) const {
    std::optional<Way> best;
    for (const Reading& total : totals(wanted))
        for (const Source& source : sources)
            for (const Reading& load : loads(wanted, source, total)) {
                Way way;
                way.making = {"", source.place, load, total};
                way.size = total.value;
                way.u_rel = quick_u_rel(way.making, source.u_rel);
                way.met = way.u_rel <= wanted.wanted_u_rel;
                if (!best || is_better(way, *best)) best = way;
            }
    return best;
}

std::optional<std::vector<Way>> Bench::level_ways(const std::vector<Source>& sources) const {
    std::vector<Way> ways;
    for (const Target& level : levels_) {
        const std::optional<Way> way = best_way(level, sources);
        if (!way) return std::nullopt;
        ways.push_back(*way);
    }
    return ways;
}

/// Volume that all these draw from one source.
double drawn_mL(const std::vector<Way>& drawing, const Source& source) {
    double sum = 0.0;
    for (const Way& way : drawing) {
        const Reading& load = way.making.load;
        if (way.making.from != source.place) continue;
        sum += load.instrument.is_balance ? 1000.0 * load.value * source.mass_fraction / source.held_g_per_L
                                          : load.value;
    }
    return sum;
}

/// The ingredient and the stocks made before stock `k`.
std::vector<Source> upstream(const std::vector<Source>& sources, std::size_t k) {
    return {sources.begin(), sources.begin() + static_cast<std::ptrdiff_t>(k) + 1};
}

/// How much of each stock is needed if all come out as wanted; the last stock first, since the first also
/// feeds it.
std::optional<std::vector<Target>> Bench::with_volumes(std::vector<Target> stocks) const {
    std::vector<Source> sources{ingredient_};
    for (std::size_t k = 0; k < stocks.size(); ++k)
        sources.push_back({k, stocks[k].mass_fraction, stocks[k].held_g_per_L, ingredient_.u_rel});
    std::optional<std::vector<Way>> drawing = level_ways(sources);
    if (!drawing) return std::nullopt;
    for (std::size_t k = stocks.size(); k-- > 0;) {
        const double drawn = drawn_mL(*drawing, sources[k + 1]);
        if (drawn <= 0.0) return std::nullopt;  // a stock too many: the candidate without it is tried as well
        stocks[k].needed_mL = stock_spare * drawn + stock_dead_mL;
        const std::optional<Way> way = best_way(stocks[k], upstream(sources, k));
        if (!way) return std::nullopt;
        drawing->push_back(*way);
    }
    return stocks;
}

std::optional<std::vector<Making>> Bench::recipe(const std::vector<Target>& stocks) const {
    std::vector<Source> sources{ingredient_};
    std::vector<Making> makings;
    std::vector<Way> drawing;
    std::vector<double> volumes_mL;
    for (std::size_t k = 0; k < stocks.size(); ++k) {
        const std::optional<Way> way = best_way(stocks[k], upstream(sources, k));
        if (!way) return std::nullopt;
        drawing.push_back(*way);
        makings.push_back(way->making);
        const Mixture mixture = mixtures(request_, makings).back();
        sources.push_back({k, mixture.mass_fraction, mixture.held_g_per_L, way->u_rel});
        volumes_mL.push_back(mixture.volume_mL);
    }
    const std::optional<std::vector<Way>> levels = level_ways(sources);
    if (!levels) return std::nullopt;
    drawing.insert(drawing.end(), levels->begin(), levels->end());
    for (std::size_t k = 0; k < stocks.size(); ++k) {
        const double drawn = drawn_mL(drawing, sources[k + 1]);
        if (drawn <= 0.0 || drawn + stock_dead_mL > volumes_mL[k]) return std::nullopt;
    }
    for (const Way& way : *levels) makings.push_back(way.making);
    return makings;
}

std::optional<Candidate> Bench::judged(std::vector<Making> makings, std::size_t stocks) const {
    Candidate candidate;
    candidate.stocks = stocks;
    for (const Making& making : makings) candidate.operations += operations(making);
    const std::vector<Mixture> all = mixtures(request_, makings);
    for (std::size_t i = stocks; i < all.size(); ++i) {
        double u_squared = 0.0;
        for (const double effect : all[i].effects) u_squared += effect * effect;
        candidate.largest_u_rel = std::max(candidate.largest_u_rel, std::sqrt(u_squared));
        // Rounded readings must leave the rungs in order and apart.
        if (i > stocks && all[i].held_g_per_L <= all[i - 1].held_g_per_L) return std::nullopt;
    }
    candidate.met = candidate.largest_u_rel <= request_.wanted_u_rel;
    candidate.makings = std::move(makings);
    return candidate;
}

std::optional<Candidate> Bench::candidate(const std::vector<double>& stock_strengths) const {
    std::vector<Target> stocks;
    for (const double strength : stock_strengths) {
        Target wanted = target(strength);
        wanted.wanted_u_rel = stock_share * request_.wanted_u_rel;
        stocks.push_back(wanted);
    }
    const std::optional<std::vector<Target>> sized = with_volumes(std::move(stocks));
    if (!sized) return std::nullopt;
    std::optional<std::vector<Making>> makings = recipe(*sized);
    if (!makings) return std::nullopt;
    return judged(std::move(*makings), sized->size());
}

bool is_better(const Candidate& one, const Candidate& other) {
    if (one.met != other.met) return one.met;
    if (one.met)
        return std::tuple(one.operations, one.largest_u_rel) <
               std::tuple(other.operations, other.largest_u_rel);
    return std::tuple(one.largest_u_rel, one.operations) < std::tuple(other.largest_u_rel, other.operations);
}

/// Round strengths that a stock may have, on the ladder's scale: above the weakest level, below what its cap,
/// its solubility and the ingredient allow.
template <std::size_t N>
std::vector<double> stock_strengths(const PlanRequest& request, const std::array<double, N>& steps) {
    const Substance& substance = request.substance;
    double most = substance.strongest_stock;
    if (substance.solubility.value > 0.0)
        most = std::min(most, 0.9 * level_from_held(substance, substance.solubility));
    if (request.ingredient.form != IngredientForm::powder)
        most = std::min(most, 0.9 * level_from_held(substance, held_of(request.ingredient)));
    std::vector<double> strengths;
    const double weakest = 2.0 * request.ladder.targets().front();
    for (int decade = -6; decade <= 2; ++decade)
        for (const double step : steps) {
            const double strength = step * std::pow(10.0, decade);
            if (strength >= weakest && strength <= most) strengths.push_back(strength);
        }
    return strengths;
}

}  // namespace

std::size_t operations(const Making& making) {
    const bool fills_on_balance = making.total.instrument.is_balance;
    const bool moved = fills_on_balance && making.load.instrument.is_balance &&
                       !(making.load.instrument == making.total.instrument);
    return making.load.fills + (fills_on_balance && !moved ? 1 : 2);
}

std::optional<Candidate> best_candidate(const PlanRequest& request) {
    std::optional<Candidate> best;
    const auto consider = [&best](const std::optional<Candidate>& candidate) {
        if (candidate && (!best || is_better(*candidate, *best))) best = candidate;
    };
    for (const double oversize : oversizes) {
        const Bench bench(request, oversize);
        consider(bench.candidate({}));
        for (const double strength : stock_strengths(request, round_strengths))
            consider(bench.candidate({strength}));
        const std::vector<double> coarse = stock_strengths(request, coarse_strengths);
        for (const double first : coarse)
            for (const double second : coarse)
                if (second <= 0.5 * first) consider(bench.candidate({first, second}));
        if (best && best->met) return best;
    }
    return best;
}

}  // namespace sipladder::solution

#include "engine/solution/search.hpp"

#include "engine/solution/mixture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

// A table holds the best way of making each level from the ingredient and from a stock of each round
// strength. Sets of none to three stocks are judged by that table alone; the most promising ones are worked
// out: which stock is made from which and how much of it, the weakest first, since it draws on the stronger;
// then forward again with the strengths that the rounded readings give, and with the full sum of errors of
// recipe.cpp. A stock more costs at least two operations, so the search ends where that cannot pay.

namespace sipladder::solution {

namespace {

constexpr double stock_spare = 1.05;  // drawn stock, with what clings to glass and syringe; judgement
constexpr double stock_dead_mL = 2.0;
constexpr std::size_t most_stocks = 3;
constexpr std::size_t few_worked_out = 8;  // a quick search looks at two stocks at most
constexpr std::size_t most_level_batches = 12;
/// Beyond it a level is hardly known at all; judgement.
constexpr double most_relaxed_u_rel = 0.5;
/// So many times as many sketches are worked out as long as they would save an operation.
constexpr std::size_t hopes = 40;
constexpr std::size_t least_operations = 2;  // of one making: the load and filling up
/// Volume made, as a multiple of what is needed: tried in order.
constexpr std::array<double, 2> oversizes{3.0, 10.0};
/// How the uncertainty is shared out along a chain, tried in turn.
struct Sharing {
    double stock_share{};  ///< part of the uncertainty wanted that a stock is first taken to use up
    double tightness{};    ///< a stock is wanted so much more certain than what is drawn from it would bear
};
constexpr std::array<Sharing, 4> sharings{
    Sharing{0.3, 1.0}, Sharing{0.6, 1.0}, Sharing{0.0, 0.5},
    Sharing{0.0, 0.0}};  // the last: stocks as certain, and large, as can be
constexpr std::array<double, 10> round_strengths{1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8};

/// A set of stocks, strongest first (indices into the strengths), as the table sees it.
struct Sketch {
    std::vector<std::size_t> stocks;
    std::size_t unmet{};
    std::size_t operations{};
    double largest_u_rel{};
    double volume_mL{};
    double u_printed{};
};

bool promises_more(const Sketch& one, const Sketch& other, Aim aim) {
    if (aim == Aim::least_uncertain)
        return std::tuple(one.largest_u_rel, one.operations, one.volume_mL) <
               std::tuple(other.largest_u_rel, other.operations, other.volume_mL);
    return std::tuple(one.unmet, one.operations, one.u_printed, one.volume_mL) <
           std::tuple(other.unmet, other.operations, other.u_printed, other.volume_mL);
}

bool beats(const Candidate& one, const Candidate& other) {
    if (one.met != other.met) return one.met;
    if (!one.met)
        return std::tuple(one.largest_u_rel, one.operations) <
               std::tuple(other.largest_u_rel, other.operations);
    return std::tuple(one.operations, printed(one.largest_u_rel), one.left_over_mL, one.digits) <
           std::tuple(other.operations, printed(other.largest_u_rel), other.left_over_mL, other.digits);
}

/// A stock within a set: what is wanted of it, and how it is made.
struct Stock {
    Target target;
    double drawn_mL{};
    double allowed_u_rel{};
    Way way;
    Source source;  ///< once made
};

class Search {
  public:
    Search(const PlanRequest& request, double oversize, const Sharing& sharing, Aim aim,
           std::size_t worked_out);

    void run(std::optional<Candidate>& best);

    /// Every level can be met from something, stocks being taken as certain as this search takes them.
    bool is_possible() const { return is_possible_; }
    /// Each level and each stock takes as few operations as it could by itself, and a stock less was no way.
    bool is_hardly_beaten(const Candidate& candidate) const {
        return candidate.stocks <= 1 &&
               candidate.operations <= fewest_for_levels_ + least_operations * candidate.stocks;
    }

  private:
    const std::optional<Way>& from(std::size_t level, std::size_t source) const {
        return table_[level * (strengths_.size() + 1) + source];
    }
    std::optional<Way> chosen(std::size_t level, const std::vector<std::size_t>& stocks) const;
    std::optional<Sketch> sketch(const std::vector<std::size_t>& stocks) const;
    void add_sketches(std::vector<Sketch>& all, std::vector<std::size_t>& stocks, std::size_t wanted) const;
    std::optional<Candidate> worked_out(const Sketch& sketch) const;
    bool plan_backwards(std::vector<Stock>& stocks, const std::vector<Way>& ways) const;
    bool make_stocks(std::vector<Stock>& stocks, Candidate& candidate) const;
    bool make_levels(const std::vector<Stock>& stocks, const std::vector<Way>& ways,
                     Candidate& candidate) const;
    bool judge(const std::vector<Stock>& stocks, Candidate& candidate) const;

    const PlanRequest& request_;
    double oversize_;
    Sharing sharing_;
    Aim aim_;
    std::size_t worked_out_;
    Source ingredient_;
    std::vector<Target> levels_;
    std::vector<Target> strengths_;
    double strongest_g_per_L_{};             ///< of a stock
    double strongest_cup_g_per_L_{};         ///< of a level
    std::vector<std::optional<Way>> table_;  ///< by level, then source: the ingredient, then each strength
    std::size_t fewest_for_levels_{};
    bool is_possible_ = true;
};

/// Strongest stock on the ladder's scale: what its cap, its solubility and the ingredient allow.
double strongest_stock(const PlanRequest& request) {
    const Substance& substance = request.substance;
    double most = substance.strongest_stock;
    if (substance.solubility.value > 0.0 && substance.scale == Scale::g_per_L)
        most = std::min(most, 0.9 * substance.solubility.value);
    if (!is_dry(request.ingredient))
        most = std::min(most, 0.9 * level_from_held(substance, held_of(request.ingredient)));
    return most;
}

Search::Search(const PlanRequest& request, double oversize, const Sharing& sharing, Aim aim,
               std::size_t worked_out)
    : request_(request),
      oversize_(oversize),
      sharing_(sharing),
      aim_(aim),
      worked_out_(worked_out),
      ingredient_(source_of(request)) {
    const std::vector<double>& targets = request.ladder.targets();
    for (std::size_t rung = 0; rung < targets.size(); ++rung) {
        levels_.push_back(target_of(request, targets[rung], request.substance.strongest_cup,
                                    volume_needed(request.demand, rung)));
        levels_.back().most_batches = most_level_batches;
    }
    const double most = strongest_stock(request);
    const double weakest = 2.0 * request.ladder.targets().front();
    for (int decade = 2; decade >= -6; --decade)
        for (std::size_t i = round_strengths.size(); i-- > 0;) {
            const double strength = round_strengths[i] * std::pow(10.0, decade);
            if (strength >= weakest && strength <= most * (1.0 + 1e-9))
                strengths_.push_back(target_of(request, strength, std::max(most, strength), {}));
        }
    strongest_cup_g_per_L_ = held_from_level(request.substance, request.substance.strongest_cup).value;
    strongest_g_per_L_ = most > 0.0 ? held_from_level(request.substance, most).value : 0.0;
    const double stock_u_rel = std::hypot(ingredient_.u_rel, sharing.stock_share * request.wanted_u_rel);
    for (const Target& level : levels_) {
        std::size_t fewest = static_cast<std::size_t>(-1);
        bool is_met = false;
        const auto add = [&](const Source& source) {
            table_.push_back(best_way(request_, level, {source}, oversize_, aim_));
            if (!table_.back()) return;
            fewest = std::min(fewest, table_.back()->operations);
            is_met = is_met || table_.back()->met;
        };
        add(ingredient_);
        for (std::size_t i = 0; i < strengths_.size(); ++i)
            if (strengths_[i].held_g_per_L > 1.02 * level.held_g_per_L)
                add({i, strengths_[i].mass_fraction, strengths_[i].held_g_per_L, stock_u_rel});
            else
                table_.emplace_back();
        is_possible_ = is_possible_ && is_met;
        fewest_for_levels_ += fewest == static_cast<std::size_t>(-1) ? least_operations : fewest;
    }
}

/// The best way from the ingredient or one of these stocks; its `making.from` is the place in the set.
std::optional<Way> Search::chosen(std::size_t level, const std::vector<std::size_t>& stocks) const {
    const Way* best = from(level, 0) ? &*from(level, 0) : nullptr;
    std::size_t place = ingredient_itself;
    for (std::size_t i = 0; i < stocks.size(); ++i) {
        const std::optional<Way>& way = from(level, stocks[i] + 1);
        if (!way || (best != nullptr && !is_better(*way, *best, aim_))) continue;
        best = &*way;
        place = i;
    }
    if (best == nullptr) return std::nullopt;
    Way way = *best;
    way.making.from = place;
    return way;
}

std::optional<Sketch> Search::sketch(const std::vector<std::size_t>& stocks) const {
    Sketch result{stocks, 0, least_operations * stocks.size(), 0.0, 0.0, 0.0};
    for (std::size_t level = 0; level < levels_.size(); ++level) {
        const Way* best = from(level, 0) ? &*from(level, 0) : nullptr;
        for (const std::size_t stock : stocks)
            if (const auto& way = from(level, stock + 1);
                way && (best == nullptr || is_better(*way, *best, aim_)))
                best = &*way;
        if (best == nullptr) return std::nullopt;
        result.unmet += best->met ? 0 : 1;
        result.operations += best->operations;
        result.largest_u_rel = std::max(result.largest_u_rel, best->u_rel);
        result.volume_mL += best->volume_mL;
    }
    result.u_printed = printed(result.largest_u_rel);
    return result;
}

/// Every set of so many stocks, each at most half as strong as the one before.
void Search::add_sketches(std::vector<Sketch>& all, std::vector<std::size_t>& stocks,
                          std::size_t wanted) const {
    if (stocks.size() == wanted) {
        if (std::optional<Sketch> found = sketch(stocks)) all.push_back(std::move(*found));
        return;
    }
    for (std::size_t i = stocks.empty() ? 0 : stocks.back() + 1; i < strengths_.size(); ++i) {
        if (!stocks.empty() && strengths_[i].held_g_per_L > 0.5001 * strengths_[stocks.back()].held_g_per_L)
            continue;
        stocks.push_back(i);
        add_sketches(all, stocks, wanted);
        stocks.pop_back();
    }
}

double drawn_mL(const Way& way, const Target& source) {
    const Reading& load = way.making.load;
    const double once = load.instrument.is_balance
                            ? 1000.0 * load.value * source.mass_fraction / source.held_g_per_L
                            : load.value;
    return once * static_cast<double>(way.making.batches);
}

/// What is left for the source where a total is allowed and the way itself takes its part.
double left_for_source(double allowed_u_rel, double way_u_rel, double source_u_rel) {
    const double own = way_u_rel * way_u_rel - source_u_rel * source_u_rel;
    const double left = allowed_u_rel * allowed_u_rel - std::max(0.0, own);
    return std::sqrt(std::max(left, 1e-12));
}

/// How much of each stock is needed, how certain it has to be and what it is made from; the weakest first.
bool Search::plan_backwards(std::vector<Stock>& stocks, const std::vector<Way>& ways) const {
    for (std::size_t k = stocks.size(); k-- > 0;) {
        Stock& stock = stocks[k];
        if (stock.drawn_mL <= 0.0) return false;  // one too many: the set without it is tried as well
        std::vector<Source> sources{ingredient_};
        for (std::size_t i = 0; i < k; ++i)
            sources.push_back(
                {i, stocks[i].target.mass_fraction, stocks[i].target.held_g_per_L, ingredient_.u_rel});
        stock.target.needed_mL = stock_spare * stock.drawn_mL + stock_dead_mL;
        stock.target.wanted_u_rel = sharing_.tightness * stock.allowed_u_rel;
        const std::optional<Way> way = best_way(request_, stock.target, sources, oversize_, aim_);
        if (!way || (aim_ == Aim::fewest_operations && way->u_rel > stock.allowed_u_rel)) return false;
        stock.way = *way;
        if (way->making.from == ingredient_itself) continue;
        Stock& parent = stocks[way->making.from];
        parent.drawn_mL += drawn_mL(*way, parent.target);
        parent.allowed_u_rel = std::min(parent.allowed_u_rel,
                                        left_for_source(stock.allowed_u_rel, way->u_rel, ingredient_.u_rel));
    }
    return !ways.empty();
}

/// Forward again, with what the readings really give.
bool Search::make_stocks(std::vector<Stock>& stocks, Candidate& candidate) const {
    for (std::size_t k = 0; k < stocks.size(); ++k) {
        Stock& stock = stocks[k];
        const std::size_t from_place = stock.way.making.from;
        const Source& parent = from_place == ingredient_itself ? ingredient_ : stocks[from_place].source;
        const std::optional<Way> way = best_way(request_, stock.target, {parent}, oversize_, aim_);
        if (!way) return false;
        stock.way = *way;
        candidate.makings.push_back(way->making);
        candidate.digits += way->digits;
        candidate.operations += way->operations;
        const Mixture made = mixtures(request_, candidate.makings).back();
        if (made.held_g_per_L > strongest_g_per_L_ * (1.0 + 1e-9)) return false;
        stock.source = {k, made.mass_fraction, made.held_g_per_L, way->u_rel};
        stock.drawn_mL = 0.0;
    }
    return true;
}

bool Search::make_levels(const std::vector<Stock>& stocks, const std::vector<Way>& ways,
                         Candidate& candidate) const {
    for (std::size_t level = 0; level < levels_.size(); ++level) {
        const std::size_t place = ways[level].making.from;
        std::optional<Way> way = ways[level];
        if (place != ingredient_itself)
            way = best_way(request_, levels_[level], {stocks[place].source}, oversize_, aim_);
        if (!way) return false;
        candidate.operations += way->operations;
        candidate.digits += way->digits;
        Making making = way->making;
        for (making.batch = 1; making.batch <= making.batches; ++making.batch)
            candidate.makings.push_back(making);
    }
    return true;
}

/// The full sum; false where rungs change places or a stock runs short.
bool Search::judge(const std::vector<Stock>& stocks, Candidate& candidate) const {
    const std::vector<Mixture> all = mixtures(request_, candidate.makings);
    double before = 0.0;
    std::size_t rungs_done = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (i < stocks.size()) {
            const Millilitres drawn = drawn_from(candidate.makings, all, i);
            if (drawn.value <= 0.0 || drawn.value + stock_dead_mL > all[i].volume_mL) return false;
            candidate.left_over_mL += all[i].volume_mL - drawn.value;
            continue;
        }
        const Making& making = candidate.makings[i];
        if (making.batch == 1) ++rungs_done;
        candidate.left_over_mL +=
            all[i].volume_mL - levels_[rungs_done - 1].needed_mL / static_cast<double>(making.batches);
        if (making.batch > 1) continue;
        double squares = 0.0;
        for (const double effect : all[i].effects) squares += effect * effect;
        candidate.largest_u_rel = std::max(candidate.largest_u_rel, std::sqrt(squares));
        if (all[i].held_g_per_L <= before) return false;  // rounded readings must leave the rungs in order
        if (all[i].held_g_per_L > strongest_cup_g_per_L_ * (1.0 + cap_tolerance)) return false;
        before = all[i].held_g_per_L;
    }
    candidate.met = candidate.largest_u_rel <= request_.wanted_u_rel;
    return true;
}

std::optional<Candidate> Search::worked_out(const Sketch& sketch) const {
    std::vector<Stock> stocks;
    for (const std::size_t i : sketch.stocks) {
        Stock stock;
        stock.target = strengths_[i];
        stock.allowed_u_rel = request_.wanted_u_rel;
        stocks.push_back(stock);
    }
    std::vector<Way> ways;
    for (std::size_t level = 0; level < levels_.size(); ++level) {
        const std::optional<Way> way = chosen(level, sketch.stocks);
        if (!way) return std::nullopt;
        if (way->making.from != ingredient_itself) {
            Stock& stock = stocks[way->making.from];
            stock.drawn_mL += drawn_mL(*way, stock.target);
            const double assumed =
                std::hypot(ingredient_.u_rel, sharing_.stock_share * request_.wanted_u_rel);
            stock.allowed_u_rel =
                std::min(stock.allowed_u_rel, left_for_source(request_.wanted_u_rel, way->u_rel, assumed));
        }
        ways.push_back(*way);
    }
    Candidate candidate;
    candidate.stocks = stocks.size();
    if (!plan_backwards(stocks, ways) || !make_stocks(stocks, candidate) ||
        !make_levels(stocks, ways, candidate) || !judge(stocks, candidate))
        return std::nullopt;
    return candidate;
}

void Search::run(std::optional<Candidate>& best) {
    const std::size_t most = worked_out_ < few_worked_out ? 2 : most_stocks;
    for (std::size_t count = 0; count <= most; ++count) {
        const std::size_t fewest = fewest_for_levels_ + least_operations * count;
        if (aim_ == Aim::fewest_operations && best && best->met && best->operations < fewest) return;
        std::vector<Sketch> sketches;
        std::vector<std::size_t> stocks;
        add_sketches(sketches, stocks, count);
        const std::size_t kept = std::min(hopes * worked_out_, sketches.size());
        std::partial_sort(
            sketches.begin(), sketches.begin() + static_cast<std::ptrdiff_t>(kept), sketches.end(),
            [this](const Sketch& one, const Sketch& other) { return promises_more(one, other, aim_); });
        std::size_t tried = 0;
        for (std::size_t i = 0; i < kept; ++i) {
            const Sketch& sketch = sketches[i];
            const bool met = best && best->met;
            if (aim_ == Aim::fewest_operations &&
                (sketch.unmet > 0 || (met && best->operations < sketch.operations)))
                break;
            if (++tried > worked_out_ &&
                (aim_ == Aim::least_uncertain || (met && best->operations <= sketch.operations)))
                break;
            std::optional<Candidate> candidate = worked_out(sketch);
            if (candidate && (!best || beats(*candidate, *best))) best = std::move(candidate);
        }
    }
}

}  // namespace

std::optional<Candidate> best_candidate(const PlanRequest& request, Effort effort) {
    const bool is_quick = effort == Effort::quick;
    const std::size_t worked_out = is_quick ? 6 : 16;
    std::optional<Candidate> best;
    for (const double oversize : oversizes) {
        if (is_quick && oversize != oversizes.back()) continue;
        const Aim aim = Aim::fewest_operations;
        Search hopeful(request, oversize, sharings.back(), aim, worked_out);
        if (!hopeful.is_possible()) continue;
        for (const Sharing& sharing : sharings) {
            Search(request, oversize, sharing, aim, worked_out).run(best);
            if (best && best->met && (is_quick || hopeful.is_hardly_beaten(*best))) return best;
        }
        if (best && best->met) return best;
    }
    Search(request, oversizes.back(), sharings.front(), Aim::least_uncertain, is_quick ? 3 : 8).run(best);
    // The least uncertain ways are large ones, and a stock for many people may not fit its bottle: ask for
    // less.
    PlanRequest easier = request;
    while (!best && easier.wanted_u_rel < most_relaxed_u_rel) {
        easier.wanted_u_rel *= 2.0;
        Search(easier, oversizes.front(), sharings.front(), Aim::fewest_operations, worked_out).run(best);
    }
    if (best) best->met = best->largest_u_rel <= request.wanted_u_rel;
    return best;
}

}  // namespace sipladder::solution

// The form becomes a request. Every field is read before anything is refused, so that all that is wrong shows
// at once, each beside its field.

#include "engine/content/own.hpp"
#include "engine/solution/advice.hpp"
#include "engine/solution/planner.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/planning.hpp"
#include "gui/app/sitting.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>

namespace sipladder::gui {

namespace {

constexpr double most_people = 200.0;
constexpr double most_bicarbonate_mg_per_L = 5000.0;    // richer than any table water; judgement
constexpr double strongest_spirit_pct_vol = 60.0;       // content/cautions.json, left_out
constexpr double strongest_liquid_g_per_100_mL = 10.0;  // shop vinegar; content/cautions.json, left_out

constexpr double strongest_tablet_mg = 200.0;  // efsa_caffeine_2015: a single dose without concern

/// What a form says of itself, without what the drills want of it.
struct ReadForm {
    solution::Ladder ladder;
    solution::Substance substance;
    solution::Ingredient ingredient;
    solution::Base base;
    Millilitres cup;
    std::size_t people{};
};

/// Reads one field after another and collects what is wrong.
struct Reader {
    std::vector<Problem>& problems;

    /// @param empty  what an empty field stands for; nothing: it has to be filled
    double number(const char* where, const std::string& typed, double least, double most,
                  const std::string& right, std::optional<double> empty = {}) const {
        if (trimmed(typed).empty() && empty) return *empty;
        const std::optional<double> read = number_from_typed(typed);
        if (read && *read >= least && *read <= most) return *read;
        problems.push_back({where, "\"" + typed + "\"", right});
        return empty.value_or(least);
    }
};

/// What every cup of a difference holds, and steps above it that double around the fifth that is assumed to
/// be noticed. A base that holds the substance is the pedestal itself: the ladder is then of what is added.
solution::Ladder pedestal_ladder(const content::Content& content, const Setup& setup,
                                 const solution::Substance& substance) {
    constexpr double noticed = 0.2;  // drills/difference: a judgement
    const double held = solution::held_in_base(content.base(setup.base), substance.id).value;
    if (held > 0.0)
        return solution::ladder_around(substance.id + "_on_base", substance.id, substance.scale,
                                       noticed * held, 5, 2.0);
    for (const solution::Ladder& pedestal : content.pedestals)
        if (pedestal.substance() == substance.id) return pedestal;
    constexpr double well_above_threshold = 5.0;  // judgement: clear to most people
    constexpr std::array<double, 6> steps{1.0, 1.03, 1.07, 1.13, 1.27, 1.53};
    const double most = substance.strongest_cup / steps.back();
    const double beneath = std::min(well_above_threshold * substance.prior.centre, most);
    std::vector<double> targets;
    targets.reserve(steps.size());
    for (const double step : steps)
        targets.push_back(number_from_file(significant(beneath * step, 3)).value_or(0.0));
    return solution::Ladder(substance.id + "_pedestal", substance.id, substance.scale, targets,
                            label::ladder);
}

/// The shipped ladder of this many rungs, else one around the assumed prior's centre.
solution::Ladder preset(const content::Content& content, const solution::Substance& substance,
                        std::size_t rungs, double ratio) {
    for (const solution::Ladder& ladder : content.ladders) {
        if (ladder.substance() != substance.id || ladder.size() != rungs || content::is_own(ladder.id()))
            continue;
        // A shipped ladder may be narrower than asked for where a cap wants it so; a wider one is another
        // ladder.
        const double step = std::pow(ladder.targets().back() / ladder.targets().front(),
                                     1.0 / static_cast<double>(rungs - 1));
        if (step < 1.2 * ratio) return ladder;
    }
    // A substance of one's own may end nearer to its centre than so many rungs reach.
    constexpr double below_for_rounding = 0.95;
    const double highest_centre = below_for_rounding * substance.strongest_cup /
                                  std::pow(ratio, (static_cast<double>(rungs) - 1.0) / 2.0);
    return solution::ladder_around(substance.id + "_" + std::to_string(rungs), substance.id, substance.scale,
                                   std::min(substance.prior.centre, highest_centre), rungs, ratio);
}

std::optional<solution::Ladder> from_end_to_end(const Reader& read, const Setup& setup,
                                                const solution::Substance& substance) {
    const auto rungs = rungs_typed(setup.lowest, setup.ratio, setup.count);
    if (const auto* problems = std::get_if<std::vector<Problem>>(&rungs)) {
        read.problems.insert(read.problems.end(), problems->begin(), problems->end());
        return std::nullopt;
    }
    return solution::Ladder(substance.id + "_set", substance.id, substance.scale,
                            std::get<std::vector<double>>(rungs), label::ladder);
}

std::optional<solution::Ladder> ladder_of(const App& app, const Reader& read, const Setup& setup,
                                          const solution::Substance& substance) {
    switch (setup.rungs) {
        case Rungs::six_of_three:
            return preset(*app.content, substance, 6, 3.0);
        case Rungs::eight_of_two:
            return preset(*app.content, substance, 8, 2.0);
        case Rungs::around_mine:
            if (const PalateEntry* own = own_of(app, setup))
                return solution::ladder_around(substance.id + "_mine", substance.id, substance.scale,
                                               own->threshold.value(), 5, 2.0);
            throw Refused(label::ladder, "you have no result for " + substance.name + " yet",
                          "six rungs of ratio 3 for a first time");
        case Rungs::from_end_to_end:
            return from_end_to_end(read, setup, substance);
        case Rungs::written:
        case Rungs::kept:
            return app.content->ladder(setup.ladder);
        case Rungs::pedestal:
            return pedestal_ladder(*app.content, setup, substance);
        case Rungs::own:
            break;
    }
    const std::optional<std::vector<double>> typed = numbers_typed(setup.own_rungs);
    if (!typed || typed->size() < 2)
        throw Refused(label::ladder, "the rungs typed are no list of numbers",
                      "two or more, weakest first, with blanks between: 0.1 0.2 0.4");
    return solution::Ladder(substance.id + "_own", substance.id, substance.scale, *typed, label::ladder);
}

/// The ingredient as this pack's label states it.
solution::Ingredient ingredient_of(const Reader& read, const Setup& setup, solution::Ingredient ingredient) {
    using solution::IngredientForm;
    if (trimmed(setup.strength).empty() && trimmed(setup.strength_within).empty()) return ingredient;
    const StatedStrength stated = stated_strength(ingredient);
    const std::string range = "above 0, at most " + exact(stated.largest) + " " + stated.unit;
    const double value = read.number(label::strength, setup.strength, 1e-3 * stated.largest, stated.largest,
                                     range + "; nothing stronger is used here", stated.value);
    const double within = read.number(label::within, setup.strength_within, 0.0, 0.5 * value,
                                      "0 to half of the strength: how far off the label may be",
                                      std::min(stated.within, 0.5 * value));
    switch (ingredient.form) {
        case IngredientForm::powder:
            ingredient.content = MassFraction{value / 100.0};
            ingredient.content_half_width = MassFraction{within / 100.0};
            break;
        case IngredientForm::spirit:
            ingredient.strength = PercentVol{value};
            ingredient.strength_half_width = PercentVol{within};
            break;
        case IngredientForm::liquid:
            ingredient.held = GramsPerLitre{value * 10.0};
            ingredient.held_half_width = GramsPerLitre{within * 10.0};
            break;
        case IngredientForm::tablet:
            ingredient.per_piece = Milligrams{value};
            ingredient.per_piece_half_width = Milligrams{within};
            break;
    }
    ingredient.source = "label of this pack, typed in";
    return ingredient;
}

constexpr double usual_u_rel = 0.05;
/// The step above a pedestal is a small difference of two bottles, and has the errors of both.
constexpr double u_rel_above_pedestal = 0.01;

/// Difference whose pedestal is the weakest rung.
bool is_pedestal_of_its_own(const Setup& setup, const ReadForm& form) {
    return setup.programme.empty() ? offer_named(setup.drill).kind == drills::Kind::difference &&
                                         solution::held_in_base(form.base, form.substance.id).value <= 0.0
                                   : form.ladder.id().ends_with("_pedestal");
}

/// Of mixes that may still stand there: two bottles with one letter would be mistaken for each other.
std::vector<std::string> letters_on_the_table(const App& app) {
    constexpr std::int64_t ms_that_bottles_stand = 14LL * 24 * 3600 * 1000;  // judgement
    std::vector<std::string> letters;
    if (!app.history) return letters;
    const auto& mixes = app.history->mixes;
    for (std::size_t i = 0; i < mixes.size(); ++i)
        if (app.now.utc_ms - mixes.lines()[i].at.utc_ms <= ms_that_bottles_stand)
            for (const solution::MixedLevel& level : mixes[i].ladder.levels) letters.push_back(level.bottle);
    return letters;
}

}  // namespace

std::optional<std::vector<double>> numbers_typed(const std::string& text) {
    std::string spaced = text;
    std::replace(spaced.begin(), spaced.end(), ';', ' ');
    std::istringstream words(spaced);
    std::vector<double> numbers;
    for (std::string word; words >> word;) {
        const std::optional<double> number = number_from_typed(word);
        if (!number) return std::nullopt;
        numbers.push_back(*number);
    }
    return numbers;
}

std::variant<std::vector<double>, std::vector<Problem>> rungs_typed(const std::string& lowest,
                                                                    const std::string& ratio,
                                                                    const std::string& count) {
    std::vector<Problem> problems;
    const Reader read{problems};
    const double from = read.number(label::lowest, lowest, 1e-6, 1e6, "the weakest rung, above 0");
    const double step = read.number(label::ratio, ratio, 1.05, 20.0,
                                    "from one rung to the next, 1.05 to 20; 3 or 2 is usual");
    const double many = read.number(label::count, count, 2.0, 14.0, "a whole number, 2 to 14");
    if (many != std::floor(many))
        problems.push_back({label::count, "\"" + count + "\"", "a whole number, 2 to 14"});
    if (!problems.empty()) return problems;
    std::vector<double> targets;
    targets.reserve(static_cast<std::size_t>(many));
    for (int i = 0; i < static_cast<int>(many); ++i)
        targets.push_back(number_from_file(significant(from * std::pow(step, i), 3)).value_or(0.0));
    return targets;
}

StatedStrength stated_strength(const solution::Ingredient& ingredient) {
    using solution::IngredientForm;
    switch (ingredient.form) {
        case IngredientForm::powder:
            return {100.0 * ingredient.content.value, 100.0 * ingredient.content_half_width.value,
                    "g in 100 g of powder", 100.0};
        case IngredientForm::spirit:
            return {ingredient.strength.value, ingredient.strength_half_width.value, "% vol",
                    strongest_spirit_pct_vol};
        case IngredientForm::liquid:
            return {ingredient.held.value / 10.0, ingredient.held_half_width.value / 10.0, "g in 100 mL",
                    strongest_liquid_g_per_100_mL};
        case IngredientForm::tablet:
            return {ingredient.per_piece.value, ingredient.per_piece_half_width.value, "mg in a tablet",
                    strongest_tablet_mg};
    }
    SIPLADDER_EXPECT(false);
    return {};
}

namespace {

std::variant<ReadForm, std::vector<Problem>> read_form(const App& app, const Setup& setup) {
    const content::Content& content = *app.content;
    std::vector<Problem> problems;
    const Reader read{problems};
    try {
        const solution::Substance& substance = content.substance(setup.substance);
        const double cup = read.number(label::cup, setup.cup_mL, smallest_cup_mL, largest_cup_mL,
                                       "a volume from 2 to 50 mL; 10 to 15 is usual");
        const double people = read.number(label::people, setup.people, 1.0, most_people,
                                          "how many taste from these bottles, 1 to 200");
        if (people != std::floor(people))
            problems.push_back({label::people, "\"" + setup.people + "\"", "a whole number, 1 to 200"});
        solution::Base base = content.base(setup.base);
        base.bicarbonate_mg_per_L =
            read.number(label::bicarbonate, setup.bicarbonate, 0.0, most_bicarbonate_mg_per_L,
                        "mg/L from the label of the water, 0 to 5000", base.bicarbonate_mg_per_L);
        // How much of it the water would take up follows from its acid strength, which nobody has stated.
        if (content::is_own(substance.id) && substance.component == solution::Component::sour &&
            base.bicarbonate_mg_per_L > 0.0)
            problems.push_back({label::bicarbonate, "takes up an unknown part of " + substance.name,
                                "0 mg/L, as purified water has, is wanted for an acid of your own"});
        const solution::Ingredient ingredient =
            ingredient_of(read, setup, content.ingredient(setup.ingredient));
        const std::optional<solution::Ladder> ladder = ladder_of(app, read, setup, substance);
        if (!problems.empty() || !ladder) return problems;
        return ReadForm{.ladder = *ladder,
                        .substance = substance,
                        .ingredient = ingredient,
                        .base = base,
                        .cup = Millilitres{cup},
                        .people = static_cast<std::size_t>(people)};
    } catch (const Refused& refused) {
        problems.insert(problems.end(), refused.problems().begin(), refused.problems().end());
        return problems;
    }
}

}  // namespace

std::vector<Asked> requests_of(const App& app, const std::vector<Setup>& forms) {
    std::vector<Asked> asked;
    std::vector<ReadForm> read;
    std::vector<solution::Ladder> ladders;
    for (const Setup& form : forms) {
        auto one = read_form(app, form);
        if (const auto* problems = std::get_if<std::vector<Problem>>(&one)) {
            asked.emplace_back(*problems);
            continue;
        }
        read.push_back(std::get<ReadForm>(std::move(one)));
        ladders.push_back(read.back().ladder);
        asked.emplace_back(std::vector<Problem>{
            {"Another ladder", "of this sitting is not complete yet", "open it and mend its fields"}});
    }
    if (read.size() < forms.size()) return asked;
    std::vector<solution::Demand> demands;
    try {
        demands = drills::demands_of(wanted_sitting(app, forms.front(), ladders), *app.content);
    } catch (const Refused& refused) {
        asked.assign(forms.size(), refused.problems());
        return asked;
    }
    std::vector<std::string> taken = letters_on_the_table(app);
    for (std::size_t i = 0; i < forms.size(); ++i) {
        ReadForm& form = read[i];
        solution::Demand demand = demands[i];
        demand.cup = form.cup;
        demand.people = form.people;
        const bool is_pedestal = is_pedestal_of_its_own(forms[i], form);
        solution::PlanRequest request{.ladder = form.ladder,
                                      .substance = form.substance,
                                      .ingredient = form.ingredient,
                                      .base = form.base,
                                      .equipment = app.content->kitchen(forms[i].kitchen),
                                      .demand = demand,
                                      .wanted_u_rel = is_pedestal ? u_rel_above_pedestal : usual_u_rel,
                                      .letters_taken = taken,
                                      .to_buy = solution::every_instrument(app.content->equipment),
                                      .set = i + 1};
        for (std::string& letter : solution::bottle_letters(request)) taken.push_back(std::move(letter));
        asked[i] = std::move(request);
    }
    return asked;
}

std::variant<solution::PlanRequest, std::vector<Problem>> request_of(const App& app, const Setup& setup) {
    const Forms forms = forms_with(app, setup);
    return requests_of(app, forms.all).at(forms.open);
}

OwnKitchen with_kitchen(const App& app, const std::string& file) {
    const std::string named{trimmed(file)};
    if (named.empty())
        throw Refused("Own equipment", "no file is named", "a file of the shape of content/equipment.json");
    content::EquipmentEntry read = content::load_equipment(named, *app.content);
    auto content = std::make_shared<content::Content>(*app.content);
    const std::string id = read.equipment.id;
    if (content::is_own(id))
        throw Refused(named, "has the id \"" + id + "\"",
                      "an id that does not begin with own_: those are of what is kept in Settings");
    const auto same = std::ranges::find(content->equipment, id, &solution::Equipment::id);
    if (same != content->equipment.end())
        *same = std::move(read.equipment);
    else
        content->equipment.push_back(std::move(read.equipment));
    content->equipment_entries[id] = std::move(read.entry);
    return {std::move(content), id};
}

}  // namespace sipladder::gui

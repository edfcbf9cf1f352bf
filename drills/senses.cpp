// Each drill's person follows the model that its fit assumes, drawn from what is assumed of people, so that a
// fit is right on average and its interval holds 95 times in 100 if, and only if, it does its sums right.
// Other people are up to the tests.

#include "drills/senses.hpp"

#include "drills/naming.hpp"
#include "drills/rules.hpp"
#include "engine/perception/draws.hpp"

#include <cmath>

namespace sipladder::drills {

namespace {

std::vector<std::vector<double>> drawn_naming(std::size_t names, Random& random) {
    const perception::NamingPrior prior = naming::assumed_prior();
    std::vector<std::vector<double>> rows;
    for (std::size_t row = 0; row < names; ++row) {
        const double right = perception::beta_draw(random, prior.right, prior.wrong);
        std::vector<double> shares(names, 0.0);
        double rest = 0.0;
        for (std::size_t name = 0; name < names; ++name)
            if (name != row) rest += shares[name] = perception::gamma_draw(random, prior.each);
        for (std::size_t name = 0; name < names; ++name)
            shares[name] = name == row ? right : (1.0 - right) * shares[name] / rest;
        rows.push_back(std::move(shares));
    }
    return rows;
}

std::size_t drawn_from(const std::vector<double>& shares, Random& random) {
    double left = random.uniform();
    for (std::size_t i = 0; i + 1 < shares.size(); ++i)
        if ((left -= shares[i]) < 0.0) return i;
    return shares.size() - 1;
}

}  // namespace

Senses drawn_senses(const Plan& plan, Random& random) {
    Senses senses;
    if (plan.kind == Kind::naming) senses.naming = drawn_naming(naming::names(plan).size(), random);
    return senses;
}

Answer sensed(const Plan& plan, const Senses& senses, const std::vector<Held>& cups, const TrueLevels&,
              Random& random) {
    SIPLADDER_EXPECT(!cups.empty());
    Answer answer;
    const Held& cup = cups.front();
    if (plan.kind == Kind::naming)
        answer.choice = drawn_from(senses.naming.at(cup.is_blank ? line_count(plan) : cup.series), random);
    return answer;
}

std::map<std::string, double> truths_of(const Plan& plan, const Senses& senses) {
    std::map<std::string, double> truths;
    if (plan.kind == Kind::naming) {
        const std::vector<std::string> names = naming::names(plan);
        truths["information"] = perception::bits_of(senses.naming);
        for (std::size_t row = 0; row < names.size(); ++row)
            truths[names[row] + " named right"] = senses.naming[row][row];
    }
    return truths;
}

}  // namespace sipladder::drills

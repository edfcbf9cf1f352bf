#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/discrimination.hpp"
#include "tools/cli/verb.hpp"

#include <array>
#include <cmath>
#include <memory>

namespace sipladder::cli {

namespace {

using threshold::DifferenceTask;

struct Options {
    std::string task;
    std::string correct;
    std::string presentations;
};

struct Named {
    const char* name;
    DifferenceTask task;
};
constexpr std::array<Named, 6> tasks{{{"2-afc", DifferenceTask::afc_2},
                                      {"3-afc", DifferenceTask::afc_3},
                                      {"4-afc", DifferenceTask::afc_4},
                                      {"triangle", DifferenceTask::triangle},
                                      {"duo-trio", DifferenceTask::duo_trio},
                                      {"tetrad", DifferenceTask::tetrad}}};

DifferenceTask task_from(const std::string& name) {
    for (const Named& known : tasks)
        if (name == known.name) return known.task;
    throw Refused("--task", "\"" + name + "\" is none", "2-afc, 3-afc, 4-afc, triangle, duo-trio or tetrad");
}

std::uint64_t count_from(const std::string& text, const std::string& option) {
    constexpr double most = 1e12;  // far beyond any test, and every count below it is exact
    const auto number = number_from_file(text);
    if (!number || *number < 0.0 || *number > most || *number != std::floor(*number))
        throw Refused(option, "is \"" + text + "\"", "a whole number from 0 to " + exact(most));
    return static_cast<std::uint64_t>(*number);
}

/// The keys of `minimum_correct`, as they are written in the JSON.
constexpr std::array<const char*, 3> alphas{"0.05", "0.01", "0.001"};

Json minimum_json(std::uint64_t presentations, double chance) {
    Json minimum = Json::object();
    for (const char* alpha : alphas) {
        const auto count = threshold::minimum_correct(presentations, chance, *number_from_file(alpha));
        minimum[alpha] = count ? Json(*count) : Json(nullptr);
    }
    return minimum;
}

std::string distance_text(const threshold::Discrimination& found) {
    if (!std::isfinite(found.d_prime))
        return "d' is beyond what this count can tell: all right; 95 % interval from " +
               significant(found.lower, 2) + " up.";
    return "d' " + fixed(found.d_prime, 2) + " (" + fixed(found.lower, 2) + " to " +
           (std::isfinite(found.upper) ? fixed(found.upper, 2) : std::string("unbounded")) +
           "), 95 % interval from the exact limits of the share.";
}

void say_result(const Options& options, std::uint64_t presentations, double chance,
                const threshold::Discrimination& found) {
    say(options.correct + " of " + options.presentations +
        " right; by chance alone this many or more: p = " + significant(found.p_value, 2) + ".");
    for (const char* alpha : alphas) {
        const auto count = threshold::minimum_correct(presentations, chance, *number_from_file(alpha));
        say("Smallest count beyond chance at " + std::string(alpha) + ": " +
            (count ? std::to_string(*count) : "none, even all right is not enough") + ".");
    }
    say(distance_text(found));
    if (found.d_prime == 0.0) say("At or below chance d' is reported as 0.");
}

void discriminate(const Common& common, const Options& options) {
    const DifferenceTask task = task_from(options.task);
    const std::uint64_t correct = count_from(options.correct, "--correct");
    const std::uint64_t presentations = count_from(options.presentations, "--of");
    const double chance = threshold::chance_of(task);
    const threshold::Discrimination found = threshold::discriminate(task, correct, presentations);
    if (!common.json) return say_result(options, presentations, chance, found);
    print({{"p_value", found.p_value},
           {"minimum_correct", minimum_json(presentations, chance)},
           {"d_prime",
            {{"value", number_or_null(found.d_prime)},
             {"lower", number_or_null(found.lower)},
             {"upper", number_or_null(found.upper)},
             {"standard_error", found.standard_error ? Json(*found.standard_error) : Json(nullptr)}}},
           {"chance", chance}});
}

}  // namespace

void add_discriminate(arguments::Command app, const Common& common) {
    arguments::Command verb =
        app.add_subcommand("discriminate", "a counted difference test: significance and d'");
    auto options = std::make_shared<Options>();
    verb.add_option("--task", options->task, "2-afc, 3-afc, 4-afc, triangle, duo-trio, tetrad").required();
    verb.add_option("--correct", options->correct, "how many were right").required();
    verb.add_option("--of", options->presentations, "how many were given").required();
    verb.on_run([&common, options] { discriminate(common, *options); });
}

}  // namespace sipladder::cli

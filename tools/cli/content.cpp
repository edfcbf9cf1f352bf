#include "drills/programme.hpp"
#include "engine/content/location.hpp"
#include "engine/problem.hpp"
#include "tools/cli/verb.hpp"

#include <cstdlib>

namespace sipladder::cli {

namespace {

struct Options {
    std::string folder;
};

Json as_json(const std::vector<Problem>& problems) {
    Json list = Json::array();
    for (const Problem& problem : problems)
        list.push_back({{"where", problem.where}, {"what", problem.what}, {"right", problem.right}});
    return list;
}

void check(Common common, const Options& options) {
    if (!options.folder.empty()) common.content = options.folder;
    try {
        const content::Content content = load_content(common);
        std::vector<Problem> problems;
        for (const content::Programme& programme : content.programmes)
            for (Problem& problem : drills::problems_of(programme, content))
                problems.push_back(std::move(problem));
        if (!problems.empty()) throw Refused(std::move(problems));
        if (common.json) return print({{"problems", Json::array()}});
        say(std::to_string(content.substances.size()) + " substances, " +
            std::to_string(content.ladders.size()) + " ladders, " +
            std::to_string(content.programmes.size()) + " programmes, " +
            std::to_string(content.sources.size()) + " sources: no problem");
    } catch (const Refused& refused) {
        if (common.json) print({{"problems", as_json(refused.problems())}});
        throw;
    }
}

}  // namespace

void add_content(arguments::Command app, const Common& common) {
    arguments::Command content = app.add_subcommand("content", "the facts that the program ships");
    content.require_subcommand();
    arguments::Command verb = content.add_subcommand("check", "every content file, every problem");
    auto options = std::make_shared<Options>();
    verb.add_option("folder", options->folder, "the folder to check (default: the one in use)");
    verb.on_run([&common, options] { check(common, *options); });
}

}  // namespace sipladder::cli

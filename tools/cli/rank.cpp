#include "engine/content/csv.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/ranking.hpp"
#include "tools/cli/verb.hpp"

#include <memory>
#include <set>

namespace sipladder::cli {

namespace {

struct Options {
    std::string file;
    bool expected = false;
};

struct Ranked {
    std::vector<std::string> samples;
    std::vector<std::vector<double>> cells;
};

/// One column named `assessor` may stand among the samples; it is a name, not a rank.
Ranked read_ranks(const std::string& text, const std::string& file) {
    const content::Table table = content::read_csv(text, file);
    std::vector<Problem> problems;
    std::vector<std::size_t> columns;
    Ranked ranked;
    for (std::size_t i = 0; i < table.heading.size(); ++i) {
        if (table.heading[i] == "assessor") continue;
        columns.push_back(i);
        ranked.samples.push_back(table.heading[i]);
    }
    if (columns.size() < 2)
        problems.push_back({file + ": heading", "names " + std::to_string(columns.size()) + " samples",
                            "one column a sample, two or more; a column assessor may hold names"});
    if (table.rows.empty())
        problems.push_back({file, "holds no rankings", "one row a person below the heading"});
    std::set<std::string> names;
    const auto assessor = table.column("assessor");
    for (const content::Table::Row& row : table.rows) {
        if (assessor && !names.insert(row.cells[*assessor]).second)
            problems.push_back({content::where_in(table, row, *assessor),
                                "\"" + row.cells[*assessor] + "\" has a row already", "one row a person"});
        std::vector<double> cells;
        cells.reserve(columns.size());
        for (const std::size_t column : columns)
            cells.push_back(
                content::number_in(table, row, column, 1.0, static_cast<double>(columns.size()), problems)
                    .value_or(0.0));
        ranked.cells.push_back(std::move(cells));
    }
    if (!problems.empty()) throw Refused(problems);
    return ranked;
}

constexpr const char* friedman_ties = "mid-ranks; F corrected for ties";
constexpr const char* page_ties =
    "mid-ranks; p is of L cut down to a whole number, on the safe side; p_given_ties counts the ties as they "
    "are";

Json as_json(const Ranked& ranked, const threshold::Friedman& friedman,
             const std::optional<threshold::Page>& page) {
    Json samples = Json::array();
    for (std::size_t i = 0; i < ranked.samples.size(); ++i)
        samples.push_back({{"sample", ranked.samples[i]}, {"rank_sum", friedman.rank_sums[i]}});
    Json result{{"friedman",
                 {{"F", friedman.statistic},
                  {"p", friedman.p},
                  {"df", friedman.df},
                  {"p_from", "chi-squared"},
                  {"p_exact", optional_json(friedman.p_exact)},
                  {"ties", friedman.has_ties ? Json(friedman_ties) : Json(nullptr)}}},
                {"page", nullptr},
                {"kendall_w", friedman.kendall_w},
                {"samples", samples},
                {"least_significant_difference", friedman.least_significant_difference},
                {"assessors", ranked.cells.size()}};
    if (page)
        result["page"] = {{"L", page->statistic},
                          {"p", page->p},
                          {"p_from", page->is_exact ? "exact" : "normal"},
                          {"z", page->z},
                          {"p_given_ties", optional_json(page->p_given_ties)},
                          {"ties", page->has_ties ? Json(page_ties) : Json(nullptr)}};
    return result;
}

/// "p = 0.012", "p < 0.0001": no more digits than a reader uses.
std::string p_text(double p) {
    return p < 0.0001 ? "p < 0.0001" : "p = " + significant(p, 2);
}

void say_friedman(const Ranked& ranked, const threshold::Friedman& friedman) {
    for (std::size_t i = 0; i < ranked.samples.size(); ++i)
        say(ranked.samples[i] + ": rank sum " + fixed(friedman.rank_sums[i], 1));
    say("Do the samples differ? Friedman's F = " + fixed(friedman.statistic, 2) + ", " + p_text(friedman.p) +
        " by chi-squared with " + std::to_string(friedman.df) + " degrees of freedom" +
        (friedman.p_exact ? ", " + p_text(*friedman.p_exact) + " counted exactly" : std::string()) + ".");
    if (friedman.has_ties) say("Ties: " + std::string(friedman_ties) + ".");
    say("Two rank sums differ (5 %, one comparison) from " + fixed(friedman.least_significant_difference, 1) +
        " apart.");
    say("Agreement, Kendall's W: " + fixed(friedman.kendall_w, 2) + " (0 none, 1 all alike).");
}

void say_page(const threshold::Page& page) {
    say("Do they rise in the order of the columns? Page's L = " + fixed(page.statistic, 1) + ", " +
        p_text(page.p) + (page.is_exact ? ", exact." : ", by the normal distribution."));
    if (page.p_given_ties)
        say("Ties: L is cut down to a whole number, on the safe side; with the ties as they are " +
            p_text(*page.p_given_ties) + ".");
    else if (page.has_ties)
        say("Ties: mid-ranks.");
}

void rank(const Common& common, const Options& options) {
    const Ranked ranked = read_ranks(read_file(options.file), options.file);
    const threshold::Rankings rankings = threshold::rankings_of(ranked.cells);
    const threshold::Friedman friedman = threshold::friedman(rankings);
    std::optional<threshold::Page> page;
    if (options.expected) page = threshold::page(rankings);
    if (common.json) return print(as_json(ranked, friedman, page));
    say_friedman(ranked, friedman);
    if (page) return say_page(*page);
    say("If the columns stand in the order expected beforehand, weakest first, add --expected for Page's "
        "test.");
}

}  // namespace

void add_rank(arguments::Command app, const Common& common) {
    arguments::Command verb =
        app.add_subcommand("rank", "rankings of samples by persons: Friedman, Page, Kendall's W");
    auto options = std::make_shared<Options>();
    verb.add_option("file", options->file,
                    "one row a person, one column a sample, cells ranks (1 weakest; ties share a rank)")
        .required();
    verb.add_flag("--expected", options->expected,
                  "the columns stand in the order expected beforehand, weakest first: Page's test");
    verb.on_run([&common, options] { rank(common, *options); });
}

}  // namespace sipladder::cli

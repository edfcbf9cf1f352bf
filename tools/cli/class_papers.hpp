#pragma once

#include "drills/classroom/ballots.hpp"
#include "drills/classroom/results.hpp"
#include "drills/sheets/paper.hpp"
#include "tools/cli/class_file.hpp"
#include "tools/cli/verb.hpp"

#include <string>
#include <vector>

/// What a class gets on paper before and after, and its results for programs.
namespace sipladder::cli {

struct ClassPaper {
    std::string name;  ///< of the file
    std::string bytes;
    std::string what;  ///< a few words
};

/// Ballots, key, pour list, tray maps and cup labels.
std::vector<ClassPaper> class_sheets(const ClassFile& read, const drills::classroom::Service& service,
                                     drills::sheets::Paper paper);

/// With the priors of the content's substances.
drills::classroom::ClassResults class_results(const drills::classroom::Service& service,
                                              const drills::classroom::Ballots& ballots,
                                              const std::vector<std::string>& names,
                                              const content::Content& content);

/// The class report and a page for each person. For the wall, the report names nobody, and each page tells
/// its person's own name on it.
std::vector<ClassPaper> class_reports(const ClassFile& read, const drills::classroom::Service& service,
                                      const drills::classroom::Ballots& ballots,
                                      const content::Content& content, drills::sheets::Paper paper,
                                      bool for_the_wall);

/// One object a drill.
Json results_json(const drills::classroom::ClassResults& results, const drills::classroom::Service& service);

}  // namespace sipladder::cli

#pragma once

#include "drills/classroom/results.hpp"
#include "drills/sheets/class_sheets.hpp"
#include "drills/sheets/paper.hpp"

#include <string>

/// What a class tasted and found, on paper.
namespace sipladder::drills::sheets {

/// The class: each drill with its question, what was served, chart, tables and sentences. Names are those of
/// the results; with names for the wall it can hang there.
std::string class_report_pdf(const classroom::ClassResults& results, const classroom::Service& service,
                             const ClassInfo& info, Paper paper);

/// A page or more for each person who answered, in the order of the seats: own results beside the class's,
/// nobody else's name.
/// @param wall_names  by seat; empty: none is told
std::string personal_pages_pdf(const classroom::ClassResults& results, const classroom::Service& service,
                               const ClassInfo& info, const std::vector<std::string>& wall_names,
                               Paper paper);

}  // namespace sipladder::drills::sheets

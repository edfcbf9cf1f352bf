#pragma once

#include "tools/benchmark/methods.hpp"
#include "tools/benchmark/report.hpp"

/// Answers that carry more than right or wrong, and answers of a person known from before; each beside the
/// plain reference on the same people.
namespace sipladder::benchmark {

/// 3-AFC with certainty, one fit for all people.
void add_certainty(Report& report, const Run& run);
/// Single cups graded in four steps, adaptive and with levels fixed beforehand.
void add_quick_look(Report& report, const Run& run);
/// A person who comes back.
void add_history(Report& report, const Run& run);

}  // namespace sipladder::benchmark

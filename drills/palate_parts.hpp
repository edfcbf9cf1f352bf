#pragma once

#include "drills/palate.hpp"

#include <functional>
#include <map>

/// How `palate` is split over files: one function a question. Inside drills only.
namespace sipladder::drills::palate_parts {

/// What was tasted, with the findings that were asked for so far, so that none is made twice.
class Sat {
  public:
    Sat(std::span<const Tasted> done, const content::Content& content) : done_(done), content_(content) {}

    std::size_t size() const { return done_.size(); }
    const State& state(std::size_t drill) const { return *done_[drill].state; }
    const Plan& plan(std::size_t drill) const { return done_[drill].state->plan; }
    const Tasted& tasted(std::size_t drill) const { return done_[drill]; }
    const content::Content& content() const { return content_; }
    /// @pre an answer is given
    const Finding& finding(std::size_t drill);
    bool has_answer(std::size_t drill) const;

  private:
    std::span<const Tasted> done_;
    const content::Content& content_;
    std::map<std::size_t, Finding> findings_;
};

std::vector<PalateRow> how_little(Sat& sat);
std::vector<PalateRow> how_different(Sat& sat);
std::vector<PalateRow> which_one(Sat& sat);
std::vector<PalateRow> how_strong(Sat& sat);
std::vector<PalateRow> where(Sat& sat);
std::vector<PalateRow> how_long(Sat& sat);

/// The row with this key, or a new one at the end; keys are kept beside the rows.
class Keyed {
  public:
    PalateRow& at(const std::string& key, const std::function<PalateRow()>& fresh);
    bool has(const std::string& key) const { return places_.contains(key); }
    std::vector<PalateRow> done() { return std::move(rows_); }

  private:
    std::vector<PalateRow> rows_;
    std::map<std::string, std::size_t> places_;
};

/// Sorted as content lists the substances; rows of one substance stay in their order.
void sort_by_substance(std::vector<PalateRow>& rows, const Sat& sat);
/// "sucrose in still water", of a line.
std::string title_of(const Plan& plan, std::size_t line = 0);
/// A measure as text; `digits` as it deserves.
PalateNumber number_of(const Finding::Measure& measure, const std::string& whence);
/// "newest of 3 sittings, 24 cups on 2026-03-01"
std::string sitting_text(const Sat& sat, std::size_t drill);

/// Heights of pictures, in lines of small text.
constexpr double figure_lines = 22.0;

}  // namespace sipladder::drills::palate_parts

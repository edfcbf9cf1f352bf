#include "drills/classroom/ballots.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <sstream>
#include <tuple>

namespace sipladder::drills::classroom {

namespace {

using content::Table;

constexpr std::string_view certainty_words[] = {"guessed", "leaning", "sure"};

std::string codes_text(const Serving& serving) {
    std::string text;
    for (const Cup& cup : serving.cups) text += (text.empty() ? "" : " ") + cup.code.digits;
    return text;
}

std::string choices_text(const ClassDrill& drill) {
    std::string text;
    for (const std::string& choice : drill.choices) text += (text.empty() ? "" : " | ") + choice;
    return text;
}

std::optional<std::size_t> cup_with(const Serving& serving, const std::string& code) {
    for (std::size_t i = 0; i < serving.cups.size(); ++i)
        if (serving.cups[i].code.digits == code) return i;
    return std::nullopt;
}

std::vector<std::string> words_of(const std::string& text) {
    std::istringstream in(text);
    std::vector<std::string> words;
    for (std::string word; in >> word;) words.push_back(word);
    return words;
}

/// Reads the rows of one table; every problem is noted with its line.
class Reader {
  public:
    Reader(const Table& table, const Service& service) : table_(table), service_(service) {}

    Ballots read();

  private:
    std::optional<std::size_t> index_in(const Table::Row& row, std::size_t column, std::size_t count) {
        const auto number = content::integer_in(table_, row, column, 1, static_cast<long>(count), problems_);
        return number ? std::optional(static_cast<std::size_t>(*number) - 1) : std::nullopt;
    }
    void note(const Table::Row& row, std::size_t column, const std::string& what, const std::string& right) {
        problems_.push_back({content::where_in(table_, row, column), what, right});
    }
    void row_in(const Table::Row& row);
    std::vector<std::size_t> picked_in(const Table::Row& row, const ClassDrill& drill,
                                       const Serving& serving);
    std::optional<threshold::Certainty> certainty_in(const Table::Row& row);

    const Table& table_;
    const Service& service_;
    std::vector<Problem> problems_;
    std::optional<std::size_t> seat_, drill_, line_, answer_, certainty_;
    std::map<std::tuple<std::size_t, std::size_t, std::size_t>, BallotAnswer> answers_;
};

std::vector<std::size_t> Reader::picked_in(const Table::Row& row, const ClassDrill& drill,
                                           const Serving& serving) {
    const std::string& text = row.cells[*answer_];
    if (drill.task == Task::graded || drill.task == Task::naming) {
        const auto found = std::find(drill.choices.begin(), drill.choices.end(), text);
        if (found == drill.choices.end()) {
            note(row, *answer_, "is \"" + text + "\", which is not on the ballot", choices_text(drill));
            return {};
        }
        return {static_cast<std::size_t>(found - drill.choices.begin())};
    }
    const bool is_ranking = drill.task == Task::ranking;
    const std::vector<std::string> codes = words_of(text);
    std::vector<std::size_t> picked;
    for (const std::string& code : codes) {
        const auto cup = cup_with(serving, code);
        if (!cup || std::find(picked.begin(), picked.end(), *cup) != picked.end()) {
            note(row, *answer_,
                 cup ? "names " + code + " twice" : "names " + code + ", which does not stand there",
                 codes_text(serving));
            return {};
        }
        picked.push_back(*cup);
    }
    if (picked.size() != (is_ranking ? serving.cups.size() : 1)) {
        note(row, *answer_, "names " + std::to_string(picked.size()) + " codes",
             is_ranking ? "all of " + codes_text(serving) + ", weakest first"
                        : "one of " + codes_text(serving));
        return {};
    }
    return picked;
}

std::optional<threshold::Certainty> Reader::certainty_in(const Table::Row& row) {
    if (!certainty_ || row.cells[*certainty_].empty()) return std::nullopt;
    for (std::size_t i = 0; i < std::size(certainty_words); ++i)
        if (row.cells[*certainty_] == certainty_words[i]) return static_cast<threshold::Certainty>(i);
    note(row, *certainty_, "is \"" + row.cells[*certainty_] + "\"", "guessed, leaning, sure or nothing");
    return std::nullopt;
}

void Reader::row_in(const Table::Row& row) {
    const auto seat = index_in(row, *seat_, service_.seats.size());
    const auto drill = index_in(row, *drill_, service_.plan.drills.size());
    if (!seat || !drill) return;
    const std::vector<Serving>& servings = service_.seats[*seat].servings[*drill];
    const auto line = index_in(row, *line_, servings.size());
    if (!line) return;
    BallotAnswer answer{*seat, *drill, *line, {}, certainty_in(row)};
    answer.picked = picked_in(row, service_.plan.drills[*drill], servings[*line]);
    if (!answers_.emplace(std::tuple(*seat, *drill, *line), std::move(answer)).second)
        note(row, *line_, "is answered twice: " + place_words(service_, *seat, *drill, *line),
             "one row a line");
}

Ballots Reader::read() {
    content::only_columns(table_, {"seat", "drill", "line", "answer", "certainty"}, problems_);
    seat_ = content::wanted_column(table_, "seat", problems_);
    drill_ = content::wanted_column(table_, "drill", problems_);
    line_ = content::wanted_column(table_, "line", problems_);
    answer_ = content::wanted_column(table_, "answer", problems_);
    certainty_ = table_.column("certainty");
    if (problems_.empty())
        for (const Table::Row& row : table_.rows) row_in(row);
    if (!problems_.empty()) throw Refused(problems_);
    std::vector<BallotAnswer> answers;
    answers.reserve(answers_.size());
    for (auto& [place, answer] : answers_) answers.push_back(std::move(answer));
    return ballots_of(std::move(answers), service_);
}

const Serving& serving_of(const BallotAnswer& answer, const Service& service) {
    return service.seats[answer.seat].servings[answer.drill][answer.serving];
}

}  // namespace

std::string place_words(const Service& service, std::size_t seat, std::size_t drill, std::size_t serving) {
    const ClassDrill& of = service.plan.drills[drill];
    std::string text = "seat " + std::to_string(service.seats[seat].number) + ", " + of.name;
    if (of.task != Task::ranking) text += ", line " + std::to_string(serving + 1);
    return text;
}

std::string answer_words(const BallotAnswer& answer, const Service& service) {
    const ClassDrill& drill = service.plan.drills[answer.drill];
    const Serving& serving = service.seats[answer.seat].servings[answer.drill][answer.serving];
    std::string text;
    for (const std::size_t picked : answer.picked)
        text += (text.empty() ? "" : " ") + (drill.task == Task::graded || drill.task == Task::naming
                                                 ? drill.choices[picked]
                                                 : serving.cups[picked].code.digits);
    if (answer.certainty)
        text.append(", ").append(certainty_words[static_cast<std::size_t>(*answer.certainty)]);
    return text;
}

Ballots ballots_of(std::vector<BallotAnswer> answers, const Service& service) {
    const auto place = [](const BallotAnswer& answer) {
        return std::tuple(answer.seat, answer.drill, answer.serving);
    };
    std::ranges::sort(answers, {}, place);
    Ballots ballots;
    auto next = answers.begin();
    for (std::size_t seat = 0; seat < service.seats.size(); ++seat) {
        std::vector<std::string> gaps;
        const std::size_t before = ballots.answers.size();
        for (std::size_t drill = 0; drill < service.plan.drills.size(); ++drill)
            for (std::size_t line = 0; line < service.seats[seat].servings[drill].size(); ++line)
                if (next != answers.end() && place(*next) == std::tuple(seat, drill, line))
                    ballots.answers.push_back(std::move(*next++));
                else
                    gaps.push_back(place_words(service, seat, drill, line) + " is empty");
        if (ballots.answers.size() > before)
            ballots.gaps.insert(ballots.gaps.end(), gaps.begin(), gaps.end());
        else if (!service.seats[seat].is_spare)
            ballots.no_shows.push_back(seat);
    }
    return ballots;
}

std::string ballots_csv(const Ballots& ballots, const Service& service) {
    const bool any_certainty = std::ranges::any_of(
        ballots.answers, [](const BallotAnswer& answer) { return answer.certainty.has_value(); });
    std::string text = any_certainty ? "seat,drill,line,answer,certainty\n" : "seat,drill,line,answer\n";
    for (const BallotAnswer& answer : ballots.answers) {
        BallotAnswer bare = answer;
        bare.certainty.reset();
        text.append(std::to_string(service.seats[answer.seat].number)).append(",");
        text.append(std::to_string(answer.drill + 1)).append(",");
        text.append(std::to_string(answer.serving + 1)).append(",");
        text.append(content::csv_cell(answer_words(bare, service)));
        if (any_certainty) text.append(",");
        if (answer.certainty) text.append(certainty_words[static_cast<std::size_t>(*answer.certainty)]);
        text.append("\n");
    }
    return text;
}

Ballots read_ballots(const content::Table& table, const Service& service) {
    return Reader(table, service).read();
}

std::vector<Difference> differences(const Ballots& first, const Ballots& second, const Service& service) {
    using Place = std::tuple<std::size_t, std::size_t, std::size_t>;
    std::map<Place, Difference> by_place;
    const auto add = [&](const Ballots& ballots, std::string Difference::*side) {
        for (const BallotAnswer& answer : ballots.answers) {
            Difference& found = by_place[{answer.seat, answer.drill, answer.serving}];
            found.where = place_words(service, answer.seat, answer.drill, answer.serving);
            found.*side = answer_words(answer, service);
        }
    };
    add(first, &Difference::first);
    add(second, &Difference::second);
    std::vector<Difference> all;
    for (auto& [place, difference] : by_place)
        if (difference.first != difference.second) all.push_back(std::move(difference));
    return all;
}

std::vector<Count> counts(const Ballots& ballots, const Service& service, std::size_t drill) {
    SIPLADDER_EXPECT(service.plan.drills.at(drill).task == Task::which_of_three);
    std::map<std::pair<std::size_t, std::size_t>, Count> found;
    for (const BallotAnswer& answer : ballots.answers) {
        if (answer.drill != drill) continue;
        const Serving& serving = serving_of(answer, service);
        const auto target = std::find_if(serving.cups.begin(), serving.cups.end(),
                                         [](const Cup& cup) { return !cup.is_blank; });
        Count& count = found[{answer.seat, target->sample}];
        count.seat = answer.seat;
        count.sample = target->sample;
        ++count.presentations;
        if (!serving.cups[answer.picked.front()].is_blank) ++count.correct;
    }
    std::vector<Count> all;
    all.reserve(found.size());
    for (const auto& [key, count] : found) all.push_back(count);
    return all;
}

Ranks ranks(const Ballots& ballots, const Service& service, std::size_t drill) {
    SIPLADDER_EXPECT(service.plan.drills.at(drill).task == Task::ranking);
    Ranks result;
    for (const BallotAnswer& answer : ballots.answers) {
        if (answer.drill != drill) continue;
        std::vector<double> row(service.plan.drills[drill].samples.size());
        for (std::size_t i = 0; i < answer.picked.size(); ++i)
            row[serving_of(answer, service).cups[answer.picked[i]].sample] = static_cast<double>(i + 1);
        result.seats.push_back(answer.seat);
        result.by_sample.push_back(std::move(row));
    }
    return result;
}

std::vector<std::vector<std::size_t>> confusion(const Ballots& ballots, const Service& service,
                                                std::size_t drill) {
    const ClassDrill& of = service.plan.drills.at(drill);
    SIPLADDER_EXPECT(of.task == Task::graded || of.task == Task::naming);
    std::vector<std::vector<std::size_t>> table(of.samples.size(),
                                                std::vector<std::size_t>(of.choices.size(), 0));
    for (const BallotAnswer& answer : ballots.answers)
        if (answer.drill == drill)
            ++table[serving_of(answer, service).cups.front().sample][answer.picked.front()];
    return table;
}

}  // namespace sipladder::drills::classroom

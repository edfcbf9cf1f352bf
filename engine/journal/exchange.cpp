// Merging goes through the rows in their order. A row that is left out takes along what hangs on it: that is
// what `left_` knows. Two journals that both went on with one drill, or struck one row in different ways,
// have no conflict of ids, but their union would be a drill that nobody tasted; so that is a conflict too.

#include "engine/journal/exchange.hpp"

#include "engine/journal/appending.hpp"
#include "engine/journal/connection.hpp"
#include "engine/journal/reading.hpp"
#include "engine/problem.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <unordered_map>
#include <utility>

namespace sipladder::journal {

namespace {

constexpr std::size_t most_conflicts = 100;

/// Reads of one moment. Ends by a rollback, since nothing was written.
class Snapshot {
  public:
    explicit Snapshot(Database& database) : database_(database) { database_.run("BEGIN"); }
    ~Snapshot() {
        try {
            database_.run("ROLLBACK");
        } catch (const std::exception&) {  // nothing is lost: nothing was written
        }
    }
    Snapshot(const Snapshot&) = delete;
    Snapshot& operator=(const Snapshot&) = delete;

  private:
    Database& database_;
};

const Uuid& id_of(const ExchangeRow& row) {
    return std::visit([](const auto& one) -> const Uuid& { return one.id; }, row);
}

/// The rows in the order in which they came to be written.
std::vector<ExchangeRow> by_arrival(std::vector<ExchangeRow> rows, const Database& database) {
    std::unordered_map<std::string, std::int64_t> numbers;
    Statement all(database, "SELECT id, number FROM row");
    while (all.step()) numbers.emplace(all.text(0), all.integer(1));
    std::vector<std::pair<std::int64_t, std::size_t>> order;
    order.reserve(rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) order.emplace_back(numbers.at(id_of(rows[i]).text), i);
    std::ranges::sort(order);
    std::vector<ExchangeRow> sorted;
    sorted.reserve(rows.size());
    for (const auto& [number, i] : order) sorted.push_back(std::move(rows[i]));
    return sorted;
}

template <class Row>
void take(std::vector<ExchangeRow>& rows, std::vector<Row> found) {
    for (Row& row : found) {
        if constexpr (!std::is_same_v<Row, Person>) row.struck.reset();
        rows.emplace_back(std::move(row));
    }
}

void take_strikes(std::vector<ExchangeRow>& rows, const Database& database, const Uuid& person) {
    constexpr std::string_view ask =
        "SELECT k.id, k.target, k.strikes, k.reason, own.at_utc_ms, own.at_offset_min, own.at_monotonic_ms "
        "FROM strike k JOIN row own ON own.id = k.id WHERE k.target IN (SELECT id FROM fact WHERE person = "
        "?1 "
        "UNION ALL SELECT id FROM sitting WHERE person = ?1 UNION ALL SELECT d.id FROM drill d JOIN sitting "
        "s "
        "ON d.sitting = s.id WHERE s.person = ?1 UNION ALL SELECT e.id FROM entry e JOIN drill d ON e.drill "
        "= "
        "d.id JOIN sitting s ON d.sitting = s.id WHERE s.person = ?1)";
    Statement strikes(database, ask);
    strikes.bind(person.text);
    while (strikes.step())
        rows.emplace_back(
            StrikeRow{Uuid{strikes.text(0)}, Uuid{strikes.text(1)}, strikes.integer(2) != 0, strikes.text(3),
                      Instant{strikes.integer(4), static_cast<int>(strikes.integer(5)), strikes.integer(6)}});
}

void take_person(std::vector<ExchangeRow>& rows, const Database& database, const Uuid& person) {
    take(rows, read_people(database, {"t.id = ?", person.text}));
    take(rows, read_facts(database, {"t.person = ?", person.text}));
    take(rows, read_sittings(database, {"t.person = ?", person.text}));
    take(rows,
         read_drills(database, {"t.sitting IN (SELECT id FROM sitting WHERE person = ?)", person.text}));
    take(rows, read_entries(database,
                            {"t.drill IN (SELECT d.id FROM drill d JOIN sitting s ON d.sitting = s.id WHERE "
                             "s.person = ?)",
                             person.text}));
    take_strikes(rows, database, person);
}

/// What a row belongs to; nothing for a person.
const Uuid* parent_of(const ExchangeRow& row) {
    struct Parent {
        const Uuid* operator()(const Person&) const { return nullptr; }
        const Uuid* operator()(const Fact& fact) const { return &fact.person; }
        const Uuid* operator()(const Sitting& sitting) const { return &sitting.person; }
        const Uuid* operator()(const Drill& drill) const { return &drill.sitting; }
        const Uuid* operator()(const Entry& entry) const { return &entry.drill; }
        const Uuid* operator()(const StrikeRow& strike) const { return &strike.target; }
    };
    return std::visit(Parent{}, row);
}

class Merging {
  public:
    Merging(const Database& database, const Exchange& exchange) : database_(database), exchange_(exchange) {
        for (const ExchangeRow& row : exchange.rows)
            if (const auto* strike = std::get_if<StrikeRow>(&row)) {
                strikes_.insert(strike->id.text);
                last_strike_[strike->target.text] = strike->strikes;
            }
    }

    void take_all() {
        for (const ExchangeRow& row : exchange_.rows) take_row(row);
        for (const Uuid& person : exchange_.erased) take_erased(person);
    }
    Merged take_result() { return std::move(merged_); }

  private:
    enum class Left { erased, conflict };

    void take_row(const ExchangeRow& row) {
        const Uuid* parent = parent_of(row);
        if (const auto left = parent == nullptr ? left_.end() : left_.find(parent->text); left != left_.end())
            return leave(row, left->second);
        std::visit([&](const auto& one) { take_one(one, row); }, row);
    }

    void leave(const ExchangeRow& row, Left why) {
        left_.emplace(id_of(row).text, why);
        ++(why == Left::erased ? merged_.of_erased : merged_.left_out);
    }

    void conflict(const ExchangeRow& row, std::string what, std::string right) {
        leave(row, Left::conflict);
        if (merged_.conflicts.size() < most_conflicts)
            merged_.conflicts.push_back(
                {"journal: row " + id_of(row).text, std::move(what), std::move(right)});
    }

    template <class Row>
    void add(const Row& row, const ExchangeRow& whole) {
        append_row(database_, row);
        merged_.added.push_back(whole);
    }

    /// True where the row is done with: it is here, or stands here for something else.
    template <class Row>
    bool is_settled(const Row& row, const ExchangeRow& whole) {
        switch (known(database_, row)) {
            case Known::absent:
                return false;
            case Known::same:
                ++merged_.known;
                return true;
            case Known::other:
                break;
        }
        conflict(whole, "stands for something else here",
                 "ours stays; if theirs is right, strike ours out and write theirs as a new row");
        return true;
    }

    template <class Row>
    void take_one(const Row& row, const ExchangeRow& whole) {
        if (!is_settled(row, whole)) add(row, whole);
    }
    void take_one(const Person& person, const ExchangeRow& whole) {
        if (was_erased(database_, person.id)) return leave(whole, Left::erased);
        if (!is_settled(person, whole)) add(person, whole);
    }
    void take_one(const Entry& entry, const ExchangeRow& whole) {
        if (is_settled(entry, whole)) return;
        if (parted_.contains(entry.drill.text)) return leave(whole, Left::conflict);
        if (entry.number < next_number(database_, entry.drill)) {
            parted_.insert(entry.drill.text);
            return conflict(whole,
                            "is number " + std::to_string(entry.number) + " of drill " + entry.drill.text +
                                ", which went on differently here",
                            "ours stays; two people cannot have tasted one drill");
        }
        add(entry, whole);
    }
    void take_one(const StrikeRow& row, const ExchangeRow& whole) {
        const Strike strike{row.target, row.strikes, row.reason, row.at};
        if (kind_of(database_, row.id)) {
            if (read_strike(database_, row.id) == strike) {
                ++merged_.known;
                return;
            }
            return conflict(whole, "stands for something else here", "ours stays");
        }
        const auto kind = kind_of(database_, row.target);
        if (!kind || kind == "person" || kind == "strike")
            throw Refused("journal: strike " + row.id.text,
                          kind ? "names a " + *kind : "names a row that is nowhere",
                          "a fact, sitting, drill or entry can be struck out and put back");
        if (const auto ours = last_strike_of(database_, row.target);
            ours && has_own_strike(row.target) && ours->strikes != last_strike_.at(row.target.text))
            return conflict(whole,
                            std::string(ours->strikes ? "puts back" : "strikes out") + " row " +
                                row.target.text + ", which was decided otherwise here",
                            "ours stays; strike it out or put it back here, if theirs is right");
        insert_strike(database_, row.id, strike);
        merged_.added.push_back(whole);
    }

    /// Whether the target was struck out or put back here in a row that the other journal does not know.
    bool has_own_strike(const Uuid& target) const {
        Statement all(database_, "SELECT id FROM strike WHERE target = ?");
        all.bind(target.text);
        while (all.step())
            if (!strikes_.contains(all.text(0))) return true;
        return false;
    }

    void take_erased(const Uuid& person) {
        if (was_erased(database_, person)) return;
        if (kind_of(database_, person)) {
            merged_.erased_there.push_back(person);
            return;
        }
        Statement(database_, "INSERT INTO erased (person) VALUES (?)").bind(person.text).step();
    }

    const Database& database_;
    const Exchange& exchange_;
    Merged merged_;
    std::map<std::string, Left> left_;
    std::set<std::string> parted_;  ///< drills that went on differently
    std::set<std::string> strikes_;
    std::map<std::string, bool> last_strike_;
};

/// A file that brings a person and says that they were erased contradicts itself.
void check_erased(const Exchange& exchange) {
    const std::set<Uuid> erased(exchange.erased.begin(), exchange.erased.end());
    for (const ExchangeRow& row : exchange.rows)
        if (const auto* person = std::get_if<Person>(&row); person != nullptr && erased.contains(person->id))
            throw Refused("journal: person " + person->id.text, "is brought along and said to be erased",
                          "one of the two; ask for another export");
}

}  // namespace

Exchange contents(const Journal& journal, const std::optional<Uuid>& person) {
    SIPLADDER_EXPECT(!Inside::is_together(journal));
    Database& database = Inside::database(journal);
    const Snapshot snapshot(database);
    Exchange exchange;
    if (person && kind_of(database, *person) != "person")
        throw Refused("journal: person " + person->text, "is not in this journal",
                      "one of the people that `people` names");
    for (const Person& one : journal.people())
        if (!person || one.id == *person) take_person(exchange.rows, database, one.id);
    exchange.rows = by_arrival(std::move(exchange.rows), database);
    if (!person) exchange.erased = journal.erased();
    std::ranges::sort(exchange.erased);
    return exchange;
}

Merged merge(Journal& journal, const Exchange& exchange, OnConflict on_conflict,
             const std::function<void(const Merged&)>& accept) {
    check_erased(exchange);
    Merged merged;
    journal.together([&] {
        Merging merging(Inside::database(journal), exchange);
        merging.take_all();
        merged = merging.take_result();
        if (on_conflict == OnConflict::refuse && !merged.conflicts.empty()) throw Refused(merged.conflicts);
        if (accept) accept(merged);
    });
    return merged;
}

}  // namespace sipladder::journal

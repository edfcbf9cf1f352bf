#include "tools/benchmark/long_person.hpp"

#include "drills/demo.hpp"
#include "engine/content/location.hpp"
#include "engine/random.hpp"
#include "engine/uuid.hpp"

#include <algorithm>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace sipladder::benchmark {

namespace {

constexpr std::int64_t day_ms = 86'400'000;
constexpr std::uint64_t invented_people = 4;

/// A sitting as it was kept, with the mixes that were made for it.
struct Evening {
    std::vector<journal::Fact> mixes;
    journal::Sitting sitting;
    std::vector<std::pair<journal::Drill, std::vector<journal::Entry>>> drills;
};

void add_evenings(std::vector<Evening>& all, const content::Content& content, Seed seed) {
    journal::Journal journal = journal::Journal::in_memory();
    drills::make_demo(journal, content, drills::load_demo(content::locate("")), seed);
    const Uuid person = journal.people().front().id;
    std::vector<journal::Fact> mixes = journal.facts(person);
    std::erase_if(mixes, [](const journal::Fact& fact) { return fact.kind != "mix"; });
    for (journal::Sitting& sitting : journal.sittings(person)) {
        Evening evening;
        for (journal::Drill& drill : journal.drills(sitting.id)) {
            std::vector<journal::Entry> entries = journal.entries(drill.id);
            evening.drills.emplace_back(std::move(drill), std::move(entries));
        }
        while (!mixes.empty() && mixes.front().at.utc_ms <= sitting.started.utc_ms) {
            evening.mixes.push_back(std::move(mixes.front()));
            mixes.erase(mixes.begin());
        }
        evening.sitting = std::move(sitting);
        all.push_back(std::move(evening));
    }
}

/// Tells an evening again, so many milliseconds later and under ids of its own.
class Teller {
  public:
    Teller(journal::Journal& journal, Uuid person, Random& ids)
        : journal_(journal), person_(std::move(person)), ids_(ids) {}

    void tell(Evening evening, std::int64_t later_ms) {
        later_ms_ = later_ms;
        for (journal::Fact& mix : evening.mixes) {
            mix.id = uuid_from(ids_);
            mix.person = person_;
            mix.at.utc_ms += later_ms;
            journal_.append(mix);
        }
        evening.sitting.id = uuid_from(ids_);
        evening.sitting.person = person_;
        evening.sitting.started.utc_ms += later_ms;
        journal_.append(evening.sitting);
        for (auto& [drill, entries] : evening.drills) tell(std::move(drill), std::move(entries), evening);
    }

  private:
    void tell(journal::Drill drill, std::vector<journal::Entry> entries, const Evening& evening) {
        drill.id = uuid_from(ids_);
        drill.sitting = evening.sitting.id;
        drill.started.utc_ms += later_ms_;
        journal_.append(drill);
        for (journal::Entry& entry : entries) {
            entry.id = uuid_from(ids_);
            entry.drill = drill.id;
            entry.at.utc_ms += later_ms_;
            entry.body = moved(entry.body);
            journal_.append(entry);
        }
    }

    /// The moments in an answer, moved.
    std::string moved(const std::string& body) const {
        constexpr std::string_view key = "\"utc_ms\":";
        std::string text;
        std::size_t from = 0;
        for (std::size_t at = body.find(key); at != std::string::npos; at = body.find(key, from)) {
            at += key.size();
            text.append(body, from, at - from);
            std::size_t digits = 0;
            text.append(std::to_string(std::stoll(body.substr(at), &digits) + later_ms_));
            from = at + digits;
        }
        return text.append(body, from);
    }

    journal::Journal& journal_;
    Uuid person_;
    Random& ids_;
    std::int64_t later_ms_ = 0;
};

}  // namespace

void write_long_person(journal::Journal& journal, const content::Content& content, std::size_t sittings,
                       const Instant& last) {
    std::vector<Evening> evenings;
    for (std::uint64_t seed = 1; seed <= invented_people; ++seed) add_evenings(evenings, content, Seed{seed});
    Random ids{Seed{5000}};
    const Uuid person = uuid_from(ids);
    const auto midnight = [](const Instant& at) { return at.utc_ms / day_ms * day_ms; };
    const std::int64_t first_ms = midnight(last) - static_cast<std::int64_t>(sittings) * day_ms;
    journal.together([&] {
        journal.append(
            journal::Person{person, "Long at it (invented)", true, {first_ms, last.offset_min, 0}});
        Teller teller(journal, person, ids);
        for (std::size_t i = 0; i < sittings; ++i) {
            const Evening& evening = evenings[i % evenings.size()];
            const std::int64_t day = first_ms + static_cast<std::int64_t>(i) * day_ms;
            teller.tell(evening, day - midnight(evening.sitting.started));
        }
    });
}

}  // namespace sipladder::benchmark

#pragma once

#include "drills/demo.hpp"
#include "drills/palate.hpp"
#include "drills/record.hpp"

#include <algorithm>
#include <filesystem>
#include <vector>

/// The demo's person with all drills read, newest first, as the palate takes them.
namespace sipladder::tests {

struct InventedPerson {
    content::Content content = content::load(std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content");
    std::vector<drills::State> states;
    std::vector<drills::Tasted> tasted;
    std::vector<drills::record::KeptMix> mixes;
    Instant now;

    InventedPerson() {
        const auto demo = drills::load_demo(std::filesystem::path(SIPLADDER_SOURCE_DIR) / "content");
        journal::Journal journal = journal::Journal::in_memory();
        drills::make_demo(journal, content, demo, Seed{1});
        const Uuid person = journal.people().front().id;
        for (const journal::Fact& fact : journal.facts(person))
            if (fact.kind == "mix") mixes.push_back(drills::record::read_mix(fact));
        std::vector<journal::Drill> drills;
        for (const journal::Sitting& sitting : journal.sittings(person))
            for (const journal::Drill& drill : journal.drills(sitting.id)) drills.push_back(drill);
        std::stable_sort(drills.begin(), drills.end(), [](const journal::Drill& a, const journal::Drill& b) {
            return a.started.utc_ms > b.started.utc_ms;
        });
        states.reserve(drills.size());
        for (const journal::Drill& drill : drills) {
            const auto entries = journal.entries(drill.id);
            states.push_back(drills::record::read(drill, entries));
            tasted.push_back({&states.back(), drill.started, entries.back().at});
        }
        now = tasted.front().last;
        now.utc_ms += 5LL * 24 * 3600 * 1000;
    }
    InventedPerson(const InventedPerson&) = delete;
    InventedPerson& operator=(const InventedPerson&) = delete;
    ~InventedPerson() = default;

    /// Made once: it is read only.
    static const InventedPerson& here() {
        static const InventedPerson person;
        return person;
    }
    const drills::Palate& palate() const {
        static const drills::Palate found = drills::palate(tasted, content);
        return found;
    }
};

}  // namespace sipladder::tests

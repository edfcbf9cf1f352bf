#include "drills/palate.hpp"

#include "drills/assessor.hpp"
#include "drills/naming.hpp"
#include "drills/palate_detail.hpp"
#include "drills/palate_next.hpp"
#include "tests/drills/every_drill.hpp"
#include "tests/support/invented_person.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <variant>

using namespace sipladder;
using namespace sipladder::drills;
using tests::InventedPerson;

namespace {

const PalateRow& row_of(PalateQuestion question, const std::string& title) {
    const auto& rows = InventedPerson::here().palate().of(question);
    const auto found = std::find_if(rows.begin(), rows.end(), [&](const PalateRow& row) {
        return row.title.find(title) != std::string::npos;
    });
    REQUIRE(found != rows.end());
    return *found;
}

/// Whether any text of the row has this in it.
bool says(const PalateRow& row, const std::string& text) {
    const auto has = [&](const std::string& one) { return one.find(text) != std::string::npos; };
    return std::any_of(row.sentences.begin(), row.sentences.end(), has) ||
           std::any_of(row.numbers.begin(), row.numbers.end(),
                       [&](const PalateNumber& one) { return has(one.what) || has(one.text); });
}

template <class Mark>
std::vector<Mark> marks_in(const chart::Chart& chart) {
    std::vector<Mark> found;
    for (const chart::Mark& mark : chart.marks)
        if (const auto* one = std::get_if<Mark>(&mark)) found.push_back(*one);
    return found;
}

State tasted_through(const Plan& plan, Seed seed) {
    Random random(seed);
    State state = begin(plan, seed);
    const Assessor assessor = drawn_assessor(plan, random);
    for (std::size_t number = 0; !is_finished(state); ++number)
        state = taste(std::move(state), assessor, random, tests::minute(number));
    return state;
}

}  // namespace

TEST_CASE("what papers report is kept apart by substance, base and kind of threshold") {
    const content::Content& content = InventedPerson::here().content;
    const auto detection = reported_of(content, "sucrose", "purified_water", "detection");
    REQUIRE(detection);
    CHECK(detection->lower == 2.29);
    CHECK(detection->upper == 2.29);
    CHECK(detection->whose.find("117 people") != std::string::npos);
    CHECK(detection->whose.find("staircase") != std::string::npos);
    const auto recognition = reported_of(content, "sucrose", "still_water_hard", "recognition");
    REQUIRE(recognition);
    CHECK(recognition->lower == 5.65);
    CHECK(reported_of(content, "sucrose", "purified_water", "taste")->upper == 8.22);
    CHECK(!reported_of(content, "sucrose", "acid_sugar_base", "detection"));
    CHECK(!reported_of(content, "tartaric_acid", "purified_water", "detection"));
    // Salt in wine is no salt in water.
    CHECK(reported_of(content, "sodium_chloride", "purified_water", "detection")->lower == 0.31);
    CHECK(reported_base(content, "a_water_of_ones_own") == "water");
    CHECK(reported_base(content, "acid_sugar_base") != "water");
}

TEST_CASE("how little: detection is filled, recognition an outline, each with its own band") {
    const PalateRow& row = row_of(PalateQuestion::how_little, "sucrose in purified water");
    REQUIRE(row.fits.size() == 2);
    CHECK(row.fits[0].name == "detection");
    CHECK(row.fits[1].name == "recognition");
    const auto ridges = marks_in<chart::Ridge>(row.pictures.front().chart);
    REQUIRE(ridges.size() == 2);
    CHECK(ridges[0].filled);
    CHECK(!ridges[1].filled);
    const auto bands = marks_in<chart::ReferenceBand>(row.pictures.front().chart);
    REQUIRE(bands.size() == 2);
    CHECK(!bands[0].outlined);
    CHECK(std::abs(bands[0].from / 2.29 - 1.0) < 0.02);
    CHECK(bands[1].outlined);
    CHECK(std::abs(bands[1].from / 5.65 - 1.0) < 0.02);
    CHECK(row.numbers[0].text.find(" g/L") != std::string::npos);
    CHECK(row.reported.find("detection 2.3 g/L") != std::string::npos);
    // Of tannin nothing is published, and the newest of four sittings counts.
    const PalateRow& tannin = row_of(PalateQuestion::how_little, "grape tannin");
    CHECK(tannin.from.size() == 4);
    CHECK(tannin.fits.front().drill == tannin.from.front());
    CHECK(tannin.reported.find("No published values") != std::string::npos);
    CHECK(marks_in<chart::ReferenceBand>(tannin.pictures.front().chart).empty());
}

TEST_CASE("a quick look and a closed nose have bars of their own, and lead where nothing else is there") {
    const content::Content& content = InventedPerson::here().content;
    const State look = tasted_through(tests::quick_look_plan(Blinding::served), Seed{4});
    const State nose = tasted_through(tests::nose_plan(Blinding::served), Seed{5});
    const std::vector<Tasted> done{{&nose, {}, {}}, {&look, {}, {}}};
    const auto rows = palate(done, content).of(PalateQuestion::how_little);
    REQUIRE(rows.size() == 1);
    std::vector<std::string> names;
    for (const PalateFit& fit : rows.front().fits) names.push_back(fit.name);
    CHECK(names == std::vector<std::string>{"quick look", "nose open", "nose closed"});
    CHECK(marks_in<chart::Ridge>(rows.front().pictures.front().chart).size() == 1);
    CHECK(marks_in<chart::Interval>(rows.front().pictures.front().chart).size() == 3);
    CHECK(says(rows.front(), "closed over open"));
}

TEST_CASE("sittings of the same names are joined, in whatever order the names stand") {
    const Plan plan = tests::naming_plan(Blinding::served, 24);
    Plan turned = plan;
    std::swap(turned.others[0], turned.others[1]);
    const State one = tasted_through(plan, Seed{11});
    const State other = tasted_through(turned, Seed{12});
    const naming::Result a = naming::result(one);
    const naming::Result b = naming::result(other);
    const State* const both[] = {&one, &other};
    const naming::Result joined = naming::joined(both);
    CHECK(joined.names == a.names);
    std::size_t cups = 0;
    for (std::size_t row = 0; row < joined.names.size(); ++row)
        for (std::size_t name = 0; name < joined.names.size(); ++name) {
            const auto in_b = [&](std::size_t index) {
                return static_cast<std::size_t>(std::find(b.names.begin(), b.names.end(), a.names[index]) -
                                                b.names.begin());
            };
            CHECK(joined.counts[row][name] == a.counts[row][name] + b.counts[in_b(row)][in_b(name)]);
            cups += joined.counts[row][name];
        }
    CHECK(cups == 48);
    CHECK(joined.right_in_all.upper - joined.right_in_all.lower <
          a.right_in_all.upper - a.right_in_all.lower);
    const std::vector<Tasted> done{{&one, {}, {}}, {&other, {}, {}}};
    const auto rows = palate(done, InventedPerson::here().content).of(PalateQuestion::which_one);
    REQUIRE(rows.size() == 1);
    CHECK(says(rows.front(), "2 sittings of the same names are joined"));
}

TEST_CASE("the invented person has something to say to each of the six questions") {
    for (const PalateQuestion question : every_palate_question) {
        const std::string name = text_of(question);
        CAPTURE(name);
        const auto& rows = InventedPerson::here().palate().of(question);
        CHECK(!rows.empty());
        for (const PalateRow& row : rows) {
            CHECK(!row.title.empty());
            CHECK(!row.from.empty());
            CHECK(!row.numbers.empty());
            CHECK(!row.pictures.empty());
            for (const PalatePicture& picture : row.pictures) CHECK(picture.lines > 2.0);
        }
    }
    CHECK(says(row_of(PalateQuestion::how_different, "sucrose"), "Weber fraction"));
    CHECK(says(row_of(PalateQuestion::how_strong, "your words"), "European Union"));
    CHECK(says(row_of(PalateQuestion::how_strong, "with acid"), "times as much"));
    CHECK(says(row_of(PalateQuestion::how_long, "sourness"), "a quarter is longer than"));
    CHECK(says(row_of(PalateQuestion::where, "sucrose"), "agreement of the whole map"));
}

TEST_CASE("an opened row has every answer, both priors, the levels, lots and papers") {
    const InventedPerson& person = InventedPerson::here();
    for (const PalateQuestion question : every_palate_question)
        for (const PalateRow& row : person.palate().of(question)) {
            CAPTURE(row.title);
            const PalateDetail detail =
                detail_of(row, person.tasted, person.content, mix_among(person.mixes));
            CHECK(!detail.pictures.empty());
            for (const PalateTable& table : detail.tables)
                for (const auto& cells : table.rows) CHECK(cells.size() == table.columns.size());
            const auto lots = std::find_if(detail.facts.begin(), detail.facts.end(),
                                           [](const PalateNumber& fact) { return fact.what == "lots"; });
            REQUIRE(lots != detail.facts.end());
            CHECK(lots->text.find("mixed on") != std::string::npos);
        }
    const PalateRow& row = row_of(PalateQuestion::how_little, "sucrose");
    const PalateDetail detail = detail_of(row, person.tasted, person.content, mix_among(person.mixes));
    const auto table = [&](const std::string& title) {
        const auto found = std::find_if(detail.tables.begin(), detail.tables.end(),
                                        [&](const PalateTable& one) { return one.title.find(title) == 0; });
        REQUIRE(found != detail.tables.end());
        return *found;
    };
    CHECK(table("With the assumed prior").rows.size() == 2 * row.fits.size());
    CHECK(table("What papers report").rows.size() == 5);
    CHECK(table("Every answer").rows.size() == 12);
    // Every answer of the curve has its mark.
    const auto marks = marks_in<chart::Marker>(detail.pictures.front().chart);
    const auto small = std::count_if(marks.begin(), marks.end(), [](const chart::Marker& mark) {
        return mark.hover.find("answer ") == 0;
    });
    CHECK(small == 12);
}

TEST_CASE("what comes next is what tells most for its cups, with what it costs; never more than three") {
    const InventedPerson& person = InventedPerson::here();
    const auto next = next_drills(person.palate(), person.tasted, person.content, person.now, {});
    REQUIRE(!next.empty());
    CHECK(next.size() <= most_next_drills);
    std::size_t never = 0;
    for (std::size_t i = 0; i < next.size(); ++i) {
        CAPTURE(next[i].sentence);
        CHECK(next[i].sentence.find("presentations would take it from") != std::string::npos);
        CHECK(next[i].sentence.find(" cups, ") != std::string::npos);
        CHECK(next[i].sentence.find(" min)") != std::string::npos);
        CHECK(next[i].sentence.find("At most ") != std::string::npos);
        never += next[i].has_own ? 0U : 1U;
        if (i > 0 && next[i].has_own) CHECK(next[i].advice.gain_per_cup <= next[i - 1].advice.gain_per_cup);
    }
    CHECK(never <= 1);
    // Staleness: a year later the same sitting tells more.
    Instant later = person.now;
    later.utc_ms += 365LL * 24 * 3600 * 1000;
    const auto stale = next_drills(person.palate(), person.tasted, person.content, later, {});
    const auto own = [](const std::vector<NextDrill>& all) {
        return *std::find_if(all.begin(), all.end(), [](const NextDrill& one) { return one.has_own; });
    };
    CHECK(own(stale).advice.stale_share > own(next).advice.stale_share);
    CHECK(own(stale).sentence.find("came with the weeks since") != std::string::npos);
    // Whoever takes no alcohol is offered none.
    const std::vector<std::string> reasons{"pregnant"};
    for (const NextDrill& one : next_drills(person.palate(), person.tasted, person.content, later, reasons))
        CHECK(one.substance != "ethanol");
    CHECK(next_drills({}, {}, person.content, later, {}).empty());
}

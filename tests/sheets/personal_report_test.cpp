#include "drills/sheets/personal_report.hpp"

#include "tests/support/invented_person.hpp"
#include "tests/support/pdf_pages.hpp"

#include <doctest/doctest.h>

using namespace sipladder;
using namespace sipladder::drills;
using sheets::Paper;
using tests::InventedPerson;

TEST_CASE("a personal report repeats byte for byte on either paper, and says what is not drilled") {
    const InventedPerson& person = InventedPerson::here();
    const sheets::PersonalInfo info{
        .for_whom = "Ilse (invented)", .made = person.now, .next = {"Salt: 12 presentations."}};
    for (const Paper paper : {Paper::a4, Paper::us_letter}) {
        const std::string report = sheets::personal_report_pdf(person.palate(), person.tasted, info, paper);
        CHECK(report == sheets::personal_report_pdf(person.palate(), person.tasted, info, paper));
        CHECK(tests::pages_of(report) >= 4);
    }
    sheets::PersonalInfo later = info;
    later.made.utc_ms += 24LL * 3600 * 1000;
    CHECK(sheets::personal_report_pdf(person.palate(), person.tasted, info, Paper::a4) !=
          sheets::personal_report_pdf(person.palate(), person.tasted, later, Paper::a4));
    CHECK(tests::pages_of(sheets::personal_report_pdf({}, {}, info, Paper::a4)) == 1);
}

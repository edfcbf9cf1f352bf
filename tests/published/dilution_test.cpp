#include "engine/solution/dilution.hpp"

#include "tests/support/published.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace sipladder;
using namespace sipladder::solution;
using namespace sipladder::tests;

TEST_CASE("spirits are diluted as worked out by mass balance") {
    for (const char* id : {"litre_of_12_from_40", "half_litre_of_15_from_96"}) {
        const PublishedCase c = published("dilution.json", id);
        CAPTURE(c.source_text());
        const Dilution d =
            dilute(PercentVol{c.data("from_pct_vol").number()}, PercentVol{c.data("to_pct_vol").number()},
                   Millilitres{c.data("mL").number()});
        CHECK(within(d.from_mL.value, c.expected("from_mL")));
        CHECK(within(d.from_g.value, c.expected("from_g")));
        CHECK(within(d.water_mL.value, c.expected("water_mL")));
        CHECK(within(d.water_g.value, c.expected("water_g")));
        CHECK(within(d.volume_change_mL.value, c.expected("volume_change_mL")));
        if (c.expects("total_g")) CHECK(within(d.total_g.value, c.expected("total_g")));
        CHECK(d.total_g == d.from_g + d.water_g);
    }
}

TEST_CASE("a ladder of sugar is drawn from its stock as worked out") {
    const PublishedCase c = published("dilution.json", "sugar_ladder_from_stock");
    CAPTURE(c.source_text());
    Substance sucrose;
    sucrose.name = "sucrose";
    sucrose.density_model = DensityModel::sucrose;
    std::vector<double> from_mL, from_g, total_g, water_g;
    for (const double level : c.data("to_g_per_L").numbers()) {
        const Dilution d = dilute(sucrose, GramsPerLitre{c.data("from_g_per_L").number()},
                                  GramsPerLitre{level}, Millilitres{c.data("mL").number()});
        from_mL.push_back(d.from_mL.value);
        from_g.push_back(d.from_g.value);
        total_g.push_back(d.total_g.value);
        water_g.push_back(d.water_g.value);
    }
    CHECK(within(from_mL, c.expected("from_mL")));
    CHECK(within(from_g, c.expected("from_g")));
    CHECK(within(total_g, c.expected("total_g")));
    CHECK(within(water_g, c.expected("water_g")));
}

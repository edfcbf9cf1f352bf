#include "gui/views/frame.hpp"
#include "gui/views/handbook_figures.hpp"
#include "tests/gui/people.hpp"

#include <doctest/doctest.h>

using namespace sipladder;
using namespace sipladder::gui;

TEST_CASE("every figure that the handbook names is drawn, with its title saying that it is invented") {
    tests::AtWindow at;
    at.want(OpenDialog{Dialog::handbook});
    std::size_t figures = 0;
    for (std::size_t chapter = 0; chapter < at.app.content->handbook.size(); ++chapter) {
        at.want(OpenChapter{chapter});
        const HandbookView view = *frame_view(at.app).handbook;
        for (const content::Block& block : view.blocks) {
            if (block.kind != content::Block::Kind::figure) continue;
            CAPTURE(block.figure);
            REQUIRE(view.figures.contains(block.figure));
            CHECK(view.figures.at(block.figure).title.find("invented") != std::string::npos);
            ++figures;
        }
    }
    CHECK(figures == 3);
    CHECK(!handbook_figure("no such figure", *at.app.content));
}

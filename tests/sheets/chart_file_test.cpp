#include "drills/sheets/chart_file.hpp"

#include "engine/problem.hpp"
#include "tests/support/example_charts.hpp"
#include "tests/support/example_plan.hpp"
#include "tests/support/pdf_pages.hpp"
#include "tests/support/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

using namespace sipladder;
namespace sheets = sipladder::drills::sheets;

namespace {

std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream bytes;
    bytes << file.rdbuf();
    return bytes.str();
}

unsigned big_endian(const std::string& bytes, std::size_t at) {
    unsigned value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value * 256U + static_cast<unsigned char>(bytes.at(at + i));
    return value;
}

}  // namespace

TEST_CASE("a chart is written as PNG, SVG and PDF, twice the same") {
    const tests::TemporaryFolder folder;
    const chart::Chart chart = chart::psychometric_curve(tests::example_curve());
    const sheets::ChartSize size{400.0, 240.0, 1.5};
    const Instant made{1'772'388'300'000, 60, 0};
    std::string before[3];
    for (int round = 0; round < 2; ++round) {
        sheets::write_chart_png(chart, size, folder / "curve.png");
        sheets::write_chart_svg(chart, size, folder / "curve.svg");
        sheets::write_chart_pdf(chart, size, made, folder / "curve.pdf");
        const std::string now[3] = {bytes_of(folder / "curve.png"), bytes_of(folder / "curve.svg"),
                                    bytes_of(folder / "curve.pdf")};
        for (int i = 0; i < 3; ++i) {
            CAPTURE(i);
            CHECK(now[i].size() > 2000);
            if (round == 1) CHECK(now[i] == before[i]);
            before[i] = now[i];
        }
    }
    CHECK(before[0].substr(1, 3) == "PNG");
    CHECK(big_endian(before[0], 16) == 600);  // width and height as the PNG's header states them
    CHECK(big_endian(before[0], 20) == 360);
    CHECK(before[1].find("<svg") != std::string::npos);
    CHECK(tests::pages_of(before[2]) == 1);
    CHECK_THROWS_AS(sheets::write_chart_png(chart, size, folder / "missing/curve.png"), Failed);
}

TEST_CASE("a dilution tree is written as PNG, SVG and PDF") {
    const tests::TemporaryFolder folder;
    const chart::DilutionTree tree = chart::dilution_tree(tests::example_plan());
    const sheets::ChartSize size{400.0, 240.0, 1.0};
    sheets::write_tree_png(tree, size, folder / "tree.png");
    sheets::write_tree_svg(tree, size, folder / "tree.svg");
    sheets::write_tree_pdf(tree, size, {1'772'388'300'000, 60, 0}, folder / "tree.pdf");
    CHECK(big_endian(bytes_of(folder / "tree.png"), 16) == 400);
    for (const char* name : {"tree.png", "tree.svg", "tree.pdf"})
        CHECK(bytes_of(folder / name).size() > 2000);
}

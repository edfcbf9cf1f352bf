#include "engine/content/csv.hpp"

#include <doctest/doctest.h>

using namespace sipladder;
using namespace sipladder::content;

namespace {

std::string refusal(std::string_view text) {
    try {
        read_csv(text, "a.csv");
    } catch (const Refused& refused) {
        return refused.what();
    }
    return "no problem";
}

}  // namespace

TEST_CASE("a table with notes, blank lines, quotes and both line ends is read with its line numbers") {
    const Table table = read_csv(
        "# made by hand\r\nconcentration_g_per_L, correct,note\r\n\r\n0.5,1,\"a \"\"good\"\" one, "
        "really\nyes\"\n# pause\n 2 ,0,",
        "a.csv");
    CHECK(table.heading == std::vector<std::string>{"concentration_g_per_L", "correct", "note"});
    REQUIRE(table.rows.size() == 2);
    CHECK(table.rows[0].cells == std::vector<std::string>{"0.5", "1", "a \"good\" one, really\nyes"});
    CHECK(table.rows[0].line == 4);
    CHECK(table.rows[1].line == 7);
    CHECK(table.rows[1].cells == std::vector<std::string>{"2", "0", ""});
    CHECK(table.column("correct") == 1);
    CHECK_FALSE(table.column("Correct"));
    CHECK(read_csv("\xEF\xBB\xBF"
                   "a\n1\n",
                   "a.csv")
              .heading.front() == "a");
}

TEST_CASE("every problem of a table is named with its line") {
    CHECK(refusal("") == "a.csv: holds no row; a heading row and rows beneath it are wanted");
    CHECK(refusal("# only a note\n") == "a.csv: holds no row; a heading row and rows beneath it are wanted");
    CHECK(refusal("a,b,a,\n1,2,3,4\n1,2\n") ==
          "a.csv: line 1: names the column \"a\" twice; name each column once\n"
          "a.csv: line 1: has no name for column 4; name every column\n"
          "a.csv: line 3: has 2 cells; the heading has 4; a decimal comma splits a cell, so write decimal "
          "points");
    CHECK(refusal("a\n\"open\n1\n") == "a.csv: line 2: opens a quote that is never closed; close it with \"");
    CHECK(refusal("a\n\"x\"y\n") ==
          "a.csv: line 2: goes on after a closing quote; a comma or the end of the line is wanted");
    CHECK(refusal("a\nx\"y\"\n") ==
          "a.csv: line 2: has a quote inside a cell; put the whole cell in quotes and double the one inside");
    CHECK(refusal("a\n\xFF\n") == "a.csv: line 2, column 1: is no UTF-8 text; save the file as CSV in UTF-8");
    CHECK(refusal("a\nb\xED\xA0\x80\n") ==
          "a.csv: line 2, column 2: is no UTF-8 text; save the file as CSV in UTF-8");
}

TEST_CASE("cells give numbers, and a decimal comma is refused with that advice") {
    const Table table = read_csv("level,n\n0.5,3\n\"0,5\",2.5\nsix,-1\n,1e400\n", "a.csv");
    std::vector<Problem> problems;
    CHECK(number_in(table, table.rows[0], 0, 0.0, 10.0, problems) == 0.5);
    CHECK(integer_in(table, table.rows[0], 1, 0, 10, problems) == 3);
    CHECK(problems.empty());
    for (std::size_t row = 1; row < 4; ++row) {
        CHECK_FALSE(number_in(table, table.rows[row], 0, 0.0, 10.0, problems));
        CHECK_FALSE(integer_in(table, table.rows[row], 1, 0, 10, problems));
    }
    std::string all;
    for (const Problem& problem : problems) all += to_text(problem) + "\n";
    CHECK(all ==
          "a.csv: line 3, level: is \"0,5\", with a decimal comma; write a decimal point\n"
          "a.csv: line 3, n: is \"2.5\"; a whole number is wanted\n"
          "a.csv: line 4, level: is \"six\"; a number is wanted\n"
          "a.csv: line 4, n: is \"-1\"; a number from 0 to 10 is wanted\n"
          "a.csv: line 5, level: is empty; a number is wanted\n"
          "a.csv: line 5, n: is \"1e400\"; a number is wanted\n");
}

TEST_CASE("columns that are unknown or missing are named") {
    const Table table = read_csv("level,corect\n1,1\n", "a.csv");
    std::vector<Problem> problems;
    only_columns(table, {"level", "correct"}, problems);
    CHECK(wanted_column(table, "level", problems) == 0);
    CHECK_FALSE(wanted_column(table, "correct", problems));
    REQUIRE(problems.size() == 2);
    CHECK(to_text(problems[0]) == "a.csv: heading: has the unknown column \"corect\"; check the spelling");
    CHECK(to_text(problems[1]) == "a.csv: heading: has no column \"correct\"; give it one");
    problems.clear();
    only_columns(read_csv("correct;presentations\n1;2\n", "a.csv"), {"correct"}, problems);
    REQUIRE(problems.size() == 1);
    CHECK(to_text(problems[0]).ends_with("set columns apart by commas, not by semicolons"));
}

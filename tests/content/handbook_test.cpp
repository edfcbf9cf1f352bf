#include "engine/content/content.hpp"
#include "engine/text.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

using namespace sipladder;
using content::Block;

namespace {

content::Chapter read(const std::string& text) {
    std::vector<Problem> problems;
    content::Chapter chapter = content::parse_chapter(text, "x.md", problems);
    CHECK(problems.empty());
    return chapter;
}

std::string problems_of(const std::string& text) {
    std::vector<Problem> problems;
    content::parse_chapter(text, "x.md", problems);
    std::string all;
    for (const Problem& problem : problems) all += to_text(problem) + "\n";
    return all;
}

const content::Content& shipped() {
    static const content::Content content = content::load(SIPLADDER_SOURCE_DIR "/content");
    return content;
}

}  // namespace

TEST_CASE("a chapter is read into its blocks, sources numbered in the order they come") {
    const content::Chapter chapter = read(
        "# Salt\n\nOne line\ngoes on [@b] and [@a].\n\n## How\n- an item\n- another [@b]\n\n"
        "1. a step\n2. the next\n![what it shows](figure:curve)\nafter it\n");
    CHECK(chapter.title == "Salt");
    CHECK(chapter.sources == std::vector<std::string>{"b", "a"});
    using Kind = Block::Kind;
    const std::vector<Block> wanted{{Kind::paragraph, "One line goes on [1] and [2].", 0, ""},
                                    {Kind::section, "How", 0, ""},
                                    {Kind::item, "an item", 0, ""},
                                    {Kind::item, "another [1]", 0, ""},
                                    {Kind::step, "a step", 1, ""},
                                    {Kind::step, "the next", 2, ""},
                                    {Kind::figure, "what it shows", 0, "curve"},
                                    {Kind::paragraph, "after it", 0, ""}};
    CHECK(chapter.blocks == wanted);
}

TEST_CASE("what the handbook does not know is named by its line") {
    CHECK(problems_of("") == "x.md line 1: holds no line; \"# \" and a title is wanted first\n");
    CHECK(problems_of("Salt\n").find("x.md line 1: does not begin with a title") == 0);
    CHECK(problems_of("# Salt\n\n| a | b |\n").find("x.md line 3: has a mark") == 0);
    CHECK(problems_of("# Salt\n\nvery **strong**\n").find("x.md line 3: has a mark") == 0);
    CHECK(problems_of("# Salt\n![a picture](salt.png)\n").find("x.md line 2: is no figure") == 0);
    CHECK(problems_of("# Salt\nsee [@iso\n").find("x.md line 2: has a source without ]") == 0);
}

TEST_CASE("the shipped handbook has every chapter that a beginner needs, each about one thing") {
    std::set<std::string> titles;
    for (const content::Chapter& chapter : shipped().handbook) {
        titles.insert(chapter.title);
        CHECK(chapter.blocks.size() > 5);
        CHECK(std::ranges::count(chapter.blocks, Block::Kind::figure, &Block::kind) <= 2);
    }
    for (const char* title :
         {"The first evening", "What to buy, and how to read a label", "How blinding alone works",
          "How to read an interval", "What a threshold does not tell", "Running a class", "Cautions"})
        CHECK_MESSAGE(titles.contains(title), title);
}

TEST_CASE("what the handbook says of who takes no alcohol, and how much, is what the program holds to") {
    const content::Content& content = shipped();
    const auto cautions = std::ranges::find(content.handbook, "Cautions", &content::Chapter::title);
    REQUIRE(cautions != content.handbook.end());
    std::string text;
    for (const Block& block : cautions->blocks) text += block.text + "\n";
    const auto items = std::ranges::count(cautions->blocks, Block::Kind::item, &Block::kind);
    // Six for everybody, and one for each reason to take no alcohol.
    CHECK(items == 6 + static_cast<std::ptrdiff_t>(content.cautions.no_ethanol_reasons.size()));
    const auto cap =
        std::ranges::find_if(content.cautions.caps, [](const auto& one) { return one.what == "ethanol_g"; });
    REQUIRE(cap != content.cautions.caps.end());
    CHECK(text.find("capped at " + shortest(cap->per_sitting, 3) + " g") != std::string::npos);
}

#include "engine/content/handbook.hpp"

#include "engine/content/json_file.hpp"
#include "engine/content/loading.hpp"

#include <algorithm>
#include <cctype>
#include <optional>

namespace sipladder::content {

namespace {

class ChapterReader {
  public:
    ChapterReader(const std::string& file, std::vector<Problem>& problems)
        : file_(file), problems_(problems) {}

    void line(std::string_view text) {
        ++line_;
        while (!text.empty() && (text.back() == ' ' || text.back() == '\r')) text.remove_suffix(1);
        if (text.empty()) {
            is_open_ = false;
        } else if (line_ == 1) {
            read_title(text);
        } else if (text.starts_with("## ")) {
            begin({.kind = Block::Kind::section, .text = {}, .number = 0, .figure = {}}, text.substr(3));
            is_open_ = false;
        } else if (text.starts_with("- ")) {
            begin({.kind = Block::Kind::item, .text = {}, .number = 0, .figure = {}}, text.substr(2));
        } else if (text.starts_with("![")) {
            read_figure(text);
        } else if (const auto step = step_of(text)) {
            begin({.kind = Block::Kind::step, .text = {}, .number = *step, .figure = {}},
                  text.substr(text.find(' ') + 1));
        } else if (is_open_) {
            chapter_.blocks.back().text.append(" ").append(with_sources(text));
        } else {
            begin({.kind = Block::Kind::paragraph, .text = {}, .number = 0, .figure = {}}, text);
        }
    }

    Chapter done() {
        if (line_ == 0) note("holds no line", "\"# \" and a title is wanted first");
        return std::move(chapter_);
    }

  private:
    void note(const std::string& what, const std::string& right) {
        problems_.push_back({file_ + " line " + std::to_string(std::max(line_, 1)), what, right});
    }

    void read_title(std::string_view text) {
        if (!text.starts_with("# "))
            note("does not begin with a title", "\"# \" and a title is wanted first");
        else
            chapter_.title = text.substr(2);
    }

    void begin(Block block, std::string_view text) {
        if (text.find("**") != std::string_view::npos || text.starts_with("#") || text.starts_with("|"))
            note("has a mark that the handbook does not know",
                 "sections (##), paragraphs, items (-), steps (1.) and figures are wanted");
        block.text = with_sources(text);
        chapter_.blocks.push_back(std::move(block));
        is_open_ = true;
    }

    static std::optional<int> step_of(std::string_view text) {
        const std::size_t dot = text.find(". ");
        if (dot == std::string_view::npos || dot == 0 || dot > 2) return std::nullopt;
        int number = 0;
        for (const char c : text.substr(0, dot)) {
            if (std::isdigit(static_cast<unsigned char>(c)) == 0) return std::nullopt;
            number = 10 * number + (c - '0');
        }
        return number;
    }

    void read_figure(std::string_view text) {
        const std::string_view between = "](figure:";
        const std::size_t middle = text.find(between);
        if (middle == std::string_view::npos || !text.ends_with(")")) {
            note("is no figure", "![caption](figure:id) on one line is wanted");
            return;
        }
        const std::size_t id = middle + between.size();
        begin({.kind = Block::Kind::figure,
               .text = {},
               .number = 0,
               .figure = std::string(text.substr(id, text.size() - 1 - id))},
              text.substr(2, middle - 2));
        is_open_ = false;
    }

    /// [@key] becomes [1] and so on, the same number for the same source.
    std::string with_sources(std::string_view text) {
        std::string out;
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t open = text.find("[@", at);
            const std::size_t close = open == std::string_view::npos ? open : text.find(']', open);
            if (close == std::string_view::npos) {
                if (open != std::string_view::npos) note("has a source without ]", "[@key] is wanted");
                return out.append(text.substr(at));
            }
            out.append(text.substr(at, open - at));
            const std::string key(text.substr(open + 2, close - open - 2));
            auto found = std::find(chapter_.sources.begin(), chapter_.sources.end(), key);
            if (found == chapter_.sources.end()) found = chapter_.sources.insert(chapter_.sources.end(), key);
            out.append("[").append(std::to_string(found - chapter_.sources.begin() + 1)).append("]");
            at = close + 1;
        }
        return out;
    }

    const std::string& file_;
    std::vector<Problem>& problems_;
    Chapter chapter_;
    int line_ = 0;
    bool is_open_ = false;  ///< the next line goes on with the last block
};

}  // namespace

Chapter parse_chapter(std::string_view text, const std::string& file, std::vector<Problem>& problems) {
    ChapterReader reader(file, problems);
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        reader.line(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return reader.done();
}

void load_handbook(Loading& loading, const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> files;
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator(folder, error))
        if (entry.path().extension() == ".md") files.push_back(entry.path());
    if (error)
        loading.problems.push_back(
            {folder.generic_string(), "cannot be read: " + error.message(), "the chapters are wanted there"});
    std::sort(files.begin(), files.end());
    for (const std::filesystem::path& file : files) {
        const auto text = read_text_file(file, loading.problems);
        if (!text) continue;
        const std::string name = file.generic_string();
        Chapter chapter = parse_chapter(*text, name, loading.problems);
        for (const std::string& key : chapter.sources)
            if (!loading.content.sources.contains(key))
                loading.problems.push_back({name,
                                            "names the source \"" + key + "\", which sources.json lacks",
                                            "a key of sources.json is wanted"});
        loading.content.handbook.push_back(std::move(chapter));
    }
}

}  // namespace sipladder::content

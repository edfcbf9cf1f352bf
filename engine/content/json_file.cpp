#include "engine/content/json_file.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <fstream>
#include <system_error>
#include <utility>

// nlohmann_json keeps the last of two equal keys without a word. So the document is built here, from the
// parser's events, where the second one is seen, together with the pointer to it; depth is bounded in the
// same place.

namespace sipladder::content {

namespace {

using nlohmann::json;

/// What the parser says, as "what was found" and "what would be right".
Problem syntax_problem(const std::string& file, std::string_view text, std::size_t position,
                       std::string_view said) {
    const std::string where = file + ": " + line_and_column(text, position == 0 ? 0 : position - 1);
    if (said.find("number overflow") != std::string_view::npos)
        return {where, "is a number too large to hold", "a number below 1.8e308 is wanted"};
    const auto dash = said.find(" - ");
    if (dash != std::string_view::npos) said.remove_prefix(dash + 3);
    const auto expected = said.find("; expected ");
    if (expected == std::string_view::npos)
        return {where, "is no JSON: " + std::string(said), "correct the text there"};
    return {where, "is no JSON: " + std::string(said.substr(0, expected)),
            std::string(said.substr(expected + 11)) + " is wanted"};
}

/// Takes the parser's events and builds the document.
class Builder : public nlohmann::json_sax<json> {
  public:
    Builder(std::string_view text, const std::string& file, std::vector<Problem>& problems,
            std::size_t most_values)
        : text_(text), file_(file), problems_(problems), values_left_(most_values) {}

    json take() { return std::move(root_); }

    bool null() override { return put(json(nullptr)); }
    bool boolean(bool value) override { return put(json(value)); }
    bool number_integer(number_integer_t value) override { return put(json(value)); }
    bool number_unsigned(number_unsigned_t value) override { return put(json(value)); }
    bool number_float(number_float_t value, const string_t&) override { return put(json(value)); }
    bool string(string_t& value) override { return put(json(std::move(value))); }
    bool binary(binary_t&) override { return false; }
    bool start_object(std::size_t) override { return open(json::object()); }
    bool start_array(std::size_t) override { return open(json::array()); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }

    bool key(string_t& name) override {
        Open& here = open_.back();
        here.key = name;
        if (here.value.contains(name))
            problems_.push_back({file_ + ": " + pointer(), "is given twice", "give it once"});
        return problems_.size() < most_problems;
    }

    bool parse_error(std::size_t position, const std::string&,
                     const nlohmann::detail::exception& error) override {
        problems_.push_back(syntax_problem(file_, text_, position, error.what()));
        return false;
    }

  private:
    struct Open {
        json value;
        std::string key;
    };

    std::string pointer() const {
        std::string text;
        for (const Open& one : open_) {
            text += '/';
            text += one.value.is_array() ? std::to_string(one.value.size()) : pointer_part(one.key);
        }
        return text;
    }

    bool open(json empty) {
        if (open_.size() >= deepest_nesting) {
            problems_.push_back({file_ + ": " + pointer(),
                                 "is nested deeper than " + std::to_string(deepest_nesting) + " levels",
                                 "a flatter file is wanted"});
            return false;
        }
        if (!is_within_bounds()) return false;
        open_.push_back({std::move(empty), {}});
        return true;
    }

    /// A list of empty lists takes many times the memory that its text does.
    bool is_within_bounds() {
        if (values_left_-- > 0) return true;
        problems_.push_back({file_ + ": " + pointer(), "holds too many values to be meant",
                             "a file as this program writes it is wanted"});
        return false;
    }

    bool put(json value) {
        if (!value.is_structured() && !is_within_bounds()) return false;
        if (open_.empty()) {
            root_ = std::move(value);
        } else if (Open& here = open_.back(); here.value.is_array()) {
            here.value.push_back(std::move(value));
        } else {
            // What this program writes has its keys in order, so that the place is the end.
            auto& parts = *here.value.get_ptr<json::object_t*>();
            parts.insert_or_assign(parts.end(), here.key, std::move(value));
        }
        return true;
    }

    bool close() {
        json done = std::move(open_.back().value);
        open_.pop_back();
        return put(std::move(done));
    }

    std::string_view text_;
    const std::string& file_;
    std::vector<Problem>& problems_;
    std::vector<Open> open_;
    std::size_t values_left_;
    json root_;
};

}  // namespace

std::string line_and_column(std::string_view text, std::size_t byte) {
    const std::string_view before = text.substr(0, std::min(byte, text.size()));
    const auto line = 1 + std::count(before.begin(), before.end(), '\n');
    const auto start = before.rfind('\n');
    const std::string_view in_line = start == std::string_view::npos ? before : before.substr(start + 1);
    // A byte that carries on a UTF-8 character is 10xxxxxx.
    const auto column = 1 + std::count_if(in_line.begin(), in_line.end(), [](char c) {
                            return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
                        });
    return "line " + std::to_string(line) + ", column " + std::to_string(column);
}

std::string pointer_part(std::string_view key) {
    std::string part;
    for (const char c : key) {
        if (c == '~')
            part += "~0";
        else if (c == '/')
            part += "~1";
        else
            part += c;
    }
    return part;
}

std::shared_ptr<const json> parse_json(std::string_view text, const std::string& file,
                                       std::vector<Problem>& problems, std::size_t largest_bytes) {
    if (text.size() > largest_bytes) {
        problems.push_back({file, "is " + std::to_string(text.size()) + " bytes long",
                            "at most " + std::to_string(largest_bytes) + " are read"});
        return nullptr;
    }
    const std::size_t before = problems.size();
    constexpr std::size_t bytes_a_value = 32;
    Builder builder(text, file, problems, largest_bytes / bytes_a_value);
    json::sax_parse(text.begin(), text.end(), &builder);
    if (problems.size() > before) return nullptr;
    return std::make_shared<const json>(builder.take());
}

std::shared_ptr<const std::string> read_text_file(const std::filesystem::path& path,
                                                  std::vector<Problem>& problems) {
    std::error_code error;
    const std::string name = path.generic_string();
    if (!std::filesystem::is_regular_file(path, error)) {
        problems.push_back({name, "is not there or is no file", "a readable file is wanted"});
        return nullptr;
    }
    const auto size = std::filesystem::file_size(path, error);
    if (error || size > largest_file_bytes) {
        problems.push_back({name, "is too large to be meant",
                            "at most " + std::to_string(largest_file_bytes) + " bytes are read"});
        return nullptr;
    }
    std::ifstream in(path, std::ios::binary);
    auto text = std::make_shared<std::string>(static_cast<std::size_t>(size), '\0');
    if (!in.read(text->data(), static_cast<std::streamsize>(size))) {
        problems.push_back({name, "cannot be read", "a readable file is wanted"});
        return nullptr;
    }
    return text;
}

std::shared_ptr<const json> read_json_file(const std::filesystem::path& path,
                                           std::vector<Problem>& problems) {
    const auto text = read_text_file(path, problems);
    return text ? parse_json(*text, path.generic_string(), problems) : nullptr;
}

}  // namespace sipladder::content

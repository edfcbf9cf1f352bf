#include "engine/content/field.hpp"

#include "engine/content/json_file.hpp"
#include "engine/text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace sipladder::content {

namespace {

using nlohmann::json;

constexpr std::size_t longest_shown = 60;

/// Adds the JSON pointer from a value to one inside it. Looked for by its address, and only where a problem
/// is told: a pointer kept in every field would cost more than reading the file. @return whether it is there
bool add_way_to(const json* wanted, const json& from, std::string& pointer) {
    if (wanted == &from) return true;
    if (!from.is_structured()) return false;
    const std::size_t length = pointer.size();
    std::size_t index = 0;
    for (auto part = from.begin(); part != from.end(); ++part) {
        pointer.append("/").append(from.is_object() ? pointer_part(part.key()) : std::to_string(index++));
        if (add_way_to(wanted, *part, pointer)) return true;
        pointer.resize(length);
    }
    return false;
}

std::string quoted_list(std::initializer_list<std::string_view> words) {
    std::string text;
    for (const std::string_view word : words)
        text += (text.empty() ? "\"" : ", \"") + std::string(word) + "\"";
    return text;
}

}  // namespace

/// What all fields of one document share.
struct Field::Root {
    const json* document;
    std::string file;
    std::vector<Problem>* problems;
};

Field::Field(const json& document, std::string file, std::vector<Problem>& problems)
    : Field(std::make_shared<const Root>(Root{&document, std::move(file), &problems}), &document) {}

std::string Field::pointer() const {
    const json* place = value_ != nullptr ? value_ : holder_;
    std::string text;
    if (place != nullptr) add_way_to(place, *root_->document, text);
    return value_ != nullptr ? text : text + "/" + pointer_part(key_);
}

std::string Field::where() const {
    const std::string text = pointer();
    return root_->file + ": " + (text.empty() ? "/" : text);
}

void Field::note(std::string what, std::string right) const {
    std::vector<Problem>& problems = *root_->problems;
    if (silent_ || problems.size() >= most_problems) return;
    Problem problem{where(), std::move(what), std::move(right)};
    if (std::find(problems.begin(), problems.end(), problem) == problems.end())
        problems.push_back(std::move(problem));
}

std::string Field::shown() const {
    if (value_ == nullptr) return "missing";
    std::string text = as_json();
    if (text.size() <= longest_shown) return text;
    std::size_t cut = longest_shown;
    while (cut > 0 && (static_cast<unsigned char>(text[cut]) & 0xC0u) == 0x80u)
        --cut;  // never inside a character
    return text.substr(0, cut) + " …";
}

void Field::wanted(const std::string& kind) const {
    note("is " + shown(), kind + " is wanted");
}

void Field::only(std::initializer_list<std::string_view> keys) const {
    if (value_ == nullptr || !value_->is_object()) return wanted("an object {…}");
    for (const auto& [key, part] : value_->items())
        if (std::find(keys.begin(), keys.end(), key) == keys.end())
            note("has the unknown field \"" + key + "\"", "check the spelling");
}

bool Field::is_object() const {
    return value_ != nullptr && value_->is_object();
}

std::string Field::as_json() const {
    return value_ == nullptr ? std::string() : value_->dump(-1, ' ', false, json::error_handler_t::replace);
}

Field Field::at(std::string_view key) const {
    if (is_object())
        if (const auto found = value_->find(key); found != value_->end()) return {root_, &*found};
    if (!is_object()) wanted("an object {…}");
    Field missing(root_, nullptr);
    missing.holder_ = value_;
    missing.key_ = key;
    missing.silent_ = !is_object();
    return missing;
}

double Field::number(double lo, double hi) const {
    if (value_ == nullptr || !value_->is_number()) {
        wanted("a number");
        return lo;
    }
    const double number = value_->get<double>();
    if (std::isfinite(number) && number >= lo && number <= hi) return number;
    note("is " + shown(), "a number from " + exact(lo) + " to " + exact(hi) + " is wanted");
    return lo;
}

long Field::integer(long lo, long hi) const {
    if (value_ == nullptr || !value_->is_number_integer()) {
        wanted("a whole number");
        return lo;
    }
    // Compared as double first: an unsigned value above the range of long would wrap.
    const double as_double = value_->get<double>();
    if (as_double >= static_cast<double>(lo) && as_double <= static_cast<double>(hi))
        return value_->get<long>();
    note("is " + shown(),
         "a whole number from " + std::to_string(lo) + " to " + std::to_string(hi) + " is wanted");
    return lo;
}

std::string Field::any_text() const {
    if (value_ != nullptr && value_->is_string()) return value_->get<std::string>();
    wanted("a text");
    return "";
}

std::string Field::text() const {
    if (value_ == nullptr || !value_->is_string()) return any_text();
    std::string text = value_->get<std::string>();
    if (text.find_first_not_of(" \t\r\n") == std::string::npos) wanted("a text that is not blank");
    return text;
}

std::string Field::one_of(std::initializer_list<std::string_view> choices) const {
    if (value_ != nullptr && value_->is_string()) {
        std::string text = value_->get<std::string>();
        if (std::find(choices.begin(), choices.end(), text) != choices.end()) return text;
    }
    wanted("one of " + quoted_list(choices));
    return std::string(*choices.begin());
}

bool Field::boolean() const {
    if (value_ != nullptr && value_->is_boolean()) return value_->get<bool>();
    wanted("true or false");
    return false;
}

std::string Field::id() const {
    const auto is_lower = [](char c) { return c >= 'a' && c <= 'z'; };
    const auto fits = [&](char c) { return is_lower(c) || (c >= '0' && c <= '9') || c == '_'; };
    if (value_ != nullptr && value_->is_string()) {
        std::string text = value_->get<std::string>();
        if (!text.empty() && is_lower(text.front()) && std::all_of(text.begin(), text.end(), fits))
            return text;
    }
    wanted("an id of lower-case letters, digits and _");
    return "";
}

std::vector<Field> Field::each(std::size_t least) const {
    std::vector<Field> all;
    if (value_ == nullptr || !value_->is_array()) {
        wanted("a list […]");
        return all;
    }
    if (value_->size() < least)
        note("holds " + std::to_string(value_->size()), "at least " + std::to_string(least) + " are wanted");
    all.reserve(value_->size());
    for (const json& part : *value_) all.push_back(Field(root_, &part));
    return all;
}

std::vector<Field::Entry> Field::entries() const {
    std::vector<Entry> all;
    if (value_ == nullptr || !value_->is_object()) {
        wanted("an object {…}");
        return all;
    }
    for (const auto& [key, part] : value_->items()) all.push_back({key, Field(root_, &part)});
    return all;
}

std::vector<std::string> Field::texts(std::size_t least) const {
    std::vector<std::string> all;
    for (const Field& part : each(least)) all.push_back(part.text());
    return all;
}

}  // namespace sipladder::content

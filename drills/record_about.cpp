// The body goes by as events, and nothing of it is kept but two texts; after both the rest is left unread.

#include "drills/record_about.hpp"

#include <nlohmann/json.hpp>

#include <utility>

namespace sipladder::drills::record {

namespace {

using nlohmann::json;

class Finder : public nlohmann::json_sax<json> {
  public:
    bool null() override { return true; }
    bool boolean(bool) override { return true; }
    bool number_integer(number_integer_t) override { return true; }
    bool number_unsigned(number_unsigned_t) override { return true; }
    bool number_float(number_float_t, const string_t&) override { return true; }
    bool binary(binary_t&) override { return false; }
    bool string(string_t& value) override {
        if (depth_ == 1 && key_ == "base_name")
            base_name_ = std::move(value);
        else if (depth_ == 2 && is_substance_ && key_ == "id")
            substance_ = std::move(value);
        return !(base_name_ && substance_);
    }
    bool start_object(std::size_t) override {
        if (++depth_ == 2) is_substance_ = key_ == "substance";
        return true;
    }
    bool key(string_t& name) override {
        key_ = std::move(name);
        return true;
    }
    bool end_object() override {
        --depth_;
        return true;
    }
    // The parts of a list lie deeper than the key that it stands under.
    bool start_array(std::size_t) override {
        depth_ += inside_list;
        return true;
    }
    bool end_array() override {
        depth_ -= inside_list;
        return true;
    }
    bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception&) override {
        return false;
    }

    std::optional<About> found() {
        if (!base_name_ || !substance_) return std::nullopt;
        return About{*std::move(substance_), *std::move(base_name_)};
    }

  private:
    static constexpr int inside_list = 10;

    int depth_ = 0;
    bool is_substance_ = false;
    std::string key_;
    std::optional<std::string> substance_;
    std::optional<std::string> base_name_;
};

}  // namespace

std::optional<About> about_of(const journal::Drill& drill) {
    Finder finder;
    json::sax_parse(drill.body, &finder);
    return finder.found();
}

}  // namespace sipladder::drills::record

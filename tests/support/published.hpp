#pragma once

#include <nlohmann/json_fwd.hpp>

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

/// Published check values. A file tests/published/<topic>.json is an array of cases of one shape:
///
///     [ { "id": "e679_rule", "source": ["astm_e679_2019"], "provenance": "published",
///         "note": "may be left out",
///         "data": { "levels_log10": [1, 2, 3], "right": [0, 1, 1] },
///         "expected": [ { "name": "best_estimate_log10", "value": 1.5, "abs": 1e-9, "why": "may be left out"
///         } ] } ]
///
/// `source` names keys of content/sources.json. A number wants "abs" or "rel" (or both: they add); a text
/// wants none.
namespace sipladder::tests {

/// A place in a case; knows its name, so that a test which asks for what is not there fails with a sentence.
/// Every accessor throws std::runtime_error naming file, case and place if the value is of another type.
class PublishedValue {
  public:
    PublishedValue(std::shared_ptr<const nlohmann::json> value, std::string where);

    double number() const;
    long integer() const;
    bool boolean() const;
    std::string text() const;
    std::vector<double> numbers() const;
    std::vector<std::string> texts() const;
    /// A table: array of arrays of numbers.
    std::vector<std::vector<double>> rows() const;

    bool has(const std::string& name) const;
    PublishedValue at(const std::string& name) const;
    std::size_t size() const;
    PublishedValue at(std::size_t index) const;
    /// All parts of an array.
    std::vector<PublishedValue> each() const;

    const std::string& where() const { return where_; }

  private:
    std::shared_ptr<const nlohmann::json> value_;
    std::string where_;
};

struct PublishedExpectation {
    std::string name;
    PublishedValue value;
    double abs{};
    double rel{};

    double number() const { return value.number(); }
    std::vector<double> numbers() const { return value.numbers(); }
    std::string text() const { return value.text(); }
};

class PublishedCase {
  public:
    PublishedCase(std::shared_ptr<const nlohmann::json> body, std::string where, std::string source_text);

    std::string id() const;
    /// Where the values come from and how sure that is; for CAPTURE.
    const std::string& source_text() const { return source_text_; }
    PublishedValue data() const;
    PublishedValue data(const std::string& name) const { return data().at(name); }
    bool expects(const std::string& name) const;
    PublishedExpectation expected(const std::string& name) const;
    std::vector<PublishedExpectation> expected() const;

  private:
    std::shared_ptr<const nlohmann::json> body_;
    std::string where_;
    std::string source_text_;
};

/// The cases of tests/published/<file>, in the order of the file.
/// @throws std::runtime_error for a case that lacks id, source, provenance, data, expected or a tolerance,
/// that names
///         a source which content/sources.json lacks, or repeats an id; for a file without cases
std::vector<PublishedCase> published(const std::string& file);
/// One case by its id. @throws std::runtime_error if there is none
PublishedCase published(const std::string& file, const std::string& id);
/// The same checks on a text, for the tests of this reader.
std::vector<PublishedCase> published_from_text(std::string_view text, const std::string& file);

/// |got - wanted| <= abs + rel |wanted|; NaN is never within.
bool within(double got, const PublishedExpectation& wanted);
/// The same for every part; a different number of them is not within.
bool within(const std::vector<double>& got, const PublishedExpectation& wanted);

}  // namespace sipladder::tests

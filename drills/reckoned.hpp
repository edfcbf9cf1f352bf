#pragma once

#include <memory>
#include <mutex>
#include <utility>

namespace sipladder::drills {

/// A value that is reckoned when it is first asked for. Copies share what is known. Threads may ask the same
/// one: the first reckons, the others wait for it; to assign to it is for its owner alone.
template <class Value>
class Reckoned {
  public:
    Reckoned() = default;
    explicit Reckoned(Value value) : value_(std::make_shared<const Value>(std::move(value))) {}
    Reckoned(const Reckoned& other) : value_(other.if_known()) {}
    Reckoned& operator=(const Reckoned& other) {
        if (this == &other) return *this;
        std::shared_ptr<const Value> known = other.if_known();
        const std::lock_guard lock(guard_);
        value_ = std::move(known);
        return *this;
    }
    ~Reckoned() = default;

    /// What is returned holds as long as this does and is not assigned to.
    const Value& get(const auto& reckon) const {
        const std::lock_guard lock(guard_);
        if (!value_) value_ = std::make_shared<const Value>(reckon());
        return *value_;
    }
    /// Nothing where nobody has asked yet.
    std::shared_ptr<const Value> if_known() const {
        const std::lock_guard lock(guard_);
        return value_;
    }

  private:
    mutable std::mutex guard_;
    mutable std::shared_ptr<const Value> value_;
};

}  // namespace sipladder::drills

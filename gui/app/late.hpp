#pragma once

#include "engine/problem.hpp"

#include <algorithm>
#include <compare>
#include <cstddef>
#include <functional>
#include <iterator>
#include <memory>
#include <mutex>
#include <utility>
#include <vector>

namespace sipladder::gui {

/// A list whose values are read from the journal one by one, each when it is first asked for; beside each its
/// line, which is there at once. Who goes by the lines where they do is quick with years of sittings.
///
/// A value that cannot be read throws Refused when it is asked for. Threads may ask at the same time, as the
/// window and its worker do; to add and drop is for the one that makes the list.
template <class Line, class Value>
class Late {
  public:
    using Read = std::function<Value(const Line&)>;

    Late() = default;
    explicit Late(Read read) : read_(std::move(read)) {}

    void add(Line line) { add(std::move(line), nullptr); }
    /// @param value  as it was read already; nothing: it is read later
    void add(Line line, std::shared_ptr<const Value> value) {
        lines_.push_back(std::move(line));
        values_.push_back(std::move(value));
    }
    void drop(std::size_t place) {
        lines_.erase(lines_.begin() + static_cast<std::ptrdiff_t>(place));
        values_.erase(values_.begin() + static_cast<std::ptrdiff_t>(place));
    }
    /// What an earlier list has read already of the same lines. Both in the same order, the earlier one
    /// perhaps with other lines between.
    void take_over(const Late& before) {
        std::size_t from = before.size();
        for (std::size_t i = size(); i-- > 0;) {
            std::size_t place = from;
            while (place > 0 && before.lines_[place - 1] != lines_[i]) --place;
            if (place == 0) continue;
            from = place - 1;
            if (!values_[i]) values_[i] = before.if_read(from);
        }
    }

    const std::vector<Line>& lines() const { return lines_; }
    std::size_t size() const { return lines_.size(); }
    bool empty() const { return lines_.empty(); }

    const Value& operator[](std::size_t place) const {
        SIPLADDER_EXPECT(place < values_.size());
        if (const std::shared_ptr<const Value> known = if_read(place)) return *known;
        // Read without keeping others waiting. Of two who read the same, the first one's is kept.
        auto value = std::make_shared<const Value>(read_(lines_[place]));
        const std::lock_guard lock(*guard_);
        if (!values_[place]) values_[place] = std::move(value);
        return *values_[place];
    }
    /// Nothing where it was not asked for yet.
    std::shared_ptr<const Value> if_read(std::size_t place) const {
        const std::lock_guard lock(*guard_);
        return values_.at(place);
    }
    /// How many were not asked for yet.
    std::size_t unread() const {
        const std::lock_guard lock(*guard_);
        return static_cast<std::size_t>(std::ranges::count(values_, nullptr));
    }
    /// Nothing where it cannot be read; for a view, which has nobody to tell. Who looks at the value itself
    /// is told why.
    const Value* if_readable(std::size_t place) const {
        try {
            return &(*this)[place];
        } catch (const Refused&) {
            return nullptr;
        }
    }
    const Value& at(std::size_t place) const { return (*this)[place]; }
    const Value& front() const { return (*this)[0]; }
    const Value& back() const { return (*this)[size() - 1]; }

    /// Reads each value as it comes to it.
    class Iterator {
      public:
        using iterator_concept = std::random_access_iterator_tag;
        using iterator_category = std::random_access_iterator_tag;
        using value_type = Value;
        using difference_type = std::ptrdiff_t;
        using reference = const Value&;
        using pointer = const Value*;

        Iterator() = default;
        Iterator(const Late* list, std::ptrdiff_t place) : list_(list), place_(place) {}
        reference operator*() const { return (*list_)[static_cast<std::size_t>(place_)]; }
        pointer operator->() const { return &**this; }
        reference operator[](difference_type n) const { return *(*this + n); }
        Iterator& operator+=(difference_type n) {
            place_ += n;
            return *this;
        }
        Iterator& operator-=(difference_type n) { return *this += -n; }
        Iterator& operator++() { return *this += 1; }
        Iterator& operator--() { return *this -= 1; }
        Iterator operator++(int) { return std::exchange(*this, *this + 1); }
        Iterator operator--(int) { return std::exchange(*this, *this - 1); }
        friend Iterator operator+(Iterator a, difference_type n) { return a += n; }
        friend Iterator operator+(difference_type n, Iterator a) { return a += n; }
        friend Iterator operator-(Iterator a, difference_type n) { return a -= n; }
        friend difference_type operator-(const Iterator& a, const Iterator& b) { return a.place_ - b.place_; }
        friend bool operator==(const Iterator& a, const Iterator& b) { return a.place_ == b.place_; }
        friend auto operator<=>(const Iterator& a, const Iterator& b) { return a.place_ <=> b.place_; }

      private:
        const Late* list_ = nullptr;
        std::ptrdiff_t place_ = 0;
    };
    Iterator begin() const { return {this, 0}; }
    Iterator end() const { return {this, static_cast<std::ptrdiff_t>(size())}; }

  private:
    Read read_;
    std::vector<Line> lines_;
    std::unique_ptr<std::mutex> guard_ = std::make_unique<std::mutex>();  ///< of the values
    mutable std::vector<std::shared_ptr<const Value>> values_;
};

}  // namespace sipladder::gui

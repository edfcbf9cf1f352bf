#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <type_traits>
#include <utility>

/// One value of many kinds, held behind a pointer. A std::variant of as many kinds writes its copy, its move
/// and its end out in every file that sees it, which made each screen the size of a small program.
namespace sipladder::gui {

template <class... Kinds>
struct KindList {
    static constexpr std::size_t size = sizeof...(Kinds);

    /// The place of a kind in the list; `size` if it is none of them.
    template <class Kind>
    static consteval std::size_t index() {
        std::size_t at = 0;
        (void)((std::is_same_v<Kind, Kinds> ? true : (++at, false)) || ...);
        return at;
    }

    /// Calls `visitor` with the value, which is of the kind at `index`.
    template <class Visitor>
    static void visit(std::size_t index, const void* value, Visitor& visitor) {
        using Call = void (*)(const void*, Visitor&);
        static constexpr std::array<Call, size> calls{&call<Kinds, Visitor>...};
        calls.at(index)(value, visitor);
    }

  private:
    template <class Kind, class Visitor>
    static void call(const void* value, Visitor& visitor) {
        visitor(*static_cast<const Kind*>(value));
    }
};

/// Never empty; a copy shares the value, which nobody changes.
template <class List>
class OneOf {
  public:
    template <class Kind>
    requires(List::template index<std::remove_cvref_t<Kind>>() < List::size)
        OneOf(Kind&& value)  // NOLINT(google-explicit-constructor,bugprone-forwarding-reference-overload)
        : index_(List::template index<std::remove_cvref_t<Kind>>()),
          value_(std::make_shared<const std::remove_cvref_t<Kind>>(std::forward<Kind>(value))) {}

    /// The value if it is of this kind, null otherwise.
    template <class Kind>
    const Kind* as() const {
        static_assert(List::template index<Kind>() < List::size, "a kind that the list does not have");
        return index_ == List::template index<Kind>() ? static_cast<const Kind*>(value_.get()) : nullptr;
    }

    template <class Visitor>
    void visit(Visitor&& visitor) const {
        List::visit(index_, value_.get(), visitor);
    }

  private:
    std::size_t index_;
    std::shared_ptr<const void> value_;
};

}  // namespace sipladder::gui

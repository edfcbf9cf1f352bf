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
};

/// Never empty; a copy shares the value, which nobody changes.
template <class List>
class OneOf {
    /// The pointer's machinery is made for this type alone, not once more for each kind in each file.
    struct Held {
        Held() = default;
        Held(const Held&) = delete;
        Held& operator=(const Held&) = delete;
        virtual ~Held() = default;
    };
    template <class Kind>
    struct HeldAs final : Held {
        explicit HeldAs(Kind held) : value(std::move(held)) {}
        Kind value;
    };

  public:
    template <class Kind>
    requires(List::template index<std::remove_cvref_t<Kind>>() < List::size)
        OneOf(Kind&& value)  // NOLINT(google-explicit-constructor,bugprone-forwarding-reference-overload)
        : index_(List::template index<std::remove_cvref_t<Kind>>()),
          held_(static_cast<const Held*>(new HeldAs<std::remove_cvref_t<Kind>>(std::forward<Kind>(value)))) {}

    /// The value if it is of this kind, null otherwise.
    template <class Kind>
    const Kind* as() const {
        static_assert(List::template index<Kind>() < List::size, "a kind that the list does not have");
        return index_ == List::template index<Kind>() ? &value_of<Kind>(*held_) : nullptr;
    }

    /// Calls `visitor` with the value, as what it is.
    template <class Visitor>
    void visit(Visitor&& visitor) const {
        visit_as(List{}, visitor);
    }

  private:
    template <class... Kinds, class Visitor>
    void visit_as(KindList<Kinds...> /*all*/, Visitor& visitor) const {
        using Call = void (*)(const Held&, Visitor&);
        static constexpr std::array<Call, sizeof...(Kinds)> calls{&call<Kinds, Visitor>...};
        calls.at(index_)(*held_, visitor);
    }

    template <class Kind, class Visitor>
    static void call(const Held& held, Visitor& visitor) {
        visitor(value_of<Kind>(held));
    }

    template <class Kind>
    static const Kind& value_of(const Held& held) {
        return static_cast<const HeldAs<Kind>&>(held).value;
    }

    std::size_t index_;
    std::shared_ptr<const Held> held_;
};

}  // namespace sipladder::gui

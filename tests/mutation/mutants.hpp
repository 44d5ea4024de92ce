#pragma once
/// @file
/// What a source rewritten by schemata.py calls: every chosen operator, constant and condition asks
/// here whether it is to be another one. While a program starts nothing is; `mutants.cpp` reads the
/// number from the environment. Constant expressions stay as they are written.

#include <concepts>
#include <type_traits>
#include <utility>

namespace keyhour_mutants {

/// Of each mutant: 0 as written and seen; 1 is to be asked about.
extern unsigned char to_ask[];
/// Notes that a mutant was reached.
/// @return  is it the chosen one?
bool is_chosen(int id) noexcept;

[[gnu::always_inline]] constexpr bool on(int id) noexcept {
    if (std::is_constant_evaluated()) return false;
    return __builtin_expect(to_ask[id] != 0, 0) && is_chosen(id);
}

// NOLINTBEGIN: pairs of operators, one macro for their one form
#define KEYHOUR_SWAPPED(name, op, other)                                       \
    template <class L, class R>                                                \
    requires requires(const L& a, const R& b) {                                \
        { a other b } -> std::convertible_to<decltype(a op b)>;                \
    }                                                                          \
    [[gnu::always_inline]] constexpr auto name(int id, const L& a, const R& b) \
        ->std::remove_cvref_t<decltype(a op b)> {                              \
        if (on(id)) return a other b;                                          \
        return a op b;                                                         \
    }
KEYHOUR_SWAPPED(plus, +, -)
KEYHOUR_SWAPPED(minus, -, +)
KEYHOUR_SWAPPED(times, *, /)
KEYHOUR_SWAPPED(by, /, *)
KEYHOUR_SWAPPED(rest, %, *)
KEYHOUR_SWAPPED(less, <, >=)
KEYHOUR_SWAPPED(more, >, <=)
KEYHOUR_SWAPPED(at_most, <=, >)
KEYHOUR_SWAPPED(at_least, >=, <)
KEYHOUR_SWAPPED(less_at_edge, <, <=)
KEYHOUR_SWAPPED(more_at_edge, >, >=)
KEYHOUR_SWAPPED(at_most_at_edge, <=, <)
KEYHOUR_SWAPPED(at_least_at_edge, >=, >)
KEYHOUR_SWAPPED(same, ==, !=)
KEYHOUR_SWAPPED(other, !=, ==)
#undef KEYHOUR_SWAPPED

#define KEYHOUR_SWAPPED(name, op, other)                                 \
    template <class L, class R>                                          \
    requires requires(L & a, const R& b) {                               \
        a other b;                                                       \
    }                                                                    \
    [[gnu::always_inline]] constexpr L& name(int id, L& a, const R& b) { \
        if (on(id))                                                      \
            a other b;                                                   \
        else                                                             \
            a op b;                                                      \
        return a;                                                        \
    }
KEYHOUR_SWAPPED(add, +=, -=)
KEYHOUR_SWAPPED(take, -=, +=)
KEYHOUR_SWAPPED(multiply, *=, /=)
KEYHOUR_SWAPPED(divide, /=, *=)
#undef KEYHOUR_SWAPPED
// NOLINTEND

/// A condition that always holds (`id`), or never (`id + 1`).
template <class C>
[[gnu::always_inline]] constexpr bool when(int id, C&& condition) {
    const bool holds = static_cast<bool>(condition);
    return on(id) ? true : on(id + 1) ? false : holds;
}

template <class T>
[[gnu::always_inline]] constexpr bool negation(int id, T&& value) {
    return on(id) ? static_cast<bool>(value) : !static_cast<bool>(value);
}

template <class T>
[[gnu::always_inline]] constexpr auto opposite(int id, const T& value)
    -> std::remove_cvref_t<decltype(-value)> {
    if (on(id)) return value;
    return -value;
}

template <class T>
[[gnu::always_inline]] constexpr T constant(int id, T value) {
    if (on(id)) {
        if constexpr (std::same_as<T, bool>)
            return !value;
        else if constexpr (std::floating_point<T>)
            return 2 * value + 1;
        else
            return static_cast<T>(value + 1);
    }
    return value;
}

}  // namespace keyhour_mutants

#pragma once
/// @file
/// The members of a plain struct, one after the other: C++20 can't list them, but counts and binds
/// them.

#include <cstddef>
#include <type_traits>
#include <utility>

namespace keyhour::test {

/// Becomes whatever a member is made from.
struct AnyMember {
    template <class T>
    requires(!std::is_same_v<std::remove_cvref_t<T>, AnyMember>) operator T() const;
};

template <class T, std::size_t... I>
consteval bool takes(std::index_sequence<I...>) {
    return requires {
        T{(static_cast<void>(I), AnyMember{})...};
    };
}

/// So many before, so many in braces of their own, so many after.
template <class T, std::size_t... I, std::size_t... J, std::size_t... K>
consteval bool takes(std::index_sequence<I...>, std::index_sequence<J...>,
                     std::index_sequence<K...>) {
    return requires {
        T{(static_cast<void>(I), AnyMember{})...,
          {(static_cast<void>(J), AnyMember{})...},
          (static_cast<void>(K), AnyMember{})...};
    };
}

/// Of values that fill an aggregate; an array of C's takes as many as it is long.
template <class T, std::size_t N = 40>
consteval std::size_t count_of_values() {
    if constexpr (N == 0 || takes<T>(std::make_index_sequence<N>{}))
        return N;
    else
        return count_of_values<T, N - 1>();
}

/// How many of the values go into the member that begins with value `At`: with its own braces, an
/// array of so many leaves exactly the others to what follows.
template <class T, std::size_t At, std::size_t Length = 4>
consteval std::size_t values_at() {
    constexpr std::size_t n = count_of_values<T>();
    if constexpr (Length == 1) {
        return 1;
    } else {
        if constexpr (At + Length <= n) {
            constexpr std::make_index_sequence<At> before;
            constexpr std::make_index_sequence<Length> in;
            if (takes<T>(before, in, std::make_index_sequence<n - At - Length>{}) &&
                !takes<T>(before, in, std::make_index_sequence<n - At - Length + 1>{}))
                return Length;
        }
        return values_at<T, At, Length - 1>();
    }
}

/// How many members an aggregate without a base has.
template <class T, std::size_t At = 0>
consteval std::size_t count_of_fields() {
    if constexpr (At >= count_of_values<T>())
        return 0;
    else
        return 1 + count_of_fields<T, At + values_at<T, At>()>();
}

/// Calls `each` with every member of the struct in the order in which they are declared; up to 24
/// of them.
template <class T, class Each>
void for_each_field(const T& value, const Each& each) {
    constexpr std::size_t count = count_of_fields<T>();
    static_assert(count <= 24, "write another line below");
    const auto all = [&](const auto&... members) { (each(members), ...); };
    if constexpr (count == 0) return;
    if constexpr (count == 1) {
        const auto& [a] = value;
        all(a);
    }
    if constexpr (count == 2) {
        const auto& [a, b] = value;
        all(a, b);
    }
    if constexpr (count == 3) {
        const auto& [a, b, c] = value;
        all(a, b, c);
    }
    if constexpr (count == 4) {
        const auto& [a, b, c, d] = value;
        all(a, b, c, d);
    }
    if constexpr (count == 5) {
        const auto& [a, b, c, d, e] = value;
        all(a, b, c, d, e);
    }
    if constexpr (count == 6) {
        const auto& [a, b, c, d, e, f] = value;
        all(a, b, c, d, e, f);
    }
    if constexpr (count == 7) {
        const auto& [a, b, c, d, e, f, g] = value;
        all(a, b, c, d, e, f, g);
    }
    if constexpr (count == 8) {
        const auto& [a, b, c, d, e, f, g, h] = value;
        all(a, b, c, d, e, f, g, h);
    }
    if constexpr (count == 9) {
        const auto& [a, b, c, d, e, f, g, h, i] = value;
        all(a, b, c, d, e, f, g, h, i);
    }
    if constexpr (count == 10) {
        const auto& [a, b, c, d, e, f, g, h, i, j] = value;
        all(a, b, c, d, e, f, g, h, i, j);
    }
    if constexpr (count == 11) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k] = value;
        all(a, b, c, d, e, f, g, h, i, j, k);
    }
    if constexpr (count == 12) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l);
    }
    if constexpr (count == 13) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m);
    }
    if constexpr (count == 14) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n);
    }
    if constexpr (count == 15) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o);
    }
    if constexpr (count == 16) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p);
    }
    if constexpr (count == 17) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q);
    }
    if constexpr (count == 18) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r);
    }
    if constexpr (count == 19) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s);
    }
    if constexpr (count == 20) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t);
    }
    if constexpr (count == 21) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u);
    }
    if constexpr (count == 22) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v);
    }
    if constexpr (count == 23) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w] = value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w);
    }
    if constexpr (count == 24) {
        const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x] =
            value;
        all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x);
    }
}

}  // namespace keyhour::test

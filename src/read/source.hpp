#pragma once
/// @file
/// Where the parts of an input stand: complaints name the place in the words of the input's form,
/// line and column of a TOML file, or the path in a line of JSON.

#include <string>

#include "problem.hpp"
#include "toml.hpp"

namespace keyhour::read {

/// A place in a text, from 1, columns in characters. In a line of JSON: the node's number, counted
/// through the tree, as `column`.
struct TextPlace {
    int line = 0, column = 0;
};

class Source {
public:
    virtual ~Source() = default;
    [[nodiscard]] virtual TextPlace place(const toml::node& node) const = 0;
    /// Of a key with its value.
    [[nodiscard]] virtual TextPlace place(const toml::key& key, const toml::node& node) const = 0;
    /// The value as the user wrote it, shortened if long.
    [[nodiscard]] virtual std::string written(const toml::node& node) const = 0;
    /// How complaints call the input itself.
    [[nodiscard]] virtual const char* whole() const = 0;
    [[nodiscard]] virtual Problem problem(TextPlace at, std::string found,
                                          std::string accepted) const = 0;
};

}  // namespace keyhour::read

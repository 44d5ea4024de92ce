#pragma once
// toml++ can open files, which nothing asks of it; Debian's libc++ for wasm32 names std::ifstream
// and has none. This one opens nothing. Included before read/toml.cpp alone.
#include <istream>
#include <string>

template <>
class std::basic_ifstream<char> : public std::istream {
public:
    basic_ifstream() : std::istream(nullptr) {}
    void open(const std::string&, std::ios_base::openmode) { setstate(std::ios_base::failbit); }
    [[nodiscard]] bool is_open() const { return false; }
};

#pragma once
// A descriptor as a stream that knows why a write failed: a reader that has seen enough is no
// error.

#include <array>
#include <streambuf>
#include <string>

namespace keyhour::file {

class Output final : public std::streambuf {
public:
    /// @param descriptor  stays open and belongs to the caller
    explicit Output(int descriptor);

    /// Writes what is left. @return 0, or the errno of the first write that failed
    [[nodiscard]] int finish();

protected:
    int_type overflow(int_type c) override;
    int sync() override;

private:
    bool write_out();

    int descriptor_;
    int error_ = 0;
    std::array<char, 1 << 15> bytes_{};
};

}  // namespace keyhour::file

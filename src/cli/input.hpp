#pragma once
// Standard input that ends when the run is interrupted, even while it waits for a line.

#include <array>
#include <streambuf>

namespace keyhour::cli {

class Input final : public std::streambuf {
public:
    /// @param descriptor  stays open and belongs to the caller
    explicit Input(int descriptor) : descriptor_{descriptor} {}

protected:
    int_type underflow() override;

private:
    int descriptor_;
    std::array<char, 1 << 15> bytes_{};
};

}  // namespace keyhour::cli

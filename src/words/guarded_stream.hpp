#pragma once
/// @file
/// The last gate before a terminal: whatever a command prints, no control character but the ends
/// of its lines (LF, CR LF), no byte that is no UTF-8 and no override of direction passes.

#include <array>
#include <ostream>
#include <streambuf>

namespace keyhour::words {

/// Writes to another stream's buffer; see shown.hpp for what becomes of the rest. Escapes are
/// those of JSON, so a document that keeps its own rules stays the same document.
class GuardedBuffer final : public std::streambuf {
public:
    explicit GuardedBuffer(std::streambuf* behind) : behind_{behind} {}
    GuardedBuffer(const GuardedBuffer&) = delete;
    GuardedBuffer& operator=(const GuardedBuffer&) = delete;
    ~GuardedBuffer() override;

    /// The buffer behind the gate, for a line of progress that redraws itself; a stream's own where
    /// it has no gate.
    [[nodiscard]] static std::streambuf* behind(const std::ostream& out);

protected:
    int_type overflow(int_type c) override;
    std::streamsize xsputn(const char* text, std::streamsize n) override;
    int sync() override;

private:
    bool put(std::string_view text, bool is_end);
    bool pass(std::string_view text);

    std::streambuf* behind_;
    std::array<char, 4> begun_{};  // a character whose rest has not come yet
    std::size_t begun_size_ = 0;
};

/// A stream that prints through the gate, with the other's settings (the columns of its lines).
class GuardedStream final : public std::ostream {
public:
    explicit GuardedStream(std::ostream& behind);

private:
    GuardedBuffer buffer_;
};

}  // namespace keyhour::words

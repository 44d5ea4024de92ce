#include "words/guarded_stream.hpp"

#include <algorithm>
#include <string>

#include "words/shown.hpp"
#include "words/utf8.hpp"

namespace keyhour::words {
namespace {

/// Could more bytes make a character of these few?
bool may_begin(std::string_view text) {
    if (text == "\r") return true;  // of a line's end
    if (text.empty() || text.size() >= 4) return false;
    const auto first = static_cast<unsigned char>(text[0]);
    const std::size_t whole = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
    if (first < 0xc2 || first > 0xf4 || text.size() >= whole) return false;
    for (const char c : text.substr(1))
        if ((static_cast<unsigned char>(c) & 0xc0U) != 0x80U) return false;
    return true;
}

}  // namespace

GuardedBuffer::~GuardedBuffer() {
    put({}, true);
}

std::streambuf* GuardedBuffer::behind(const std::ostream& out) {
    const auto* gate = dynamic_cast<GuardedBuffer*>(out.rdbuf());
    return gate != nullptr ? gate->behind_ : out.rdbuf();
}

bool GuardedBuffer::pass(std::string_view text) {
    const auto n = static_cast<std::streamsize>(text.size());
    return n == 0 || behind_->sputn(&text.front(), n) == n;
}

bool GuardedBuffer::put(std::string_view text, bool is_end) {
    std::string joined;
    if (begun_size_ > 0) {
        joined.assign(begun_.data(), begun_size_).append(text);
        begun_size_ = 0;
        text = joined;
    }
    while (!text.empty()) {
        const std::size_t n = harmless_length(text, true);
        if (!pass(text.substr(0, n))) return false;
        text.remove_prefix(n);
        if (text.empty()) break;
        if (!is_end && may_begin(text)) {
            begun_size_ = text.copy(begun_.data(), begun_.size());
            break;
        }
        const std::size_t one = std::max<std::size_t>(utf8_length(text), 1);
        if (!pass(escaped_character(text.substr(0, one)))) return false;
        text.remove_prefix(one);
    }
    return true;
}

GuardedBuffer::int_type GuardedBuffer::overflow(int_type c) {
    if (traits_type::eq_int_type(c, traits_type::eof())) return traits_type::not_eof(c);
    const char one = traits_type::to_char_type(c);
    return put({&one, 1}, false) ? c : traits_type::eof();
}

std::streamsize GuardedBuffer::xsputn(const char* text, std::streamsize n) {
    return put({text, static_cast<std::size_t>(n)}, false) ? n : 0;
}

int GuardedBuffer::sync() {
    return behind_->pubsync();
}

GuardedStream::GuardedStream(std::ostream& behind)
    : std::ostream{nullptr}, buffer_{behind.rdbuf()} {
    copyfmt(behind);
    rdbuf(&buffer_);
    clear(behind.rdstate());
}

}  // namespace keyhour::words

#include "output.hpp"

#include <unistd.h>

#include <cerrno>

namespace keyhour::file {

Output::Output(int descriptor) : descriptor_{descriptor} {
    setp(bytes_.data(), bytes_.data() + bytes_.size());
}

int Output::finish() {
    write_out();
    return error_;
}

bool Output::write_out() {
    const char* from = pbase();
    while (error_ == 0 && from < pptr()) {
        const ssize_t written = ::write(descriptor_, from, static_cast<std::size_t>(pptr() - from));
        if (written >= 0)
            from += written;
        else if (errno != EINTR)
            error_ = errno;
    }
    setp(bytes_.data(), bytes_.data() + bytes_.size());
    return error_ == 0;
}

Output::int_type Output::overflow(int_type c) {
    if (!write_out()) return traits_type::eof();
    if (!traits_type::eq_int_type(c, traits_type::eof())) sputc(traits_type::to_char_type(c));
    return traits_type::not_eof(c);
}

int Output::sync() {
    return write_out() ? 0 : -1;
}

}  // namespace keyhour::file

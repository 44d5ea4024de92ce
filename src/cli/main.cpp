#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstring>
#include <iostream>

#include "app.hpp"
#include "file/output.hpp"
#include "input.hpp"
#include "terminal.hpp"
#include "thrown.hpp"

namespace {

/// A file opened later would get the number of a closed standard stream, and its messages with it.
void open_standard_descriptors() {
    // Opened the wrong way round, so that reading or writing them fails as it did.
    constexpr int ways[] = {O_WRONLY, O_RDONLY, O_RDONLY};
    for (int i = STDIN_FILENO; i <= STDERR_FILENO; ++i)
        if (::fcntl(i, F_GETFD) < 0) static_cast<void>(::open("/dev/null", ways[i]));
}

}  // namespace

int main(int argc, char** argv) {
    open_standard_descriptors();
    keyhour::cli::say_what_ends_it();
    std::signal(SIGPIPE, SIG_IGN);  // a closed pipe becomes EPIPE
    std::signal(SIGXFSZ, SIG_IGN);  // a file at its size limit becomes EFBIG
    std::ios::sync_with_stdio(false);
    keyhour::file::Output buffer{STDOUT_FILENO};
    std::ostream out{&buffer};
    keyhour::cli::set_line_columns(out, keyhour::cli::terminal_columns(STDOUT_FILENO));
    keyhour::cli::Input input{STDIN_FILENO};
    std::istream in{&input};
    const int code = keyhour::cli::run(argc, argv, in, out, std::cerr);
    const int error = buffer.finish();
    if (error == 0 || error == EPIPE) return code;
    std::cerr << "keyhour: the answer could not be written: " << std::strerror(error) << '\n';
    return keyhour::cli::bad_data;
}

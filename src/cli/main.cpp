#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstring>
#include <iostream>

#include "app.hpp"
#include "input.hpp"
#include "output.hpp"
#include "terminal.hpp"

int main(int argc, char** argv) {
    std::signal(SIGPIPE, SIG_IGN);  // a closed pipe becomes EPIPE
    std::ios::sync_with_stdio(false);
    keyhour::cli::Output buffer{STDOUT_FILENO};
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

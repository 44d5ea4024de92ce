#include "input.hpp"

#include <poll.h>
#include <unistd.h>

#include <cerrno>

#include "held_stop.hpp"

namespace keyhour::cli {

Input::int_type Input::underflow() {
    constexpr int look_up_ms = 100;  // a signal may reach another thread
    while (HeldStop::asked_by() == 0) {
        pollfd waiting{descriptor_, POLLIN, 0};
        const int ready = ::poll(&waiting, 1, look_up_ms);
        if (ready == 0 || (ready < 0 && errno == EINTR)) continue;
        const ssize_t n = ::read(descriptor_, bytes_.data(), bytes_.size());
        if (n < 0 && (errno == EINTR || errno == EAGAIN)) continue;
        if (n <= 0) break;
        setg(bytes_.data(), bytes_.data(), bytes_.data() + n);
        return traits_type::to_int_type(bytes_.front());
    }
    return traits_type::eof();
}

}  // namespace keyhour::cli

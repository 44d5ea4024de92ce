#include "thrown.hpp"

#include <unistd.h>

#include <cstdlib>
#include <new>

#include "app.hpp"

namespace keyhour::cli {
namespace {

[[noreturn]] void say_and_end() {
    std::string words = "stopped";
    if (const std::exception_ptr thrown = std::current_exception()) words = fault_words(thrown);
    words = "keyhour: " + words + '\n';
    static_cast<void>(!::write(STDERR_FILENO, words.data(), words.size()));
    std::_Exit(bad_data);
}

}  // namespace

std::exception_ptr thrown_by(const std::function<void()>& work) {
    try {
        work();
    } catch (...) {
        return std::current_exception();
    }
    return nullptr;
}

bool is_out_of_memory(const std::exception_ptr& thrown) {
    try {
        std::rethrow_exception(thrown);
    } catch (const std::bad_alloc&) {
        return true;
    } catch (...) {
        return false;
    }
}

std::string fault_words(const std::exception_ptr& thrown) {
    try {
        std::rethrow_exception(thrown);
    } catch (const std::bad_alloc&) {
        return "not enough memory for this question";
    } catch (const std::exception& error) {
        return std::string{"an error inside the program: "} + error.what();
    } catch (...) {
        return "an error inside the program";
    }
}

void say_what_ends_it() noexcept {
    std::set_terminate(say_and_end);
}

}  // namespace keyhour::cli

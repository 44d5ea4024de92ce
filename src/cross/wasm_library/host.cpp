// What a page sees of keyhour.wasm: three functions and its memory; and what the C library would
// ask of a host, answered here, so that the module asks for nothing: there are no files, no
// environment and no clock.
#include <wasi/api.h>

#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <string>
#include <string_view>

#include "pocket/answer.hpp"

extern "C" {

/// @return n bytes for a request, or null
void* keyhour_take(std::uint32_t n) {
    return std::malloc(n);
}

void keyhour_give_back(void* memory, std::uint32_t) {
    std::free(memory);
}

/// @param request  n bytes of UTF-8 JSON, which stay the caller's
/// @return the reply's length as 32 bits, low byte first, then its bytes; give it back
void* keyhour_answer(const char* request, std::uint32_t n) {
    const std::string reply = keyhour::pocket::answer(std::string_view{request, n});
    const auto length = static_cast<std::uint32_t>(reply.size());
    auto* memory = static_cast<char*>(std::malloc(sizeof length + reply.size()));
    if (memory == nullptr) __builtin_trap();
    std::memcpy(memory, &length, sizeof length);
    std::memcpy(memory + sizeof length, reply.data(), reply.size());
    return memory;
}

// Functions of WASI (preview 1) by the names under which the C library declares them.
#define KEYHOUR_WASI(name) __imported_wasi_snapshot_preview1_##name

std::int32_t KEYHOUR_WASI(clock_time_get)(std::int32_t, std::int64_t, std::int32_t time) {
    std::memset(reinterpret_cast<void*>(time), 0,
                sizeof(std::int64_t));  // requests say what time it is
    return 0;
}
std::int32_t KEYHOUR_WASI(environ_sizes_get)(std::int32_t count, std::int32_t size) {
    std::memset(reinterpret_cast<void*>(count), 0, sizeof(std::int32_t));
    std::memset(reinterpret_cast<void*>(size), 0, sizeof(std::int32_t));
    return 0;
}
std::int32_t KEYHOUR_WASI(environ_get)(std::int32_t, std::int32_t) {
    return 0;
}
std::int32_t KEYHOUR_WASI(fd_close)(std::int32_t) {
    return __WASI_ERRNO_BADF;
}
std::int32_t KEYHOUR_WASI(fd_fdstat_get)(std::int32_t, std::int32_t) {
    return __WASI_ERRNO_BADF;
}
std::int32_t KEYHOUR_WASI(fd_read)(std::int32_t, std::int32_t, std::int32_t, std::int32_t) {
    return __WASI_ERRNO_BADF;
}
std::int32_t KEYHOUR_WASI(fd_seek)(std::int32_t, std::int64_t, std::int32_t, std::int32_t) {
    return __WASI_ERRNO_BADF;
}
std::int32_t KEYHOUR_WASI(fd_write)(std::int32_t, std::int32_t, std::int32_t, std::int32_t) {
    return __WASI_ERRNO_BADF;
}
[[noreturn]] void KEYHOUR_WASI(proc_exit)(std::int32_t) {
    __builtin_trap();
}

}  // extern "C"

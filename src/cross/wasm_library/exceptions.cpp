// Exceptions in WebAssembly for the few parts that throw: Debian's C++ runtime for wasm32 is built
// without them. The compiler (-fwasm-exceptions) throws and catches by the engine's own
// instructions; what it leaves to a runtime is here: the memory of an exception, and which handler
// takes it. Sources: Itanium C++ ABI, Exception Handling (levels I and II, and the tables of its
// appendix); WebAssembly tool conventions, EHScheme.md. One thread; an exception is one that C++
// code threw.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <exception>
#include <typeinfo>

namespace {

/// Stands before the object that was thrown.
struct alignas(16) Thrown {
    const std::type_info* type;
    void* (*destroy)(void*);  // in WebAssembly a destructor returns its object
    void* adjusted;           // as the handler's type sees the object
    Thrown* below;            // the one that was being handled before
    int handlers;
};

Thrown* handled = nullptr;

Thrown* thrown_of(void* object) {
    return static_cast<Thrown*>(object) - 1;
}

std::uintptr_t read_unsigned(const std::uint8_t*& at) {
    std::uintptr_t value = 0;
    for (unsigned shift = 0;; shift += 7) {
        const std::uint8_t byte = *at++;
        value |= static_cast<std::uintptr_t>(byte & 0x7fU) << shift;
        if ((byte & 0x80U) == 0) return value;
    }
}

std::intptr_t read_signed(const std::uint8_t*& at) {
    std::uintptr_t value = 0;
    unsigned shift = 0;
    std::uint8_t byte = 0;
    do {
        byte = *at++;
        value |= static_cast<std::uintptr_t>(byte & 0x7fU) << shift;
        shift += 7;
    } while ((byte & 0x80U) != 0);
    if ((byte & 0x40U) != 0 && shift < 8 * sizeof value) value |= ~std::uintptr_t{0} << shift;
    return static_cast<std::intptr_t>(value);
}

/// The compiler's table of one function, as far as handlers go.
struct Handlers {
    const std::uint8_t* calls;    // a landing pad and its first action, for each index
    const std::uint8_t* actions;  // a handler's number and the way to the next
    const std::uint8_t* types;    // behind the last type

    explicit Handlers(const std::uint8_t* at) {
        constexpr std::uint8_t left_out = 0xff;
        if (*at++ != left_out) read_unsigned(at);
        types = nullptr;
        if (*at++ != left_out) {
            const std::uintptr_t offset = read_unsigned(at);
            types = at + offset;
        }
        ++at;  // the encoding of the calls: always unsigned numbers here
        const std::uintptr_t size = read_unsigned(at);
        calls = at;
        actions = at + size;
    }
    [[nodiscard]] const std::type_info* type(std::intptr_t number) const {
        return reinterpret_cast<const std::type_info* const*>(types)[-number];
    }
};

/// Of the class that is caught, or one derived from it. Pointers to members and the like are not
/// thrown here.
bool takes(const std::type_info* wanted, Thrown& thrown) {
    void* object = &thrown + 1;
    if (wanted == nullptr || *wanted == *thrown.type) {  // "..."
        thrown.adjusted = object;
        return true;
    }
    // What the runtime itself asks a type, for casts too: after two destructors and two functions
    // that do nothing comes "can this handler take it?", which follows bases.
    using CanCatch = bool (*)(const std::type_info*, const std::type_info*, void*&);
    constexpr std::size_t place = 4;
    const auto* functions = *reinterpret_cast<const CanCatch* const*>(wanted);
    if (!functions[place](wanted, thrown.type, object)) return false;
    thrown.adjusted = object;
    return true;
}

}  // namespace

extern "C" {

struct LandingPad {
    std::uintptr_t index;
    const std::uint8_t* table;
    std::uintptr_t selector;
};
/// Filled by the compiler's code before it asks which handler takes an exception.
thread_local LandingPad __wasm_lpad_context;

/// The compiler names it; the one below is called.
int __gxx_personality_wasm0() {
    return 0;
}

int _Unwind_CallPersonality(void* object) {
    LandingPad& pad = __wasm_lpad_context;
    pad.selector = 0;
    const Handlers handlers{pad.table};
    const std::uint8_t* call = handlers.calls;
    std::uintptr_t action = 0;
    for (std::uintptr_t i = 0; i <= pad.index; ++i) {
        read_unsigned(call);
        action = read_unsigned(call);
    }
    if (action == 0) return 0;
    for (const std::uint8_t* at = handlers.actions + action - 1;;) {
        const std::intptr_t number = read_signed(at);
        if (number > 0 && takes(handlers.type(number), *thrown_of(object))) {
            pad.selector = static_cast<std::uintptr_t>(number);
            return 0;
        }
        const std::uint8_t* from = at;
        const std::intptr_t next = read_signed(at);
        if (next == 0) return 0;
        at = from + next;
    }
}

void* __cxa_allocate_exception(std::size_t size) noexcept {
    void* memory = std::calloc(1, sizeof(Thrown) + size);
    if (memory == nullptr) __builtin_trap();
    return static_cast<Thrown*>(memory) + 1;
}

void __cxa_free_exception(void* object) noexcept {
    std::free(thrown_of(object));
}

[[noreturn]] void __cxa_throw(void* object, std::type_info* type, void* (*destroy)(void*)) {
    Thrown& thrown = *thrown_of(object);
    thrown.type = type;
    thrown.destroy = destroy;
    __builtin_wasm_throw(0, object);
}

void* __cxa_get_exception_ptr(void* object) noexcept {
    return thrown_of(object)->adjusted;
}

void* __cxa_begin_catch(void* object) noexcept {
    Thrown* thrown = thrown_of(object);
    if (thrown->handlers++ == 0) {
        thrown->below = handled;
        handled = thrown;
    }
    return thrown->adjusted != nullptr ? thrown->adjusted : object;
}

void __cxa_end_catch() {
    Thrown* thrown = handled;
    if (thrown == nullptr || --thrown->handlers > 0) return;
    handled = thrown->below;
    if (thrown->destroy != nullptr) thrown->destroy(thrown + 1);
    std::free(thrown);
}

[[noreturn]] void __cxa_rethrow() {
    if (handled == nullptr) __builtin_trap();
    Thrown* thrown = handled;
    --thrown->handlers;
    handled = thrown->below;
    __builtin_wasm_throw(0, thrown + 1);
}

}  // extern "C"

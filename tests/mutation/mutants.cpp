// Which mutant a program is: KEYHOUR_MUTANT=NUMBER. With KEYHOUR_MUTANTS_SEEN=FILE it is none, and
// says at its end which ones it came past.

#include "mutants.hpp"

#include <cstdio>
#include <cstdlib>

namespace keyhour_mutants {

constexpr int most = 1 << 16U;
unsigned char to_ask[most];

namespace {

unsigned char seen[most];
int chosen = -1;

void write_seen() {
    std::FILE* file = std::fopen(std::getenv("KEYHOUR_MUTANTS_SEEN"), "w");
    if (file == nullptr) return;
    for (int id = 0; id < most; ++id)
        if (seen[id] != 0) std::fprintf(file, "%d\n", id);
    std::fclose(file);
}

// Before any static object of the program's is made.
[[gnu::constructor(101)]] void choose() {
    if (std::getenv("KEYHOUR_MUTANTS_SEEN") != nullptr) {
        for (unsigned char& ask : to_ask)
            ask = 1;
        std::atexit(write_seen);
    } else if (const char* number = std::getenv("KEYHOUR_MUTANT")) {
        chosen = std::atoi(number);
        if (chosen >= 0 && chosen < most) to_ask[chosen] = 1;
    }
}

}  // namespace

bool is_chosen(int id) noexcept {
    if (id == chosen) return true;
    seen[id] = 1;
    to_ask[id] = 0;
    return false;
}

}  // namespace keyhour_mutants

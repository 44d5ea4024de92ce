/* The example's figures, said to the host. */

#include "example_room.h"

__attribute__((import_module("host"), import_name("say"))) void say(const char *name, double value);

static void tell(const char *name, double value) {
    say(name, value);
}

static char memory[24 * 1024];

__attribute__((export_name("figures"))) int figures(void) {
    return (int)say_figures(memory, sizeof memory, tell);
}

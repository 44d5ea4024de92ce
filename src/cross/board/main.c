/* Says what the example room's day is, and how much memory that took. Output and exit status go through the
 * debugger's door (Arm, Semihosting for AArch32 and AArch64: SYS_WRITE0, SYS_EXIT_EXTENDED). */

#include <stdint.h>
#include <string.h>

#include "example_room.h"

uint32_t stack_bytes(void);

static int32_t semihost(uint32_t operation, const void *argument) {
    register uint32_t r0 __asm("r0") = operation;
    register const void *r1 __asm("r1") = argument;
    __asm volatile("bkpt 0xab" : "+r"(r0) : "r"(r1) : "memory");
    return (int32_t)r0;
}

static void write(const char *text) {
    semihost(0x04, text);
}

void leave(int status) {
    const uint32_t application_exit[2] = {0x20026, (uint32_t)status};
    semihost(0x20, application_exit);
}

/* Digits in the given base, at least `least` of them. */
static void write_number(uint64_t number, unsigned base, unsigned least) {
    char text[24], *at = text + sizeof text - 1;
    *at = '\0';
    for (; number > 0 || least > 0; number /= base, least -= least > 0)
        *--at = "0123456789abcdef"[number % base];
    write(at);
}

static void say(const char *name, double value) {
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    write(name);
    write("\t");
    write_number(bits, 16, 16);
    write("\n");
}

static char memory[24 * 1024];

/* The timer that every Cortex-M has (ARMv7-M, B3.3): counts down, 24 bits, at the processor's clock. */
static volatile uint32_t *const systick = (volatile uint32_t *)0xE000E010;

int main(void) {
    systick[1] = 0xffffff;
    systick[2] = 0;
    systick[0] = 5;
    const keyhour_status status = say_figures(memory, sizeof memory, say);
    const uint32_t ticks = 0xffffff - systick[2];
    write("# ticks ");
    write_number(ticks, 10, 1);
    write("\n");
    write("# stack ");
    write_number(stack_bytes(), 10, 1);
    write("\n");
    return (int)status;
}

/* From power-on to main on a Cortex-M4F: floating point on, memory laid out. (Arm, ARMv7-M Architecture
 * Reference Manual, B1.5.3, the vector table; B3.2.20, the coprocessor access control register.) */

#include <stdint.h>

extern uint32_t stack_top, data_begin, data_end, data_in_flash, bss_begin, bss_end;
int main(void);
void leave(int status);

/* What no byte of the stack holds by chance: how deep it went is read off. */
enum { stack_paint = 0x5a5a5a5a };

__attribute__((noreturn)) void reset(void) {
    volatile uint32_t *const coprocessor_access = (volatile uint32_t *)0xE000ED88;
    *coprocessor_access |= 0xFu << 20;
    __asm volatile("dsb\n isb");
    for (uint32_t *to = &data_begin, *from = &data_in_flash; to < &data_end;)
        *to++ = *from++;
    for (uint32_t *to = &bss_begin; to < &bss_end;)
        *to++ = 0;
    uint32_t *const here = __builtin_frame_address(0);
    for (volatile uint32_t *to = &bss_end; to < here - 16;)
        *to++ = stack_paint;
    leave(main());
    for (;;) {
    }
}

uint32_t stack_bytes(void) {
    const uint32_t *deepest = &bss_end;
    while (deepest < &stack_top && *deepest == stack_paint)
        ++deepest;
    return 4 * (uint32_t)(&stack_top - deepest);
}

static void fault(void) {
    leave(3);
    for (;;) {
    }
}

__attribute__((section(".vectors"), used)) static const void *const vectors[16] = {
    &stack_top, reset, fault, fault, fault, fault, fault,
};

/* The example's figures, by a C program. Without arguments it prints them; with "-" it reads the lines that
 * another machine printed (name, tab, the 16 hexadecimal digits of the double) and compares.
 *   figures                              prints them so
 *   figures - LENGTHS SECONDS < LINES    how far figures may differ: times by SECONDS, all others by LENGTHS */

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "example_room.h"

static char memory[48 * 1024];
static double lengths, seconds, farthest, farthest_time;
static int compared, failed;

static void print(const char *name, double value) {
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    printf("%s\t%016" PRIx64 "\n", name, bits);
}

static void compare(const char *name, double value) {
    char line[200], *tab;
    uint64_t bits;
    double other;
    if (!fgets(line, sizeof line, stdin) || !(tab = strchr(line, '\t'))) {
        printf("no line for \"%s\"\n", name);
        ++failed;
        return;
    }
    *tab = '\0';
    bits = strtoull(tab + 1, NULL, 16);
    memcpy(&other, &bits, sizeof other);
    const int is_time = strstr(name, ", s") != NULL;
    const double apart = fabs(other - value);
    if (is_time && apart > farthest_time) farthest_time = apart;
    if (!is_time && apart > farthest) farthest = apart;
    ++compared;
    if (strcmp(line, name) == 0 && apart <= (is_time ? seconds : lengths)) return;
    printf("%s: %.17g here, \"%s\" is %.17g there\n", name, value, line, other);
    ++failed;
}

int main(int argc, char **argv) {
    if (argc == 1) return say_figures(memory, sizeof memory, print) == KEYHOUR_OK ? 0 : 1;
    if (argc != 4) return 2;
    lengths = atof(argv[2]);
    seconds = atof(argv[3]);
    if (say_figures(memory, sizeof memory, compare) != KEYHOUR_OK) return 1;
    if (fgetc(stdin) != EOF) {
        printf("more lines there than figures here\n");
        ++failed;
    }
    printf("%d figures, farthest apart %.3g, times %.3g s\n", compared, farthest, farthest_time);
    return failed > 0 || compared < 50;
}

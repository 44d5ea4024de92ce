/* The C header as a C program meets it: what it refuses, and that it takes no more than it was given. */

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "example_room.h"

static int failed;

static void check(int holds, const char *what) {
    if (holds) return;
    printf("does not hold: %s\n", what);
    ++failed;
}

#define CHECK(condition) check(condition, #condition)

static char memory[48 * 1024];

static void the_sun_at_greenwich(void) {
    /* Meeus, Astronomical Algorithms, 2nd ed. (1998), example 25.a: 1992-10-13, 0h TD: apparent declination
     * -7.78507 degrees, distance 0.99766 au (of its low-precision method). From memory. */
    const keyhour_observer o = keyhour_observer_at(51.4779, 0, 0);
    keyhour_sun sun;
    const double zero_hours_td = 718934400.0 - 59.0;
    CHECK(keyhour_sun_at(&o, zero_hours_td, &sun) == KEYHOUR_OK);
    CHECK(fabs(sun.declination_deg - -7.78507) < 0.01);
    CHECK(fabs(sun.distance_au - 0.99766) < 0.0001);
    CHECK(fabs(sun.toward.up - sin(sun.apparent_altitude_deg * 3.14159265358979323846 / 180)) < 1e-9);
}

static void a_sun_that_is_refused(void) {
    keyhour_observer o = keyhour_observer_at(51, 0, 0);
    keyhour_sun sun;
    CHECK(keyhour_sun_at(&o, 7258118401.0, &sun) == KEYHOUR_NOT_SERVED); /* 2200 */
    CHECK(keyhour_sun_at(&o, (double)NAN, &sun) == KEYHOUR_BAD_VALUE);
    CHECK(keyhour_sun_at(NULL, 0, &sun) == KEYHOUR_BAD_VALUE);
    o.latitude_deg = 91;
    CHECK(keyhour_sun_at(&o, 0, &sun) == KEYHOUR_BAD_VALUE);
}

static keyhour_status prepared(const keyhour_room *room) {
    keyhour_scene *scene;
    const keyhour_status status = keyhour_prepare(room, memory, sizeof memory, &scene, NULL);
    CHECK((status == KEYHOUR_OK) == (scene != NULL));
    return status;
}

static void rooms_that_are_refused(void) {
    const keyhour_point2 bow_tie[] = {{0, 0}, {4, 4}, {4, 0}, {0, 4}};
    keyhour_room room = example_room;
    keyhour_window window = example_room.windows[0];
    CHECK(prepared(&room) == KEYHOUR_OK);
    room.floor = bow_tie;
    CHECK(prepared(&room) == KEYHOUR_BAD_ROOM);
    room = example_room;
    room.corners = 2;
    CHECK(prepared(&room) == KEYHOUR_BAD_ROOM);
    room = example_room;
    room.height_m = -1;
    CHECK(prepared(&room) == KEYHOUR_BAD_VALUE);
    room = example_room;
    room.windows = &window;
    room.window_count = 1;
    CHECK(prepared(&room) == KEYHOUR_OK);
    window.left_m = 6; /* 1.4 m wide in a wall of 7.2 m */
    CHECK(prepared(&room) == KEYHOUR_BAD_ROOM);
    window.left_m = (double)NAN;
    CHECK(prepared(&room) == KEYHOUR_BAD_VALUE);
    window = example_room.windows[0];
    window.wall = 4;
    CHECK(prepared(&room) == KEYHOUR_BAD_ROOM);
}

static void no_more_memory_than_was_given(void) {
    keyhour_scene *scene;
    size_t used = 0, least = 0;
    keyhour_key keys[8];
    const keyhour_observer o = example_observer();
    const keyhour_key_settings settings = example_settings();
    CHECK(keyhour_prepare(&example_room, memory, sizeof memory, &scene, &used) == KEYHOUR_OK);
    CHECK(used < 20 * 1024);
    /* From too little, in odd steps and at odd addresses, to enough; what lies behind stays as it was. */
    for (size_t bytes = 1; bytes < 40000; bytes += 997) {
        size_t count = 0;
        char *const from = memory + bytes % 8;
        memset(memory, 0x5a, sizeof memory);
        keyhour_status status = keyhour_prepare(&example_room, from, bytes, &scene, &used);
        if (status == KEYHOUR_OK)
            status = keyhour_keys(scene, &o, &settings, 1771286400, 1771372800, keys, 8, &count);
        CHECK(status == KEYHOUR_OK || status == KEYHOUR_NO_MEMORY);
        CHECK((status == KEYHOUR_OK) == (count > 0));
        if (status == KEYHOUR_OK && least == 0) least = bytes;
        if (status != KEYHOUR_OK && least > 0) CHECK(0);
        for (size_t i = (size_t)(from - memory) + bytes; i < sizeof memory; ++i)
            if (memory[i] != 0x5a) {
                CHECK(0);
                break;
            }
    }
    printf("prepared and asked for the day's key within %zu bytes\n", least);
    CHECK(least > 0 && least < 24 * 1024);
}

struct pieces {
    size_t count;
    double area_m2[3]; /* by kind of surface */
};

static void measure(void *context, const keyhour_piece *piece) {
    struct pieces *const all = context;
    double x = 0, y = 0, z = 0;
    for (size_t i = 1; i + 1 < piece->count; ++i) {
        const keyhour_point3 o = piece->corners[0], p = piece->corners[i], q = piece->corners[i + 1];
        x += (p.y_m - o.y_m) * (q.z_m - o.z_m) - (p.z_m - o.z_m) * (q.y_m - o.y_m);
        y += (p.z_m - o.z_m) * (q.x_m - o.x_m) - (p.x_m - o.x_m) * (q.z_m - o.z_m);
        z += (p.x_m - o.x_m) * (q.y_m - o.y_m) - (p.y_m - o.y_m) * (q.x_m - o.x_m);
    }
    all->area_m2[piece->kind] += sqrt(x * x + y * y + z * z) / 2;
    ++all->count;
}

static void pieces_make_up_their_patches(void) {
    const keyhour_observer o = example_observer();
    keyhour_scene *scene;
    keyhour_sun sun;
    keyhour_patch patches[8];
    struct pieces all = {0, {0, 0, 0}};
    size_t count = 0;
    double told[3] = {0, 0, 0};
    CHECK(keyhour_sun_at(&o, 1771286400 + 15 * 3600, &sun) == KEYHOUR_OK);
    CHECK(keyhour_prepare(&example_room, memory, sizeof memory, &scene, NULL) == KEYHOUR_OK);
    CHECK(keyhour_patches(scene, 0, sun.toward, patches, 8, &count, measure, &all) == KEYHOUR_OK);
    CHECK(count > 0 && all.count >= 6); /* six panes */
    for (size_t i = 0; i < count; ++i)
        told[patches[i].kind] += patches[i].area_m2;
    for (int kind = 0; kind < 3; ++kind)
        CHECK(fabs(told[kind] - all.area_m2[kind]) < 1e-3);
    CHECK(keyhour_patches(scene, 0, sun.toward, NULL, 0, &count, NULL, NULL) == KEYHOUR_TOO_MANY);
    CHECK(keyhour_patches(scene, 3, sun.toward, patches, 8, &count, NULL, NULL) == KEYHOUR_BAD_ROOM);
    sun.toward.up = 2;
    CHECK(keyhour_patches(scene, 0, sun.toward, patches, 8, &count, NULL, NULL) == KEYHOUR_BAD_VALUE);
}

int main(void) {
    the_sun_at_greenwich();
    a_sun_that_is_refused();
    rooms_that_are_refused();
    no_more_memory_than_was_given();
    pieces_make_up_their_patches();
    if (failed == 0) printf("all holds\n");
    return failed != 0;
}

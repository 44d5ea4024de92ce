#include "example_room.h"

static const keyhour_point2 floor_corners[] = {{0, 0}, {7.2, 0}, {7.2, 4.6}, {0, 4.6}};
static const keyhour_point2 table[] = {{4.4, 1.0}, {6.0, 1.0}, {6.0, 2.0}, {4.4, 2.0}};
static const keyhour_point2 warehouse[] = {{4, -20}, {18, -20}, {18, -11}, {4, -11}};
static const keyhour_body objects[] = {{table, 4, 0.95}};
static const keyhour_body buildings[] = {{warehouse, 4, 9.5}};

/* wall, left, width, sill, height, reveal, bars */
static const keyhour_window windows[] = {
    {0, 1.1, 1.4, 0.85, 1.6, 0.28, 1, 2, 0.03, 0},
    {0, 4.2, 1.4, 0.85, 1.6, 0.28, 0, 0, 0, 0},
    {1, 1.6, 1.016, 1.05, 1.2192, 0.24, 0, 0, 0, 0},
};
static const keyhour_mark marks[] = {{2.3, 1.8, 1.25, 0.15, {0, 0, 0}}};
static const keyhour_camera cameras[] = {{0.7, 0.6, 1.35, 0, 38, 21.375}};

const keyhour_room example_room = {
    floor_corners, 4, 3.1, 0.4, 0, 196, windows, 3, marks, 1, cameras, 1, objects, 1, buildings, 1,
};

const keyhour_skyline_point example_skyline[7] = {
    {0, 3}, {90, 6}, {140, 4}, {180, 2}, {235, 2.5}, {270, 9}, {320, 5},
};

keyhour_observer example_observer(void) {
    return keyhour_observer_at(52.9536, -1.1505, 61);
}

keyhour_key_settings example_settings(void) {
    keyhour_key_settings settings = keyhour_usual_key_settings();
    settings.skyline = example_skyline;
    settings.skyline_points = 7;
    return settings;
}

/* 2026-02-17T00:00Z */
static const double midnight = 1771286400.0;

static void say_sun(const keyhour_sun *sun, void (*say)(const char *name, double value)) {
    say("sun azimuth, degrees", sun->azimuth_deg);
    say("sun altitude, degrees", sun->apparent_altitude_deg);
    say("sun true altitude, degrees", sun->true_altitude_deg);
    say("sun declination, degrees", sun->declination_deg);
    say("equation of time, minutes", sun->equation_of_time_min);
    say("sun diameter, degrees", sun->angular_diameter_deg);
    say("sun distance, au", sun->distance_au);
}

static keyhour_status say_light(keyhour_scene *scene, keyhour_direction toward,
                                void (*say)(const char *name, double value)) {
    for (size_t window = 0; window < example_room.window_count; ++window) {
        double coverage = 0;
        keyhour_status status = keyhour_coverage(scene, 0, window, toward, &coverage);
        if (status != KEYHOUR_OK) return status;
        say("coverage", coverage);
        keyhour_patch patches[8];
        size_t count = 0;
        status = keyhour_patches(scene, window, toward, patches, 8, &count, NULL, NULL);
        if (status != KEYHOUR_OK) return status;
        for (size_t i = 0; i < count; ++i) {
            say("patch surface", 10.0 * (double)patches[i].kind + (double)patches[i].index);
            say("patch area, m2", patches[i].area_m2);
            say("patch centroid x, m", patches[i].centroid.x_m);
            say("patch centroid y, m", patches[i].centroid.y_m);
            say("patch centroid z, m", patches[i].centroid.z_m);
        }
    }
    return KEYHOUR_OK;
}

keyhour_status say_figures(void *memory, size_t bytes, void (*say)(const char *name, double value)) {
    const keyhour_observer observer = example_observer();
    const keyhour_key_settings settings = example_settings();
    keyhour_scene *scene = NULL;
    keyhour_status status = keyhour_prepare(&example_room, memory, bytes, &scene, NULL);
    for (int hour = 9; status == KEYHOUR_OK && hour <= 15; hour += 2) {
        keyhour_sun sun;
        status = keyhour_sun_at(&observer, midnight + 3600.0 * hour, &sun);
        if (status != KEYHOUR_OK) return status;
        say_sun(&sun, say);
        status = say_light(scene, sun.toward, say);
    }
    if (status != KEYHOUR_OK) return status;
    keyhour_key keys[8];
    size_t count = 0;
    status = keyhour_keys(scene, &observer, &settings, midnight, midnight + 86400, keys, 8, &count);
    for (size_t i = 0; status == KEYHOUR_OK && i < count; ++i) {
        say("key window", (double)keys[i].window);
        say("key from, s", keys[i].from_unix_s - midnight);
        say("key to, s", keys[i].to_unix_s - midnight);
    }
    return status;
}

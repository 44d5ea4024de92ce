/* Asks the C header of the installed library: where the sun stands at noon of 2026-06-21, and the clean keys of
 * room.toml's room on the day that begins at the given second. */
#include <keyhour/keyhour.h>
#include <stdio.h>
#include <stdlib.h>

int main(int argc, char **argv) {
    static const keyhour_point2 corners[] = {{0, 0}, {6, 0}, {6, 5}, {0, 5}};
    static const keyhour_window window = {0, 2, 1.2, 0.9, 1.5, 0.25, 0, 0, 0, 0};
    static const keyhour_mark mark = {2.4, 1.9, 1.1, 0.15, {0, 0, 0}};
    static const keyhour_camera camera = {0.8, 0.7, 1.3, 0, 40, 22.5};
    static const keyhour_room bindery = {
        corners, 4, 3, 0, 0, 170, &window, 1, &mark, 1, &camera, 1, NULL, 0, NULL, 0,
    };
    static char memory[16384];
    const keyhour_observer observer = keyhour_observer_at(52.5, -1.5, 90);
    const keyhour_key_settings settings = keyhour_usual_key_settings();
    keyhour_scene *scene;
    keyhour_sun sun;
    keyhour_key keys[8];
    size_t count;
    if (argc < 2) {
        if (keyhour_sun_at(&observer, 1782043200, &sun) != KEYHOUR_OK) return 1;
        printf("%.5f %.5f\n", sun.azimuth_deg, sun.true_altitude_deg);
        return 0;
    }
    const double from = atof(argv[1]);
    if (keyhour_prepare(&bindery, memory, sizeof memory, &scene, NULL) != KEYHOUR_OK) return 1;
    if (keyhour_keys(scene, &observer, &settings, from, from + 86400, keys, 8, &count) != KEYHOUR_OK) return 1;
    for (size_t i = 0; i < count; ++i)
        printf("%.3f %.3f\n", keys[i].from_unix_s, keys[i].to_unix_s);
    return 0;
}

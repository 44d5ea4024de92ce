#ifndef KEYHOUR_H
#define KEYHOUR_H
/**
 * keyhour for C, and so for firmware and other languages: where the sun stands, where it falls in a small
 * room, and when a window gives a clean key today.
 *
 * Nothing here allocates: a prepared room lives in memory that the caller hands over, results in arrays
 * of the caller's. No global state, no clock, no files; a prepared room serves one thread at a time, as
 * it lends the rest of its memory to each question.
 *
 * Lengths are metres, angles degrees, times seconds since 1970-01-01T00:00 UTC without leap seconds.
 * On the plan x runs to the right and y up the page; z is up from the room's floor. Names of members
 * carry their unit; counts and indices have none.
 *
 * Accuracy is that of the C++ headers beside this one (sun/geocentric.hpp, room/scene.hpp).
 */

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** What came of a call. Results are written for OK and TOO_MANY alone. */
typedef enum keyhour_status {
    KEYHOUR_OK = 0,
    KEYHOUR_BAD_VALUE = 1,    /**< a figure is no number, or beyond its range */
    KEYHOUR_BAD_ROOM = 2,     /**< a floor or footprint without area, a window beyond its wall, an index */
    KEYHOUR_NOT_SERVED = 3,   /**< an instant outside the years 1800 to 2199 */
    KEYHOUR_NO_MEMORY = 4,    /**< the memory handed over is too small */
    KEYHOUR_TOO_MANY = 5      /**< more results than the array holds: the first ones are there */
} keyhour_status;

/** "no camera" */
#define KEYHOUR_NONE ((size_t)-1)

/* ------------------------------------------------------------------ the sun */

/** Who looks at the sun, and through which air. */
typedef struct keyhour_observer {
    double latitude_deg;   /**< geodetic, -90..90, north positive */
    double longitude_deg;  /**< -180..180, EAST positive */
    double elevation_m;    /**< above sea level, -500..9000 */
    double pressure_hpa;   /**< at the place, 0..1100; 0: no air, no refraction */
    double temperature_c;  /**< -60..60 */
} keyhour_observer;

/** An observer in the air of the refraction tables: 1010 hPa, 10 degrees C. */
keyhour_observer keyhour_observer_at(double latitude_deg, double longitude_deg, double elevation_m);

/** A direction over the ground: east, north, up, of length 1. */
typedef struct keyhour_direction {
    double east, north, up;
} keyhour_direction;

typedef struct keyhour_sun {
    double azimuth_deg;            /**< clockwise from true north, 0..360 */
    double true_altitude_deg;      /**< airless */
    double apparent_altitude_deg;  /**< lifted by refraction */
    double declination_deg;        /**< geocentric */
    double equation_of_time_min;   /**< apparent less mean solar time */
    double angular_diameter_deg;
    double distance_au;            /**< from the Earth's centre */
    keyhour_direction toward;      /**< along the refracted ray, as light goes */
} keyhour_sun;

/** Errors: BAD_VALUE, NOT_SERVED. */
keyhour_status keyhour_sun_at(const keyhour_observer *observer, double unix_s, keyhour_sun *out);

/* ----------------------------------------------------------------- the room */

typedef struct keyhour_point2 {
    double x_m, y_m;
} keyhour_point2;

typedef struct keyhour_point3 {
    double x_m, y_m, z_m;
} keyhour_point3;

/** A clear opening in a wall; bars leave panes of equal size. What hangs in it is not looked at. */
typedef struct keyhour_window {
    size_t wall;           /**< wall i runs from the floor's corner i to corner i + 1 */
    double left_m;         /**< from the wall's left-hand corner, seen from inside, to the near jamb */
    double width_m;        /**< above 0, within the wall */
    double sill_m;         /**< above the floor, 0 or more */
    double height_m;       /**< above 0; the head lies below the ceiling */
    double reveal_m;       /**< depth of the opening, 0 or more */
    int bars_upright;      /**< how many stand, 0..15 */
    int bars_level;        /**< how many lie, 0..15 */
    double bar_width_m;    /**< 0 or more; they leave some glass */
    double bar_set_back_m; /**< from the outer wall face inward, 0..reveal_m */
} keyhour_window;

/** Where the subject is: a sphere, or an upright box with sides along x and y. */
typedef struct keyhour_mark {
    double x_m, y_m;  /**< of its centre, on the plan */
    double height_m;  /**< of its centre above the floor */
    double radius_m;  /**< of the sphere, above 0; unused for a box */
    double box_m[3];  /**< along x, along y, tall; all 0: a sphere */
} keyhour_mark;

/** Its axis passes through the middle of the mark that it aims at. */
typedef struct keyhour_camera {
    double x_m, y_m;
    double height_m;           /**< of the lens above the floor */
    size_t aims_at;            /**< index of a mark */
    double view_deg;           /**< horizontal angle of view, above 0, below 180 */
    double view_vertical_deg;  /**< the same upright */
} keyhour_camera;

/** Something upright that blocks light: on the floor inside, or on the ground outside. */
typedef struct keyhour_body {
    const keyhour_point2 *footprint;  /**< simple, either turning sense; not repeated at the end */
    size_t corners;                   /**< 3 or more */
    double height_m;                  /**< of its top above the floor, or above the ground */
} keyhour_body;

typedef struct keyhour_room {
    const keyhour_point2 *floor;  /**< inner faces of the walls, simple, either turning sense */
    size_t corners;               /**< 3 or more */
    double height_m;              /**< floor to ceiling, above 0 */
    double floor_above_ground_m;  /**< the ground is level */
    size_t bearing_wall;          /**< the wall whose bearing is known... */
    double faces_deg;             /**< ...and which way it faces: looking out, from true north */
    const keyhour_window *windows;
    size_t window_count;
    const keyhour_mark *marks;
    size_t mark_count;
    const keyhour_camera *cameras;
    size_t camera_count;
    const keyhour_body *objects;  /**< inside; they receive light too */
    size_t object_count;
    const keyhour_body *buildings;  /**< outside */
    size_t building_count;
} keyhour_room;

/** A room prepared for questions, in the caller's memory. */
typedef struct keyhour_scene keyhour_scene;

/**
 * Prepares a room. What `room` points to may go afterwards; `memory` must stay, untouched.
 * @param memory  of any alignment
 * @param bytes   a room of three windows, a table and a building takes 8 kB with what questions need; every
 *                body that stands before a window 0.4 kB more for each, and 0.8 kB of questions
 * @param used    NULL, or receives how much is taken, without what questions need
 * Errors: BAD_VALUE, BAD_ROOM, NO_MEMORY; then *scene is NULL.
 */
keyhour_status keyhour_prepare(const keyhour_room *room, void *memory, size_t bytes,
                               keyhour_scene **scene, size_t *used);

/**
 * The share of a mark's silhouette, seen from the sun, that light through a window reaches: 0..1.
 * @param sun  as keyhour_sun_at gives it; of length 1 within 0.001
 * Errors: BAD_VALUE, BAD_ROOM (no such mark or window), NO_MEMORY.
 */
keyhour_status keyhour_coverage(keyhour_scene *scene, size_t mark, size_t window,
                                keyhour_direction sun, double *out);

typedef enum keyhour_surface_kind {
    KEYHOUR_FLOOR = 0,
    KEYHOUR_WALL = 1,   /**< index as in keyhour_window */
    KEYHOUR_OBJECT = 2  /**< top and sides are one surface */
} keyhour_surface_kind;

/** Sunlight on one surface through one window. */
typedef struct keyhour_patch {
    keyhour_surface_kind kind;
    size_t index;             /**< of the wall or object */
    double area_m2;
    keyhour_point3 centroid;  /**< of the area, on the plan */
} keyhour_patch;

/**
 * A convex piece of a patch; the pieces of a patch share no area and come before the next patch's.
 * Walls are whole: the openings of other windows are not cut out of them.
 */
typedef struct keyhour_piece {
    keyhour_surface_kind kind;
    size_t index;
    const keyhour_point3 *corners;  /**< until the call returns */
    size_t count;
} keyhour_piece;

/** Receives pieces; `context` is the caller's own. */
typedef void (*keyhour_piece_sink)(void *context, const keyhour_piece *piece);

/**
 * Where the sun through a window falls; patches below 1 cm2 are left out of `out`.
 * @param capacity  of `out`
 * @param sink      NULL, or called with every piece, of patches too small as well
 * Errors: BAD_VALUE, BAD_ROOM, NO_MEMORY, TOO_MANY.
 */
keyhour_status keyhour_patches(keyhour_scene *scene, size_t window, keyhour_direction sun,
                               keyhour_patch *out, size_t capacity, size_t *count,
                               keyhour_piece_sink sink, void *context);

/* ---------------------------------------------------------------- the day's key */

/** A corner of the skyline; straight lines run between them, through north as well. */
typedef struct keyhour_skyline_point {
    double bearing_deg;   /**< true, 0 <= bearing < 360, ascending */
    double altitude_deg;  /**< apparent, -90..90; below 0 counts as level */
} keyhour_skyline_point;

/** Every number of the clean key is a setting. */
typedef struct keyhour_key_settings {
    double coverage;          /**< of the mark's silhouette, above 0, 1 at most */
    double key_angle_deg[2];  /**< between the light and the lens axis, unsigned, on the level, 0..180 */
    double altitude_deg[2];   /**< of the sun, apparent, 0..90 */
    double shortest_s;        /**< shorter keys are left out */
    const keyhour_skyline_point *skyline;  /**< NULL: level */
    size_t skyline_points;
} keyhour_key_settings;

/** 0.95, 25 to 70, 8 to 55 degrees, 60 s: common practice, no source. A level skyline. */
keyhour_key_settings keyhour_usual_key_settings(void);

typedef struct keyhour_key {
    size_t mark, window;
    size_t camera;  /**< KEYHOUR_NONE where none aims at the mark: then angle and frame are not judged */
    double from_unix_s, to_unix_s;
} keyhour_key;

/**
 * When does a window give a clean key at a mark, by the sun, at the room's bearing as stated? Windows
 * other than the key's are taken as covered.
 * The condition is looked at once a minute; keys and gaps between are found where their neighbours leave
 * room for them. Ends are within 0.1 s. A key that runs at `from` or `to` is cut there.
 * @param from_unix_s, to_unix_s  at most 31 days
 * @param out    by mark, camera, window and time
 * Errors: BAD_VALUE, NOT_SERVED, NO_MEMORY, TOO_MANY.
 */
keyhour_status keyhour_keys(keyhour_scene *scene, const keyhour_observer *observer,
                            const keyhour_key_settings *settings, double from_unix_s, double to_unix_s,
                            keyhour_key *out, size_t capacity, size_t *count);

#ifdef __cplusplus
}
#endif

#endif

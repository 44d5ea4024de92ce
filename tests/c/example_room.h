#ifndef EXAMPLE_ROOM_H
#define EXAMPLE_ROOM_H
/* An invented workshop, as firmware would hold it: locations/tallow-lane.toml without names and lamps. */

#include <keyhour/keyhour.h>

extern const keyhour_room example_room;
extern const keyhour_skyline_point example_skyline[7];

/** 61 m above the sea, in the air of the refraction tables. */
keyhour_observer example_observer(void);

/** The usual settings under that skyline. */
keyhour_key_settings example_settings(void);

/** What a device would show of the room on 2026-02-17, figure by figure. Times count from that midnight UTC.
 *  @return  the first status that is not KEYHOUR_OK */
keyhour_status say_figures(void *memory, size_t bytes, void (*say)(const char *name, double value));

#endif

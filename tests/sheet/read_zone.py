"""A calendar of one date in some zone: read_zone.py FOLDER ZONE DATE.

Its zone's rules are compared with the system's through the whole year, its events with the
spreadsheet's instants, its names with what was entered."""

import csv
import datetime
import sys
import zoneinfo
from pathlib import Path

import icalendar

folder, name, date = Path(sys.argv[1]), sys.argv[2], datetime.date.fromisoformat(sys.argv[3])
system = zoneinfo.ZoneInfo(name)
calendar = icalendar.Calendar.from_ical((folder / "sheet.ics").read_bytes())

(zone,) = calendar.walk("VTIMEZONE")
assert str(zone["TZID"]) == name
# Each observance begins at the instant of a change, told in the time before it (RFC 5545, 3.6.5).
steps = []
for part in zone.walk("STANDARD") + zone.walk("DAYLIGHT"):
    local, before, after = part["DTSTART"].dt, part["TZOFFSETFROM"].td, part["TZOFFSETTO"].td
    steps.append(((local - before).replace(tzinfo=datetime.timezone.utc), after))
steps.sort()
hour = datetime.datetime(date.year, 1, 1, tzinfo=system).astimezone(datetime.timezone.utc)
end = datetime.datetime(date.year, 12, 31, 23, tzinfo=system).astimezone(datetime.timezone.utc)
compared = set()
while hour < end:
    told = [after for start, after in steps if start <= hour][-1]
    assert told == hour.astimezone(system).utcoffset(), (hour, told)
    compared.add(told)
    hour += datetime.timedelta(minutes=30)

rows = list(csv.DictReader((folder / "sheet.csv").read_text("utf-8").splitlines(), strict=True))
shown = [r for r in rows if r["kind"] in ("key", "cover", "hang", "wanted", "late_light", "rigging")]
events = calendar.walk("VEVENT")
assert events and len(events) == len(shown), (len(events), len(shown))


def instant(value):
    if value.tzinfo is datetime.timezone.utc or str(value.tzinfo) == "UTC":
        return value.astimezone(datetime.timezone.utc)
    return value.replace(tzinfo=system).astimezone(datetime.timezone.utc)


for event, row in zip(events, shown):
    for key, column in (("DTSTART", "start_utc"), ("DTEND", "end_utc")):
        wanted = datetime.datetime.fromisoformat(row[column].replace("Z", "+00:00"))
        assert abs((instant(event[key].dt) - wanted).total_seconds()) <= 60.001, (key, event, row)
    assert str(event["LOCATION"]) == '工場, "B"; двор \\ côté nord', event["LOCATION"]
    assert str(event["SUMMARY"]) == row["what"], (event["SUMMARY"], row["what"])
    for alarm in event.walk("VALARM"):
        assert alarm["ACTION"] == "DISPLAY" and alarm["DESCRIPTION"]
print(f"{name}: {len(events)} events, offsets {sorted(str(o) for o in compared)}")

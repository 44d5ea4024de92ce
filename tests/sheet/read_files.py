"""The light sheet's calendar, spreadsheet and map, read by icalendar, csv and json."""

import csv
import datetime
import json
import sys
from pathlib import Path

import icalendar

folder = Path(sys.argv[1])


def calendar(name):
    raw = (folder / name / "sheet.ics").read_bytes()
    assert all(len(line) <= 75 for line in raw.split(b"\r\n")), "a line is longer than 75 octets"
    assert raw.count(b"\n") == raw.count(b"\r\n"), "a line does not end in CRLF"
    return icalendar.Calendar.from_ical(raw)


def events(cal):
    found = {str(e["UID"]): e for e in cal.walk("VEVENT")}
    assert len(found) == len(cal.walk("VEVENT")), "a UID stands twice"
    return found


def utc(text):
    return datetime.datetime.fromisoformat(text.replace("Z", "+00:00"))


first = calendar("first")
one, other = events(first), events(calendar("again"))
assert one and set(one) & set(other), "no UID outlives a change"

# The zone: London steps forward on 29 March 2026 and back on 25 October, at 01:00 UTC.
zones = first.walk("VTIMEZONE")
assert len(zones) == 1 and str(zones[0]["TZID"]) == "Europe/London"
zone = zones[0].to_tz()
for day, hours in ((28, 0), (30, 1)):
    noon = zone.localize(datetime.datetime(2026, 3, day, 12))
    assert noon.utcoffset() == datetime.timedelta(hours=hours), (day, noon.utcoffset())

# Each key stands in the calendar, its minutes rounded inward.
keys = [k for d in json.loads((folder / "key.json").read_text())["days"] for k in d["intervals"]]
keys = [k for k in keys if k["start_utc"]]
starts = sorted(e["DTSTART"].dt.astimezone(datetime.timezone.utc)
                for uid, e in one.items() if uid.startswith("key-"))
assert keys and len(starts) == len(keys), (len(starts), len(keys))
for start, key in zip(starts, sorted(keys, key=lambda k: k["start_utc"])):
    assert 0 <= (start - utc(key["start_utc"])).total_seconds() < 60, (start, key["start_utc"])

# Rigging: 25 and 30 minutes before the key, with an alarm when it begins.
rigging = [e for uid, e in one.items() if uid.startswith("rigging-")]
assert rigging
for e in rigging:
    assert e["DTEND"].dt - e["DTSTART"].dt == datetime.timedelta(minutes=55)
    alarms = e.walk("VALARM")
    assert len(alarms) == 1 and alarms[0]["TRIGGER"].dt == datetime.timedelta(0)
    assert '=HYPERLINK(1), cloth; press window' in str(e["DESCRIPTION"])

# A changed event has the same UID and a higher SEQUENCE, an unchanged one keeps its own.
changed = 0
for uid in set(one) & set(other):
    was, now = one[uid], other[uid]
    same = all(was.get(p) == now.get(p) or (hasattr(was.get(p), "dt") and was[p].dt == now[p].dt)
               for p in ("DTSTART", "DTEND", "SUMMARY", "DESCRIPTION"))
    assert int(was["SEQUENCE"]) == 0
    assert int(now["SEQUENCE"]) == (0 if same else 1), uid
    changed += not same
assert changed, "turning the room changed no event"

# The spreadsheet.
text = (folder / "first" / "sheet.csv").read_bytes().decode("utf-8")
rows = list(csv.DictReader(text.splitlines(keepends=True), strict=True))
assert all(None not in row and None not in row.values() for row in rows), "a ragged record"
assert len([r for r in rows if r["kind"] == "key"]) == len(keys)
for row, key in zip(sorted((r for r in rows if r["kind"] == "key"), key=lambda r: r["start_utc"]),
                    sorted(keys, key=lambda k: k["start_utc"])):
    for figure in ("hold_90_min", "hold_50_min"):
        assert abs(float(row[figure]) - key[figure]) < 0.006, (figure, row, key[figure])
assert all(not r["hold_90_min"] for r in rows if r["kind"] != "key")
for row in rows:
    assert not any(v[:1] in ("=", "+", "-", "@") for v in row.values()), row
    assert not row["detail"].startswith('"'), row
    length = (utc(row["end_utc"]) - utc(row["start_utc"])).total_seconds() / 60
    assert abs(length - float(row["length_min"])) < 0.02, row
    assert utc(row["start_local"]) == utc(row["start_utc"])

# The map: RFC 7946.
document = json.loads((folder / "first" / "sheet.geojson").read_text())
assert document["type"] == "FeatureCollection"
depth = {"Point": 0, "Polygon": 2, "MultiPolygon": 3}


def positions(value, levels):
    if levels == 0:
        yield value
    else:
        for part in value:
            yield from positions(part, levels - 1)


kinds = {}
for f in document["features"]:
    assert set(f) == {"type", "geometry", "properties"} and f["type"] == "Feature"
    shape = f["geometry"]
    points = list(positions(shape["coordinates"], depth[shape["type"]]))
    assert all(len(p) == 2 and -180 <= p[0] <= 180 and -90 <= p[1] <= 90 for p in points)
    assert all(abs(p[0] + 1.1505) < 0.01 and abs(p[1] - 52.9536) < 0.01 for p in points)
    areas = {"Point": [], "Polygon": [shape["coordinates"]]}.get(shape["type"], shape["coordinates"])
    for ring in (ring for area in areas for ring in area):
        assert ring[0] == ring[-1]
        area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:]))
        assert area > 0, "an outer ring is to run counter-clockwise"
    kinds[f["properties"]["kind"]] = kinds.get(f["properties"]["kind"], 0) + 1
assert set(kinds) == {"site", "room", "spot", "clear_ground", "building_shadow"}, kinds
# Of each key the ground for what is up to 3.5 m high; for 2 m as well where some ray passes so low.
clear = [f["properties"] for f in document["features"] if f["properties"]["kind"] == "clear_ground"]
for key in keys:
    limits = [c["up_to_m"] for c in clear
              if (c["mark"], c["window"]) == (key["mark"], key["window"])
              and abs((utc(c["from_utc"]) - utc(key["start_utc"])).total_seconds()) < 1]
    assert sorted(limits) in ([3.5], [2, 3.5]), (key["window"], key["start_utc"], limits)
assert all(0 < c["lowest_ray_m"] < c["up_to_m"] for c in clear), clear
whens = {f["properties"]["when"].split(":")[0] for f in document["features"]
         if f["properties"]["kind"] == "building_shadow"}
assert {"key begins", "key ends"} <= whens, whens
print(f"{len(one)} events, {changed} changed, {len(rows)} rows, {kinds}")

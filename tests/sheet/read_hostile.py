"""The sheet of a place whose names would steer a page, a drawing, a spreadsheet or a calendar."""

import csv
import html.parser
import json
import sys
import unicodedata
import xml.etree.ElementTree
from pathlib import Path

import icalendar

folder = Path(sys.argv[1])
STEERING = set("\u2028\u2029\u202a\u202b\u202c\u202d\u202e\u2066\u2067\ufeff")


def text_of(path):
    text = path.read_bytes().decode("utf-8")
    bad = {c for c in text if c in STEERING or (unicodedata.category(c) == "Cc" and c not in "\r\n")}
    assert not bad, f"{path.name} holds {bad}"
    return text


class Page(html.parser.HTMLParser):
    tags = set()

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        assert tag != "hostile" and not any(name.startswith("on") for name, _ in attrs)


files = sorted(folder.iterdir())
assert {p.suffix for p in files} >= {".html", ".svg", ".csv", ".ics", ".geojson"}
for path in files:
    text = text_of(path)
    if path.suffix == ".svg":
        xml.etree.ElementTree.fromstring(text)
    elif path.suffix == ".html":
        Page().feed(text)
        assert text.count("</script>") == text.count("<script")
    elif path.suffix == ".csv":
        rows = list(csv.reader(text.splitlines(keepends=True)))
        assert len({len(row) for row in rows}) == 1, "rows of different length"
        assert not any(cell[:1] in "=+@" for row in rows for cell in row if cell)
    elif path.suffix == ".ics":
        assert icalendar.Calendar.from_ical(text).walk("VEVENT")
    elif path.suffix == ".geojson":
        assert json.loads(text)["features"]

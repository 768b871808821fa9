#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py EMBERWAIT: the calendars to subscribe to, read by two libraries that other people wrote.

python3-icalendar and the npm package ical.js read each feed of the demonstration; their times, worked
out from the feed's own VTIMEZONE, have to be the plan's instants. Then work is done and taken out: an
entry that moved gets the next number, one that is no longer planned is taken back, the others stay.
Without one of the two the other reads alone, which is said; without both it exits 77.
"""
import json
import os
import re
import signal
import subprocess
import sys
import urllib.error
import urllib.request
from datetime import datetime, timezone

try:
    import icalendar
except ImportError:
    icalendar = None

HERE = os.path.dirname(os.path.abspath(__file__))
EXE = sys.argv[1] if len(sys.argv) > 1 else sys.exit("usage: run.py EMBERWAIT")
NOWS = ["2026-10-30T06:15:00-06:00",  # two days before the clock goes back
        "2026-03-06T06:15:00-07:00",  # ... and forward
        "2026-07-06T06:15:00-06:00"]
passed = failed = 0


def check(what, holds, more=""):
    global passed, failed
    passed += bool(holds)
    failed += not holds
    if not holds:
        print("FAIL %s %s" % (what, more))


class Demo:
    """The demonstration, served at an instant."""

    def __init__(self, now):
        self.process = subprocess.Popen([EXE, "demo", "--port", "0", "--now", now], text=True,
                                        stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
        line = self.process.stdout.readline()
        self.base = re.search(r"http://[\d.:]+", line).group(0)

    def ask(self, path, method="GET", body=None, headers=None):
        request = urllib.request.Request(self.base + path, method=method, headers=headers or {},
                                         data=None if body is None else json.dumps(body).encode())
        if body is not None:
            request.add_header("Content-Type", "application/json")
        try:
            with urllib.request.urlopen(request, timeout=20) as answer:
                return answer.status, answer.headers, answer.read()
        except urllib.error.HTTPError as error:
            return error.code, error.headers, error.read()

    def json(self, path, method="GET", body=None):
        return json.loads(self.ask(path, method, body)[2])

    def end(self):
        self.process.send_signal(signal.SIGTERM)
        check("stops when told", self.process.wait(10) == 0)
        self.process.stdout.close()


def instant(text):
    return int(datetime.fromisoformat(text).timestamp())


def by_python(feed):
    """What python3-icalendar reads: uid -> (start, end, sequence, status)."""
    calendar = icalendar.Calendar.from_ical(feed)
    out = {}
    for event in calendar.walk("VEVENT"):
        start, end = event["DTSTART"].dt, event["DTEND"].dt
        if isinstance(start, datetime):
            start, end = int(start.timestamp()), int(end.timestamp())
        else:
            start, end = start.isoformat(), end.isoformat()
        out[str(event["UID"])] = (start, end, int(event["SEQUENCE"]), str(event["STATUS"]))
    return out


def by_javascript(feed):
    answer = subprocess.run(["node", os.path.join(HERE, "read.mjs")], input=feed, capture_output=True,
                            timeout=60)
    if answer.returncode == 77:
        return None
    if answer.returncode:
        check("ical.js reads it", False, answer.stderr[-400:])
        return None
    return {e["uid"]: (e["start"], e["end"], e["sequence"], e["status"])
            for e in json.loads(answer.stdout)["events"]}


def read(feed, name):
    """The entries of a feed, by every library at hand, which have to agree."""
    text = feed.decode()
    check(name + ": lines end in CRLF", "\n" not in text.replace("\r\n", ""))
    check(name + ": no line over 75 octets",
          all(len(line.encode()) <= 75 for line in text.split("\r\n")))
    readers = {}
    if icalendar is not None:
        readers["python3-icalendar"] = by_python(feed)
    second = by_javascript(feed)
    if second is not None:
        readers["ical.js"] = second
    if not readers:
        print("neither python3-icalendar nor ical.js is installed")
        sys.exit(77)
    first = next(iter(readers.values()))
    for reader, events in readers.items():
        check("%s: %s reads the same" % (name, reader), events == first)
    check(name + ": each name once", len(first) == text.count("BEGIN:VEVENT"))
    return first


def planned(plan, crew):
    """Start and end of each piece of work of a crew, by the plan."""
    out, goes = {}, {}
    for row in plan["crews"]:
        for work in (w for day in row["days"] for w in day["work"]):
            if row["crew"] != crew and crew is not None:
                continue
            key = (work["task"], work["job"])
            goes[key] = goes.get(key, 0) + 1
            number = "" if goes[key] == 1 else ".%d" % goes[key]
            out["%s%s.%s@emberwait" % (work["task"], number, work["job"])] = (
                instant(work["start"]), instant(work["finish"]))
    return out


def feed_path(demo, target):
    return demo.json("/api/v1/links/feed/" + target, "PUT")["path"]


def whole_plan(demo):
    return demo.json("/api/v1/yard")


def look(demo, now):
    """Feeds of the crews and the owner against the plan of the same moment."""
    plan = whole_plan(demo)
    crews = [row["crew"] for row in plan["crews"]]
    check(now + ": the demonstration has crews", len(crews) >= 2)
    for crew in crews:
        status, headers, feed = demo.ask(feed_path(demo, crew))
        check(now + " " + crew + ": is a calendar", status == 200 and
              headers["Content-Type"].startswith("text/calendar"))
        check(now + " " + crew + ": kept out of searches", "noindex" in (headers["X-Robots-Tag"] or ""))
        events = read(feed, now + " " + crew)
        wanted = planned(plan, crew)
        check(now + " " + crew + ": the plan's work and no other",
              {u: e[:2] for u, e in events.items()} == wanted, (events, wanted))
        check(now + " " + crew + ": no phone number, no address", b"555-" not in feed)
    _, _, feed = demo.ask(feed_path(demo, "owner"))
    events = read(feed, now + " owner")
    check(now + " owner: everybody's work", planned(plan, None).items() <=
          {u: e[:2] for u, e in events.items()}.items())
    check(now + " owner: first numbers", {e[2] for e in events.values()} == {0})
    spanish = demo.ask(feed_path(demo, "owner") + "?lang=es")[2]
    check(now + " owner: Spanish has the same times", read(spanish, now + " es") == events)
    check(now + " owner: Spanish has other words", spanish != feed)


def change(demo):
    """Work done early is taken back from the crew's calendar; a second look changes nothing."""
    plan = whole_plan(demo)
    def own(row):
        """The first piece of work that does not come back: joints are covered again each evening."""
        return next((w for day in row["days"][:1] for w in day["work"] if w["task"] != "night-cover"), None)

    row = next(r for r in plan["crews"] if own(r))
    path = feed_path(demo, row["crew"])
    before = read(demo.ask(path)[2], "before")
    status, headers, _ = demo.ask(path)
    again, _, body = demo.ask(path, headers={"If-None-Match": headers["ETag"]})
    check("the same again is told by its tag", (status, again, body) == (200, 304, b""))
    work = own(row)
    at = plan["now"]
    kinds = ["done", "passed"]
    for kind in kinds:
        demo.ask("/api/v1/jobs/%s/records" % work["job"], "POST",
                 {"id": "calendar-" + kind, "kind": kind, "task": work["task"], "at": at, "by": "A. Mason"})
    now_planned = planned(whole_plan(demo), row["crew"])
    uid = "%s.%s@emberwait" % (work["task"], work["job"])
    after = read(demo.ask(path)[2], "after")
    check("what is done is planned no more", uid not in now_planned)
    start = instant(work["start"])
    if start > instant(at):
        check("and is taken back with the next number", after[uid][2:] == (1, "CANCELLED"), after.get(uid))
    else:
        check("what had begun stays as it was said", after[uid] == before[uid])
    for name, entry in after.items():
        if name not in before:
            check("new work begins at nought: " + name, entry[2] == 0, entry)
        elif name in now_planned:
            moved = entry[:2] != before[name][:2] or entry[3] != before[name][3]
            check("numbered by its moves: " + name, entry[2] == before[name][2] + moved,
                  (before[name], entry))
        elif entry[0] > instant(at):
            check("taken back: " + name, entry[2:] == (before[name][2] + 1, "CANCELLED"), entry)
    check("once told, told the same", read(demo.ask(path)[2], "again") == after)


def closed(demo):
    """Whom it is not for, and what no longer opens."""
    status, _, _ = demo.ask("/api/v1/links/feed/nobody", "PUT")
    check("no feed for nobody", status == 404)
    path = feed_path(demo, "owner")
    for wrong in (path[:-4], path[:-4] + ".icsx", "/feed/.ics", path.replace(".ics", "A.ics"),
                  path.replace("/feed/", "/c/").replace(".ics", ""),
                  path.replace("/feed/", "/h/").replace(".ics", "")):
        check("does not open: " + wrong, demo.ask(wrong)[0] == 404)
    crew = demo.json("/api/v1/links/crew/%s" % whole_plan(demo)["crews"][0]["crew"], "PUT")["token"]
    check("a crew's page token opens no calendar", demo.ask("/feed/%s.ics" % crew)[0] == 404)
    demo.ask("/api/v1/links/feed/owner", "DELETE")
    check("switched off, it is gone", demo.ask(path)[0] == 404)
    check("and another one can be made", feed_path(demo, "owner") != path)


for instant_of_now in NOWS:
    served = Demo(instant_of_now)
    try:
        look(served, instant_of_now)
        change(served)
        closed(served)
    finally:
        served.end()
for library, there in (("python3-icalendar", icalendar is not None),
                       ("ical.js", os.path.isdir(os.path.join(HERE, "node_modules", "ical.js")))):
    if not there:
        print("%s is not installed: the feeds were read without it" % library)
print("%d passed, %d failed" % (passed, failed))
sys.exit(1 if failed else 0)

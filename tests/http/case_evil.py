# SPDX-License-Identifier: MIT
"""Names, notes and addresses that try to be markup, on every page, in the calendar, in CSV and in JSON.

The demo company with such a text behind every free word of it. Only the written-out form may come
back: no element, no attribute, no line of a calendar, no formula of a spreadsheet is made by data.
"""
import csv
import html.parser
import json
import os
import re
import subprocess

from client import Client, Server

NOW = "2026-11-25T06:15:00-07:00"
FREE = ("name", "by", "note", "address", "access", "homeowner", "what", "reason", "sheet", "source")
EVIL = "<img src=x onerror=e()>\"'&amp;{date}%s\u2028;x,y"
JOB_PAGES = ("", "/proof", "/letter", "/tag", "/fire-sheet", "/take-over", "/tell")


def spoilt(node, key=""):
    """The case with the text behind each free word."""
    if isinstance(node, dict):
        return {name: spoilt(value, name) for name, value in node.items()}
    if isinstance(node, list):
        return [spoilt(value, key) for value in node]
    return node[:24] + EVIL if isinstance(node, str) and key in FREE else node


class Reader(html.parser.HTMLParser):
    """Elements and attributes as a browser would see them."""

    def __init__(self):
        super().__init__()
        self.bad = []

    def handle_starttag(self, tag, attrs):
        for name, value in attrs:
            if name.startswith("on") or not re.fullmatch(r"[a-z][a-zA-Z0-9:-]*", name) or \
                    (name in ("href", "src", "action") and not re.match(r"[/#?]|tel:|mailto:|https?:|data:image|[\w-]+$", value or "")):
                self.bad.append((tag, name, value))
        if tag == "img" and ("src", "x") in attrs:
            self.bad.append((tag, attrs))


def store_of(exe, folder):
    case, db = os.path.join(folder, "evil.json"), os.path.join(folder, "evil.db")
    made = subprocess.run([exe, "demo", "--now", NOW, "--print-case"], capture_output=True, text=True, timeout=60)
    with open(case, "w", encoding="utf-8") as file:
        json.dump(spoilt(json.loads(made.stdout)), file)
    taken = subprocess.run([exe, "import", "--db", db, "--create", case], capture_output=True, text=True, timeout=60)
    return db, taken


def page(check, client, path):
    answer = client.get(path)
    reader = Reader()
    reader.feed(answer.text)
    check("nothing of it is markup: " + path, answer.status == 200 and "<img src=x" not in answer.text and
          not reader.bad, (answer.status, reader.bad[:3]))
    return answer.text


def tables(check, client):
    for what in ("jobs", "records"):
        text = client.get("/api/v1/%s.csv" % what).text
        rows = list(csv.reader(text.splitlines(keepends=True)))
        check("each row of %s.csv has all columns" % what, len(rows) > 10 and {len(row) for row in rows} == {len(rows[0])})
        check("no cell of %s.csv is a formula" % what, not [c for row in rows for c in row if c and c[0] in "=@\t"])


def test_evil_words(check, exe, server, client):
    db, taken = store_of(exe, server.folder)
    check("such words are taken", taken.returncode == 0, taken.stderr[-600:])
    evil = Server(exe, db=db, now=NOW)
    asker = Client(evil)
    try:
        jobs = [row["job"]["id"] for row in asker.get("/api/v1/jobs").json["jobs"]]
        seen = 0
        for lang in ("en", "es"):
            for path in ("/", "/yard", "/pads", "/tonight", "/call-in", "/jobs", "/weeks", "/first-fires", "/dates",
                         "/rules", "/people", "/jobs/new", "/import"):
                seen += page(check, asker, path + "?lang=" + lang).count("&lt;img src=x")
            for job in jobs[:6]:
                for tail in JOB_PAGES:
                    seen += page(check, asker, "/jobs/%s%s?lang=%s" % (job, tail, lang)).count("&lt;img src=x")
            crew = asker.put("/api/v1/links/crew/river").json["token"]
            page(check, asker, "/c/%s?lang=%s" % (crew, lang))
            home = asker.put("/api/v1/links/homeowner/%s" % jobs[0]).json["token"]
            page(check, asker, "/h/%s?lang=%s" % (home, lang))
        check("and it stands there as it was written", seen > 200, seen)
        feed = asker.get("/feed/%s.ics" % asker.put("/api/v1/links/feed/owner").json["token"]).body
        check("every line of the calendar is one of its own", all(
            re.match(rb"[A-Z-]+[;:]|[ ]", line) for line in feed.split(b"\r\n") if line), feed[:300])
        tables(check, asker)
        asker.close()
        check("no report of a sanitizer on it", "Sanitizer" not in evil.log() and "runtime error" not in evil.log())
    finally:
        evil.stop()

# SPDX-License-Identifier: MIT
"""Spreadsheets: what is on record leaves as CSV and comes back; a row says what it becomes."""
import csv
import io
import subprocess

from client import Client, Server
from sample import COMPANY, STATION, reading

JOBS = """id,name,base,pad,place,outside_air,chimney_ft,town.name,station,done.pad-pour,passed.pad-check
elm-end,"Elm End, rear",slab,new,indoor,yes,14,Torrey,town,2026-10-20,
stone-bank,Stone Bank,crawl,new,exposed,no,18.5,,,2026-10-19 14:30,
"""


def rows(answer):
    return list(csv.DictReader(io.StringIO(answer.text, newline="")))


def take(client, text, what="jobs", dry=False):
    return client.post("/api/v1/import/%s%s" % (what, "?dry_run=1" if dry else ""), text.encode(),
                       Content_Type="text/csv")


def test_csv_in(check, exe, server, client):
    before = client.get("/api/v1/jobs").json
    answer = take(client, JOBS, dry=True)
    check("a dry run says what each row becomes", answer.status == 200 and answer.json["dry_run"] and
          [(r["line"], r["job"], r["new_job"], r["records"]) for r in answer.json["rows"]] ==
          [(2, "elm-end", True, 1), (3, "stone-bank", True, 1)] and answer.json["jobs"] == 2, answer)
    check("and keeps nothing", client.get("/api/v1/jobs").json == before)
    answer = take(client, JOBS)
    check("taken in", answer.status == 200 and answer.json["jobs"] == 2 and answer.json["records"] == 2, answer)
    job = client.get("/api/v1/jobs/elm-end").json
    check("as the same JSON would be", job["name"] == "Elm End, rear" and job["options"] == {
        "base": "slab", "pad": "new", "place": "indoor", "outside_air": True, "town": {"name": "Torrey"}} and
        job["quantities"] == {"chimney_ft": 14} and job["station"] == "town", job)
    records = client.get("/api/v1/jobs/elm-end/records").json["records"]
    check("a date alone is the end of that day", records[0]["at"] == "2026-10-20T23:59:59-06:00", records)
    records = client.get("/api/v1/jobs/stone-bank/records").json["records"]
    check("a time is the job's clock", records[0]["at"] == "2026-10-19T14:30:00-06:00", records)
    again = take(client, JOBS)
    check("again, all is known", again.status == 200 and again.json["jobs"] == 0 and
          again.json["jobs_known"] == 2 and again.json["records"] == 0 and again.json["records_known"] == 2, again)
    today = take(client, "id,base,pad,place,done.pad-pour\nlate,slab,new,indoor,2026-10-23\n")
    at = client.get("/api/v1/jobs/late/records").json["records"][0]["at"]
    check("today's date is now, not the end of a day to come", today.status == 200 and at.startswith(
        "2026-10-23T1") or at.startswith("2026-10-23T2"), at)


def test_csv_faults(check, exe, server, client):
    before = client.get("/api/v1/jobs").json
    bad = [
        ("id,base,pad,place\nx,slab,new,garage\n", "line 2 options.place"),
        ("id,base,pad,place,chimney_ft\nx,slab,new,indoor,tall\n", "line 2 chimney_ft"),
        ("id,base,pad,place,chimny_ft\nx,slab,new,indoor,14\n", "line 1 chimny_ft"),
        ("id,base,pad,place,done.pad-por\nx,slab,new,indoor,2026-10-20\n", "line 1 done.pad-por"),
        ("id,base,pad,place,done.pad-pour\nx,slab,new,indoor,20/10/2026\n", "line 2 done.pad-pour"),
        ("id,base,pad,place,outside_air\nx,slab,new,indoor,maybe\n", "line 2 outside_air"),
        ("id,base,pad,place,station\nx,slab,new,indoor,nowhere\n", "line 2 station"),
        ("base,pad,place\nslab,new,indoor\n", "line 1"),
        ("id,base,id\nx,slab,y\n", "line 1 id"),
        ("id,base\nx,slab,more\n", "line 2"),
        ('id,base\n"x,slab\n', "line 3"),
        ("id,name\nhollow-pine,Another name\n", "line 2 name"),
        ("", "line 1"),
    ]
    for text, path in bad:
        answer = take(client, text)
        check("told by line and column: %s" % path, answer.status in (400, 409) and
              any(f["path"] == path for f in answer.json["faults"]), (text, answer.json))
    both = take(client, "id,base,pad,place\nsound,slab,new,indoor\nodd,slab,new,garage\nworse,,new,indoor\n")
    check("all faults, and all or nothing", {f["path"] for f in both.json["faults"]} >=
          {"line 3 options.place", "line 4 options.base"} and client.get("/api/v1/jobs").json == before, both.json)
    check("no other kind", take(client, "id\n", what="people").status == 404)
    check("no other type", client.post("/api/v1/import/jobs", "id\n").status == 415)


def test_csv_round(check, exe, server, client):
    client.post("/api/v1/jobs/hollow-pine/records", [
        reading("formula", note="=HYPERLINK(\"http://example.org\")"), reading("apostrophe", note="'quoted"),
        reading("lines", note="one\ntwo, \"three\""),
        {"id": "fix", "kind": "corrected", "corrects": "formula", "with": None, "at": "2026-10-23T13:00:00-06:00"}])
    jobs, records = client.get("/api/v1/jobs.csv"), client.get("/api/v1/records.csv")
    check("jobs leave as CSV", jobs.headers["Content-Type"].startswith("text/csv") and
          [r["id"] for r in rows(jobs)] == ["hollow-pine", "crooked creek"], jobs)
    stored = client.get("/api/v1/jobs/hollow-pine/records").json["records"]
    out = [r for r in rows(records) if r["job"] == "hollow-pine"]
    check("every record is a row", [r["id"] for r in out] == [r["id"] for r in stored])
    check("no cell begins like a formula", not any(
        value[:1] in ("=", "+", "@") for row in rows(records) for value in row.values() if value))
    other = Server(exe)
    there = Client(other, client.description)
    try:
        there.put("/api/v1/company", COMPANY)
        there.put("/api/v1/stations/town/hours", STATION)
        first = take(there, jobs.text)
        second = take(there, records.text, what="records")
        check("both come back", first.status == second.status == 200 and second.json["records"] == len(rows(records)),
              (first.text[:300], second.text[:600]))
        for job in ("hollow-pine", "crooked%20creek"):
            check("the same job", there.get("/api/v1/jobs/" + job).json == client.get("/api/v1/jobs/" + job).json)
            ours, theirs = (c.get("/api/v1/jobs/%s/records" % job).json for c in (client, there))
            check("the same records", ours == theirs, (ours, theirs))
    finally:
        there.close()
        other.stop()


def test_csv_page(check, exe, server, client):
    check("a page to paste into", client.get("/import").status == 200)
    look = client.form("/import", {"what": "jobs", "csv": JOBS})
    check("shows what rows become and keeps what was pasted", look.status == 200 and "elm-end" in look.text and
          "Nothing is kept yet" in look.text and "Elm End, rear" in look.text, look)
    check("nothing is kept", client.get("/api/v1/jobs/elm-end").status == 404)
    wrong = client.form("/import", {"what": "jobs", "csv": "id,base,pad,place\nx,slab,new,garage\n", "keep": "1"})
    check("says what is wrong", wrong.status == 422 and "line 2 options.place" in wrong.text, wrong)
    check("takes them in", client.form("/import", {"what": "jobs", "csv": JOBS, "keep": "1"}).status == 200 and
          client.get("/api/v1/jobs/elm-end").status == 200)


def test_csv_command(check, exe, server, client):
    server.stop()

    def run(*words, text=""):
        return subprocess.run([exe, *words, "--db", server.db], input=text, capture_output=True, text=True, timeout=60)
    dry = run("import", "--csv", "jobs", "--dry-run", "-", text=JOBS)
    check("a dry run by command", dry.returncode == 0 and "line 2: would be new job elm-end" in dry.stdout and
          "nothing is kept" in dry.stdout, dry)
    check("keeps nothing", "elm-end" not in run("export", "--csv", "jobs").stdout)
    check("taken in by command", run("import", "--csv", "jobs", "-", text=JOBS).returncode == 0)
    check("and out", "elm-end" in run("export", "--csv", "jobs").stdout and
          "csv-done-pad-pour" in run("export", "--csv", "records").stdout)
    bad = run("import", "--csv", "jobs", "-", text="id,base,pad,place\nx,slab,new,garage\n")
    check("faults on stderr, by line", bad.returncode == 65 and bad.stderr.startswith("line 2 options.place: found"), bad)
    check("no other word", run("export", "--csv", "people").returncode == 64)

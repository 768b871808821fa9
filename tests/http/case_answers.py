# SPDX-License-Identifier: MIT
"""What each route answers when it is asked rightly."""
import gzip
import json
import os
import re

from client import NOW, ROOT, Client
from sample import COMPANY, JOB, reading


def test_every_route_answers(check, exe, server, client):
    for path in ("/healthz", "/api/v1/company", "/api/v1/jobs", "/api/v1/jobs/hollow-pine",
                 "/api/v1/jobs/hollow-pine/plan", "/api/v1/jobs/hollow-pine/records",
                 "/api/v1/jobs/crooked%20creek/plan", "/api/v1/today?crew=north", "/api/v1/yard",
                 "/api/v1/openapi.json", "/api/v1/links", "/api/v1/json/record.schema.json",
                 "/", "/jobs/hollow-pine", "/jobs/crooked%20creek", "/jobs/hollow-pine/tag",
                 "/jobs/hollow-pine/day-sheet", "/metrics", "/?lang=es", "/static/css/base.css"):
        answer = client.get(path)
        check("GET " + path, answer.status == 200 and answer.body, answer)
        head = client.call("HEAD", path)
        check("HEAD " + path, head.status == 200 and not head.body, head)
    jobs = client.get("/api/v1/jobs").json["jobs"]
    check("both jobs are listed", [j["id"] for j in jobs] == ["hollow-pine", "crooked creek"], jobs)
    plan = client.get("/api/v1/jobs/hollow-pine/plan").json
    check("the plan is of the clock's now", plan["now"] == NOW, plan["now"])
    yard = client.get("/api/v1/yard").json
    check("a job says the same alone as in the yard", plan["jobs"][0] == yard["jobs"][0])
    check("a clock runs", any(c["clock"] == "pad.build-on" and c["state"] in ("running", "open")
                              for c in plan["jobs"][0]["clocks"]), plan["jobs"][0]["clocks"])
    today = client.get("/api/v1/today?crew=north").json
    check("the yard has the weather's lists", all(isinstance(yard.get(name), list) for name in
                                                  ("tonight", "can_pour", "weather_half_days")), list(yard))
    tried = client.post("/api/v1/jobs/hollow-pine/try", {"records": [
        {"id": "wet", "kind": "wet-cover-on", "at": "2026-10-23T10:00:00-06:00"}]}).json["after"]
    pad = [item for item in tried["tonight"] if item["job"] == "hollow-pine"]
    check("a pad kept wet is on tonight's list, before a time, with the night's low",
          [(item["what"], item["low_degf"], bool(item["before"]), item["covered"]) for item in pad] ==
          [("pad", 46.4, True, True)], tried["tonight"])
    check("a crew has tonight's list of its jobs",
          today["tonight"] == [i for i in yard["tonight"] if i["job"] == "hollow-pine"], today["tonight"])
    check("a crew has its jobs", [j["id"] for j in today["jobs"]] == ["hollow-pine"], today)


def test_the_plan_is_the_command_lines(check, exe, server, client):
    import subprocess
    import tempfile
    case = {"emberwait": 1, "now": NOW, "company": client.get("/api/v1/company").json,
            "stations": {}, "jobs": []}
    from sample import OTHER, STATION
    case["stations"]["town"] = STATION
    case["jobs"] = [JOB, OTHER]
    with tempfile.NamedTemporaryFile("w", suffix=".json") as f:
        json.dump(case, f)
        f.flush()
        run = subprocess.run([exe, "plan", f.name], capture_output=True, text=True)
    check("emberwait plan", run.returncode == 0, run.stderr)
    check("GET yard says the same as emberwait plan",
          json.loads(run.stdout) == client.get("/api/v1/yard").json)


def test_wall_clock(check, exe, server, client):
    from client import Server
    import datetime
    other = Server(exe, now=None)
    mine = Client(other)
    try:
        from sample import fill
        fill(mine)
        before = mine.get("/api/v1/yard")
        now = datetime.datetime.now(datetime.timezone.utc)
        said = datetime.datetime.fromisoformat(before.json["now"])
        check("now is the clock on the wall", abs((now - said).total_seconds()) <= 60, before.json["now"])
        at = now.replace(microsecond=0).isoformat()
        answer = mine.post("/api/v1/jobs/hollow-pine/records", reading("just-now", at=at, degf=77))
        check("a record of this second is stored", answer.status == 201, answer)
        plan = mine.get("/api/v1/jobs/hollow-pine/plan").text
        check("and counted at once", '"at":' in plan and "just-now" in plan or
              datetime.datetime.fromisoformat(json.loads(plan)["now"]) >= now.replace(microsecond=0), plan[:200])
        mine.close()
        check("stops", other.stop() == 0)
    finally:
        other.stop()


def test_starts_quickly(check, exe, server, client):
    slow = "asan" in open(exe, "rb").read(1 << 22).decode("latin-1").lower()
    check("ready in time", server.ready_s < (2 if slow else 0.5), server.ready_s)
    print("ready after %.0f ms" % (server.ready_s * 1e3))


def test_headers_of_every_answer(check, exe, server, client):
    for path in ("/", "/api/v1/jobs", "/nowhere", "/api/v1/nowhere", "/static/css/base.css", "/healthz"):
        h = client.get(path).headers
        check("headers of " + path, h["X-Content-Type-Options"] == "nosniff" and
              h["Referrer-Policy"] == "no-referrer" and "default-src 'none'" in h["Content-Security-Policy"]
              and "unsafe" not in h["Content-Security-Policy"]
              and "frame-ancestors 'none'" in h["Content-Security-Policy"]
              and h["Cross-Origin-Resource-Policy"] == "same-origin" and h["Cache-Control"], dict(h))
    for path in ("/c/unknown", "/h/unknown"):
        h = client.get(path).headers
        check("not indexed: " + path, "noindex" in h["X-Robots-Tag"] and h["Cache-Control"] == "no-store", dict(h))
    h = client.get("/static/js/keep.js").headers
    check("the phone's helper may serve /c/", h["Service-Worker-Allowed"] == "/c/", dict(h))


def test_tags(check, exe, server, client):
    for path in ("/api/v1/jobs", "/api/v1/jobs/hollow-pine", "/api/v1/jobs/hollow-pine/plan",
                 "/api/v1/jobs/hollow-pine/records", "/api/v1/yard", "/api/v1/company", "/",
                 "/api/v1/openapi.json", "/static/css/base.css"):
        first = client.get(path)
        tag = first.headers["ETag"]
        check("tag of " + path, tag and re.match(r'^"[\w.-]+"$', tag), tag)
        again = client.get(path, If_None_Match=tag)
        check("304 of " + path, again.status == 304 and not again.body and again.headers["ETag"] == tag, again)
        listed = client.get(path, If_None_Match='"x", W/%s' % tag)
        check("304 of a list, " + path, listed.status == 304, listed)
        check("200 of another tag, " + path, client.get(path, If_None_Match='"x"').status == 200)
    before = {p: client.get(p).headers["ETag"] for p in
              ("/api/v1/jobs", "/api/v1/jobs/hollow-pine", "/api/v1/jobs/hollow-pine/plan", "/api/v1/yard", "/")}
    client.post("/api/v1/jobs/hollow-pine/records", reading("new-tag"))
    for path, tag in before.items():
        check("a record changes the tag of " + path, client.get(path, If_None_Match=tag).status == 200)


def test_compressed(check, exe, server, client):
    for path in ("/api/v1/yard", "/", "/static/css/base.css", "/api/v1/openapi.json"):
        plain, packed = client.get(path), client.get(path, Accept_Encoding="gzip")
        check("gzip of " + path, packed.headers["Content-Encoding"] == "gzip" and
              gzip.decompress(packed.body) == plain.body and len(packed.body) < len(plain.body), packed)
        check("asked with q=0: plain", client.get(path, Accept_Encoding="gzip;q=0").body == plain.body)
        check("Vary of " + path, "Accept-Encoding" in plain.headers["Vary"], plain.headers["Vary"])
    check("a small answer stays plain",
          client.get("/healthz", Accept_Encoding="gzip").headers["Content-Encoding"] is None)


def test_methods(check, exe, server, client):
    with open(os.path.join(ROOT, "schema", "openapi.json"), encoding="utf-8") as f:
        paths = json.load(f)["paths"]
    for path, item in paths.items():
        real = re.sub(r"\{(\w+)\}", "x", path)
        for method in ("GET", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "BREW"):
            if method.lower() in item:
                continue
            answer = client.call(method, real)
            allowed = {m.upper() for m in item} | ({"HEAD"} if "get" in item else set())
            check("%s %s" % (method, path), answer.status == 405 and
                  set(answer.headers["Allow"].split(", ")) == allowed, answer)


def test_jobs_change(check, exe, server, client):
    again = client.post("/api/v1/jobs", JOB)
    check("the same job again is known", again.status == 200 and again.json["created"] is False, again)
    other = client.post("/api/v1/jobs", {**JOB, "name": "Another"})
    check("another job of that id is refused", other.status == 409, other)
    made = client.post("/api/v1/jobs", {**JOB, "id": "a/b ñ", "records": []})
    check("an odd id", made.status == 201 and made.headers["Location"] == "/api/v1/jobs/a%2Fb%20%C3%B1", made)
    check("and found there", client.get(made.headers["Location"]).json["id"] == "a/b ñ")
    path = "/api/v1/jobs/hollow-pine"
    tag = client.get(path).headers["ETag"]
    patch = {"name": "Hollow Pine East", "quantities": {"courses": None}}
    check("a patch without If-Match", client.call("PATCH", path, patch).status == 428)
    check("a patch of another version", client.call("PATCH", path, patch, If_Match='"v999"').status == 412)
    check("a weak tag matches nothing", client.call("PATCH", path, patch, If_Match="W/" + tag).status == 412)
    done = client.call("PATCH", path, patch, If_Match=tag, Content_Type="application/merge-patch+json")
    check("a patch", done.status == 200 and done.json["name"] == "Hollow Pine East" and
          "courses" not in done.json["quantities"] and done.headers["ETag"] != tag, done)
    check("the old tag is stale", client.call("PATCH", path, patch, If_Match=tag).status == 412)
    check("* fits any version", client.call("PATCH", path, {"note": "x"}, If_Match="*").status == 200)
    check("the id stays", client.call("PATCH", path, {"id": "z"}, If_Match="*").status == 400)
    check("no such job", client.call("PATCH", "/api/v1/jobs/none", {}, If_Match="*").status == 404)
    company = client.get("/api/v1/company")
    check("company of another version", client.put("/api/v1/company", COMPANY, If_Match='"v77"').status == 412)
    check("company of this version",
          client.put("/api/v1/company", COMPANY, If_Match=company.headers["ETag"]).status == 200)


def test_records(check, exe, server, client):
    path = "/api/v1/jobs/hollow-pine/records"
    first = client.post(path, [reading("a1"), reading("a2")])
    check("a list is stored", first.status == 201 and first.json["stored"] == ["a1", "a2"], first)
    again = client.post(path, [reading("a1"), reading("a2")])
    check("sent again it is known", again.status == 200 and again.json["known"] == ["a1", "a2"], again)
    mixed = client.post(path, [reading("a2"), reading("a3")])
    check("one of two is new", mixed.status == 201 and mixed.json == {
        "ids": ["a2", "a3"], "stored": ["a3"], "known": ["a2"]}, mixed)
    other = client.post(path, [reading("a4"), reading("a1", degf=51)])
    check("the same id with another body", other.status == 409, other)
    ids = [r["id"] for r in client.get(path).json["records"]]
    check("and nothing of that list is stored", ids == ["pour", "warm", "a1", "a2", "a3"], ids)
    check("an id is one job's own", client.post("/api/v1/jobs/crooked%20creek/records",
                                                reading("a1")).status == 201)
    check("no such job", client.post("/api/v1/jobs/none/records", reading("b1")).status == 404)
    taken_back = client.post(path, {"id": "c1", "kind": "corrected", "at": NOW, "corrects": "a3", "with": None})
    check("a correction", taken_back.status == 201, taken_back)


def test_try(check, exe, server, client):
    path = "/api/v1/jobs/hollow-pine/try"
    before = client.get("/api/v1/yard").body
    tried = client.post(path, {"options": {"mix": "blended"}, "records": [reading("t1", degf=40)]})
    check("a try", tried.status == 200, tried)
    need = [[c["need"] for j in tried.json[k]["jobs"] if j["id"] == "hollow-pine"
             for c in j["clocks"] if c["clock"] == "pad.build-on"] for k in ("before", "after")]
    check("blended needs half as much again", need[0] and need[1][0] == need[0][0] * 1.5, need)
    check("nothing is stored", client.get("/api/v1/yard").body == before)
    check("a wrong try", client.post(path, {"options": {"mix": "sand"}}).status == 400)
    check("a try of no job", client.post("/api/v1/jobs/none/try", {}).status == 404)


def test_metrics(check, exe, server, client):
    client.get("/api/v1/yard")
    text = client.get("/metrics").text
    line = re.compile(r'^(# (HELP|TYPE) emberwait_\w+ .+|emberwait_\w+(\{(\w+="[^"]*",?)+\})? [0-9.e+-]+)$')
    bad = [l for l in text.splitlines() if not line.match(l)]
    check("every line is of the format", not bad, bad)
    check("by route", 'route="/api/v1/yard",status="2xx"' in text)
    buckets = [int(n) for n in re.findall(r'_bucket\{le="[^"]+"\} (\d+)', text)]
    check("buckets grow to the count", buckets == sorted(buckets) and
          "seconds_count %d\n" % buckets[-1] in text, buckets)
    check("commits are counted", float(re.search(r"^emberwait_commits_total (\S+)$", text, re.M)[1]) >= 4)


def test_languages(check, exe, server, client):
    check("English at first", 'lang="en"' in client.get("/").text)
    check("by header", 'html lang="es"' in client.get("/", Accept_Language="es-MX,en;q=0.5").text)
    asked = client.get("/?lang=es")
    check("by query, remembered", 'html lang="es"' in asked.text and
          asked.headers["Set-Cookie"].startswith("lang=es;") and "HttpOnly" in asked.headers["Set-Cookie"])
    check("by cookie", 'html lang="es"' in client.get("/", Cookie="a=b; lang=es").text)
    check("an unknown one is English", 'html lang="en"' in client.get("/?lang=xx").text)

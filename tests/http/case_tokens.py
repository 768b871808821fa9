# SPDX-License-Identifier: MIT
"""What a link opens and what it does not; the forms of the pages."""
import re

from client import NOW


def link(client, kind, target):
    return client.put("/api/v1/links/%s/%s" % (kind, target)).json


def form(id, **more):
    return {"form": "reading", "id": "form-" + id, "kind": "reading", "part": "pad", "how": "probe",
            "degrees": "52", "scale": "f", "at": NOW, **more}


def ids(client, job="hollow-pine"):
    return [r["id"] for r in client.get("/api/v1/jobs/%s/records" % job).json["records"]]


def test_links(check, exe, server, client):
    crew, home = link(client, "crew", "north"), link(client, "homeowner", "hollow-pine")
    check("a crew's link", re.match(r"^/c/[\w-]{20,}$", crew["path"]), crew)
    check("the same until it is revoked", link(client, "crew", "north")["token"] == crew["token"])
    check("another crew has another", link(client, "crew", "south")["token"] != crew["token"])
    check("no link to nobody", client.put("/api/v1/links/crew/west").status == 404)
    check("no link of another kind", client.put("/api/v1/links/boss/north").status == 404)
    check("listed", len(client.get("/api/v1/links").json["links"]) == 3)
    for path in (crew["path"], crew["path"] + "/sheet", home["path"], crew["path"] + "?lang=es"):
        answer = client.get(path)
        check("opens " + path[:3], answer.status == 200 and "noindex" in answer.headers["X-Robots-Tag"] and
              answer.headers["Cache-Control"] == "no-store" and answer.headers["Referrer-Policy"] == "no-referrer",
              answer)
    page = client.get(home["path"]).text
    check("the homeowner sees no other name", "Crooked" not in page and "north" not in page)
    check("the crew sees only its jobs", "Crooked" not in client.get(crew["path"]).text)
    wrong = [crew["path"].replace("/c/", "/h/"), home["path"].replace("/h/", "/c/"), "/c/x", "/h/x",
             crew["path"][:-1], crew["path"] + "A", "/h/" + "A" * 27, home["path"] + "/sheet"]
    texts = set()
    for path in wrong:
        answer = client.get(path)
        check("404: " + path[:3], answer.status == 404 and answer.headers["Content-Type"].startswith("text/html"),
              answer)
        texts.add(re.sub(r'href="[^"]*lang=es"', "", answer.text))
    check("told in one way, with whom to call", len(texts) == 1 and "555-0100" in texts.pop())
    gone = client.call("DELETE", "/api/v1/links/crew/north")
    check("revoked", gone.status == 204 and not gone.body, gone)
    check("opens nothing any more", client.get(crew["path"]).status == 404)
    check("not even a form", client.form(crew["path"] + "/records", form("x", job="hollow-pine")).status == 404)
    check("revoked twice", client.call("DELETE", "/api/v1/links/crew/north").status == 404)
    check("the next is another", link(client, "crew", "north")["token"] != crew["token"])
    log = server.log()
    check("no token in the log", crew["token"] not in log and home["token"] not in log)
    lines = [l for l in log.splitlines() if l.startswith("info request ")]
    check("a line a request", len(lines) > 20 and all(
        re.match(r'info request method=\S+ route=("[^"]*"|\S+) status=\d+ bytes=\d+ us=\d+ who=("[^"]*"|\S+)$', l) for l in lines),
        lines[:3])


def test_blanks_around_a_kind(check, exe, server, client):
    """What the reader of forms does not see, who asks whether a crew may does not see either."""
    crew = link(client, "crew", "north")["path"] + "/records"
    had = ids(client)
    for i, kind in enumerate(("agreed", " agreed", "agreed ", "\tagreed\r\n", " held-date", "agreed\v", " overridden")):
        answer = client.form(crew, form("blank%d" % i, kind=kind, job="hollow-pine", date="2027-01-24", task="pad-pour"))
        check("a crew gives no dates: %r" % kind, answer.status == 403, answer)
    check("nothing was kept", ids(client) == had, ids(client))
    check("a reading with a blank is one", client.form(crew, form("blank-r", kind=" reading ", job="hollow-pine")).status
          == 303)


def test_crew_forms(check, exe, server, client):
    path = link(client, "crew", "north")["path"]
    sent = client.form(path + "/records", form("one", job="hollow-pine", by="Ana"))
    check("taken", sent.status == 303 and sent.headers["Location"] == path + "?sent=1", sent)
    stored = client.get("/api/v1/jobs/hollow-pine/records").json["records"][-1]
    check("stored with who", stored["id"] == "form-one" and stored["who"] == "north" and stored["degf"] == 52, stored)
    check("the notice", client.get(path + "?sent=1").text.count('class="notice"') == 1)
    again = client.form(path + "/records", form("one", job="hollow-pine", by="Ana"))
    check("a double tap is the same", again.status == 303 and ids(client).count("form-one") == 1, again)
    other = client.form(path + "/records", form("two", job="crooked creek"))
    check("not another crew's job", other.status == 403 and ids(client, "crooked%20creek") == [], other)
    check("not no job", client.form(path + "/records", form("three")).status == 403)
    for kind in ("agreed", "overridden", "accepted", "engineer", "held-date"):
        answer = client.form(path + "/records", form("four", job="hollow-pine", kind=kind, date="2027-01-01"))
        check("not %s" % kind, answer.status == 403, answer)
    wrong = client.form(path + "/records", form("five", job="hollow-pine", degrees="abc"))
    check("a wrong form comes back", wrong.status == 422 and 'value="abc"' in wrong.text, wrong)
    check("nothing else was stored", ids(client) == ["pour", "warm", "form-one"], ids(client))


def test_crew_sends_what_it_kept(check, exe, server, client):
    """A phone's door: JSON, one record or a list, for its own jobs, and corrections of its own only."""
    path = link(client, "crew", "north")["path"]
    door = path + "/records?job=hollow-pine"
    reading = {"id": "kept-one", "kind": "reading", "at": NOW, "part": "pad", "degf": 51, "by": "Ana"}
    first = client.post(door, [reading])
    check("stored", first.status == 201 and first.json["stored"] == ["kept-one"], first)
    again = client.post(door, [reading])
    check("sent again it is known", again.status == 200 and again.json["known"] == ["kept-one"] and
          ids(client).count("kept-one") == 1, again)
    check("one that is no list", client.post(door, dict(reading, id="kept-two")).status == 201)
    clash = client.post(door, dict(reading, degf=60))
    check("another under the same id", clash.status == 409, clash)
    wrong = client.post(door, [dict(reading, id="kept-bad", degf=999)])
    check("which field was wrong", wrong.status in (400, 422) and
          wrong.headers["Content-Type"].startswith("application/problem+json") and
          wrong.json["faults"][0]["path"].endswith("degf"), wrong)
    for address in (path + "/records", path + "/records?job=crooked%20creek", path + "/records?job=none"):
        answer = client.post(address, [dict(reading, id="kept-far")])
        check("not another's job", answer.status == 403, answer)
    back = {"id": "kept-back", "kind": "corrected", "at": NOW, "corrects": "kept-one", "with": None}
    check("takes back its own", client.post(door, back).status == 201)
    for answer in (client.post(door, dict(back, id="kept-no", corrects="pour")),
                   client.post(door, dict(back, id="kept-no", corrects="kept-two",
                                          **{"with": {"kind": "agreed", "date": "2027-01-01"}})),
                   client.post(door, [{"id": "kept-no", "kind": "agreed", "at": NOW, "date": "2027-01-01"}])):
        check("nothing of the owner's, also not by a correction", answer.status == 403, answer)
    check("nothing else was stored", "kept-no" not in ids(client) and "kept-far" not in ids(client))
    check("no other kind of body", client.call("POST", door, "x", Content_Type="text/plain").status == 415)


def test_links_from_the_job_page(check, exe, server, client):
    path = "/jobs/hollow-pine"
    page = client.get(path).text
    check("nothing to hand out yet", "/h/" not in page and 'action="/jobs/hollow-pine/links"' in page)
    for kind, folder in (("homeowner", "/h/"), ("crew", "/c/")):
        made = client.form(path + "/links", {"kind": kind})
        check("made", made.status == 303 and made.headers["Location"].startswith(path), made)
        found = re.findall(r'href="(%s[A-Za-z0-9_-]+)"' % folder, client.get(path).text)
        check("the page shows it", len(found) == 1, found)
        check("it opens", client.get(found[0]).status == 200)
        off = client.form(path + "/links", {"kind": kind, "off": "1"})
        check("switched off", off.status == 303 and client.get(found[0]).status == 404, off)
        check("and gone from the page", folder not in client.get(path).text)
        client.form(path + "/links", {"kind": kind})
        again = re.findall(r'href="(%s[A-Za-z0-9_-]+)"' % folder, client.get(path).text)
        check("a new one is another", len(again) == 1 and again != found, again)
        client.form(path + "/links", {"kind": kind, "off": "1"})
    check("no other kind", client.form(path + "/links", {"kind": "feed"}).status == 400)
    check("no such job", client.form("/jobs/none/links", {"kind": "crew"}).status == 404)


def test_owner_forms(check, exe, server, client):
    path = "/jobs/hollow-pine/records"
    sent = client.form(path, form("one"))
    check("taken", sent.status == 303 and sent.headers["Location"] == "/jobs/hollow-pine?sent=1", sent)
    check("stored", ids(client)[-1] == "form-one")
    page = client.get("/jobs/hollow-pine")
    given = re.findall(r'name="id" value="([0-9a-f-]{36})"', page.text)
    check("each form has an id of its own", len(given) > 3 and len(set(given)) == len(given), given)
    hot = client.form(path, form("two", degrees="400"))
    check("the API's own fault stands at its field", hot.status == 422 and 'value="400"' in hot.text and
          'aria-invalid="true"' in hot.text, hot)
    odd = client.form(path, form("three", degrees="\"><b>&'"))
    check("what was typed is escaped", odd.status == 422 and '"><b>&' not in odd.text and
          'value="&quot;&gt;&lt;b&gt;&amp;' in odd.text, odd)
    check("language link leads to the page", '/jobs/hollow-pine?lang=es"' in hot.text)
    clash = client.form(path, form("one", degrees="60"))
    check("the id with another body", clash.status == 422, clash)
    check("no such job", client.form("/jobs/none/records", form("x")).status == 404)
    check("a broken form", client.call("POST", path, b"a=%ff", Content_Type="application/x-www-form-urlencoded").status == 400)
    agree = {"form": "agree", "id": "form-agree", "kind": "agreed", "date": "2027-01-05"}
    early = client.form("/jobs/hollow-pine/agree", agree)
    check("no date is agreed that the plan does not support", early.status == 422 and "form-agree" not in ids(client), early)
    early = client.form(path, agree)
    check("by neither door", early.status == 422 and "form-agree" not in ids(client), early)
    done = [{"id": "d-" + t, "kind": "done", "task": t, "at": "2026-10-22T12:00:00-06:00"}
            for t in ("chimney-run", "cap-set", "line-clean")]
    check("lined", client.post("/api/v1/jobs/hollow-pine/records", done + [
        {"id": "d-warm", "kind": "reading", "part": "unit", "how": "probe", "degf": 60,
         "at": "2026-10-22T12:00:00-06:00"}]).status == 201)
    room = [{"id": "d-room", "kind": "closed-in", "part": "unit", "how": "room", "at": "2026-10-22T11:00:00-06:00"}]
    client.post("/api/v1/jobs/hollow-pine/records", room)
    fire = client.get("/api/v1/jobs/hollow-pine/plan").json["jobs"][0]["fire"]
    check("now there is a date", fire["cure_complete"] and not fire["blocked_by"], fire)
    early = client.form("/jobs/hollow-pine/agree", {**agree, "date": "2026-11-01"})
    check("28 days are 28 days", early.status == 422 and fire["cure_complete"] in early.text, early)
    good = client.form("/jobs/hollow-pine/agree", agree)
    check("agreed", good.status == 303 and "form-agree" in ids(client), good)
    page = client.get(link(client, "homeowner", "hollow-pine")["path"]).text
    check("the homeowner has it", "5 January 2027" in page, re.findall(r'the-date">(.*?)</p>', page))

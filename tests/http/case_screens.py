# SPDX-License-Identifier: MIT
"""The owner's screens: each opens, marks where it is, and shows what the plan has."""
import re

from client import NOW

SCREENS = ("/", "/yard", "/pads", "/tonight", "/call-in", "/jobs", "/weeks", "/first-fires", "/dates", "/rules")


def words(page):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page.text))


def test_screens(check, exe, server, client):
    for path in SCREENS:
        page = client.get(path)
        check(path + " opens", page.status == 200, page)
        marked = re.findall(r'<a href="([^"]+)" aria-current="page">', page.text)
        check(path + " says where it is", marked == ([path] if path != "/yard" else []), marked)
        spanish = client.get(path + "?lang=es", Cookie="lang=es")
        check(path + " in Spanish", 'lang="es"' in spanish.text and spanish.text != page.text)
        links = set(re.findall(r'<nav class="screens".*?</nav>', page.text, re.S)[0].split('href="')[1:])
        check(path + " leads to every screen", all(client.get(link.split('"')[0]).status == 200 for link in links), links)
    today = words(client.get("/"))
    plan = client.get("/api/v1/yard").json
    names = {job["id"]: job["name"] for job in (row["job"] for row in client.get("/api/v1/jobs").json["jobs"])}
    for row in plan["crews"]:
        for work in row["days"][0]["work"][:1] if row["days"] else []:
            check("the morning names where a crew goes", names[work["job"]] in today, (work, today[:900]))
    check("the pad with its figures", "Hollow Pine" in words(client.get("/pads")))


def test_screens_dates(check, exe, server, client):
    check("no date given yet", "No date has been given yet" in words(client.get("/dates")))
    client.post("/api/v1/jobs/hollow-pine/records", [
        {"id": "given", "kind": "agreed", "date": "2026-12-24", "at": NOW, "by": "R. Osei", "reason": "as computed"}])
    page = words(client.get("/dates"))
    check("a date the plan does not support stands as withdrawn", "withdrawn" in page and "24 December" in page, page)
    check("and somebody is owed a call", "Hollow Pine" in words(client.get("/")).split("Call these people")[1], page)


def test_screens_new_job(check, exe, server, client):
    page = client.get("/jobs/new")
    check("a form of a new job", page.status == 200 and 'name="place"' in page.text and "north" in page.text, page)
    fields = {"name": "Elm End, rear", "id": "", "place": "indoor", "base": "crawl", "pad": "new", "permit": "no",
              "outside_air": "yes", "propped": "no", "mix": "plain", "chimney_ft": "14.5", "crew": "north",
              "station": "town", "town.name": "Torrey", "town.request_cutoff": "14:00", "homeowner": "=E. Tollefse"}
    made = client.form("/jobs/new", fields)
    check("makes it and goes there", made.status == 303 and made.headers["Location"] == "/jobs/elm-end-rear", made)
    job = client.get("/api/v1/jobs/elm-end-rear").json
    check("as it was typed", job["name"] == "Elm End, rear" and job["homeowner"] == "=E. Tollefse" and
          job["options"]["permit"] is False and job["options"]["outside_air"] is True and
          job["options"]["town"] == {"name": "Torrey", "request_cutoff": "14:00"} and
          job["quantities"] == {"chimney_ft": 14.5}, job)
    again = client.form("/jobs/new", fields)
    check("a name that is taken is told beside its field", again.status == 422 and "no job has yet" in again.text)
    wrong = client.form("/jobs/new", dict(fields, name="Other", chimney_ft="tall", place="garage",
                                          homeowner_mail="nobody"))
    check("faults stand beside their fields and what was typed stays", wrong.status == 422 and
          wrong.text.count('class="wrong"') >= 1 and 'value="tall"' in wrong.text, wrong.text[-3000:])
    check("nothing was made", client.get("/api/v1/jobs/other").status == 404)
    check("no other column", client.form("/jobs/new", dict(fields, name="Third", secret="x")).status == 422)
    check("a name of signs only", client.form("/jobs/new", dict(fields, name="!!!")).status == 422)

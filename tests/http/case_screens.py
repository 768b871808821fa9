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


def test_screens_rules(check, exe, server, client):
    import json
    import subprocess
    page = client.get("/rules")
    check("every number with its mark", page.status == 200 and "frost.below" in page.text and "[HR]" in page.text)

    def need():
        clocks = client.get("/api/v1/jobs/hollow-pine/plan").json["jobs"][0]["clocks"]
        return next(c["need"] for c in clocks if c["clock"] == "pad.build-on")
    change = {"id": "pad.build-on.need", "value": "36", "reason": "our sand is cold", "by": "R. Osei"}
    check("24 as shipped", need() == 24)
    check("changed", client.form("/rules", change).status == 303 and need() == 36)
    check("stands as a change", "our sand is cold" in client.get("/rules").text)
    for wrong, field in ((dict(change, value="23"), "value"), (dict(change, value="tall"), "value"),
                         (dict(change, id="pad.nothing"), "id"), (dict(change, reason=""), "reason"),
                         (dict(change, by=""), "by"), (dict(change, id="frost.below", value="31"), "value")):
        answer = client.form("/rules", wrong)
        check("refused at its field: %s" % field, answer.status == 422 and 'class="wrong"' in answer.text,
              (wrong, answer.status, answer.text[-1500:]))
    check("a comma is a point", client.form("/rules", dict(change, id="frost.below", value="33,5")).status == 303)
    check("back to the shipped number, and no further", client.form("/rules", dict(change, value="24")).status == 303 and
          need() == 24)
    company = client.get("/api/v1/company").json
    check("three changes are on record", [r["value"] for r in company["rules"]] == [36, 33.5, 24], company["rules"])
    lost = client.put("/api/v1/company", dict(company, rules=company["rules"][1:]))
    check("none is taken back", lost.status == 400 and lost.json["faults"][0]["path"] == "rules[0]", lost)
    client.form("/rules", dict(change, value="30"))
    plan = client.get("/api/v1/jobs/hollow-pine/plan").json["jobs"][0]["clocks"]
    server.stop()
    case = subprocess.run([exe, "export", "--db", server.db], capture_output=True, text=True, timeout=60).stdout
    whole = json.loads(case)
    whole["now"] = NOW
    told = subprocess.run([exe, "plan", "-"], input=json.dumps(whole), capture_output=True, text=True, timeout=60)
    job = next(j for j in json.loads(told.stdout)["jobs"] if j["id"] == "hollow-pine")
    check("a case file is planned by the same numbers", [(c["clock"], c["need"], c["opens"]) for c in job["clocks"]] ==
          [(c["clock"], c["need"], c["opens"]) for c in plan], told.stderr[:300])
    whole["company"]["rules"].append(dict(whole["company"]["rules"][0], value=1))
    told = subprocess.run([exe, "plan", "-"], input=json.dumps(whole), capture_output=True, text=True, timeout=60)
    check("and refused with one that opens earlier", told.returncode == 65 and "rules[4].value" in told.stderr, told.stderr)


def test_screens_try(check, exe, server, client):
    cold = {"form": "reading", "id": "00000000-0000-4000-8000-00000000000a", "kind": "reading", "part": "pad",
            "how": "impression", "degrees": "31", "scale": "f", "at": "2026-10-21T05:00:00-06:00"}
    records = client.get("/api/v1/jobs/hollow-pine/records").text
    page = client.form("/jobs/hollow-pine/try", cold)
    check("says what would move", page.status == 200 and "Nothing is kept" in page.text and "Check it" in words(page), words(page))
    check("and keeps nothing", client.get("/api/v1/jobs/hollow-pine/records").text == records)
    check("beside every form that keeps", client.get("/jobs/hollow-pine").text.count('formaction="/jobs/hollow-pine/try"') >= 8)
    wrong = client.form("/jobs/hollow-pine/try", dict(cold, degrees="warm"))
    check("a fault is told", wrong.status == 422, wrong)
    check("no such job", client.form("/jobs/nowhere/try", cold).status == 404)

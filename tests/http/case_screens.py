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

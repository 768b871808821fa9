# SPDX-License-Identifier: MIT
"""What moved, what a try moves, and by when: dates over HTTP."""
from client import NOW

PATH = "/api/v1/jobs/hollow-pine/try"


def task_of(plan, name, job="hollow-pine"):
    return [t for j in plan["jobs"] if j["id"] == job for t in j["tasks"] if t["task"] == name][0]


def test_changes(check, exe, server, client):
    answer = client.get("/api/v1/changes")
    check("changes", answer.status == 200, answer)
    check("since yesterday 17:00 of the company's clock",
          answer.json["since"] == "2026-10-22T17:00:00-06:00" and answer.json["now"] == NOW, answer.json)
    check("nothing was known yesterday, so nothing moved", answer.json["changes"] == [], answer.json)
    answer = client.get("/api/v1/changes?since=2026-10-23T17:30:00-06:00")
    check("since an instant", answer.status == 200 and
          answer.json["since"] == "2026-10-23T17:30:00-06:00", answer)
    for wrong in ("yesterday", "2026-10-24T17:30:00-06:00"):
        check("since " + wrong, client.get("/api/v1/changes?since=" + wrong).status == 400)
    today = client.get("/api/v1/today?crew=north")
    check("today has them too", today.json["changes"] == [], today)


def test_a_try_moves_dates(check, exe, server, client):
    cold = client.post(PATH, {"weather": {"shift_degf": -20}})
    check("colder weather", cold.status == 200, cold)
    tried = client.post(PATH, {"company": {"work_days": ["mon", "wed"]}})
    check("other working days", tried.status == 200, tried)
    slips = [s for s in tried.json["slips"] if s["job"] == "hollow-pine"]
    check("a slip is told", slips and slips[0]["tasks"] and slips[0]["says"], tried.json["slips"])
    check("and with which task it begins", slips[0]["here"] in [t["task"] for t in slips[0]["tasks"]])
    wanted = client.post(PATH, {"job": {"wanted_fire": "2026-12-24", "kit_lead_days": 4}})
    check("a wanted fire", wanted.status == 200, wanted)
    after = [j for j in wanted.json["after"]["jobs"] if j["id"] == "hollow-pine"][0]
    check("is worked back from", after["work_back"]["fire"] == "2026-12-24" and
          after["work_back"]["from"] == "wanted", after["work_back"])
    before = [j for j in wanted.json["before"]["jobs"] if j["id"] == "hollow-pine"][0]
    check("only there", before["work_back"] is None)
    check("nothing is stored", client.get("/api/v1/jobs/hollow-pine/plan").json["jobs"][0]["work_back"] is None)
    setting = client.post(PATH, {"settings": {"start.left-drive": 8}})
    check("a setting", setting.status == 200, setting)
    more = client.post(PATH, {"records": [{"id": "t2", "kind": "soaked", "part": "pad",
                                           "at": "2026-10-21T01:00:00-06:00"}]})
    check("a soaking takes the date of what stands on the pad", more.status == 200 and
          task_of(more.json["after"], "pad-check")["start"] is None, more)


def test_a_try_may_not_be_what_nothing_else_may(check, exe, server, client):
    for name, body in (("a setting that opens earlier", {"settings": {"start.left-drive": 1}}),
                       ("a setting nobody knows", {"settings": {"start.left": 1}}),
                       ("a setting that is no number", {"settings": {"start.left-drive": "4"}}),
                       ("records by way of the job", {"job": {"records": []}}),
                       ("another id", {"job": {"id": "x"}}),
                       ("a member nobody knows", {"job": {"colour": "red"}}),
                       ("a company without days", {"company": {"work_days": []}}),
                       ("weather of no shape", {"weather": {"rain": 3}}),
                       ("a wild shift", {"weather": {"shift_degf": 500}}),
                       ("something else", {"people": {}}),
                       ("not an object", {"company": []})):
        answer = client.post(PATH, body)
        check(name, answer.status == 400, answer)


def test_lists(check, exe, server, client):
    lists = client.get("/api/v1/yard").json["lists"]
    check("five lists", sorted(lists) == ["call_in", "dates_given", "first_fires", "idle", "owed_calls"], lists)
    check("both first fires", {f["job"] for f in lists["first_fires"]} == {"hollow-pine", "crooked creek"})
    agreed = client.post("/api/v1/jobs/hollow-pine/records",
                         {"id": "ag", "kind": "agreed", "date": "2026-12-01", "at": "2026-10-23T10:00:00-06:00"})
    check("a date is given", agreed.status == 201, agreed)
    lists = client.get("/api/v1/yard").json["lists"]
    check("it is listed", [d["agreed"] for d in lists["dates_given"]] == ["2026-12-01"], lists["dates_given"])
    check("nothing supports it: a call is owed", [(c["who"], c["told"]) for c in lists["owed_calls"]] ==
          [("homeowner", "2026-12-01")], lists["owed_calls"])
    told = client.post("/api/v1/jobs/hollow-pine/records",
                       {"id": "tl", "kind": "note", "note": "Told him on the phone.", "told": True,
                        "at": "2026-10-23T11:00:00-06:00"})
    check("he is told", told.status == 201, told)
    check("no call is owed any more", client.get("/api/v1/yard").json["lists"]["owed_calls"] == [])

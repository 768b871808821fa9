# SPDX-License-Identifier: MIT
"""Signing in: who gets where, how a session begins and ends, and what is tried against it."""
import os
import re
import statistics
import subprocess
import threading
import time

from client import NOW, Client, Server
from picture import png
from sample import COMPANY, STATION, fill, reading

OWNER, OFFICE = ("Ada Bells", "four words make one"), ("Ben", "another four words")
RECORDS = "/api/v1/jobs/hollow-pine/records"


def with_people(check, client):
    """The first owner is added by who sits at the machine; then an owner's browser adds the rest."""
    first = client.people("add", name=OWNER[0], role="owner", password=OWNER[1])
    check("the first owner is added without signing in", first.status == 303, first)
    check("and from then on nobody else is", client.get("/people").status == 303)
    owner, office = Client(client.server, client.description), Client(client.server, client.description)
    answer = owner.sign_in(*OWNER)
    check("the owner signs in", answer.status == 303 and answer.headers["Location"] == "/", answer)
    check("the office is added", owner.people("add", name=OFFICE[0], role="office", password=OFFICE[1]).status == 303)
    check("and signs in", office.sign_in(*OFFICE).status == 303)
    return owner, office


SAMPLES = {"id": "hollow-pine", "photo": "0f0e0d0c-0000-4000-8000-000000000001", "number": "1", "kind": "crew",
           "target": "north"}
KINDS = ("application/json", "application/merge-patch+json", "application/x-www-form-urlencoded", "image/png", "text/csv")


def ways_in(client, roles=("owner", "office", "station")):
    """Every route that asks who is there, from the description: method, path, media type, page or not."""
    ways = []
    for pattern, item in client.description.document["paths"].items():
        for method, operation in item.items():
            if operation["x-who"] not in roles:
                continue
            path = re.sub(r"\{(\w+)\}", lambda m: SAMPLES.get(m.group(1), "x"), pattern)
            path = path.replace("/stations/hollow-pine/", "/stations/town/")
            content = operation.get("requestBody", {}).get("content", {})
            kind = next((k for k in KINDS if k in content), None)
            page = method == "get" and "text/html" in operation["responses"]["200"].get("content", {})
            ways.append((method.upper(), path, kind, page))
    return ways


def go(client, way, **headers):
    method, path, kind, _ = way
    if kind:
        headers["Content_Type"] = kind
    return client.call(method, path, b"{}" if kind else None, **headers)


def test_everything_asks_who_is_there(check, exe, server, client):
    owner, _ = with_people(check, client)
    ways = ways_in(client)
    check("there are many ways in", len(ways) > 30, ways)
    nobody = Client(server, client.description)
    for way in ways:
        method, path, _, page = way
        for cookie in (None, "emberwait=", "emberwait=" + "A" * 43, "emberwait=x; emberwait=y",
                       "xemberwait=" + owner.cookies["emberwait"]):
            answer = go(nobody, way, **({"Cookie": cookie} if cookie else {}))
            check("%s %s by nobody (%s)" % (method, path, cookie), answer.status == (303 if page else 401), answer)
            if page:
                check("to the door", answer.headers["Location"].startswith("/sign-in?to=/"), answer)
    for path in ("/healthz", "/sign-in", "/static/css/base.css", "/api/v1/openapi.json", "/api/v1/json/record.schema.json"):
        check("open: " + path, nobody.get(path).status == 200)
    for bad in ("Bearer", "Bearer ", "Bearer x", "Bearer " + "A" * 43, "Basic QTpC", owner.cookies["emberwait"],
                "Bearer " + owner.cookies["emberwait"]):
        check("Authorization " + bad[:12], nobody.get("/api/v1/jobs", Authorization=bad).status == 401)
    check("what nobody wrote is nowhere", owner.get(RECORDS).text.count('"id"') == 2)


def test_session(check, exe, server, client):
    owner, _ = with_people(check, client)
    door = Client(server, client.description)
    answer = door.sign_in(*OWNER, to="/jobs/hollow-pine?lang=es")
    cookie = answer.headers["Set-Cookie"]
    check("a cookie that scripts and other sites do not get", "HttpOnly" in cookie and "SameSite=Strict" in cookie
          and "Path=/" in cookie and "Domain" not in cookie, cookie)
    check("43 characters of chance", re.match(r"emberwait=[\w-]{43};", cookie), cookie)
    check("on to where it was asked for", answer.headers["Location"] == "/jobs/hollow-pine?lang=es", answer)
    check("nothing is kept by caches", answer.headers["Cache-Control"] == "no-store")
    page = door.get("/jobs/hollow-pine")
    check("a page says who, with a way out", page.status == 200 and OWNER[0] in page.text
          and 'action="/sign-out"' in page.text, page)
    for to in ("//evil.example", "https://evil.example", "/\\evil.example", "javascript:1", "/%0d%0aX: y", "/a\r\nX: y",
               "/sign-in?to=/", "", "/sign-out"):
        answer = door.form("/sign-in", {"name": OWNER[0], "password": OWNER[1], "to": to}, Sec_Fetch_Site="same-origin")
        check("not on to %r" % to, answer.status == 303 and answer.headers["Location"] in ("/", "/%0d%0aX:") and
              answer.headers["X"] is None, answer)
    stolen = dict(door.cookies)
    out = door.form("/sign-out", {}, Sec_Fetch_Site="same-origin")
    check("signs out", out.status == 303 and "Max-Age=0" in out.headers["Set-Cookie"], out)
    check("without the cookie now", door.get("/").status == 303)
    door.cookies = stolen
    check("the old cookie is dead", door.get("/").status == 303 and door.get("/api/v1/jobs").status == 401)
    first, second = Client(server), Client(server)
    first.sign_in(*OWNER)
    second.sign_in(*OWNER)
    check("another browser is another session", first.cookies["emberwait"] != second.cookies["emberwait"])
    first.form("/sign-out", {"everywhere": "1"}, Sec_Fetch_Site="same-origin")
    check("signed out everywhere", second.get("/").status == 303 and owner.get("/").status == 303)


def test_fixation(check, exe, server, client):
    owner, _ = with_people(check, client)
    victim = Client(server)
    victim.cookies["emberwait"] = "F" * 43
    check("a made-up session opens nothing", victim.get("/").status == 303)
    victim.sign_in(*OWNER)
    check("signing in makes another", victim.cookies["emberwait"] != "F" * 43)
    attacker = Client(server)
    attacker.cookies["emberwait"] = "F" * 43
    check("the made-up one still opens nothing", attacker.get("/").status == 303)
    office = Client(server)
    office.sign_in(*OFFICE)
    planted = office.cookies["emberwait"]
    victim = Client(server)
    victim.cookies["emberwait"] = planted
    victim.sign_in(*OWNER)
    check("a planted session is ended by signing in", office.get("/").status == 303)
    again = Client(server)
    again.cookies["emberwait"] = victim.cookies["emberwait"]
    check("the cookie is the only way", again.get("/people").status == 200)


def test_roles(check, exe, server, client):
    owner, office = with_people(check, client)
    made = owner.people("add", name="hours", role="station")
    token = re.search(r"<code>([\w-]{43})</code>", made.text)
    check("a script's token is shown", made.status == 200 and token, made)
    script = Client(server, client.description)
    script.bearer = token.group(1)
    check("a script puts hours", script.put("/api/v1/stations/town/hours", STATION).status == 200)
    for way in ways_in(client, ("owner", "office")):
        answer = go(script, way)
        check("a script gets nothing else: %s %s" % way[:2], answer.status == 403, answer)
    owners = ways_in(client, ("owner",))
    check("some things are the owner's", len(owners) > 5, owners)
    for way in owners:
        answer = go(office, way, Sec_Fetch_Site="same-origin")
        check("not the office: %s %s" % way[:2], answer.status == 403, answer)
    check("the office writes readings", office.post(RECORDS, reading("by-ben")).status == 201)
    taken = owner.post(RECORDS.replace("/records", "/take-over"), {
        "id": "6a2f7d0e-93a1-4d8e-8a59-0c6f1f2b7f01", "by": "Someone", "reason": "seen on site",
        "tasks": [{"task": "site-walk", "date": "2026-09-01"}], "clocks": []})
    whole = {one["id"]: one for one in owner.get(RECORDS).json["records"]}
    check("what is taken over says who sent it", taken.status in (200, 201) and all(
        (whole[id].get("who") or "").startswith("Ada") for id in taken.json["stored"]), (taken, whole))
    change = {"id": "pad.build-on.need", "value": "30", "reason": "cold sand", "by": "Somebody"}
    answer = owner.form("/rules", change, Sec_Fetch_Site="same-origin")
    check("a rule says who is signed in, whoever signs", answer.status == 303 and
          "Somebody (" in owner.get("/rules").text, answer)
    for body in ({"id": "a", "kind": "agreed", "at": NOW, "date": "2026-12-24", "by": "Ben"},
                 [reading("b"), {"id": "c", "kind": "overridden", "at": NOW, "rule": "pad.build-on", "floor_h": 99,
                                 "reason": "x", "by": "Ben"}],
                 {"id": "d", "kind": "corrected", "at": NOW, "corrects": "warm",
                  "with": {"kind": "agreed", "at": NOW, "date": "2026-12-24"}}):
        answer = office.post(RECORDS, body)
        check("the office gives no dates: %s" % str(body)[:60], answer.status == 403, answer)
    for i, kind in enumerate(("agreed", " agreed", "agreed ", "\tagreed\r\n", "agreed\v")):
        answer = office.form("/jobs/hollow-pine/records", {"form": "agree", "id": "blank-by-ben-%d" % i, "kind": kind,
                                                           "date": "2027-01-24", "at": NOW, "by": "Ben"},
                             Sec_Fetch_Site="same-origin")
        check("nor with blanks around the kind: %r" % kind, answer.status == 403, answer)
    check("the owner asks for more", owner.post(RECORDS, {
        "id": "more", "kind": "overridden", "at": NOW, "rule": "pad.build-on", "floor_h": 99, "reason": "x",
        "by": "Ada"}).status == 201)
    for id, change in (("back", None), ("into-a-note", {"kind": "note", "at": NOW, "note": "x"})):
        body = {"id": id, "kind": "corrected", "at": NOW, "corrects": "more", "with": change}
        for sent in (body, [reading("before-" + id), body]):
            answer = office.post(RECORDS, sent)
            check("the office takes nothing of it back: %s" % str(sent)[:40], answer.status == 403, answer)
    check("the owner makes it a note", owner.post(RECORDS, {
        "id": "owners", "kind": "corrected", "at": NOW, "corrects": "more", "with": None}).status == 201)
    answer = office.post(RECORDS, {"id": "undone", "kind": "corrected", "at": NOW, "corrects": "owners", "with": None})
    check("nor what the owner took back", answer.status in (400, 403), answer)
    check("its own readings it may", office.post(RECORDS, {
        "id": "mine", "kind": "corrected", "at": NOW, "corrects": "warm", "with": None}).status == 201)
    job = {"id": "by-the-office", "name": "New", "options": {"base": "slab", "pad": "new", "place": "indoor"}}
    answer = office.post("/api/v1/jobs", {**job, "records": [{"id": "a", "kind": "accepted", "at": NOW, "by": "Ben",
                                                              "clock": "pad.build-on", "reason": "x"}]})
    check("nor with a new job", answer.status == 403, answer)
    check("a new job without is the office's", office.post("/api/v1/jobs", job).status == 201)
    answer = office.form("/jobs/hollow-pine/records", {"form": "agree", "id": "e", "kind": "agreed", "date": "2026-12-24",
                                                       "at": NOW, "by": "Ben"}, Sec_Fetch_Site="same-origin")
    check("nor by a form", answer.status == 403, answer)
    check("the owner writes too", owner.post(RECORDS, reading("by-ada", who="Somebody else")).status in (201, 400))
    form = owner.form("/jobs/hollow-pine/records", {"form": "reading", "id": "form-ada", "kind": "reading", "part": "pad",
                                                    "how": "probe", "degrees": "52", "scale": "f", "at": NOW},
                      Sec_Fetch_Site="same-origin")
    check("by a form", form.status == 303, form)
    who = {r["id"]: r.get("who") for r in owner.get(RECORDS).json["records"]}
    check("each change says who", who.get("by-ben") == OFFICE[0] and who.get("form-ada") == OWNER[0], who)
    check("nobody writes in another's name", who.get("by-ada") in (None, OWNER[0]), who)
    photo = owner.call("PUT", "/api/v1/jobs/hollow-pine/photos/0f0e0d0c-0000-4000-8000-000000000001", png(),
                       Content_Type="image/png")
    check("a photo says who", photo.status == 201 and photo.json["who"] == OWNER[0], photo)


def test_far_away_is_not_this_machine(check, exe, server, client):
    """Before there is an owner: a proxy that passes on whatever Host it was sent makes nobody the owner."""
    check("who sits at the machine is", client.get("/people").status == 200)
    for name, value in (("X-Forwarded-For", "203.0.113.9"), ("Forwarded", "for=203.0.113.9"),
                        ("X-Real-IP", "203.0.113.9"), ("Via", "1.1 yard")):
        far = {name: value}
        check("no page by " + name, client.get("/people", **far).status == 403)
        check("no jobs by " + name, client.get("/api/v1/jobs", **far).status == 403)
        answer = client.form("/people", {"action": "add", "name": "Mallory", "role": "owner", "password": OWNER[1]},
                             Sec_Fetch_Site="same-origin", **far)
        check("no first owner by " + name, answer.status == 403, answer)
    check("nobody was added", "Mallory" not in client.get("/people").text)


def test_people_page(check, exe, server, client):
    check("the page before there is anybody", "person" in client.get("/people").text.lower())
    for fields in ({"name": OWNER[0], "role": "owner", "password": "short"}, {"name": "", "role": "owner", "password": OWNER[1]},
                   {"name": "Ben", "role": "office", "password": OWNER[1]}, {"name": "x", "role": "king", "password": OWNER[1]},
                   {"name": "hours", "role": "station"}, {"name": "x", "role": "owner", "password": "aaaaaaaaaaaaa"}):
        answer = client.people("add", **fields)
        check("refused: %s" % fields, answer.status == 422 and 'role="alert"' in answer.text
              and fields.get("password", "?" * 9) not in answer.text, answer)
    owner, office = with_people(check, client)
    page = owner.get("/people")
    check("who is there", OWNER[0] in page.text and OFFICE[0] in page.text, page)
    check("no password, no hash", "argon2" not in page.text and OWNER[1] not in page.text)
    check("the last owner stays", owner.people("revoke", name=OWNER[0]).status == 422)
    check("the office is shut out", owner.people("revoke", name=OFFICE[0]).status == 303)
    check("at once", office.get("/").status == 303 and office.sign_in(*OFFICE).status == 422)
    check("an unknown deed", owner.people("promote", name=OFFICE[0]).status == 422)
    check("nobody of that name", owner.people("sign-out", name="Nobody").status == 422)
    check("a link for a phone", owner.people("link", crew="north", phone="Luis").status == 303)
    check("and another", owner.people("link", crew="north", phone="Inés <b>").status == 303)
    page = owner.get("/people").text
    check("both stand there, escaped", "Luis" in page and "Inés &lt;b&gt;" in page and "Inés <b>" not in page)
    links = [l for l in owner.get("/api/v1/links").json["links"] if l["phone"]]
    check("each its own", len({l["token"] for l in links}) == 2, links)
    luis = next(l for l in links if l["phone"] == "Luis")
    ines = next(l for l in links if l["phone"] != "Luis")
    crew = Client(server, client.description)
    check("the phone opens its page", crew.get(luis["path"]).status == 200)
    sent = crew.form(luis["path"] + "/records", {"form": "reading", "id": "form-luis", "kind": "reading", "part": "pad",
                     "how": "probe", "degrees": "50", "scale": "f", "at": NOW, "job": "hollow-pine", "by": "Luis"})
    check("a record by it", sent.status == 303, sent)
    undone = crew.post(ines["path"] + "/records?job=hollow-pine", {"id": "undo", "kind": "corrected", "at": NOW,
                                                                  "corrects": "form-luis", "with": None})
    check("another phone of the crew puts it right", undone.status == 201, undone)
    who = {r["id"]: r.get("who") for r in owner.get(RECORDS).json["records"]}
    check("the phone's name is on it", who["form-luis"] == "Luis (north)" and who["undo"] == "Inés <b> (north)", who)
    check("when it was seen", all((l["seen"] is None) == (l["phone"] is None) for l in
                                  owner.get("/api/v1/links").json["links"] if l["phone"] in ("Luis", None)))
    check("a lost phone is switched off", owner.people("link-off", crew="north", phone="Luis").status == 303)
    check("alone", crew.get(luis["path"]).status == 404 and crew.get(ines["path"]).status == 200)
    check("switched off twice", owner.people("link-off", crew="north", phone="Luis").status == 422)
    other = owner.put("/api/v1/links/crew/north?phone=Luis")
    check("the next link of that phone is another", other.json["token"] != luis["token"], other)
    check("a homeowner has no phone", owner.put("/api/v1/links/homeowner/hollow-pine?phone=x").status == 400)
    token = re.search(r"<code>([\w-]{43})</code>", owner.people("token", name=OWNER[0]).text).group(1)
    script = Client(server, client.description)
    script.bearer = token
    check("an owner's script", script.get("/api/v1/links").status == 200)
    owner.people("token", name=OWNER[0])
    check("the next token ends it", script.get("/api/v1/links").status == 401)
    changed = owner.people("password", name=OWNER[0], password="not the same words")
    check("another password", changed.status == 303, changed)
    check("every browser signs in again", owner.get("/people").status == 303)
    check("not with the old one", owner.sign_in(*OWNER).status == 422)
    check("with the new one", owner.sign_in(OWNER[0], "not the same words").status == 303)


def test_throttle(check, exe, server, client):
    owner, office = with_people(check, client)
    signed_in = dict(owner.cookies)
    guesses = [Client(server).sign_in(OWNER[0], "guess number %d" % i) for i in range(9)]
    check("wrong ones are all answered alike", {g.status for g in guesses} == {422} and
          len({re.sub(r"emberwait-door=[\w-]+|value=\"[0-9a-f]{32}\"", "", g.text) for g in guesses}) == 1,
          [g.status for g in guesses])
    unknown = Client(server).sign_in("Nobody At All", "guess number 1")
    alike = [re.sub(r'value="[^"]*"', "", a.text) for a in (unknown, guesses[0])]
    check("an unknown name is answered as a known one", unknown.status == 422 and alike[0] == alike[1])
    check("the right one after nine wrong", Client(server).sign_in(*OWNER).status == 303)
    last = [Client(server).sign_in(OWNER[0], "guess again %d" % i) for i in range(3)]
    check("then tries run out", [a.status for a in last] == [422, 429, 429], last)
    check("and it is said for how long", 0 < int(last[-1].headers["Retry-After"]) <= 60, last[-1].headers)
    check("the right one has to wait too", Client(server).sign_in(*OWNER).status == 429)
    owner = Client(server, client.description)
    owner.cookies = signed_in
    check("who is signed in stays in", owner.get("/people").status == 200)
    known = owner.cookies["emberwait-known"]
    check("but not in a browser where it was right before", owner.sign_in(*OWNER).status == 303)
    for name, cookie in (("cut short", known[:-1]), ("of another store", "A" * 54), ("turned", known[::-1]),
                         ("of another name", office.cookies["emberwait-known"]), ("empty", "")):
        forged = Client(server)
        forged.cookies["emberwait-known"] = cookie
        check("a mark %s is none" % name, forged.sign_in(*OWNER).status == 429)
    copied = Client(server)
    copied.cookies["emberwait-known"] = known
    check("a mark is no password", copied.sign_in(OWNER[0], "guess with a mark").status == 422
          and copied.get("/").status == 303)
    marked = [copied.sign_in(OWNER[0], "guess with a mark %d" % i).status for i in range(11)]
    check("and its tries run out too", marked.count(429) >= 1 and marked[0] == 422, marked)
    check("others are let in", Client(server).sign_in(*OFFICE).status == 303)
    names = [Client(server).sign_in("Nobody %d" % i, "whatever it may be").status for i in range(40)]
    check("an address runs out as well", names.count(429) > 10 and set(names) <= {422, 429}, names)
    later = Client(server)  # a kept connection may have been closed in the meantime
    later.cookies = owner.cookies
    check("nothing else is slowed", later.get("/healthz").status == 200 and later.get("/").status == 200)


def test_many_tries_stall_nobody(check, exe, server, client):
    """A thousand tries with a thousand names from as many addresses, while others ask for other things."""
    db = server.db + ".stormy"
    made = subprocess.run([exe, "person", "add", "--db", db, "--role", "owner", OWNER[0]], input=OWNER[1],
                          capture_output=True, text=True, timeout=60)
    check("an owner", made.returncode == 0, made.stderr)
    ours = Server(exe, db=db, extra=["--host", "yard.example"])
    owner = Client(ours)
    owner.sign_in(*OWNER)
    statuses, waits, stop = [], [], threading.Event()

    def knock(which):
        mine = Client(ours)
        for i in range(25):
            if time.monotonic() > begin + 15:
                break  # long enough for whoever waits for the tests
            statuses.append(mine.sign_in("Guess %d %d" % (which, i), "whatever it may be", Host="yard.example",
                                         X_Forwarded_For="192.0.%d.%d" % (which, i)).status)
        mine.close()

    def ask():
        while not stop.is_set():
            mine = Client(ours)  # each time another thread of the server
            begin = time.monotonic()
            good = mine.get("/healthz").status == 200
            waits.append(time.monotonic() - begin if good else 99)
            mine.close()
            time.sleep(0.01)
    threads = [threading.Thread(target=knock, args=(i,)) for i in range(40)]
    asking = threading.Thread(target=ask)
    begin = time.monotonic()
    asking.start()
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    took = time.monotonic() - begin
    stop.set()
    asking.join()
    check("each is answered", len(statuses) > 200 and set(statuses) <= {422, 503}, set(statuses))
    check("others are answered meanwhile", waits and max(waits) < 4, max(waits or [99]))
    print("%d tries in %.1f s (%d held against a password); others waited %.0f ms at p50, %.0f at most" %
          (len(statuses), took, statuses.count(422), 1e3 * statistics.median(waits), 1e3 * max(waits)))
    later = Client(ours)
    later.cookies = owner.cookies
    check("the owner is still in", later.get("/").status == 200)
    ours.stop()


def test_time_tells_nothing(check, exe, server, client):
    """An unknown name takes the same work as a known one; the time of it is printed, not held."""
    owner, _ = with_people(check, client)

    def stretched():
        return int(re.search(r"^emberwait_passwords_total (\d+)$", owner.get("/metrics").text, re.M).group(1))
    owner.people("add", name="hours", role="station")
    for name in (OWNER[0], "Nobody At All", "", "hours"):
        before = stretched()
        status = Client(server).sign_in(name, "whatever it may be").status
        check("the same work for %r" % name, (status, stretched() - before) == (422, 1), (status, before, stretched()))
    before = stretched()
    Client(server).sign_in(OWNER[0], "x" * 5000)
    check("and for a password of any length", stretched() - before == 1)
    took = {"known": [], "unknown": []}
    for i in range(7):
        for kind, name in (("known", OWNER[0]), ("unknown", "Nobody %d" % i)):
            mine = Client(server)
            begin = time.perf_counter()
            status = mine.sign_in(name, "whatever it may be").status
            took[kind].append(time.perf_counter() - begin)
            check("both are refused", status == 422, status)
            mine.close()
    known, unknown = (statistics.median(took[k]) for k in ("known", "unknown"))
    print("a wrong password takes %.0f ms for a known name, %.2f times that for an unknown one" %
          (1e3 * known, unknown / known))


def test_forms_of_other_sites(check, exe, server, client):
    owner, _ = with_people(check, client)
    page, cookie = "/jobs/hollow-pine", owner.cookies["emberwait"]
    csrf = owner.csrf(page)
    check("a page has its word", re.fullmatch("[0-9a-f]{32}", csrf or ""), csrf)
    count = [0]

    def post(**more):
        count[0] += 1
        headers = {k: v for k, v in more.items() if k[0].isupper()}
        fields = {"form": "reading", "id": "form-site-%d" % count[0], "kind": "reading", "part": "pad", "how": "probe",
                  "degrees": "52", "scale": "f", "at": NOW,
                  **{k: v for k, v in more.items() if not k[0].isupper()}}
        return owner.form(page + "/records", fields, **headers).status
    origin = "http://" + server.host
    check("our page, said by the browser", post(Sec_Fetch_Site="same-origin") == 303)
    check("our page, by its origin", post(Origin=origin) == 303)
    check("an old browser, with the word", post(Origin="null", csrf=csrf) == 303)
    check("an older one, with the word", post(csrf=csrf) == 303)
    check("an old browser without it", post(Origin="null") == 403)
    check("an older one without it", post() == 403)
    check("another word", post(csrf="0" * 32) == 403 and post(csrf="") == 403 and post(csrf=csrf[:-1]) == 403)
    check("another site, with the word even", post(Sec_Fetch_Site="cross-site", csrf=csrf) == 403
          and post(Origin="http://evil.example", csrf=csrf) == 403 and post(Sec_Fetch_Site="same-site", csrf=csrf) == 403)
    other = Client(server)
    other.sign_in(*OWNER)
    check("another session has another word", other.csrf(page) != csrf)
    check("which does not do here", post(csrf=other.csrf(page)) == 403)
    check("JSON of a hidden origin", owner.post(RECORDS, reading("x"), Origin="null").status == 403)
    stored = owner.get(RECORDS).text.count('"form-site-')
    check("four were stored", stored == 4, stored)
    door = Client(server)
    check("the door without its word", door.form("/sign-in", {"name": OWNER[0], "password": OWNER[1]}).status == 403)
    csrf = door.csrf("/sign-in")
    check("the door with it", csrf and door.form("/sign-in", {"name": OWNER[0], "password": OWNER[1], "csrf": csrf},
                                                 Origin="null").status == 303)
    elsewhere = Client(server)
    check("of another browser", elsewhere.form("/sign-in", {"name": OWNER[0], "password": OWNER[1], "csrf": csrf},
                                               Origin="null").status == 403)
    led = Client(server)
    answer = led.get("/sign-in?to=%2Fpeople", Sec_Fetch_Site="cross-site")
    check("led here from a mail, it looks again", 'http-equiv="refresh"' in answer.text and
          'url=/people"' in answer.text, answer)
    led.cookies["emberwait"] = cookie
    check("and whoever is in goes on", led.get("/sign-in?to=%2Fpeople").headers["Location"] == "/people")


def test_who_comes_by_a_proxy(check, exe, server, client):
    def person(*arguments, password=OWNER[1] + "\n"):
        return subprocess.run([exe, "person", *arguments], input=password, capture_output=True, text=True, timeout=60)
    db = server.db + ".proxied"
    ours = Server(exe, db=db, extra=["--host", "yard.example"])
    mine = Client(ours)
    check("nobody's pages are not for others", mine.get("/", Host="yard.example").status == 403)
    check("but for this machine", mine.get("/").status == 200)
    busy = person("add", "--db", db, "--role", "owner", OWNER[0])
    check("a running server is in the way", busy.returncode == 75 and "/people" in busy.stderr, busy)
    ours.stop()
    check("an office first", person("add", "--db", db, "--role", "office", "Ben").returncode != 0)
    made = person("add", "--db", db, "--role", "owner", OWNER[0])
    check("an owner from the command line", made.returncode == 0, made)
    check("twice", person("add", "--db", db, "--role", "owner", OWNER[0]).returncode != 0)
    check("a poor password", person("add", "--db", db, "--role", "owner", "Eve", password="short\n").returncode == 65)
    check("none", person("add", "--db", db, "--role", "owner", "Eve", password="").returncode == 65)
    token = person("add", "--db", db, "--role", "station", "hours")
    check("a token on stdout", re.fullmatch(r"[\w-]{43}\n", token.stdout), token)
    listed = person("list", "--db", db)
    check("the list", OWNER[0] in listed.stdout and "hours" in listed.stdout and "1 tokens" in listed.stdout, listed)
    check("the last owner", person("revoke", "--db", db, OWNER[0]).returncode != 0)
    for wrong in ([], ["add"], ["add", "--db", db, "Eve"], ["list", "--db", db, "x"], ["marry", "--db", db, "x"],
                  ["revoke", "--db", db, "--role", "owner", "x"], ["add", "--db", db, "--role", "king"]):
        check("usage: %s" % wrong, person(*wrong).returncode == 64)
    check("a role that is none", person("add", "--db", db, "--role", "king", "Eve").returncode == 65)
    with open(db, "rb") as f:
        data = f.read()
    check("neither password nor token is in the store", OWNER[1].encode() not in data
          and token.stdout.strip().encode() not in data and b"$argon2id$v=19$m=65536,t=2,p=1$" in data)
    ours = Server(exe, db=db, extra=["--host", "yard.example"])
    mine = Client(ours)
    answer = mine.sign_in(*OWNER, Host="yard.example")
    cookie = answer.headers["Set-Cookie"]
    check("over https the cookie is locked to it", cookie.startswith("__Host-emberwait=") and "; Secure" in cookie, cookie)
    check("in", mine.get("/", Host="yard.example").status == 200)
    plain = Client(ours)
    plain.cookies["emberwait"] = mine.cookies["__Host-emberwait"]
    check("under the plain name it is none", plain.get("/", Host="yard.example").status == 303)
    script = Client(ours)
    script.bearer = token.stdout.strip()
    check("a script by the proxy", script.put("/api/v1/stations/town/hours", STATION, Host="yard.example").status == 200)
    tries = [Client(ours).sign_in("Guess %d" % i, "whatever it may be", Host="yard.example",
                                  X_Forwarded_For="198.51.100.7, 192.0.2.9").status for i in range(32)]
    check("one address of many", tries.count(429) == 2, tries)
    other = Client(ours).sign_in("Guess x", "whatever it may be", Host="yard.example", X_Forwarded_For="192.0.2.10")
    check("does not stop another", other.status == 422, other)
    forged = Client(ours).sign_in("Guess y", "whatever it may be", Host="yard.example",
                                  X_Forwarded_For="203.0.113.5, 192.0.2.9")
    check("nor is it forged", forged.status == 429, forged)
    ours.stop()
    later = Server(exe, db=db, now="2026-10-30T18:00:00-06:00", extra=["--host", "yard.example"])
    again = Client(later)
    again.cookies = dict(mine.cookies)
    check("a week later the session is over", again.get("/", Host="yard.example").status == 303)
    later.stop()

    def serve(*arguments):
        r = subprocess.run([exe, "serve", "--port", "0", *arguments], capture_output=True, text=True, timeout=20)
        return r.returncode, r.stderr
    code, err = serve("--db", db, "--listen", "0.0.0.0")
    check("others only by a proxy", code == 77 and "--behind-proxy" in err, (code, err))
    code, err = serve("--db", server.db + ".empty", "--listen", "0.0.0.0", "--behind-proxy")
    check("and only with an owner", code == 77 and "person add" in err, (code, err))


def test_the_show_says_that_it_is_one(check, exe, server, client):
    """The demonstration has its owner signed in, says so, and only on a store where nobody real can sign in."""
    def show(*arguments):
        process = subprocess.Popen([exe, "demo", "--now", NOW, *arguments], stdout=subprocess.PIPE,
                                   stderr=subprocess.DEVNULL, text=True)
        line = process.stdout.readline()
        port = int(re.search(r":(\d+)/", line).group(1))
        return process, port

    class Shown:
        pass
    for arguments, real in (((), False), (("--db", server.db + ".show"), True)):
        if real:
            subprocess.run([exe, "person", "add", "--db", server.db + ".show", "--role", "owner", OWNER[0]],
                           input=OWNER[1], capture_output=True, text=True, timeout=60)
        process, port = show(*arguments)
        try:
            shown = Shown()
            shown.port = port
            mine = Client(shown)
            page = mine.get("/")
            if real:
                check("a real owner is asked for", page.status == 303, page)
                continue
            check("it says that it is a show", page.status == 200 and "Demonstration" in page.text
                  and "Ruth Vandermere" in page.text, page.text[:300])
            check("not under another name", mine.get("/", Host="yard.example").status == 421)
            job = mine.get("/api/v1/jobs").json["jobs"][0]["id"]
            from urllib.parse import quote
            records = "/api/v1/jobs/%s/records" % quote(job)
            sent = mine.post(records, {"id": "shown", "kind": "note", "at": NOW, "note": "x"})
            check("what is written there is hers", sent.status == 201 and
                  [r["who"] for r in mine.get(records).json["records"] if r["id"] == "shown"] == ["Ruth Vandermere"], sent)
            mine.close()
        finally:
            process.terminate()
            process.wait(timeout=60)
            process.stdout.close()


def test_random_sign_in(check, exe, server, client):
    """Bodies, cookies and headers of chance: an answer each time, and nobody is let in."""
    import random
    with_people(check, client)
    chance, odd = random.Random(5), []
    for _ in range(400):
        body = bytes(chance.choice(b"name=password&to%00csrf+;=\xff\xc3/AdaBells") for _ in range(chance.randint(0, 80)))
        cookie = "".join(chance.choice("emberwait=;, \"_-A9") for _ in range(chance.randint(0, 60)))
        path = chance.choice(("/sign-in", "/sign-out", "/people", "/jobs/hollow-pine/records"))
        mine = Client(server)
        try:
            answer = mine.call("POST", path, body, Content_Type="application/x-www-form-urlencoded", Cookie=cookie,
                               Sec_Fetch_Site=chance.choice(("same-origin", "none", "cross-site")),
                               X_Forwarded_For="192.0.2.%d" % chance.randrange(256))
            if answer.status not in (400, 401, 403, 422, 429, 503) or "emberwait=" in (answer.headers["Set-Cookie"] or ""):
                odd.append((path, body, answer.status))
        except Exception as error:
            odd.append((path, body, repr(error)))
        mine.close()
    check("every one is refused", not odd, odd[:3])
    check("the server is well", client.get("/healthz").status == 200)

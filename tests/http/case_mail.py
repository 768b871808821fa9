# SPDX-License-Identifier: MIT
"""Somebody is told: what the watch finds, what leaves by the folder of messages, what a page shows."""
import email
import email.policy
import os
import re
import tempfile
import time
import uuid

from client import NOW, Client, Server
from sample import COMPANY, JOB, OTHER, STATION

MAILED = dict(COMPANY, mail_from="yard@wren.example", alarm_mail="owner@wren.example",
              crews=[{"id": "north", "people": 3, "mail": "north@wren.example"},
                     {"id": "south", "people": 2}])
TOLD = dict(JOB, homeowner="E. Tollefse", homeowner_mail="tollefse@home.example",
            homeowner_language="es")
FROST = {"id": "frost-seen", "kind": "reading", "part": "pad", "how": "impression", "degf": 31,
         "at": "2026-10-21T05:00:00-06:00", "by": "R. Osei"}


def until(asked, seconds=20):
    """What `asked` answers once it is something; the watch waits two seconds after a write."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = asked()
        if found:
            return found
        time.sleep(0.1)
    return asked()


def looks(client):
    return float(re.search(r"^emberwait_watch_looks_total (\S+)", client.get("/metrics").text, re.M).group(1))


def looked(client):
    """After at least one whole look that began after this call."""
    had = looks(client)
    client.put("/api/v1/company", MAILED)
    until(lambda: looks(client) > had)


def alarms(client):
    return client.get("/api/v1/alarms").json["alarms"]


def messages(folder):
    out = []
    for name in sorted(os.listdir(folder)):
        if name.endswith(".eml"):
            with open(os.path.join(folder, name), "rb") as file:
                out.append((name, file.read()))
    return out


def begin(exe, description, now=NOW):
    folder = tempfile.mkdtemp(prefix="emberwait-mail-")
    server = Server(exe, now=now, extra=["--mail-dir", folder])
    client = Client(server, description)
    for answer in (client.put("/api/v1/company", MAILED), client.put("/api/v1/stations/town/hours", STATION),
                   client.post("/api/v1/jobs", TOLD), client.post("/api/v1/jobs", OTHER)):
        assert answer.status in (200, 201), answer
    until(lambda: looks(client))
    return folder, server, client


def check_messages(check, found, kinds):
    parsed = [email.message_from_bytes(raw, policy=email.policy.default) for _, raw in found]
    check("each alarm goes to owner and crew", sorted(m["To"] for m in parsed) ==
          sorted(["owner@wren.example", "north@wren.example"] * kinds), [m["To"] for m in parsed])
    for (name, raw), message in zip(found, parsed):
        check("named by its id", message["Message-ID"] == "<%s@wren.example>" % name[:-4], message["Message-ID"])
        check("from the company", message["From"] == "Wren Hearth <yard@wren.example>", message["From"])
        check("nobody pressed a button", message["Auto-Submitted"] == "auto-generated")
        check("lines end in CRLF", b"\n" not in raw.replace(b"\r\n", b""))
        text = message.get_content()
        check("says which job and what", "Hollow Pine" in message["Subject"] and "not any more" in text, text)
        check("a crew is told in both languages", ("Losa" in text or "losa" in text or "ya no" in text) ==
              (message["To"] == "north@wren.example"), text)


def alarms_are_told(check, exe, description):
    folder, told, phone = begin(exe, description)
    try:
        check("nothing to tell at first", alarms(phone) == [] and messages(folder) == [])
        check("the pad was open", any(c["clock"] == "pad.build-on" and c["state"] == "open" for c in
                                      phone.get("/api/v1/jobs/hollow-pine/plan").json["jobs"][0]["clocks"]))
        check("a late reading", phone.post("/api/v1/jobs/hollow-pine/records", FROST).status == 201)
        found = until(lambda: alarms(phone))
        check("turns what was over into not yet", "pad.build-on" in [a["about"] for a in found] and
              {a["kind"] for a in found} == {"not-yet"}, found)
        wanted = 2 * len(found)
        check_messages(check, until(lambda: (m := messages(folder)) and len(m) >= wanted and m), len(found))
        number = next(a["number"] for a in found if a["about"] == "pad.build-on")
        page = phone.get("/")
        check("stays on the owner's page", "/alarms/%d/seen" % number in page.text)
        crew = phone.put("/api/v1/links/crew/north").json["path"]
        other = phone.put("/api/v1/links/crew/south").json["path"]
        check("and on the crew's", "/alarms/%d/seen" % number in phone.get(crew).text)
        check("not on another crew's", "/alarms/" not in phone.get(other).text)
        check("which cannot take it away", phone.form("%s/alarms/%d/seen" % (other, number), {}).status == 404)
        check("no such alarm", phone.form("/alarms/99999/seen", {}).status == 404 and
              phone.form("/alarms/x/seen", {}).status == 404)
        check("seen", phone.form("/alarms/%d/seen" % number, {}).status == 303)
        after = phone.get("/", If_None_Match=page.headers["ETag"])
        check("then it is off the owner's page, though nothing else changed", after.status == 200 and
              "/alarms/%d/seen" % number not in after.text, after.status)
        check("the crew still has it", "/alarms/%d/seen" % number in phone.get(crew).text)
        check("until it taps", phone.form("%s/alarms/%d/seen" % (crew, number), {}).status == 303 and
              "/alarms/%d/seen" % number not in phone.get(crew).text)
        for name, _ in messages(folder):  # the host's mailer took them all
            os.makedirs(os.path.join(folder, "sent"), exist_ok=True)
            os.rename(os.path.join(folder, name), os.path.join(folder, "sent", name))
        looked(phone)
        looked(phone)
        check("what was sent is not sent again", messages(folder) == [])
        check("the reading is taken back", phone.post("/api/v1/jobs/hollow-pine/records", {
            "id": "mistake", "kind": "corrected", "corrects": "frost-seen", "with": None, "at": NOW,
            "by": "R. Osei"}).status == 201)
        check("then no alarm is true any more", until(lambda: all(a["over"] for a in alarms(phone))), alarms(phone))
        kept = phone.get("/").text
        check("and those not seen say so", len(found) == 1 or "no longer so" in kept)
        check("stops when told", told.stop() == 0)
    finally:
        phone.close()
        told.stop()


def nothing_is_forgotten(check, exe, description):
    """What was open is remembered over a restart, so that a night switched off hides nothing."""
    folder, told, phone = begin(exe, description)
    phone.close()
    told.stop()
    again = Server(exe, db=told.db, extra=["--mail-dir", folder])
    phone = Client(again, description)
    try:
        phone.post("/api/v1/jobs/hollow-pine/records", FROST)
        check("found after a restart", until(lambda: alarms(phone)), alarms(phone))
        phone.post("/api/v1/jobs/hollow-pine/records", {
            "id": "again", "kind": "done", "task": "pad-pour", "at": "2026-10-23T17:00:00-06:00", "by": "R. Osei"})
        check("a new pour is another wait, and no alarm",
              until(lambda: all(a["over"] for a in alarms(phone))), alarms(phone))
    finally:
        phone.close()
        again.stop()


def nobody_is_woken(check, exe, description):
    """At half past nine in the evening nobody is mailed about what can wait until morning."""
    folder, told, phone = begin(exe, description, now="2026-10-23T21:30:00-06:00")
    try:
        phone.post("/api/v1/jobs/hollow-pine/records", FROST)
        check("the alarm is there", until(lambda: alarms(phone)))
        looked(phone)
        check("and nobody is woken", messages(folder) == [] and {a["mailed"] for a in alarms(phone)} == {0})
    finally:
        phone.close()
        told.stop()


def a_homeowner_is_told(check, exe, description):
    folder, told, phone = begin(exe, description)
    page = phone.get("/jobs/hollow-pine/tell")
    check("a draft in their language", page.status == 200 and "Buenos días, E. Tollefse" in page.text, page)
    check("says that there is no date yet, and no computed one",
          re.search(r"<textarea[^>]*>\s*Buenos días, E\. Tollefse:\s*Sin fecha todavía", page.text), page.text)
    fields = {"id": str(uuid.uuid4()), "subject": "Su chimenea: añadimos dos días",
              "body": "Buenos días,\r\nllovió el domingo.\r\n"}
    outside = "/../" + "./" * 14 + "evil"
    for bad in (outside, "a\r\nBcc: evil@x.example\r\n" + "x" * 12, "x" * 36, "../" * 12, fields["id"].upper()):
        answer = phone.form("/jobs/hollow-pine/tell", dict(fields, id=bad))
        check("an id is a UUID, no path and no line: %r" % bad, len(bad) == 36 and answer.status == 422, answer.status)
    check("queued", phone.form("/jobs/hollow-pine/tell", fields).status == 303)
    found = until(lambda: messages(folder))
    message = email.message_from_bytes(found[0][1], policy=email.policy.default)
    check("one message", len(found) == 1 and found[0][0] == fields["id"] + ".eml")
    beside = os.path.join(os.path.dirname(folder), "evil.eml")
    check("none beside the folder", not os.path.exists(beside))
    check("to them", message["To"] == "tollefse@home.example" and message["Auto-Submitted"] is None)
    check("as it was typed", message["Subject"] == fields["subject"] and
          message.get_content().replace("\r\n", "\n") == "Buenos días,\nllovió el domingo.\n", message.get_content())
    check("it stands below the draft", "añadimos" in phone.get("/jobs/hollow-pine/tell").text)
    check("twice is once", phone.form("/jobs/hollow-pine/tell", fields).status == 422)
    bad = [dict(fields, id=str(uuid.uuid4()), subject="one\r\nBcc: all@example.org"), dict(fields, id="x"),
           dict(fields, id=str(uuid.uuid4()), body=""), dict(fields, id=str(uuid.uuid4()), subject=""),
           dict(fields, id=str(uuid.uuid4()), subject="s" * 400)]
    for one in bad:
        answer = phone.form("/jobs/hollow-pine/tell", one)
        check("refused, and what was typed stays", answer.status == 422 and
              (one["body"] == "" or "domingo" in answer.text), (one, answer.status))
    check("no address, no message", phone.form("/jobs/crooked%20creek/tell", dict(fields, id=str(uuid.uuid4())))
          .status == 422)
    check("none of these left", len(messages(folder)) == 1)
    for wrong in ("a@b", "a b@c.de", "a@b.cd\nBcc: x@y.zz", "<a@b.cd>", "a@b.cd, e@f.gh", "-x@b.cd", "a@.cd", "@b.cd",
                  "a" * 65 + "@b.cd"):
        answer = phone.put("/api/v1/company", dict(MAILED, mail_from=wrong))
        check("no such address: %r" % wrong[:20], answer.status == 400 and
              answer.json["faults"][0]["path"].endswith("mail_from"), answer)
    phone.close()
    check("stops when told", told.stop() == 0)
    check("a folder that is not there is told at the start", not starts(exe, folder + "/none"))


def starts(exe, folder):
    try:
        Server(exe, extra=["--mail-dir", folder]).stop()
        return True
    except RuntimeError:
        return False


def run(check, exe, description):
    """On servers of their own, beside the other cases: most of it is waiting for the watch."""
    for case in (alarms_are_told, nothing_is_forgotten, nobody_is_woken, a_homeowner_is_told):
        case(check, exe, description)

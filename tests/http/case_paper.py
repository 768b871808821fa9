# SPDX-License-Identifier: MIT
"""Paper of a job: its proof file and the letter to its homeowner."""
import hashlib
import json
import re
import uuid

from client import NOW
from picture import jpeg
from sample import reading


def words(page):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page.text))


def test_paper_proof(check, exe, server, client):
    client.post("/api/v1/jobs/hollow-pine/records", [
        reading("wrong", degf=95), {"id": "fixed", "kind": "corrected", "corrects": "wrong", "with": None,
                                    "at": NOW, "by": "R. Osei"},
        {"id": "checked", "kind": "passed", "task": "pad-check", "at": NOW, "by": "R. Osei"}])
    photo = str(uuid.uuid4())
    sent = client.put("/api/v1/jobs/hollow-pine/photos/" + photo, jpeg(), Content_Type="image/jpeg")
    check("a photo is kept", sent.status == 201, sent)
    page = client.get("/jobs/hollow-pine/proof")
    records = client.get("/api/v1/jobs/hollow-pine/records").json["records"]
    marks = re.findall(r"<td><code>([0-9a-f]{16})</code></td>", page.text)
    check("a mark for each record", page.status == 200 and len(marks) == len(set(marks)) == len(records),
          (len(marks), len(records)))
    # The chain, worked out again from what is stored: one job alone was written to, in this order.
    last, chain = bytes(32), []
    for record in records:
        body = json.dumps(record, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        body = re.sub(r"(\d)\.0(?=[,}\]])", r"\1", body)
        last = hashlib.blake2b(last + b"hollow-pine\n" + body.encode(), digest_size=32).digest()
        chain.append(last.hex())
    check("the marks are the chain's", [m for m in marks] == [c[:16] for c in chain], (marks, chain))
    check("and its end stands in full", chain[-1] in page.text)
    check("a withdrawn record stands struck through", re.search(r"<s>.*?95°F.*?</s>", page.text, re.S))
    check("what is missing comes first", page.text.index("What is missing") < page.text.index(">Waits<"))
    check("a pass by name is said to be one", "Check the pad : passed by name, without its measures" in words(page),
          words(page)[:900])
    check("the photo, by its hash", '/jobs/hollow-pine/photos/%s"' % photo in page.text and
          hashlib.sha256(jpeg()).hexdigest()[:16] in page.text)
    check("no such job", client.get("/jobs/nowhere/proof").status == 404)
    for kind, target in (("crew", "north"), ("homeowner", "hollow-pine")):
        path = client.put("/api/v1/links/%s/%s" % (kind, target)).json["path"]
        check("not by a link", client.get(path + "/proof").status == 404)


def test_paper_letter(check, exe, server, client):
    page = client.get("/jobs/hollow-pine/letter")
    check("a letter without a date", page.status == 200 and "No date yet" in page.text, page.text[:900])
    check("says of which day it is", "This letter is of Fri 23 October" in words(page), words(page))
    client.call("PATCH", "/api/v1/jobs/hollow-pine", {"homeowner_language": "es", "homeowner": "E. Tollefse"},
                Content_Type="application/merge-patch+json", If_Match="*")
    page = client.get("/jobs/hollow-pine/letter")
    check("in the homeowner's language", "Buenos días, E. Tollefse" in page.text and 'lang="es"' in page.text)
    check("unless asked otherwise", "Hello, " not in page.text and
          "Hello E. Tollefse" in client.get("/jobs/hollow-pine/letter?lang=en").text)
    dates = re.findall(r"\d+ (?:October|November|December)", words(client.get("/jobs/hollow-pine/letter?lang=en")))
    check("no computed date", set(dates) == {"23 October"}, dates)


def test_paper_fire_sheet(check, exe, server, client):
    page = client.get("/jobs/hollow-pine/fire-sheet")
    said = words(page)
    check("five fires with a box each", page.status == 200 and page.text.count('class="tick-box"') == 5 and
          all("Fire %d" % n in said for n in range(1, 6)), said)
    check("it opens with do not light", "DO NOT LIGHT until we have taken the tag off." in said and
          said.index("DO NOT LIGHT") < said.index("Fire 1"))
    check("stop signs and whom to call", page.text.count("<h2") == 4 and "Stop signs" in said and "Call us" in said, said)
    dates = re.findall(r"\d+ (?:October|November|December)", said)
    check("the only date is the sheet's own", dates == ["23 October"], dates)
    client.call("PATCH", "/api/v1/jobs/hollow-pine", {"homeowner_language": "es"},
                Content_Type="application/merge-patch+json", If_Match="*")
    check("in the homeowner's language", "NO PRENDER" in client.get("/jobs/hollow-pine/fire-sheet").text)
    check("unless asked otherwise", "NO PRENDER" not in client.get("/jobs/hollow-pine/fire-sheet?lang=en").text)
    check("no such job", client.get("/jobs/nowhere/fire-sheet").status == 404)
    check("a homeowner's link opens no office page", client.get(
        client.put("/api/v1/links/homeowner/hollow-pine").json["path"] + "/fire-sheet").status == 404)

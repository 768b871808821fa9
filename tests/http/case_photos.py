# SPDX-License-Identifier: MIT
"""Photos: sent, sent again, shown to who may see them, and everything that is no photo."""
import hashlib
import json
import os
import random
import socket
import subprocess
import tempfile
import threading
import time
import uuid

from client import NOW, Client, Server
from picture import jpeg, png, webp
from sample import COMPANY, fill

MIB = 1 << 20


def crew_path(client, crew="north"):
    return client.put("/api/v1/links/crew/%s" % crew).json["path"]


def send(client, base, id, body, kind="image/png", job="hollow-pine", **headers):
    return client.call("PUT", "%s/photos/%s?job=%s" % (base, id, job), body, Content_Type=kind, **headers)


def new():
    return str(uuid.uuid4())


def ids(client, job="hollow-pine"):
    return [p["id"] for p in client.get("/api/v1/jobs/%s/photos" % job).json["photos"]]


def test_photos(check, exe, server, client):
    crew = crew_path(client)
    for kind, body, size in (("image/png", png(30, 20), (30, 20)), ("image/jpeg", jpeg(640, 480), (640, 480)),
                             ("image/jpeg", jpeg(64, 48, 70000, 0xC2), (64, 48)),
                             ("image/webp", webp(31, 21), (31, 21)),
                             ("image/webp", webp(31, 21, b"VP8L"), (31, 21)),
                             ("image/webp", webp(31, 21, b"VP8 "), (31, 21))):
        id = new()
        first = send(client, crew, id, body, kind)
        check("a photo of the crew", first.status == 201, first)
        said = first.json
        check("what is known of it", (said["id"], said["job"], said["type"], said["size"], said["sha256"],
                                      (said["width"], said["height"]), said["who"]) ==
              (id, "hollow-pine", kind, len(body), hashlib.sha256(body).hexdigest(), size, "north"), said)
        again = send(client, crew, id, body, kind)
        check("again: known", again.status == 200, again)
        other = send(client, crew, id, body + b"\0", kind)
        check("other bytes under the same id", other.status == 409, other)
        shown = client.get("%s/photos/%s" % (crew, id))
        check("the same bytes come back", shown.status == 200 and shown.body == body, shown)
        h = shown.headers
        check("a browser can only show it", h["Content-Type"] == kind and h["X-Content-Type-Options"] == "nosniff"
              and "sandbox" in h["Content-Security-Policy"] and "default-src 'none'" in h["Content-Security-Policy"]
              and "script-src" not in h["Content-Security-Policy"]
              and h["Cache-Control"] == "private, max-age=31536000, immutable"
              and h["Cross-Origin-Resource-Policy"] == "same-origin", dict(h))
        packed = client.get("%s/photos/%s" % (crew, id), Accept_Encoding="gzip")
        check("never packed again", packed.headers["Content-Encoding"] is None and packed.body == body)
        held = client.get("%s/photos/%s" % (crew, id), If_None_Match=h["ETag"])
        check("held already", held.status == 304 and not held.body, held)
        owners = client.get("/jobs/hollow-pine/photos/" + id)
        check("the owner sees it", owners.status == 200 and owners.body == body, owners)
    listed = client.get("/api/v1/jobs/hollow-pine/photos").json
    check("all are listed", len(listed["photos"]) == 6 and listed["room"]["photos"] == 6
          and listed["room"]["bytes"] == sum(p["size"] for p in listed["photos"]), listed)
    record = client.post("/api/v1/jobs/hollow-pine/records",
                         {"id": "shot", "kind": "photo", "at": NOW, "photo": listed["photos"][0]["id"]})
    check("a record names it", record.status == 201, record)


def test_photos_of_the_owner(check, exe, server, client):
    id, body = new(), png(8, 8)
    path = "/api/v1/jobs/crooked%20creek/photos/" + id
    first = client.call("PUT", path + "?taken=2026-10-23T17:59:00-06:00", body, Content_Type="image/png")
    check("the owner sends one", first.status == 201 and first.json["taken"] == "2026-10-23T23:59:00Z", first)
    check("again", client.call("PUT", path, body, Content_Type="image/png").status == 200)
    moved = client.call("PUT", "/api/v1/jobs/hollow-pine/photos/" + id, body, Content_Type="image/png")
    check("it stays with its job", moved.status == 409, moved)
    check("not under another job", client.get("/jobs/hollow-pine/photos/" + id).status == 404)
    check("under its own", client.get("/jobs/crooked%20creek/photos/" + id).body == body)
    nobody = client.call("PUT", "/api/v1/jobs/nowhere/photos/" + new(), body, Content_Type="image/png")
    check("no such job", nobody.status == 404, nobody)
    for taken in ("yesterday", "2026-10-23", "2026-10-23T17:59:00"):
        wrong = client.call("PUT", "/api/v1/jobs/hollow-pine/photos/%s?taken=%s" % (new(), taken), body,
                            Content_Type="image/png")
        check("taken=" + taken, wrong.status == 400, wrong)
    check("nothing of those was kept", ids(client) == [], ids(client))


def test_who_sees_a_photo(check, exe, server, client):
    north, south = crew_path(client), crew_path(client, "south")
    home = client.put("/api/v1/links/homeowner/hollow-pine").json["path"]
    id, body = new(), png()
    check("north keeps one", send(client, north, id, body).status == 201)
    check("south sees none of north's", client.get("%s/photos/%s" % (south, id)).status == 404)
    check("south cannot send to north's job", send(client, south, new(), body).status == 403)
    check("nor to no job", send(client, south, new(), body, job="nowhere").status == 403)
    check("nor without one", client.call("PUT", "%s/photos/%s" % (south, new()), body,
                                         Content_Type="image/png").status == 403)
    check("south's own id of the same photo", send(client, south, id, png(5, 5), job="crooked%20creek").status == 409)
    check("a homeowner's link opens none", client.get("%s/photos/%s" % (home, id)).status == 404)
    for token in (home.split("/")[2], "x" * 27, north.split("/")[2][1:] + "A"):
        check("no photo by " + token, client.get("/c/%s/photos/%s" % (token, id)).status == 404)
        check("none sent by it", send(client, "/c/" + token, new(), body).status == 404)
    check("revoked", client.call("DELETE", "/api/v1/links/crew/north").status == 204)
    check("shut after that", client.get("%s/photos/%s" % (north, id)).status == 404)
    check("and for sending", send(client, north, new(), body).status == 404)
    check("from another site", send(client, south, new(), body, job="crooked%20creek",
                                    Sec_Fetch_Site="cross-site").status == 403)
    check("one is there", ids(client) == [id] and ids(client, "crooked%20creek") == [])


def test_what_is_no_photo(check, exe, server, client):
    crew, body = crew_path(client), png()
    svg = b'<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>'
    html = b"<!doctype html><script>1</script>"
    for name, kind, data in (("SVG", "image/svg+xml", svg), ("HTML", "text/html", html), ("GIF", "image/gif", b"GIF89a"),
                             ("no type", "", body), ("JSON", "application/json", b"{}"),
                             ("a form", "multipart/form-data; boundary=x", b"--x--"),
                             ("SVG as PNG", "image/png", svg), ("HTML as JPEG", "image/jpeg", html),
                             ("PNG as JPEG", "image/jpeg", body), ("JPEG as PNG", "image/png", jpeg()),
                             ("PNG as WebP", "image/webp", body), ("HTML behind a BOM", "image/png", b"\xef\xbb\xbf" + html),
                             ("nothing", "image/png", b""), ("half a head", "image/png", body[:20]),
                             ("no frame", "image/jpeg", b"\xff\xd8\xff\xd9"),
                             ("a scan first", "image/jpeg", b"\xff\xd8\xff\xda\0\2" + b"\0" * 20),
                             ("a segment past the end", "image/jpeg", b"\xff\xd8\xff\xe0\xff\xff" + b"\0" * 20),
                             ("RIFF cut short", "image/webp", webp()[:-1]),
                             ("a sound", "image/webp", b"RIFF\x16\0\0\0WAVEfmt " + b"\0" * 20),
                             ("0 wide", "image/png", png(0, 5)), ("0 high", "image/jpeg", jpeg(5, 0))):
        answer = send(client, crew, new(), data, kind)
        check("refused: " + name, answer.status in (400, 415), answer)
    for kind in ("image/png; charset=utf-8", "IMAGE/PNG"):
        check("taken as " + kind, send(client, crew, new(), body, kind).status == 201)
    check("packed", send(client, crew, new(), body, Content_Encoding="gzip").status == 415)
    for size in ((12001, 5), (5, 12001)):
        answer = send(client, crew, new(), png(*size))
        check("too many pixels: %s" % (size,), answer.status == 413, answer)
    check("12,000 are taken", send(client, crew, new(), png(12000, 1)).status == 201)
    for id in ("x", "..", "%2e%2e%2fstore.db", "..%2F..%2Fetc%2Fpasswd", new().upper(), new()[:-1], new() + "0",
               new().replace("-", ""), "%00" + new(), new() + "%0a", "{" + new()[1:-1] + "}", "é" * 18, "-" * 36):
        from urllib.parse import quote
        id = quote(id, safe="%")
        answer = send(client, crew, id, body)
        check("an id that is none: " + id, answer.status in (400, 404), answer)
        check("nor is it shown", client.get("%s/photos/%s" % (crew, id)).status in (400, 404))
        check("nor to the owner", client.get("/jobs/hollow-pine/photos/" + id).status in (400, 404))
    check("three were kept", len(ids(client)) == 3, ids(client))


def test_large_photos(check, exe, server, client):
    crew = crew_path(client)
    overhead = len(png(3, 2, 1)) - 1
    full = png(3, 2, 2 * MIB - overhead)
    check("2 MiB to the byte", len(full) == 2 * MIB and send(client, crew, new(), full).status == 201)
    more = send(client, crew, new(), png(3, 2, 2 * MIB - overhead + 1))
    check("one byte more", more.status == 413 and more.json["faults"], more)
    head = "PUT %s/photos/%s?job=hollow-pine HTTP/1.1\r\nHost: %s\r\nContent-Type: image/png\r\n" % (
        crew, new(), server.host)
    chunked = server.raw(head.encode() + b"Transfer-Encoding: chunked\r\n\r\n" +
                         (b"100000\r\n" + b"\0" * MIB + b"\r\n") * 3 + b"0\r\n\r\n")
    check("in chunks, too long", b" 413 " in chunked[:20], chunked[:200])
    lying = server.raw(head.encode() + b"Content-Length: 5000\r\n\r\n" + png(), wait=3.0)
    check("cut off half way", b" 201 " not in lying[:20] and b" 200 " not in lying[:20], lying[:100])
    check("only the whole one is there", len(ids(client)) == 1, ids(client))


def test_room_for_photos(check, exe, server, client):
    crew = crew_path(client)
    for wrong in (0, -1, 1 << 21, 1.5, "4", None):
        check("photos_mib %r" % (wrong,), client.put("/api/v1/company", {**COMPANY, "photos_mib": wrong}).status == 400)
    check("room for 1 MiB", client.put("/api/v1/company", {**COMPANY, "photos_mib": 1}).status == 200)
    first, id = png(3, 2, 600000), new()
    check("one fits", send(client, crew, id, first).status == 201)
    full = send(client, crew, new(), png(3, 2, 600000))
    check("the second does not", full.status == 507 and full.json["type"].endswith("/photos-full"), full)
    check("and it is said what to do", "photos_mib" in full.json["detail"]
          and "photos_mib" in full.json["faults"][0]["wanted"], full.json)
    check("what is there is still known", send(client, crew, id, first).status == 200)
    check("and shown", client.get("%s/photos/%s" % (crew, id)).body == first)
    check("records are taken all the same", client.post("/api/v1/jobs/hollow-pine/records",
          {"id": "after", "kind": "note", "at": NOW, "note": "no room"}).status == 201)
    room = client.get("/api/v1/jobs/hollow-pine/photos").json["room"]
    check("the room is told", room["bytes_max"] == MIB and room["bytes"] == len(first), room)
    check("more room", client.put("/api/v1/company", {**COMPANY, "photos_mib": 2}).status == 200)
    check("then it fits", send(client, crew, new(), png(3, 2, 600000)).status == 201)


def test_the_same_photo_at_once(check, exe, server, client):
    crew, id, bodies = crew_path(client), new(), [png(3, 2, 300000) for _ in range(2)]
    answers = [[], []]

    def run(which):
        mine = Client(server)
        answers[which].append(send(mine, crew, id, bodies[which]).status)
        mine.close()
    threads = [threading.Thread(target=run, args=(i % 2,)) for i in range(16)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    won = 0 if 201 in answers[0] else 1
    check("one is first", (answers[0] + answers[1]).count(201) == 1, answers)
    check("its own are known", sorted(answers[won]) == [200] * 7 + [201], answers)
    check("the others are refused", answers[1 - won] == [409] * 8, answers)
    check("the first one's bytes are kept", client.get("%s/photos/%s" % (crew, id)).body == bodies[won])


def test_slow_photo(check, exe, server, client):
    crew = crew_path(client)
    body = png(3, 2, 200000)
    with socket.create_connection(("127.0.0.1", server.port), timeout=30) as s:
        s.sendall(("PUT %s/photos/%s?job=hollow-pine HTTP/1.1\r\nHost: %s\r\nContent-Type: image/png\r\n"
                   "Content-Length: %d\r\n\r\n" % (crew, new(), server.host, len(body))).encode())
        begin, out = time.monotonic(), b""
        try:
            for i in range(0, len(body), 10):
                s.sendall(body[i:i + 10])
                time.sleep(0.2)
                if time.monotonic() - begin > 20:
                    break
            out = s.recv(100)
        except OSError:
            pass
        took = time.monotonic() - begin
    check("50 bytes a second are not waited for", took < 15 and b" 201 " not in out, (took, out))
    check("nothing is kept", ids(client) == [])


def test_random_photos(check, exe, server, client):
    """Heads with bytes turned, cut and put in: an answer each time, and never a kept non-picture."""
    crew, chance = crew_path(client), random.Random(20261123)
    seeds = [("image/png", png(9, 9)), ("image/jpeg", jpeg(9, 9)), ("image/webp", webp(9, 9)),
             ("image/webp", webp(9, 9, b"VP8 ")), ("image/webp", webp(9, 9, b"VP8L"))]
    odd = []
    for _ in range(1500):
        kind, body = chance.choice(seeds)
        data = bytearray(body)
        for _ in range(chance.randint(1, 4)):
            at = chance.randrange(min(len(data), 40)) if data else 0
            how = chance.randrange(4)
            if how == 0 and data:
                data[at] = chance.choice((0, 1, 0x7f, 0x80, 0xff, chance.randrange(256)))
            elif how == 1:
                del data[at:at + chance.randint(1, 8)]
            elif how == 2:
                data[at:at] = chance.randbytes(chance.randint(1, 8))
            else:
                del data[at:]
        answer = send(client, crew, str(uuid.UUID(int=chance.getrandbits(128), version=4)), bytes(data), kind)
        if answer.status not in (201, 400, 413, 415):
            odd.append((kind, bytes(data[:60]), answer.status))
    check("every body is answered", not odd, odd[:3])
    check("the server is well", client.get("/healthz").status == 200)


def out_and_in_again(check, exe, db, id, body):
    def run(*arguments):
        return subprocess.run([exe, *arguments], capture_output=True, text=True, timeout=60)
    folder, other = db + ".out", db + ".in"
    check("exported", run("export", "--db", db, folder).returncode == 0)
    check("not over what is there", run("export", "--db", db, folder).returncode != 0)
    name = os.path.join(folder, "photos", id + ".jpg")
    with open(name, "rb") as f:
        check("the photo lies there as it came", f.read() == body)
    check("nobody else looks in", os.stat(folder).st_mode & 0o77 == 0)
    with open(os.path.join(folder, "photos.json"), encoding="utf-8") as f:
        listed = json.load(f)["photos"]
    check("the list says what it is", [(p["id"], p["file"], p["sha256"], p["who"]) for p in listed] ==
          [(id, "photos/%s.jpg" % id, hashlib.sha256(body).hexdigest(), "north")], listed)
    came = run("import", "--db", other, "--create", folder)
    check("imported", came.returncode == 0 and "1 new photos, 0 known" in came.stdout, came)
    again = run("import", "--db", other, folder)
    check("again: known", again.returncode == 0 and "0 new photos, 1 known" in again.stdout, again)
    check("all is as it was", run("export", "--db", other, db + ".out2").returncode == 0 and
          open(folder + "/photos.json").read() == open(db + ".out2/photos.json").read())
    with open(name, "ab") as f:
        f.write(b"x")
    changed = run("import", "--db", db + ".third", "--create", folder)
    check("a changed file refuses them", changed.returncode == 65 and id in changed.stderr, changed)
    os.unlink(name)
    check("a missing one too", run("import", "--db", db + ".third", folder).returncode == 65)
    for row in ({"id": "../../etc/passwd"}, {"id": id.upper()}, {"type": "image/svg+xml"}, {"received": "soon"},
                {"job": None}):
        with open(os.path.join(folder, "photos.json"), "w", encoding="utf-8") as f:
            json.dump({"emberwait_photos": 1, "photos": [{**listed[0], **row}]}, f)
        wrong = run("import", "--db", db + ".third", folder)
        check("a row that will not do: %s" % row, wrong.returncode == 65 and ("id" not in row or "UUID" in wrong.stderr),
              wrong)


def test_photos_are_kept(check, exe, server, client):
    """In every copy, checked by verify, on disk before the answer."""
    crew, id, body = crew_path(client), new(), jpeg(1600, 1200, 240000)
    check("kept", send(client, crew, id, body, "image/jpeg").status == 201)
    import signal
    server.stop(signal.SIGKILL)
    again = Server(exe, db=server.db)
    mine = Client(again)
    try:
        check("there after kill -9", mine.get("%s/photos/%s" % (crew, id)).body == body)
        copy = server.db + ".copy"
        run = subprocess.run([exe, "backup", "--db", server.db, copy], capture_output=True, text=True)
        check("a copy while it runs", run.returncode == 0, run.stderr)
        run = subprocess.run([exe, "verify", "--db", copy], capture_output=True, text=True)
        check("the copy is whole and has it", run.returncode == 0 and "1 photo" in run.stdout, run.stdout + run.stderr)
        out_and_in_again(check, exe, server.db, id, body)
        mine.close()
        check("stops", again.stop() == 0)
    finally:
        again.stop()
    with open(copy, "r+b") as f:
        data = f.read()
        at = data.find(body[100000:100040])
        check("its bytes are in the copy", at > 0)
        f.seek(at)
        f.write(bytes(b ^ 1 for b in data[at:at + 1]))
    run = subprocess.run([exe, "verify", "--db", copy], capture_output=True, text=True)
    check("one bit turned is found", run.returncode == 65 and id in run.stderr, run.stdout + run.stderr)
    server.process = subprocess.Popen(["true"], stdout=subprocess.PIPE)  # the runner stops what it started
    server.process.wait()

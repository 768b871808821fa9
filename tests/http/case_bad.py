# SPDX-License-Identifier: MIT
"""What must be refused, and how it is told."""
import json
import socket

from client import NOW, Client
from sample import COMPANY, JOB, reading

RECORDS = "/api/v1/jobs/hollow-pine/records"


def test_bad_records(check, exe, server, client):
    good = reading("x1")
    raw = json.dumps(good)
    bodies = {
        "nothing": (b"", None),
        "half a body": (raw[:-5].encode(), None),
        "two values": ((raw + raw).encode(), None),
        "a text": (b'"x"', None),
        "a number": (b"1", None),
        "null": (b"null", None),
        "NaN": (raw.replace("50", "NaN").encode(), None),
        "Infinity": (raw.replace("50", "-Infinity").encode(), None),
        "1e308": (raw.replace("50", "1e308").encode(), "degf"),
        "1e999": (raw.replace("50", "1e999").encode(), None),
        "a wrong type": (json.dumps({**good, "degf": "50"}).encode(), "degf"),
        "true for a number": (json.dumps({**good, "degf": True}).encode(), "degf"),
        "an unknown member": (json.dumps({**good, "degF": 50}).encode(), "degF"),
        "400 F": (json.dumps({**good, "degf": 400}).encode(), "degf"),
        "-61 F": (json.dumps({**good, "degf": -61}).encode(), "degf"),
        "F and C": (json.dumps({**good, "degc": 10}).encode(), None),
        "neither": (json.dumps({k: v for k, v in good.items() if k != "degf"}).encode(), None),
        "year 9999": (json.dumps(reading("x1", at="9999-01-01T00:00:00Z")).encode(), "at"),
        "before 1970": (json.dumps(reading("x1", at="1969-12-31T23:59:59Z")).encode(), "at"),
        "no offset": (json.dumps(reading("x1", at="2026-10-23T12:00:00")).encode(), "at"),
        "a day that is not": (json.dumps(reading("x1", at="2026-02-30T12:00:00Z")).encode(), "at"),
        "an unknown task": (json.dumps({"id": "x1", "kind": "done", "task": "pad-poured", "at": NOW}).encode(), "task"),
        "an unknown kind": (json.dumps({"id": "x1", "kind": "melted", "at": NOW}).encode(), "kind"),
        "an unknown part": (json.dumps({**good, "part": "roof"}).encode(), "part"),
        "an empty id": (json.dumps(reading("")).encode(), "id"),
        "a long id": (json.dumps(reading("x" * 81)).encode(), "id"),
        "no id": (json.dumps({k: v for k, v in good.items() if k != "id"}).encode(), "id"),
        "a member twice": (raw[:-1].encode() + b', "degf": 51}', None),
        "one id, two bodies": (json.dumps([good, {**good, "degf": 51}]).encode(), None),
        "one of a list": (json.dumps([good, {**reading("x2"), "degf": 900}]).encode(), "degf"),
        "deep nesting": (b"[" * 100000, None),
        "deep nesting, closed": (b'{"a":' * 500 + b"1" + b"}" * 500, None),
        "bytes that are not UTF-8": (raw.replace("x1", "x\xff").encode("latin-1"), None),
        "an overlong form": (raw.encode().replace(b"x1", b"\xc0\x80"), None),
        "half a surrogate": (raw.replace("x1", "\\ud800").encode(), None),
        "an escaped NUL": (raw.replace("x1", "x\\u0000y").encode(), None),
        "a NUL": (raw.encode().replace(b"x1", b"x\x00"), None),
        "a byte order mark": (b"\xef\xbb\xbf" + raw.encode(), None),
    }
    for name, (body, path) in bodies.items():
        answer = client.post(RECORDS, body)
        known = answer.status in (400, 409) if name == "one id, two bodies" else answer.status == 400
        check(name, known and answer.headers["Content-Type"] == "application/problem+json", answer)
        if path and known:
            paths = [f["path"] for f in answer.json["faults"]]
            check(name + ": says where", any(p.endswith(path) for p in paths), answer.json)
    answer = client.post(RECORDS, [reading("y1", degf=900), reading("y2", part="roof"), reading("y3", at="x")])
    check("all faults at once", len(answer.json["faults"]) >= 3, answer.json)
    ids = [r["id"] for r in client.get(RECORDS).json["records"]]
    check("nothing of it was stored", ids == ["pour", "warm"], ids)
    check("the server is well", client.get("/healthz").status == 200)


def test_bad_others(check, exe, server, client):
    post, put = client.post, client.put
    check("a job of no kind", post("/api/v1/jobs", {}).status == 400)
    check("a job with an unknown option",
          post("/api/v1/jobs", {**JOB, "id": "n", "options": {**JOB["options"], "roof": 1}}).status == 400)
    check("a job of an unknown zone", post("/api/v1/jobs", {**JOB, "id": "n", "time_zone": "Mars/Base"}).status == 400)
    check("a zone that climbs", post("/api/v1/jobs", {**JOB, "id": "n", "time_zone": "../../etc/passwd"}).status == 400)
    check("a company with a wrong hour", put("/api/v1/company", {**COMPANY, "work_hours": ["7", "25:00"]}).status == 400)
    check("a company of an unknown member", put("/api/v1/company", {**COMPANY, "boss": 1}).status == 400)
    series = {"start": "2026-10-20T00:00:00-06:00", "temp_degc": [1, "x"]}
    check("a wrong hour", put("/api/v1/stations/town/hours", {"observed": series}).status == 400)
    series = {"start": "2026-10-20T00:30:00-06:00", "temp_degc": [1]}
    check("a start within an hour", put("/api/v1/stations/town/hours", {"observed": series}).status == 400)
    hours = b'{"observed":{"start":"2026-10-20T00:00:00-06:00","temp_degc":[' + b"1," * 9999999 + b"1]}}"
    answer = put("/api/v1/stations/town/hours", hours)
    check("ten million hours", answer.status in (400, 413), answer)
    check("a plan of another now", client.get("/api/v1/jobs/hollow-pine/plan?now=" + NOW).status == 400)
    check("today of nobody", client.get("/api/v1/today").status == 400)
    check("today of an unknown crew", client.get("/api/v1/today?crew=west").status == 404)
    check("a broken query", client.get("/api/v1/today?crew=%ff").status == 400)
    check("too many fields", client.get("/api/v1/today?" + "&".join("a%d=1" % i for i in range(40))).status == 400)
    for path in ("/api/v1/jobs/%00", "/api/v1/jobs/%c3%28", "/api/v1/jobs/a%0ab", "/static/%2e%2e%00"):
        check("400: " + path, client.get(path).status == 400)
    for path in ("/static/../schema/openapi.json", "/static/%2e%2e/schema/openapi.json",
                 "/static/..%2fschema/openapi.json", "/static/css/", "/static//css/base.css",
                 "/api/v1/json/..%2fopenapi.json", "/api/v1/jobs/none", "/jobs/none", "/jobs/",
                 "/api/v1/jobs/hollow-pine/", "//", "/index.html", "/api", "/api/v1/links/boss"):
        check("404: " + path, client.get(path).status == 404)
    answer = client.post(RECORDS, json.dumps(reading("z")), Content_Type="text/plain")
    check("JSON as text", answer.status == 415, answer)
    check("JSON as a form", client.post(RECORDS, "a=b", Content_Type="application/x-www-form-urlencoded").status == 415)
    check("a packed body", client.post(RECORDS, b"x", Content_Encoding="gzip").status == 415)
    check("a form as JSON", client.post("/jobs/hollow-pine/records", {}).status == 415)


def test_large(check, exe, server, client):
    body = json.dumps(reading("big", note="x" * (2 << 20)))
    check("over 2 MiB", client.post(RECORDS, body).status == 413)
    check("and the connection is still good", client.get("/healthz").status == 200)
    chunk = b"10000\r\n" + b"x" * 65536 + b"\r\n"
    head = ("POST %s HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\n"
            "Transfer-Encoding: chunked\r\n\r\n" % (RECORDS, server.host)).encode()
    check("over 2 MiB in chunks", server.status_of(head + chunk * 40 + b"0\r\n\r\n") == 413)
    check("endless chunks are cut off", server.status_of(head + chunk * 200) in (0, 413))
    big = ("POST %s HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\n"
           "Content-Length: 104857600\r\n\r\n" % (RECORDS, server.host)).encode()
    with socket.create_connection(("127.0.0.1", server.port), timeout=5) as s:
        s.sendall(big)
        check("100 MB is refused before it is sent", s.recv(100).startswith(b"HTTP/1.1 413"))
    sent = 0
    with socket.create_connection(("127.0.0.1", server.port), timeout=5) as s:
        try:
            s.sendall(big)
            for _ in range(100):
                s.sendall(b"x" * (1 << 20))
                sent += 1
        except ConnectionError:
            pass
    check("100 MB sent all the same is cut off", sent < 100, sent)
    check("a long target", client.get("/" + "x" * 3000).status == 414)
    raw = "GET /healthz HTTP/1.1\r\nHost: %s\r\n" % server.host
    many = "".join("X-%d: y\r\n" % i for i in range(80))
    check("80 header lines", server.status_of((raw + many + "\r\n").encode()) == 431)
    check("20 KB of header", server.status_of((raw + "X: " + "y" * 20000 + "\r\n\r\n").encode()) == 431)
    check("60 KB of header", server.status_of((raw + "X: " + "y" * 60000 + "\r\n\r\n").encode()) in (0, 413, 431))
    check("a form of 70 KB", client.form("/jobs/hollow-pine/records", {"note": "x" * 70000}).status == 413)
    check("a form of 200 fields",
          client.form("/jobs/hollow-pine/records", {"f%d" % i: "" for i in range(300)}).status == 413)
    check("a GET with a body", client.call("GET", "/healthz", b"x").status == 413)
    check("the server is well", Client(server).get("/healthz").status == 200)


def test_smuggling(check, exe, server, client):
    host = b"Host: " + server.host.encode()
    json_type = b"Content-Type: application/json"
    line = b"POST " + RECORDS.encode() + b" HTTP/1.1"
    body = json.dumps(reading("smuggled")).encode()
    length = b"Content-Length: %d" % len(body)

    def of(*lines, body=b"", end=b"\r\n"):
        return end.join(lines) + end + end + body

    refused = {
        "no Host": of(b"GET /healthz HTTP/1.1"),
        "two Hosts": of(b"GET /healthz HTTP/1.1", host, host),
        "an empty Host": of(b"GET /healthz HTTP/1.1", b"Host:"),
        "both lengths": of(line, host, json_type, length, b"Transfer-Encoding: chunked", body=b"0\r\n\r\n"),
        "both, the other way": of(line, host, json_type, b"Transfer-Encoding: chunked", length, body=body),
        "two lengths": of(line, host, json_type, length, b"Content-Length: 1", body=body),
        "the same twice": of(line, host, json_type, length, length, body=body),
        "a list of lengths": of(line, host, json_type, length + b", %d" % len(body), body=body),
        "a signed length": of(line, host, json_type, b"Content-Length: +%d" % len(body), body=body),
        "a hex length": of(line, host, json_type, b"Content-Length: 0x10", body=body),
        "an unknown coding": of(line, host, json_type, b"Transfer-Encoding: cow", body=body),
        "chunked twice": of(line, host, json_type, b"Transfer-Encoding: chunked, chunked", body=b"0\r\n\r\n"),
        "two codings": of(line, host, json_type, b"Transfer-Encoding: chunked", b"Transfer-Encoding: identity", body=b"0\r\n\r\n"),
        "a coding with a tab": of(line, host, json_type, b"Transfer-Encoding: \x0bchunked", body=b"0\r\n\r\n"),
        "a blank before the colon": of(line, host, json_type, b"Content-Length : %d" % len(body), body=body),
        "a coding, blank before the colon": of(line, host, json_type, length, b"Transfer-Encoding : chunked", body=body),
        "a folded line": of(b"GET /healthz HTTP/1.1", host, b"X: a\r\n b"),
        "a folded coding": of(line, host, json_type, b"Transfer-Encoding:\r\n chunked", body=b"0\r\n\r\n"),
        "a NUL in a value": of(b"GET /healthz HTTP/1.1", host, b"X: a\0b"),
        "a NUL in a name": of(b"GET /healthz HTTP/1.1", host, b"X\0: b"),
        "a NUL in the path": of(b"GET /healthz\0x HTTP/1.1", host),
        "a control byte": of(b"GET /healthz HTTP/1.1", host, b"X: a\x01b"),
        "a bare LF": of(b"GET /healthz HTTP/1.1", host, b"X: a", end=b"\n"),
        "an absolute target": of(b"GET http://other/healthz HTTP/1.1", host),
        "a star": of(b"OPTIONS * HTTP/1.1", host),
        "a fragment": of(b"GET /healthz#x HTTP/1.1", host),
        "no colon": of(b"GET /healthz HTTP/1.1", host, b"nonsense"),
        "no version": of(b"GET /healthz", host),
        "nonsense": b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + b"\x00" * 50,
    }
    for name, data in refused.items():
        status = server.status_of(data, wait=1.0)
        check("refused: " + name, status in (0, 400, 421, 501), status)
    ids = [r["id"] for r in client.get(RECORDS).json["records"]]
    check("nothing was stored", ids == ["pour", "warm"], ids)
    after = server.raw(of(line, host, json_type, length, b"Transfer-Encoding: chunked",
                          body=b"0\r\n\r\n" + of(b"GET /metrics HTTP/1.1", host)), wait=1.0)
    check("what hides behind a refused body is not answered", after.count(b"HTTP/1.1 ") == 1, after[:300])
    good = {"plain": of(line, host, json_type, length, body=body),
            "in chunks": of(line, host, json_type, b"Transfer-Encoding: chunked",
                            body=b"%x\r\n" % len(body) + body + b"\r\n0\r\n\r\n"),
            "HTTP/1.0": of(line.replace(b"1.1", b"1.0"), host, json_type, length, body=body)}
    for name, data in good.items():
        check("taken: " + name, server.status_of(data, wait=2.0) in (200, 201))
    two = server.raw(of(b"GET /healthz HTTP/1.1", host) * 2, wait=2.0)
    check("two in one packet", two.count(b"HTTP/1.1 200") == 2, two[:300])


def test_other_sites(check, exe, server, client):
    record = "/api/v1/jobs/hollow-pine/records"
    cases = [({"Sec_Fetch_Site": "cross-site"}, 403), ({"Sec_Fetch_Site": "same-site"}, 403),
             ({"Origin": "http://elsewhere.example"}, 403), ({"Origin": "null"}, 403),
             ({"Origin": "http://127.0.0.1:1"}, 403), ({"Origin": "https://" + server.host}, 403),
             ({"Sec_Fetch_Site": "same-origin", "Origin": "null"}, 201),
             ({"Sec_Fetch_Site": "none"}, 201), ({"Origin": "http://" + server.host}, 201), ({}, 201)]
    for i, (headers, wanted) in enumerate(cases):
        answer = client.post(record, reading("site-%d" % i), **headers)
        check("%s" % headers, answer.status == wanted, answer)
    answer = client.form("/jobs/hollow-pine/records", {"kind": "note"}, Sec_Fetch_Site="cross-site")
    check("a form of another site", answer.status == 403, answer)
    for method, path in (("PUT", "/api/v1/company"), ("PATCH", "/api/v1/jobs/hollow-pine"),
                         ("DELETE", "/api/v1/links/crew/north"), ("PUT", "/api/v1/links/crew/north")):
        check("%s from another site" % method, client.call(method, path, Sec_Fetch_Site="cross-site").status == 403)
    for name in ("yard.example", "evil.example:%d" % server.port, "169.254.1.1", "localhost.example"):
        check("Host " + name, client.get("/", Host=name).status == 421)
        check("Host %s, a write" % name, client.post(record, reading("host"), Host=name).status == 421)
    for name in ("localhost:%d" % server.port, "localhost", "[::1]:80"):
        check("Host " + name, client.get("/", Host=name).status == 200)

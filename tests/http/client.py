# SPDX-License-Identifier: MIT
"""A server under test, a client for it, and its answers held against schema/openapi.json."""
import http.client
import importlib.util
import json
import os
import re
import signal
import socket
import subprocess
import sys
import tempfile
import time

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
NOW = "2026-10-23T18:00:00-06:00"

try:
    import jsonschema
except ImportError:
    jsonschema = None


class Server:
    """emberwait serve on a store of its own; `--port 0`, never anything but loopback."""

    def __init__(self, exe, db=None, now=NOW, extra=(), **popen):
        self.folder = tempfile.mkdtemp(prefix="emberwait-http-") if db is None else os.path.dirname(db)
        self.db = db or os.path.join(self.folder, "store.db")
        self.log_path = os.path.join(self.folder, "log-%d" % time.monotonic_ns())
        command = [exe, "serve", "--db", self.db, "--port", "0", *extra]
        if now:
            command += ["--now", now]
        begin = time.monotonic()
        with open(self.log_path, "wb") as log:
            self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=log, **popen)
        line = self.process.stdout.readline().decode()
        self.ready_s = time.monotonic() - begin
        m = re.match(r"listening on http://127\.0\.0\.1:(\d+)/\n$", line)
        if not m:
            self.process.wait()
            raise RuntimeError("not ready: %r %s" % (line, self.log()))
        self.port = int(m.group(1))
        self.host = "127.0.0.1:%d" % self.port

    def log(self):
        with open(self.log_path, encoding="utf-8", errors="replace") as f:
            return f.read()

    def stop(self, how=signal.SIGTERM):
        if self.process.poll() is None:
            self.process.send_signal(how)
        code = self.process.wait(timeout=60)
        self.process.stdout.close()
        return code

    def raw(self, data, wait=5.0):
        """Bytes on a socket of their own, and what comes back until it is closed or `wait` is over."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=wait) as s:
            out = b""
            try:
                s.sendall(data)
                s.shutdown(socket.SHUT_WR)
                while True:
                    got = s.recv(65536)
                    if not got:
                        break
                    out += got
            except OSError:
                pass
            return out

    def status_of(self, data, wait=5.0):
        m = re.match(rb"HTTP/1\.1 (\d+)", self.raw(data, wait))
        return int(m.group(1)) if m else 0


class Answer:
    def __init__(self, status, headers, body):
        self.status, self.headers, self.body = status, headers, body

    @property
    def json(self):
        return json.loads(self.body)

    @property
    def text(self):
        return self.body.decode()

    def __repr__(self):
        return "%d %s %s" % (self.status, dict(self.headers), self.body[:300])


class Client:
    """One kept connection. Every JSON answer is checked against the description.

    Of `cookies` those of the door are kept and sent as a browser would; `bearer` is a script's token.
    """

    def __init__(self, server, description=None):
        self.server, self.description = server, description
        self.cookies, self.bearer = {}, None
        self.connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)

    def call(self, method, path, body=None, **headers):
        headers = {k.replace("_", "-"): v for k, v in headers.items()}
        if self.cookies and "Cookie" not in headers:
            headers["Cookie"] = "; ".join("%s=%s" % pair for pair in self.cookies.items())
        if self.bearer:
            headers.setdefault("Authorization", "Bearer " + self.bearer)
        if isinstance(body, (dict, list)):
            body = json.dumps(body)
        if isinstance(body, str):
            body = body.encode()
        if body is not None and "Content-Type" not in headers:
            headers["Content-Type"] = "application/json"
        try:
            self.connection.request(method, path, body=body, headers=headers)
            r = self.connection.getresponse()
        except (ConnectionError, http.client.RemoteDisconnected):
            self.connection.close()
            raise
        answer = Answer(r.status, r.headers, r.read())
        for line in r.headers.get_all("Set-Cookie") or []:
            name, value = line.split(";")[0].split("=", 1)
            if "emberwait" not in name:
                continue  # the language is asked for anew each time
            if "Max-Age=0" in line:
                self.cookies.pop(name, None)
            else:
                self.cookies[name] = value
        if self.description is not None:
            self.description.check(method, path, answer)
        return answer

    def get(self, path, **headers):
        return self.call("GET", path, **headers)

    def post(self, path, body=None, **headers):
        return self.call("POST", path, body, **headers)

    def put(self, path, body=None, **headers):
        return self.call("PUT", path, body, **headers)

    def form(self, path, fields, **headers):
        from urllib.parse import urlencode
        return self.call("POST", path, urlencode(fields),
                         Content_Type="application/x-www-form-urlencoded", **headers)

    def sign_in(self, name, password, to=None, **headers):
        """As a browser that says where its form comes from."""
        fields = {"name": name, "password": password, **({"to": to} if to else {})}
        return self.form("/sign-in", fields, Sec_Fetch_Site="same-origin", **headers)

    def people(self, action, **fields):
        """A form of the page of people."""
        return self.form("/people", {"action": action, **fields}, Sec_Fetch_Site="same-origin")

    def csrf(self, path):
        """What the forms of a page carry."""
        m = re.search(r'name="csrf" value="([0-9a-f]+)"', self.get(path).text)
        return m.group(1) if m else None

    def close(self):
        self.connection.close()


class Description:
    """schema/openapi.json: which answers a route may give, and what they look like."""

    def __init__(self):
        self.document = self.read("openapi.json")
        self.faults, self.checked = [], 0
        self.answers = {}  # what a second judge is shown: a few of each route, status and type
        self.patterns = [(re.compile("^" + re.sub(r"\\\{\w+\\\}", "[^/]+", re.escape(p)) + "$"), p)
                         for p in sorted(self.document["paths"], key=lambda p: p.count("{"))]
        self.patterns.append((re.compile("^/static/.+$"), "/static/{path}"))
        self.validators = {}
        if jsonschema is None:
            return
        self.bundle = {"openapi.json": self.rooted(self.document, "openapi.json")}
        for name in os.listdir(os.path.join(ROOT, "schema", "json")):
            self.bundle[name] = self.rooted(self.read(os.path.join("json", name)), name)

    def rooted(self, node, file):
        """The same with every reference leading into one document of all files, `#/$defs/FILE/...`."""
        if isinstance(node, list):
            return [self.rooted(item, file) for item in node]
        if not isinstance(node, dict):
            return node
        out = {k: self.rooted(v, file) for k, v in node.items() if k != "$id"}
        if isinstance(node.get("$ref"), str):
            where, _, pointer = node["$ref"].partition("#")
            out["$ref"] = "#/$defs/%s%s" % (os.path.basename(where) or file, pointer)
        return out

    @staticmethod
    def read(name):
        with open(os.path.join(ROOT, "schema", name), encoding="utf-8") as f:
            return json.load(f)

    def path_of(self, target):
        path = target.split("?")[0]
        return next((p for pattern, p in self.patterns if pattern.match(path)), None)

    def resolve(self, node):
        while "$ref" in node and node["$ref"].startswith("#/"):
            where = self.document
            for part in node["$ref"][2:].split("/"):
                where = where[part]
            node = where
        return node

    def validator(self, schema):
        key = json.dumps(schema, sort_keys=True)
        if key not in self.validators:
            self.validators[key] = jsonschema.Draft202012Validator(
                {**self.rooted(schema, "openapi.json"), "$defs": self.bundle})
        return self.validators[key]

    def check(self, method, target, answer):
        path = self.path_of(target)
        operation = self.document["paths"].get(path, {}).get(
            "get" if method == "HEAD" else method.lower())
        if operation is None:
            schema = {"$ref": "#/components/schemas/Problem"}
            if answer.status < 400:
                self.faults.append("%s %s: %d, but it is not described" % (method, target, answer.status))
        else:
            response = operation["responses"].get(str(answer.status))
            if response is None:
                if answer.status not in (405, 414, 431, 501):
                    self.faults.append("%s %s: %d is not described" % (method, path, answer.status))
                return
            content = self.resolve(response).get("content", {})
            kind = (answer.headers.get("Content-Type") or "").split(";")[0]
            if kind not in content and "*/*" not in content and answer.status >= 400:
                return self.check_kind(kind, method, path)
            schema = content.get(kind, {}).get("schema")
            if content and schema is None and "*/*" not in content and answer.body:
                self.faults.append("%s %s: %d as %s is not described" % (method, path, answer.status, kind))
        self.check_body(schema, method, path, answer)

    def second_judge(self, tally):
        """ajv, where it is there, looks at the same answers: two readings of one description."""
        spec = importlib.util.spec_from_file_location("judges", os.path.join(ROOT, "tests", "openapi", "run.py"))
        judges = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(judges)
        why = judges.missing()
        if why:
            return print("answers were not shown to ajv: " + why, file=sys.stderr)
        with tempfile.NamedTemporaryFile("w", suffix=".jsonl", encoding="utf-8") as file:
            for (method, path, status, kind), few in self.answers.items():
                for body in few.values():
                    file.write(json.dumps({"method": method, "path": path, "status": status, "type": kind,
                                           "body": body}) + "\n")
            file.flush()
            code, line, said = judges.judge("answers.mjs", file.name)
        tally("ajv finds every answer as described (%s)" % line, code == 0, said)
        print("ajv: " + line)

    def check_kind(self, kind, method, path):
        if kind != "text/html":
            self.faults.append("%s %s: a fault as %s" % (method, path, kind))

    def check_body(self, schema, method, path, answer):
        kind = (answer.headers.get("Content-Type") or "").split(";")[0]
        if jsonschema is None or not kind.endswith("json") or schema is None or not answer.body:
            return
        if answer.headers.get("Content-Encoding"):
            return
        self.checked += 1
        few = self.answers.setdefault((method.lower(), path, str(answer.status), kind), {})
        if path is not None and len(few) < 60:
            few.setdefault(answer.body, answer.json)
        for error in list(self.validator(schema).iter_errors(answer.json))[:3]:
            self.faults.append("%s %s: %d: %s: %s" % (method, path, answer.status,
                                                     "/".join(map(str, error.absolute_path)),
                                                     error.message[:300]))


class Tally:
    """Counts checks; one line for each that fails."""

    def __init__(self):
        self.passed = self.failed = 0

    def __call__(self, name, good, detail=""):
        if good:
            self.passed += 1
        else:
            self.failed += 1
            print("failed: %s: %s" % (name, str(detail)[:600]), file=sys.stderr, flush=True)
        return good

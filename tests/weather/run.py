#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py EMBERWAIT: weather files on the command line, and forecasts pulled from a stand-in office.

The samples are made here in the published formats. Loopback only, ports given by the system. A
check is one line; closes with `N passed, N failed`.
"""
import http.server
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import threading

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
PULL = os.path.join(ROOT, "deploy", "pull-forecast")
EXE = os.path.abspath(sys.argv[1])
FOLDER = tempfile.mkdtemp(prefix="emberwait-weather-")
STORE = os.path.join(FOLDER, "store.db")
tally = {True: 0, False: 0}


def check(sentence, holds, found=""):
    tally[bool(holds)] += 1
    if not holds:
        print("FAILED %s: %s" % (sentence, str(found)[-1500:]))


def run(*words, stdin=None):
    environment = dict(os.environ, EMBERWAIT_DATA=ROOT, LC_ALL="C")
    environment.pop("EMBERWAIT_DB", None)
    return subprocess.run([EXE, "weather", *words], capture_output=True, text=True, input=stdin,
                          timeout=120, env=environment)


def file(name, text):
    path = os.path.join(FOLDER, name)
    with open(path, "w", encoding="utf-8", newline="") as out:
        out.write(text)
    return path


def dly(years):
    """Days of made-up years: a minimum of 1.0 in January to 15.0 in July, 9 C of range."""
    lines = []
    for year in years:
        for month in range(1, 13):
            days = [31, 29 if year % 4 == 0 else 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1]
            low = 10 + 20 * (6 - abs(7 - month))
            for element, value in (("TMAX", low + 90), ("TMIN", low), ("PRCP", 24)):
                values = "".join("%5d  X" % (value if d < days else -9999) for d in range(31))
                lines.append("XX000000001%04d%02d%s%s" % (year, month, element, values))
    return "".join(line + "\n" for line in lines)


def forecast(hours, degf=50, day=5):
    periods = [{"number": i + 1, "startTime": "2026-01-%02dT%02d:00:00+00:00" % (day + i // 24, i % 24),
                "endTime": "2026-01-%02dT%02d:00:00+00:00" % (day + (i + 1) // 24, (i + 1) % 24),
                "temperature": degf, "temperatureUnit": "F", "windSpeed": "5 to 10 mph",
                "relativeHumidity": {"unitCode": "wmoUnit:percent", "value": 70}}
               for i in range(hours)]
    return json.dumps({"type": "Feature", "properties": {
        "units": "us", "updateTime": "2026-01-05T00:10:00+00:00", "periods": periods}})


def command_line():
    csv = file("hours.csv", "time,temp_degf,rain_in\r\n2026-01-05T06:00:00Z,50,0.1\r\n"
                            "2026-01-05T07:00:00Z,32,\r\n")
    r = run("import", "--print", "--format", "csv", csv)
    check("print gives the case file's shape", r.returncode == 0 and json.loads(r.stdout) == {
        "observed": {"start": "2026-01-05T06:00:00Z", "temp_degc": [10, 0], "rain_mm": [2.54, None]}},
        r.stdout + r.stderr)
    check("the report counts what is missing", "missing: 1 " in r.stderr, r.stderr)
    with open(csv, encoding="utf-8") as f:
        piped = run("import", "--print", "--format", "csv", "-", stdin=f.read())
    check("stdin reads the same as the file", piped.stdout == r.stdout, piped.stderr)

    r = run("import", "--db", STORE, "--station", "town", "--format", "csv", csv)
    check("a store that is not there is not made unasked", r.returncode == 66 and
          not os.path.exists(STORE), r.stderr)
    r = run("import", "--db", STORE, "--create", "--station", "town", "--format", "csv", csv)
    check("hours are stored", r.returncode == 0 and "2 hours observed" in r.stdout, r.stdout + r.stderr)
    r = run("show", "--db", STORE, "--station", "town", "--from", "2026-01-05T07:00:00Z")
    check("show gives them back from a time on", r.returncode == 0 and json.loads(r.stdout)["observed"]
          ["temp_degc"] == [0], r.stdout + r.stderr)
    r = run("show", "--db", STORE, "--station", "nowhere")
    check("a station that is not there is not found", r.returncode == 66 and "nowhere" in r.stderr,
          r.stderr)
    before = run("show", "--db", STORE, "--station", "town").stdout
    r = run("import", "--db", STORE, "--station", "town", "--format", "csv",
            file("bad.csv", "time,temp_degc\n2026-01-05T06:00:00Z,-40\n2026-01-05T07:00:00Z,700\n"))
    check("a file with a fault is refused whole", r.returncode == 65 and r.stdout == "" and
          "bad.csv:3 temp_degc: out-of-range: found 700" in r.stderr, r.stderr)
    check("and the store is as it was", run("show", "--db", STORE, "--station", "town").stdout == before)
    r = run("import", "--db", STORE, "--station", "town", "--keep-good", "--format", "csv",
            os.path.join(FOLDER, "bad.csv"))
    check("keep-good takes the good row", r.returncode == 0 and json.loads(
        run("show", "--db", STORE, "--station", "town").stdout)["observed"]["temp_degc"][0] == -40,
        r.stderr)

    long = file("days.dly", dly(range(1969, 1976)))
    r = run("import", "--db", STORE, "--station", "hill", "--format", "ghcn-dly", long)
    check("days without a place are refused", r.returncode == 65 and "latitude" in r.stderr, r.stderr)
    r = run("import", "--db", STORE, "--station", "hill", "--format", "ghcn-dly", "--latitude", "40",
            "--longitude", "-75", long)
    check("days become hours of past years", r.returncode == 0 and "hours history" in r.stdout and
          "before-1970: %d " % (365 * 24 - 5) in r.stderr, r.stderr)
    r = run("import", "--db", STORE, "--station", "hill", "--format", "ghcn-dly", long)
    check("a place the store knows need not be said again", r.returncode == 0, r.stderr)
    history = json.loads(run("show", "--db", STORE, "--station", "hill").stdout)["history"]
    temps = [t for t in history[0]["temp_degc"] if t is not None]
    check("and stay between the lowest and the highest", len(temps) > 6 * 8700 and
          min(temps) >= 1.0 and max(temps) <= 24.0, "%d %g %g" % (len(temps), min(temps), max(temps)))
    rain = sum(r for r in history[0]["rain_mm"][:24] if r is not None)
    check("a day's rain is spread over its hours", abs(rain - 2.4) < 0.01, rain)

    r = run("import", "--dry-run", "--format", "nws", csv)
    check("a wrong format is said, with the place", r.returncode == 65 and "hours.csv" in r.stderr,
          r.stderr)
    for words, status in ((["import"], 64), (["import", "--format", "xls", csv], 64), (["fetch"], 64),
                          (["import", "--print", "--format", "csv"], 64),
                          (["import", "--print", "--format", "csv", "--frmat", csv], 64),
                          (["import", "--print", "--format", "csv", "--latitude", "91", csv], 64),
                          (["import", "--print", "--format", "csv", "--zone", "Mars/Olympus", csv], 64),
                          (["import", "--print", "--format", "csv", "--part", "pad", csv], 64),
                          (["import", "--print", "--format", "nws", "--kind", "observed", csv], 64),
                          (["import", "--print", "--format", "csv", os.path.join(FOLDER, "none")], 66),
                          (["show", "--db", STORE, "--station", "town", "--from", "yesterday"], 64)):
        r = run(*words)
        check("%s ends with %d" % (" ".join(words[:6]), status),
              r.returncode == status and r.stdout == "" and r.stderr != "", "%d %s" % (r.returncode,
                                                                                   r.stderr))


def logger():
    case = json.load(open(os.path.join(ROOT, "tests", "stories", sorted(
        n for n in os.listdir(os.path.join(ROOT, "tests", "stories"))
        if os.path.isdir(os.path.join(ROOT, "tests", "stories", n)))[0], "case.json"), encoding="utf-8"))
    store = os.path.join(FOLDER, "jobs.db")
    subprocess.run([EXE, "import", "--db", store, "--create", "-"], input=json.dumps(case), text=True,
                   capture_output=True, check=True, timeout=60, env=dict(os.environ, EMBERWAIT_DATA=ROOT))
    job = case["jobs"][0]["id"]
    path = file("logger.csv", "Date Time,Probe (F)\n" + "".join(
        "2025-03-0%d %02d:%02d,%d\n" % (d, h, m, 50 + h % 7 + m // 20)
        for d in (1, 2) for h in range(24) for m in (0, 10, 20, 30, 40, 50)))
    words = ["import", "--db", store, "--format", "logger", "--columns",
             "time=Date Time,temp_degf=Probe (F)", "--zone", "America/Denver", "--part", "pad",
             "--job", job, path]
    r = run(*words)
    check("a logger's readings are stored, one a half hour", r.returncode == 0 and
          "96 new readings, 0 known" in r.stdout, r.stdout + r.stderr)
    r = run(*words)
    check("the same file again is known", r.returncode == 0 and "0 new readings, 96 known" in r.stdout,
          r.stdout + r.stderr)
    r = run(*[w if w != job else "no-such-job" for w in words])
    check("a job that is not there is not found", r.returncode == 66, r.stderr)
    r = run(*[w for w in words if w not in ("--zone", "America/Denver")])
    check("a logger's clock without a zone is refused", r.returncode == 65 and "zone" in r.stderr,
          r.stderr)


class Office(http.server.BaseHTTPRequestHandler):
    """A stand-in forecast office: what it answers is set by the test."""
    answers = {}
    agents = []

    def do_GET(self):
        status, body = self.answers.get(self.path, (404, ""))
        self.agents.append(self.headers.get("User-Agent"))
        self.send_response(status)
        self.send_header("Content-Type", "application/geo+json")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body.encode())

    def log_message(self, *_):
        pass


def pull(server, config, **more):
    return subprocess.run(["sh", PULL, EXE, server, config], capture_output=True, text=True, timeout=120,
                          env=dict(os.environ, EMBERWAIT_DATA=ROOT, no_proxy="127.0.0.1", **more))


def person(store, role, name, password=""):
    made = subprocess.run([EXE, "person", "add", "--db", store, "--role", role, name], input=password,
                          capture_output=True, text=True, timeout=60,
                          env=dict(os.environ, EMBERWAIT_DATA=ROOT))
    check("%s is added" % name, made.returncode == 0, made.stderr)
    return made.stdout


def pulled_by_a_script():
    """Somebody signs in at the server: a forecast comes in with the token of a script, or not at all."""
    office = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Office)
    threading.Thread(target=office.serve_forever, daemon=True).start()
    store = os.path.join(FOLDER, "signed.db")
    person(store, "owner", "Ada Bells", "four words make one\n")
    token = file("token", person(store, "station", "forecast"))
    process = subprocess.Popen([EXE, "serve", "--db", store, "--port", "0", "--log", "error"],
                               stdout=subprocess.PIPE, text=True, env=dict(os.environ, EMBERWAIT_DATA=ROOT))
    try:
        server = re.search(r"http://127\.0\.0\.1:\d+", process.stdout.readline()).group()
        config = file("signed.conf", "town http://127.0.0.1:%d/a\n" % office.server_port)
        Office.answers = {"/a": (200, forecast(30))}
        r = pull(server, config)
        check("without a token nothing is stored", r.returncode == 75 and "not stored" in r.stderr, r.stderr)
        r = pull(server, config, EMBERWAIT_TOKEN_FILE=file("wrong", "A" * 43))
        check("nor with another", r.returncode == 75 and "not stored" in r.stderr, r.stderr)
        r = pull(server, config, EMBERWAIT_TOKEN_FILE=os.path.join(FOLDER, "nowhere"))
        check("a token file that is not there is told", r.returncode == 66, r.stderr)
        r = pull(server, config, EMBERWAIT_TOKEN_FILE=token)
        check("with its token it is", r.returncode == 0 and "1 stored" in r.stdout, r.stdout + r.stderr)
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(timeout=30)
        process.stdout.close()
        office.shutdown()
        office.server_close()


def pulled():
    office = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Office)
    threading.Thread(target=office.serve_forever, daemon=True).start()
    store = os.path.join(FOLDER, "served.db")
    with open(os.path.join(FOLDER, "log"), "wb") as log:
        process = subprocess.Popen([EXE, "serve", "--db", store, "--port", "0"], stdout=subprocess.PIPE,
                                   stderr=log, text=True, env=dict(os.environ, EMBERWAIT_DATA=ROOT))
    try:
        line = process.stdout.readline()
        server = re.search(r"http://127\.0\.0\.1:\d+", line).group()
        address = "http://127.0.0.1:%d" % office.server_port
        config = file("forecast.conf", "# stations\ncontact office@example.com\n\ntown %s/a\nhill %s/b\n"
                                       % (address, address))
        shown = lambda station: json.loads(run("show", "--db", store, "--station", station).stdout or "{}")

        Office.answers = {"/a": (200, forecast(30)), "/b": (200, forecast(6, degf=32))}
        r = pull(server, config)
        check("forecasts of both stations are stored", r.returncode == 0 and "2 stored, 0 failed" in
              r.stdout, r.stdout + r.stderr)
        check("with their figures", shown("town")["forecast"]["temp_degc"] == [10] * 30 and
              shown("hill")["forecast"]["temp_degc"] == [0] * 6, shown("hill"))
        check("and when they were made", shown("town")["forecast"]["made"] == "2026-01-05T00:10:00Z",
              shown("town"))
        check("the office is told who calls", all("office@example.com" in a for a in Office.agents),
              Office.agents)

        before = shown("town")
        for name, answer in (("an office that is down", (404, "")),
                             ("an answer that is no JSON", (200, "<html>try later</html>")),
                             ("a forecast without periods", (200, '{"properties":{"periods":[]}}')),
                             ("a forecast cut short", (200, forecast(30)[:900])),
                             ("a forecast with an absurd figure", (200, forecast(30, degf=900)))):
            Office.answers = {"/a": answer, "/b": (200, forecast(6, degf=41))}
            r = pull(server, config)
            check(name + " is a failure", r.returncode == 75 and "town: not" in r.stderr and
                  "1 stored, 1 failed" in r.stdout, r.stdout + r.stderr)
            check(name + " leaves yesterday's forecast", shown("town") == before, shown("town"))
            check(name + " does not stop the other station",
                  shown("hill")["forecast"]["temp_degc"] == [5] * 6, shown("hill"))

        r = pull(server, file("odd.conf", "../jobs %s/a\ntown ftp://example/x\n" % address))
        check("an id or an address that could lead elsewhere is refused", r.returncode == 75 and
              r.stderr.count("wanted") == 2, r.stderr)
        check("a config without stations is told", pull(server, file("none.conf", "# no\n")).returncode
              == 78)
        check("no config is told", pull(server, os.path.join(FOLDER, "nowhere")).returncode == 66)
        left = [n for n in os.listdir(tempfile.gettempdir()) if n.startswith("tmp.") and
                os.path.exists(os.path.join(tempfile.gettempdir(), n, "forecast"))]
        check("nothing is left behind", not left, left)
    finally:
        process.send_signal(signal.SIGTERM)
        code = process.wait(timeout=30)
        process.stdout.close()
        office.shutdown()
        office.server_close()
    check("the server stops when told", code == 0, code)
    r = pull(server, file("late.conf", "town http://127.0.0.1:1/a\n"))
    check("nobody there at all is a failure", r.returncode == 75, r.stderr)


def main():
    try:
        command_line()
        logger()
        if shutil.which("curl"):
            pulled()
            pulled_by_a_script()
        else:
            check("curl is here to pull forecasts with", False, "not installed")
    finally:
        shutil.rmtree(FOLDER)
    print("%d passed, %d failed" % (tally[True], tally[False]))
    return 1 if tally[False] else 0


sys.exit(main())

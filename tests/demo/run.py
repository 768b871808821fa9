#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py EMBERWAIT: the demonstration shows what it is there to show, on any date of the year.

For dates across the year, clock changes, a leap day and the turn of the year among them, the printed
case is planned and each situation is looked for by what the plan says, not by what the case holds.
Then the served demonstration: it answers, keeps to loopback, and leaves nothing behind.
"""
import json
import os
import re
import signal
import subprocess
import sys
import tempfile
import urllib.request
import zlib
from datetime import datetime, timedelta
from xml.dom import minidom

EXE = sys.argv[1] if len(sys.argv) > 1 else sys.exit("usage: run.py EMBERWAIT")
NOWS = [
    "2026-01-01T06:15:00-07:00",  # a holiday
    "2026-02-11T15:00:00-07:00",
    "2026-03-08T06:15:00-06:00",  # the clock went forward this night, a Sunday
    "2026-03-09T06:15:00-06:00",
    "2028-02-29T06:15:00-07:00",  # a leap day
    "2026-04-17T11:20:00-06:00",
    "2026-05-30T21:00:00-06:00",  # Saturday night
    "2026-07-06T00:10:00-06:00",  # ten past midnight, a Monday
    "2026-07-22T13:00:00-06:00",  # the warmest day
    "2026-09-07T08:00:00-06:00",
    "2026-11-01T01:30:00-07:00",  # the hour that comes twice, the second time
    "2026-11-25T06:15:00-07:00",
    "2026-12-31T23:59:00-07:00",
]
STATES_OVER = {"done", "passed", "not-needed"}
passed = failed = 0


def check(holds, what):
    global passed, failed
    passed += bool(holds)
    failed += not holds
    if not holds:
        print("FAIL " + what)


def case_of(now):
    answer = subprocess.run([EXE, "demo", "--print-case", "--now", now], capture_output=True, text=True,
                            timeout=20)
    assert answer.returncode == 0, answer.stderr
    return answer.stdout


def plan_of(case):
    answer = subprocess.run([EXE, "plan", "-"], input=case, capture_output=True, text=True, timeout=60)
    assert answer.returncode == 0, answer.stderr
    return json.loads(answer.stdout)


class Job:
    """One job: its case and its plan."""

    def __init__(self, case, plan, name):
        self.case = next(job for job in case["jobs"] if job["id"] == name)
        job = next(job for job in plan["jobs"] if job["id"] == name)
        self.tasks = {task["task"]: task["state"] for task in job["tasks"]}
        self.clocks = {clock["clock"]: clock for clock in job["clocks"]}
        self.fire = job["fire"]
        self.cautions = {caution["id"] for caution in job["cautions"]}

    def records(self, kind, **members):
        return [r for r in self.case["records"]
                if r["kind"] == kind and all(r.get(k) == v for k, v in members.items())]

    def at(self, kind, **members):
        return datetime.fromisoformat(self.records(kind, **members)[-1]["at"])


def green_pad(job, now):
    clock = job.clocks["pad.build-on"]
    elapsed_h = (now - job.at("done", task="pad-pour")).total_seconds() / 3600
    return (job.case["quantities"]["drive_h"] == 1.25 and job.case["options"]["base"] == "crawl"
            and elapsed_h >= 64 and elapsed_h >= clock["floor_h"] and clock["state"] == "running"
            and 12 < clock["have"] < clock["need"] and job.tasks["pad-check"] == "waiting-cure")


def frosted_pad(job, now):
    return (job.clocks["pad.build-on"]["state"] == "check-it" and job.tasks["pad-check"] == "check-it"
            and "froze-too-soon" in job.cautions)


def soaked_unit(job, now):
    clock = job.clocks["unit.dry-cure"]
    days = (now.date() - job.at("done", task="line-clean").date()).days - 1
    return (clock["state"] == "running" and "soaked-unit" in job.cautions
            and 0 < clock["have"] <= days - 4)


def facing_drives(job, now):
    return (job.fire["driven_by"] == "unit.facing-cure" and job.clocks["unit.dry-cure"]["have"] > 14
            and job.clocks["unit.facing-cure"]["crossing"] > job.clocks["unit.dry-cure"]["crossing"])


def late_note(job, now):
    late = [r for r in job.records("reading") if datetime.fromisoformat(r["received"])
            - datetime.fromisoformat(r["at"]) > timedelta(hours=12)]
    return (job.case["options"]["base"] == "basement" and len(late) == 1 and late[0]["degf"] < 45
            and job.clocks["pad.build-on"]["state"] == "running")


def five_of_28(job, now):
    clock = job.clocks["unit.dry-cure"]
    return clock["have"] == 5 and clock["need"] == 28 and clock["state"] == "running"


def first_fire(job, now):
    return (job.clocks["unit.dry-cure"]["have"] == 28 and job.tasks["final-inspect"] == "passed"
            and job.tasks["handover"] in ("done", "wait-over")
            and (job.tasks["handover"] != "done" or job.tasks["fire-1"] in ("wait-over", "waiting-weather")))


def lit_early(job, now):
    return "lit" in job.fire["blocked_by"] and job.fire["cure_complete"] is None


def taken_over(job, now):
    return ("accepted-without-readings" in job.cautions and len(job.records("accepted")) >= 4
            and job.clocks["pad.build-on"]["state"] == "open" and job.tasks["throat-set"] not in STATES_OVER)


def just_begun(job, now):
    return (job.tasks["site-walk"] == "done" and job.tasks["permit-get"] == "working"
            and job.tasks["footing-ready"] == "not-yet")


def cover_tonight(job, now):
    return (job.tasks["box-courses"] == "done" and job.tasks["night-cover"] == "wait-over"
            and job.clocks["joints.early"]["state"] == "running")


def waits_for_plumber(job, now):
    return (job.case["options"]["lighter"] == "flush" and job.tasks["lighter-flush"] == "waiting-trade"
            and job.tasks["line-floor"] not in STATES_OVER | {"wait-over"} and job.tasks["cap-set"] == "done")


def waits_for_inspector(job, now):
    return (job.tasks["pad-inspect"] == "waiting-inspector" and job.tasks["pad-steel"] == "done"
            and job.case["options"]["town"]["build_on_floor_h"] == 72 and not job.records("done", task="pad-pour"))


def agreed_holds(job, now):
    return job.fire["agreed"] is not None and job.fire["agreed_holds"] is True


def agreed_withdrawn(job, now):
    return job.fire["agreed"] is not None and not job.fire["agreed_holds"]


def dries_outdoors(job, now):
    clock, fire = job.clocks["unit.dry-cure"], job.fire
    years_differ = fire["p10"] < fire["p90"] or clock["need"] - clock["have"] < 8
    return (job.case["options"]["place"] == "exposed" and clock["site_offset_degf"] == -3
            and fire["p10"] <= fire["p50"] <= fire["p90"] and years_differ)


SITUATIONS = [
    ("vesper-bench", green_pad), ("maddock-fork", frosted_pad), ("sorrel-gap", soaked_unit),
    ("quarry-house", facing_drives), ("cellar-lane", late_note), ("ice-house", five_of_28),
    ("linden-row", first_fire), ("toll-road", lit_early), ("stage-stop", taken_over),
    ("hatch-lane", just_begun), ("brindle-creek", cover_tonight), ("foundry-loft", waits_for_plumber),
    ("ferry-landing", waits_for_inspector), ("linden-row", agreed_holds), ("quarry-house", agreed_holds),
    ("sorrel-gap", agreed_withdrawn), ("lantern-field", dries_outdoors),
]

# What an owner would laugh at: a stage that is behind the job, still shown as to be done.
BEHIND = [("pad-pour", ("site-walk", "permit-get", "order-kit", "footing-ready", "pad-steel", "pad-inspect")),
          ("box-courses", ("kit-receive", "layout", "pad-check", "pad-steel", "pad-pour", "pad-strip")),
          ("transition-set", ("throat-set", "lintel-iron", "damper-set", "smoke-chamber")),
          ("line-clean", ("chimney-run", "cap-set", "line-floor", "line-back", "line-sides", "roof-flash",
                          "gas-rough", "air-cut", "tag-hang")),
          ("handover", ("final-inspect", "hearth-ext", "frame-inspect", "cure-watch", "air-duct"))]


def looks_real(name, job):
    for later, earlier in BEHIND:
        if job.tasks[later] not in ("done", "passed"):
            continue
        for task in earlier:
            if job.tasks[task] not in STATES_OVER and not (task == "pad-strip" and job.case["options"]["pad"] != "new"):
                return "%s is done and %s is %s" % (later, task, job.tasks[task])
    return None


def options_seen(case):
    seen = set()
    for job in case["jobs"]:
        for key, value in job["options"].items():
            if key == "town":
                seen |= {("town", k, v) for k, v in value.items()}
            else:
                seen.add((key, value))
    return seen


OPTIONS = [("base", "slab"), ("base", "crawl"), ("base", "basement"), ("pad", "existing"), ("place", "indoor"),
           ("place", "covered"), ("place", "exposed"), ("lighter", "flush"), ("lighter", "top"), ("lining", "thin"),
           ("lining", "mixed"), ("lining", "thick"), ("facing", "none"), ("facing", "framed"),
           ("facing", "mortared"), ("outside_air", True), ("setting_out", "chalk"), ("through_roof", True),
           ("permit", False), ("propped", True), ("mix", "blended"), ("town", "throat_look", True),
           ("town", "build_on_floor_h", 72)]


def weather(now, case):
    """The station's hours as a meteorologist would look over them."""
    station = next(iter(case["stations"].values()))
    for name in ("observed", "forecast"):
        hours = station[name]
        lengths = {len(hours[key]) for key in hours if isinstance(hours[key], list)}
        check(len(lengths) == 1, "%s %s: columns of different length" % (now, name))
    seen = station["observed"]
    check(len(seen["temp_degc"]) == 120 * 24, now + ": 120 days observed")
    check(len(station["forecast"]["temp_degc"]) == 7 * 24, now + ": 7 days forecast")
    check(len(station["history"]) == 6, now + ": 6 past years")
    first = datetime.fromisoformat(seen["start"])
    by_hour = [[] for _ in range(24)]
    for i, temp in enumerate(seen["temp_degc"]):
        by_hour[(first + timedelta(hours=i)).hour].append(temp)
    means = [sum(column) / len(column) for column in by_hour]
    check(13 <= means.index(max(means)) <= 17, now + ": the afternoon is warmest")
    check(2 <= means.index(min(means)) <= 7, now + ": the end of the night is coldest")
    check(3 < max(means) - min(means) < 20, now + ": day and night differ")
    check(all(g >= w for g, w in zip(seen["gust_mps"], seen["wind_mps"])), now + ": gusts above the wind")
    wet = [rh for rh, rain in zip(seen["rh_pct"], seen["rain_mm"]) if rain > 0]
    dry = [rh for rh, rain in zip(seen["rh_pct"], seen["rain_mm"]) if rain == 0]
    check(wet and sum(wet) / len(wet) > 85, now + ": damp air in rain")
    check(sum(dry) / len(dry) < 80, now + ": drier air without")
    check(40 < sum(seen["rain_mm"]) < 600, now + ": rain of four months")


def one_now(now):
    text = case_of(now)
    case = json.loads(text)
    check(len(text) < 4 << 20, now + ": under 4 MiB")
    check(text == case_of(now), now + ": the same now, the same bytes")
    check(len(case["jobs"]) == 15 and len(case["company"]["crews"]) == 2, now + ": 15 jobs, 2 crews")
    moment = datetime.fromisoformat(now)
    ids = [r["id"] for job in case["jobs"] for r in job["records"]]
    check(len(ids) == len(set(ids)), now + ": every record has its own id")
    for job in case["jobs"]:
        times = [(datetime.fromisoformat(r["at"]), datetime.fromisoformat(r["received"])) for r in job["records"]]
        check(all(at <= received <= moment for at, received in times), "%s %s: nothing after now" % (now, job["id"]))
        check([r for _, r in times] == sorted(r for _, r in times), "%s %s: in the order of coming" % (now, job["id"]))
    plan = plan_of(text)
    for name, situation in SITUATIONS:
        job = Job(case, plan, name)
        check(situation(job, moment), "%s %s: %s" % (now, name, situation.__name__.replace("_", " ")))
    for entry in case["jobs"]:
        wrong = looks_real(entry["id"], Job(case, plan, entry["id"]))
        check(wrong is None, "%s %s: %s" % (now, entry["id"], wrong))
    weather(now, case)
    for option in OPTIONS:
        check(option in options_seen(case), "%s: a job with %s" % (now, option))
    return case


def same_hours(one, other):
    """Hours that two cases share read the same."""
    def hours(case):
        seen = next(iter(case["stations"].values()))["observed"]
        first = datetime.fromisoformat(seen["start"]).timestamp()
        return {first + 3600 * i: t for i, t in enumerate(seen["temp_degc"])}
    a, b = hours(one), hours(other)
    shared = a.keys() & b.keys()
    return len(shared) > 2000 and all(a[k] == b[k] for k in shared)


def pictures(yard):
    """Each job's page is small, and its pictures are XML to a parser that forgives nothing."""
    with urllib.request.urlopen(yard, timeout=10) as answer:
        paths = sorted(set(re.findall(r'href="(/jobs/[^"#]*)"', answer.read().decode())))
    drawn = 0
    for path in paths:
        for language in ("en", "es"):
            with urllib.request.urlopen(yard.rstrip("/") + path + "?lang=" + language, timeout=10) as answer:
                page = answer.read()
            check(len(zlib.compress(page, 6)) < 60000, "%s %s: under 60 KB" % (path, language))
            for figure in re.findall(r'<figure class="strip">.*?</figure>', page.decode(), re.S):
                try:
                    minidom.parseString(figure)
                    drawn += 1
                except Exception as fault:
                    check(False, "%s %s: %s" % (path, language, fault))
    check(drawn > 40, "pictures on the pages of the jobs")


def served():
    with tempfile.TemporaryDirectory() as below:
        for number in (signal.SIGTERM, signal.SIGINT):
            process = subprocess.Popen([EXE, "demo", "--now", NOWS[-2]], stdout=subprocess.PIPE, text=True,
                                       env=dict(os.environ, TMPDIR=below))
            lines = [process.stdout.readline() for _ in range(6)]
            links = [word for line in lines for word in line.split() if word.startswith("http")]
            check(len(links) == 5 and all(l.startswith("http://127.0.0.1:") for l in links), "five links, loopback")
            check(len(os.listdir(below)) == 1, "a folder of its own while it runs")
            for link in links[1:]:
                with urllib.request.urlopen(link, timeout=10) as answer:
                    check(answer.status == 200 and len(answer.read()) > 2000, "%s answers" % link)
            if number == signal.SIGTERM:
                pictures(links[1])
            process.send_signal(number)
            check(process.wait(10) == 0, "a signal ends it in peace")
            process.stdout.close()
            check(os.listdir(below) == [], "nothing is left behind")


def refused():
    for words in (["--port", "70000"], ["--now", "yesterday"], ["--db"], ["--speed", "9"]):
        answer = subprocess.run([EXE, "demo"] + words, capture_output=True, text=True, timeout=10)
        check(answer.returncode == 64 and answer.stdout == "", "refuses " + " ".join(words))


cases = [one_now(now) for now in NOWS]
check(same_hours(cases[2], cases[3]), "the hours of yesterday's case are those of today's")
check(case_of("2026-09-07T08:00:00-06:00").split('"jobs"')[1] == case_of("2026-09-07T08:40:00-06:00").split('"jobs"')[1],
      "within one hour the same work")
served()
refused()
print("%d passed, %d failed" % (passed, failed))
sys.exit(1 if failed or not passed else 0)

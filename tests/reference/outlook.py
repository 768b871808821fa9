#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""outlook.py EMBERWAIT [--count N] [--seed S]: p10, p50 and p90 of clocks and fire date against clocks.py.

For each case every past year is laid behind the forecast by hand, the second implementation works
out every clock and the fire date, and what comes out is ranked (nearest rank; the latest years once
more for the year to come). Closes with `N passed, N failed`.
"""
import argparse
import copy
import json
import math
import random
import subprocess
import sys
import tempfile
from datetime import datetime, timedelta, timezone

from clocks import clocks

HOUR = timedelta(hours=1)


def hours(rng, start, count, base):
    temp, rain, front = [], [], 0.0
    for i in range(count):
        at = start + i * HOUR
        if rng.random() < 0.02:
            front = rng.uniform(-9, 7)
        season = -9 * math.cos((at.timetuple().tm_yday - 20) / 365 * 2 * math.pi)
        temp.append(round(base + season + front + 5 * math.sin((at.hour - 9) / 24 * 2 * math.pi), 1))
        rain.append(round(rng.uniform(0.3, 6), 1) if rng.random() < 0.015 else 0)
    return temp, rain


def make(seed):
    rng = random.Random(seed)
    base = rng.uniform(4, 18)
    now = datetime(2026, rng.randint(1, 12), rng.randint(1, 28), rng.randint(0, 23), tzinfo=timezone.utc)
    lined = now - timedelta(days=rng.randint(2, 20))
    seen = lined - timedelta(days=4)
    seen = seen.replace(hour=0)
    ahead = rng.choice([2, 24, 72, 168])
    temp, rain = hours(rng, seen, int((now - seen) / HOUR), base)
    ftemp, frain = hours(rng, now, ahead, base)
    history = []
    for year in range(2000, 2000 + rng.choice([5, 6, 9, 9, 22])):
        begin = datetime(year, 1, 1, tzinfo=timezone.utc)
        t, r = hours(rng, begin, int((begin.replace(year=year + 1) - begin) / HOUR), base)
        history.append({"start": begin.isoformat(), "temp_degc": t, "rain_mm": r})
    poured = now - timedelta(minutes=rng.randint(0, 40 * 60))
    bedded = now - timedelta(minutes=rng.randint(0, 20 * 60))
    records = [{"kind": "done", "task": t, "at": (lined + timedelta(hours=h)).isoformat()}
               for t, h in (("chimney-run", -30), ("cap-set", -28), ("line-clean", 0))]
    records.append({"kind": "done", "task": "pad-pour", "at": poured.isoformat()})
    if rng.random() < 0.5:
        records.append({"kind": "wet-cover-on", "part": "pad", "at": poured.isoformat()})
    records.append({"kind": "done", "task": "transition-set", "at": bedded.isoformat()})
    for _ in range(rng.randint(0, 2)):
        at = poured + (now - poured) * rng.random()
        records.append({"kind": "reading", "part": "pad", "how": rng.choice(["probe", "air"]),
                        "degc": round(rng.uniform(4, 18), 1),
                        "at": at.replace(microsecond=0).isoformat()})
    if rng.random() < 0.3:
        records.append({"kind": "closed-in", "part": "pad", "how": rng.choice(["blanket", "room"]),
                        "at": poured.isoformat()})
        records.append({"kind": "reading", "part": "pad", "how": "probe", "at": now.isoformat(),
                        "degc": round(rng.uniform(5, 15), 1)})
    if rng.random() < 0.3:
        records.append({"kind": "overridden", "rule": "pad.build-on", "by": "Ana", "reason": "cold",
                        "floor_h": rng.choice([30, 90]), "at": poured.isoformat()})
    if rng.random() < 0.3:
        records.append({"kind": "patched", "days": 7, "initials": "A.", "at": (now - timedelta(
            hours=rng.randint(1, 60))).isoformat()})
    job = {"id": "j", "name": "J", "time_zone": rng.choice(["America/Denver", "Europe/London"]),
           "station": "town", "rulebook": "modular-masonry",
           "options": {"base": "slab", "pad": "existing", "place": rng.choice(["exposed", "covered"])},
           "quantities": {},
           "records": [dict(r, id="r%d" % i) for i, r in enumerate(records)]}
    if rng.random() < 0.3:
        job["site_offset_degf"] = -rng.randint(1, 6)
    return {"emberwait": 1, "now": now.isoformat(),
            "company": {"time_zone": "America/Denver", "work_days": ["mon"],
                        "work_hours": ["07:00", "15:30"], "days_off": [], "crews": []},
            "stations": {"town": {"observed": {"start": seen.isoformat(), "temp_degc": temp,
                                               "rain_mm": rain},
                                  "forecast": {"start": now.isoformat(), "temp_degc": ftemp,
                                               "rain_mm": frain},
                                  "history": history}}, "jobs": [job]}


def year_behind(case, year):
    """The case with one past year's hours laid behind the forecast."""
    case = copy.deepcopy(case)
    station = case["stations"]["town"]
    history = station.pop("history")[year]
    begin = datetime.fromisoformat(history["start"])
    forecast = station["forecast"]
    at = datetime.fromisoformat(forecast["start"]) + len(forecast["temp_degc"]) * HOUR
    for _ in range(24 * 365):
        day = 28 if (at.month, at.day) == (2, 29) else at.day
        try:
            past = at.replace(year=begin.year)
        except ValueError:
            past = at.replace(year=begin.year, day=day)
        i = int((past - begin) / HOUR)
        forecast["temp_degc"].append(history["temp_degc"][i])
        forecast["rain_mm"].append(history["rain_mm"][i])
        at += HOUR
    offset = case["jobs"][0].pop("site_offset_degf", 0) / 1.8  # clocks.py knows no site: laid on here
    for series in (station["observed"], forecast):
        series["temp_degc"] = [t + offset for t in series["temp_degc"]]
    return case


LAST = "9999"  # never ranks last
CROSSING_NEAR_S = 2


def rank(dates, fraction):
    return sorted(dates)[max(0, math.ceil(fraction * len(dates) - 1e-9) - 1)]


def rank_recent(dates, fraction):
    """Of the latest 19 years, the chance of the year to come: the r-th of n has r/(n + 1)."""
    last = sorted(dates[-19:])
    n = len(last)
    if fraction == 0.5:
        return last[(n + 1) // 2 - 1]
    r = math.floor(0.1 * (n + 1) + 1e-9) if fraction == 0.1 else math.ceil(0.9 * (n + 1) - 1e-9)
    return last[min(n, max(1, r)) - 1]


def same(want, got):
    if want == LAST or got is None or len(want) == 10:
        return got == (None if want == LAST else want)
    apart = datetime.fromisoformat(want.replace("Z", "+00:00")) - datetime.fromisoformat(got)
    return abs(apart.total_seconds()) <= CROSSING_NEAR_S


def utc(text):
    """A text that ranks as its instant does."""
    if text is None:
        return LAST
    at = datetime.fromisoformat(text.replace("Z", "+00:00")).astimezone(timezone.utc)
    return at.isoformat()


def compare(seed, what, dates, got):
    bad = []
    for key, fraction in (("p10", 0.1), ("p50", 0.5), ("p90", 0.9)):
        for name, want in ((key, rank(dates, fraction)), ("recent_" + key, rank_recent(dates, fraction))):
            if not same(want, got.get(name)):
                bad.append("FAIL seed %d: %s %s want %s, got %s" % (seed, what, name, want, got.get(name)))
    return bad


def check(exe, seed):
    """How many figures were compared, and what was wrong with them."""
    case = make(seed)
    years = [clocks(year_behind(case, y))["jobs"][0]
             for y in range(len(case["stations"]["town"]["history"]))]
    with tempfile.NamedTemporaryFile("w", suffix=".json") as f:
        json.dump(case, f)
        f.flush()
        out = subprocess.run([exe, "plan", f.name], capture_output=True, text=True)
    if out.returncode != 0:
        return 1, ["FAIL seed %d: %s" % (seed, out.stderr[:300])]
    job, bad, compared = json.loads(out.stdout)["jobs"][0], [], 0
    if job["fire"]["cure_complete"]:
        dates = [y["fire"]["cure_complete"] or LAST for y in years]
        bad += compare(seed, "fire", dates, job["fire"])
        compared += 6
    for clock in job["clocks"]:
        if clock["state"] != "running":
            continue
        crossings = [next(c["crossing"] for c in y["clocks"] if c["clock"] == clock["clock"])
                     for y in years]
        bad += compare(seed, clock["clock"], [utc(c) for c in crossings], clock)
        compared += 6
    return compared, bad


def main():
    args = argparse.ArgumentParser()
    args.add_argument("exe")
    args.add_argument("--count", type=int, default=20)
    args.add_argument("--seed", type=int, default=1)
    args = args.parse_args()
    compared = failed = 0
    for seed in range(args.seed, args.seed + args.count):
        number, bad = check(args.exe, seed)
        compared, failed = compared + number, failed + len(bad)
        for line in bad:
            print(line)
    print("%d passed, %d failed" % (compared - failed, failed))
    return 1 if failed else 0


sys.exit(main())

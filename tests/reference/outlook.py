#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""outlook.py EMBERWAIT [--count N] [--seed S]: p10, p50 and p90 of the fire date against clocks.py.

For each case every past year is laid behind the forecast by hand, the second implementation works
out the fire date, and the dates are ranked (nearest rank). Closes with `N passed, N failed`.
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
    ahead = rng.choice([24, 72, 168])
    temp, rain = hours(rng, seen, int((now - seen) / HOUR), base)
    ftemp, frain = hours(rng, now, ahead, base)
    history = []
    for year in range(2018, 2018 + rng.choice([5, 6, 9])):
        begin = datetime(year, 1, 1, tzinfo=timezone.utc)
        t, r = hours(rng, begin, int((begin.replace(year=year + 1) - begin) / HOUR), base)
        history.append({"start": begin.isoformat(), "temp_degc": t, "rain_mm": r})
    records = [("chimney-run", -30), ("cap-set", -28), ("line-clean", 0)]
    job = {"id": "j", "name": "J", "time_zone": rng.choice(["America/Denver", "Europe/London"]),
           "station": "town", "rulebook": "modular-masonry",
           "options": {"base": "slab", "pad": "existing", "place": rng.choice(["exposed", "covered"])},
           "quantities": {},
           "records": [{"id": "r%d" % i, "kind": "done", "task": t,
                        "at": (lined + timedelta(hours=h)).isoformat()}
                       for i, (t, h) in enumerate(records)]}
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
    return case


def rank(dates, fraction):
    return sorted(dates)[max(0, math.ceil(fraction * len(dates) - 1e-9) - 1)]


def main():
    args = argparse.ArgumentParser()
    args.add_argument("exe")
    args.add_argument("--count", type=int, default=20)
    args.add_argument("--seed", type=int, default=1)
    args = args.parse_args()
    failed = 0
    for seed in range(args.seed, args.seed + args.count):
        case = make(seed)
        years = len(case["stations"]["town"]["history"])
        dates = [clocks(year_behind(case, y))["jobs"][0]["fire"]["cure_complete"] or "9999"
                 for y in range(years)]
        with tempfile.NamedTemporaryFile("w", suffix=".json") as f:
            json.dump(case, f)
            f.flush()
            out = subprocess.run([args.exe, "plan", f.name], capture_output=True, text=True)
        fire = json.loads(out.stdout)["jobs"][0]["fire"] if out.returncode == 0 else {}
        for key, fraction in (("p10", 0.1), ("p50", 0.5), ("p90", 0.9)):
            want = rank(dates, fraction)
            want = None if want == "9999" else want
            if fire.get(key) != want:
                failed += 1
                print("FAIL seed %d: %s want %s, got %s" % (seed, key, want, fire.get(key)))
    print("%d passed, %d failed" % (3 * args.count - failed, failed))
    return 1 if failed else 0


sys.exit(main())

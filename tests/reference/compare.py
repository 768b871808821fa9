#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""compare.py EMBERWAIT [--count N] [--seed S] [--jobs J]: the daemon's clocks against clocks.py.

Cases come from generate.py.  Cases that share `now` are put into one file, because starting a
process costs more than planning a job; whatever differs is run again alone and made smaller until
nothing more can be left out of it.  `--stories DIR` holds clocks.py itself against stories.
"""
import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime

from clocks import clocks
from generate import GROUP, generate

HAVE_NEAR = 0.01
CROSSING_NEAR_S = 2
SHRINK_RUNS = 300


def seconds(text):
    return datetime.fromisoformat(text.replace("Z", "+00:00")).timestamp()


def same(key, want, got, state):
    """Whether one member of a clock agrees."""
    if want is None or got is None:
        return want is got
    if key in ("have", "need"):
        return key == "have" and state == "ended" or abs(want - got) <= HAVE_NEAR
    if key == "crossing":
        return abs(seconds(want) - seconds(got)) <= CROSSING_NEAR_S
    if key == "opens":
        return seconds(want) == seconds(got)
    return want == got


def differences(want, got):
    """Lines that say where the plan of one job differs from the reference."""
    bad = []
    theirs = {c["clock"]: c for c in got.get("clocks", [])}
    ours = {c["clock"] for c in want["clocks"]}
    for w in want["clocks"]:
        g = theirs.get(w["clock"])
        if g is None:
            bad.append("%s missing (reference: %s)" % (w["clock"], w["state"]))
            continue
        for key in ("state", "have", "need", "unit", "floor_h", "crossing", "opens"):
            if key not in w or key in ("unit", "floor_h") and key not in g:
                continue
            if not same(key, w[key], g.get(key), w.get("state")):
                bad.append("%s %s: want %s, got %s" % (w["clock"], key, w[key], g.get(key)))
    for name, g in theirs.items():
        if name not in ours and g.get("state") != "not-started":
            bad.append("%s not wanted, got %s" % (name, g.get("state")))
    for key, w in want.get("fire", {}).items():
        g = got.get("fire", {}).get(key)
        if g != w:
            bad.append("fire.%s: want %s, got %s" % (key, w, g))
    return bad


def run(exe, case, folder, name):
    """(plan | None, what went wrong)."""
    path = os.path.join(folder, name + ".json")
    with open(path, "w", encoding="utf-8") as f:
        json.dump(case, f)
    try:
        r = subprocess.run([exe, "plan", path], capture_output=True, text=True, timeout=60)
    except subprocess.TimeoutExpired:
        return None, "no answer in 60 s"
    finally:
        os.unlink(path)
    if r.returncode:
        return None, "exit %d: %s" % (r.returncode, r.stderr.strip()[:300])
    try:
        return json.loads(r.stdout), None
    except ValueError as e:
        return None, "not JSON: %s" % e


def check(exe, case, folder, name):
    """Mismatches of a case with one job."""
    plan, wrong = run(exe, case, folder, name)
    if plan is None:
        return [wrong]
    want = clocks(case)["jobs"][0]
    got = next((j for j in plan.get("jobs", []) if j.get("id") == want["id"]), None)
    return ["no such job in the plan"] if got is None else differences(want, got)


def batch(exe, seeds, folder):
    """[(seed, case, mismatches)] of seeds that share `now`, run in one process if it will."""
    cases = [generate(s) for s in seeds]
    if len(cases) > 1:
        many = dict(cases[0], stations={}, jobs=[])
        for c in cases:
            many["stations"].update(c["stations"])
            many["jobs"] += c["jobs"]
        plan, _ = run(exe, many, folder, "batch-%d" % seeds[0])
        if plan is not None:
            got = {j.get("id"): j for j in plan.get("jobs", [])}
            out = []
            for seed, c in zip(seeds, cases):
                want = clocks(c)["jobs"][0]
                bad = differences(want, got.get(want["id"], {}))
                out.append((seed, c, bad))
            return out
    return [(s, c, check(exe, c, folder, "one-%d" % s)) for s, c in zip(seeds, cases)]


def without(items, lo, hi):
    return items[:lo] + items[hi:]


class Shrinker:
    """Leaves out of a case what its failure does not need."""

    def __init__(self, exe, folder, name, crash):
        self.exe, self.folder, self.name, self.crash = exe, folder, name, crash
        self.left = SHRINK_RUNS

    def fails(self, case):
        if self.left <= 0:
            return False
        self.left -= 1
        bad = check(self.exe, case, self.folder, self.name)
        return bool(bad) and (bad[0].startswith("exit ") == self.crash)

    def drop(self, case, get, put):
        """Drop runs of a list, halving their length, while the case still fails."""
        size = max(1, len(get(case)) // 2)
        while size:
            i = 0
            while i < len(get(case)):
                trial = put(case, without(get(case), i, i + size))
                if self.fails(trial):
                    case = trial
                else:
                    i += size
            size //= 2
        return case

    def records(self, case):
        job = case["jobs"][0]
        return self.drop(case, lambda c: c["jobs"][0]["records"],
                         lambda c, r: dict(c, jobs=[dict(c["jobs"][0], records=r)])) \
            if job["records"] else case

    def options(self, case):
        for key in ("town", "mix", "propped", "facing"):
            job = case["jobs"][0]
            if key in job["options"]:
                options = {k: v for k, v in job["options"].items() if k != key}
                trial = dict(case, jobs=[dict(job, options=options)])
                if self.fails(trial):
                    case = trial
        return case

    def station(self, case):
        job = case["jobs"][0]
        if "station" not in job:
            return case
        trial = dict(case, stations={}, jobs=[{k: v for k, v in job.items() if k != "station"}])
        if self.fails(trial):
            return trial
        name = job["station"]
        for what in ("observed", "forecast"):
            if what in case["stations"][name]:
                st = {k: v for k, v in case["stations"][name].items() if k != what}
                trial = dict(case, stations={name: st})
                if self.fails(trial):
                    case = trial
                else:
                    case = self.shorter(case, name, what)
        return case

    def shorter(self, case, name, what):
        """Cut a series off at its end, then leave out its rain."""
        series = case["stations"][name][what]
        cut = len(series["temp_degc"]) // 2
        while cut:
            short = {k: v[:len(v) - cut] if isinstance(v, list) else v for k, v in series.items()}
            trial = dict(case, stations={name: dict(case["stations"][name], **{what: short})})
            if len(short["temp_degc"]) and self.fails(trial):
                case, series = trial, short
            else:
                cut //= 2
        dry = {k: v for k, v in series.items() if k != "rain_mm"}
        trial = dict(case, stations={name: dict(case["stations"][name], **{what: dry})})
        return trial if self.fails(trial) else case

    def shrink(self, case):
        for step in (self.records, self.options, self.station, self.records):
            case = step(case)
        return case


def report(exe, seed, case, bad, folder, keep, shrink):
    """Prints a failure, writes its case and a smaller one."""
    path = os.path.join(keep, "case-%d.json" % seed)
    with open(path, "w", encoding="utf-8") as f:
        json.dump(case, f, indent=1)
    for line in bad:
        print("FAIL seed %d: %s" % (seed, line))
    print("  case   %s" % path)
    if not shrink:
        return
    alone = check(exe, case, folder, "again-%d" % seed)
    if not alone:
        print("  only among other jobs: alone it agrees")
        return
    crash = alone[0].startswith("exit ")
    small = Shrinker(exe, folder, "small-%d" % seed, crash).shrink(case)
    path = os.path.join(keep, "small-%d.json" % seed)
    with open(path, "w", encoding="utf-8") as f:
        json.dump(small, f, indent=1)
    left = check(exe, small, folder, "left-%d" % seed)
    print("  shrunk %s (%d records): %s" % (path, len(small["jobs"][0]["records"]),
                                            "; ".join(left[:2])))


def stories(root):
    """Holds clocks.py against the stories of a directory; answers the exit status."""
    passed = failed = 0
    for name in sorted(os.listdir(root)):
        folder = os.path.join(root, name)
        if not os.path.isfile(os.path.join(folder, "case.json")):
            continue
        with open(os.path.join(folder, "case.json"), encoding="utf-8") as f:
            got = {j["id"]: j for j in clocks(json.load(f))["jobs"]}
        with open(os.path.join(folder, "expect.json"), encoding="utf-8") as f:
            expect = json.load(f)["expect"]
        bad = []
        for want in expect["jobs"]:
            job = got.get(want["id"], {})
            named = {c["clock"] for c in want["clocks"]}
            named_only = dict(job, clocks=[c for c in job.get("clocks", [])
                                           if c["clock"] in named])
            bad += differences({"clocks": want["clocks"], "fire": {
                k: v for k, v in want.get("fire", {}).items() if k in job.get("fire", {})}},
                named_only)
        passed, failed = passed + (not bad), failed + bool(bad)
        print("%s %s%s" % ("FAIL" if bad else "ok  ", name, "".join("\n  " + b for b in bad)))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not passed else 0


def groups(first, count, size):
    """Runs of seeds that share `now`."""
    out, at = [], first
    while at < first + count:
        stop = min(first + count, at + size, (at // GROUP + 1) * GROUP)
        out.append(list(range(at, stop)))
        at = stop
    return out


def main():
    p = argparse.ArgumentParser()
    p.add_argument("exe", nargs="?", help="the program under test")
    p.add_argument("--count", type=int, default=500)
    p.add_argument("--seed", type=int, default=None, help="first seed; default: from the clock")
    p.add_argument("--jobs", type=int, default=2, help="processes at a time")
    p.add_argument("--batch", type=int, default=GROUP, help="jobs in one file, at most %d" % GROUP)
    p.add_argument("--shrink", type=int, default=3, help="how many failing cases to make smaller")
    p.add_argument("--keep", help="where failing cases go; default: a new temporary directory")
    p.add_argument("--stories", help="hold clocks.py against the stories of this directory")
    args = p.parse_args()
    if args.stories:
        return stories(args.stories)
    if not args.exe:
        p.error("EMBERWAIT is missing")
    first = args.seed if args.seed is not None else int(time.time()) % 10**8 // GROUP * GROUP
    print("seed %d" % first)
    began = time.monotonic()
    passed, failures, keep = 0, [], args.keep
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(args.jobs) as pool:
        work = [pool.submit(batch, args.exe, g, folder)
                for g in groups(first, args.count, max(1, args.batch))]
        for w in work:
            for seed, case, bad in w.result():
                passed += not bad
                if bad:
                    failures.append((seed, case, bad))
        for i, (seed, case, bad) in enumerate(failures):
            keep = keep or tempfile.mkdtemp(prefix="emberwait-compare-")
            os.makedirs(keep, exist_ok=True)
            report(args.exe, seed, case, bad, folder, keep, i < args.shrink)
    print("%.1f s" % (time.monotonic() - began))
    print("%d passed, %d failed" % (passed, len(failures)))
    return 1 if failures or not passed else 0


if __name__ == "__main__":
    sys.exit(main())

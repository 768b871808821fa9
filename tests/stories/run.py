#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py EMBERWAIT [DIRECTORY...]: every story's plan against what the story expects.

A story is a folder with case.json and expect.json. Only the members that expect.json names are
compared: `have` and `need` to 0.01, `crossing` to 2 s, `opens` as the same instant, everything else
exactly; `cautions` are ids that have to be among the job's, `lists` rows in their order. A story that cannot be read, or a clock that is missing, is a failure.
"""
import json
import os
import subprocess
import sys
from datetime import datetime

HERE = os.path.dirname(os.path.abspath(__file__))


def seconds(text):
    return datetime.fromisoformat(text.replace("Z", "+00:00")).timestamp()


def agrees(member, wanted, got):
    if wanted is None or got is None:
        return wanted is got
    if member in ("have", "need"):
        return abs(got - wanted) <= 0.01
    if member == "crossing":
        return abs(seconds(got) - seconds(wanted)) <= 2
    if member == "opens":
        return seconds(got) == seconds(wanted)
    return got == wanted


def shortened(task):
    """A task with `driver` (the rule of its first reason) and `measures` as their ids."""
    return dict(task, driver=task["because"][0]["rule"] if task.get("because") else None,
                measures=[m["measure"] for m in task.get("measures", [])])


def weather(job):
    """The weather's lists of a job, each as short as a story can write it by hand."""
    pour = job.get("can_pour")
    rule = lambda item: item["figure"]["rule"] if item["figure"] else None
    return {"can_pour": None if pour is None else [pour["state"], rule(pour)],
            "tonight": [[t["what"], rule(t), t["before"], t["alarm"]] for t in job.get("tonight", [])],
            "half_days": [[h["date"], h["half"], h["hours_lost"], h["lost"], rule(h)]
                          for h in job.get("weather_half_days", [])]}


def compare_members(where, wanted, got):
    return ["%s.%s: wanted %s, got %s" % (where, member, json.dumps(value), json.dumps(got.get(member)))
            for member, value in wanted.items() if not agrees(member, value, got.get(member))]


def compare(expected, plan):
    """Every difference, as a sentence."""
    differences = []
    jobs = {job["id"]: job for job in plan["jobs"]}
    for wanted in expected["jobs"]:
        job = jobs.get(wanted["id"])
        if job is None:
            differences.append("no job %s" % wanted["id"])
            continue
        clocks = {clock["clock"]: clock for clock in job["clocks"]}
        for clock in wanted.get("clocks", []):
            if clock["clock"] not in clocks:
                differences.append("no clock %s" % clock["clock"])
            else:
                differences += compare_members(clock["clock"], clock, clocks[clock["clock"]])
        differences += compare_members("fire", wanted.get("fire", {}), job["fire"])
        tasks = {task["task"]: task for task in job["tasks"]}
        for task in wanted.get("tasks", []):
            differences += compare_members(task["task"], task,
                                           shortened(tasks.get(task["task"], {})))
        differences += compare_members("weather", wanted.get("weather", {}), weather(job))
    return differences


def tell(executable, folder):
    """The differences of one story; an empty list when it holds."""
    with open(os.path.join(folder, "expect.json"), encoding="utf-8") as file:
        expected = json.load(file)["expect"]
    answer = subprocess.run([executable, "plan", os.path.join(folder, "case.json")],
                            capture_output=True, text=True, timeout=60)
    if answer.returncode != 0:
        return ["exit %d: %s" % (answer.returncode, answer.stderr.strip()[:300])]
    if not any(job.get("clocks") or job.get("fire") or job.get("tasks") for job in expected["jobs"]):
        return ["expects nothing"]
    return compare(expected, json.loads(answer.stdout))


def main():
    if len(sys.argv) < 2:
        sys.exit("usage: run.py EMBERWAIT [DIRECTORY...]")
    passed = failed = 0
    for root in sys.argv[2:] or [HERE]:
        for name in sorted(os.listdir(root)):
            folder = os.path.join(root, name)
            if not os.path.isfile(os.path.join(folder, "case.json")):
                continue
            try:
                differences = tell(sys.argv[1], folder)
            except (OSError, ValueError, KeyError, TypeError, subprocess.TimeoutExpired) as error:
                differences = [repr(error)]
            passed += not differences
            failed += bool(differences)
            print("%s %s" % ("FAIL" if differences else "ok  ", name))
            for difference in differences:
                print("     " + difference)
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())

#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py EMBERWAIT: lists of holidays as an owner gets them, looks through them and takes them over.

Dates of holidays are common knowledge, from memory. Without the package of deploy/holidays (`npm ci`
there) the tests that ask it are left out and said so. Closes with `N passed, N failed`.
"""
import json
import os
import subprocess
import sys
import tempfile

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
FOLDER = os.path.join(ROOT, "deploy", "holidays")
SCRIPT = os.path.join(FOLDER, "holidays.mjs")
EXE = os.path.abspath(sys.argv[1])
COMPANY = {"time_zone": "America/Denver", "work_days": ["mon", "tue", "wed", "thu", "fri"],
           "work_hours": ["07:00", "15:30"], "holidays": ["2025-12-25", "2026-12-25"],
           "inspectors": [{"id": "alder", "holidays": []}]}


def holidays(*arguments):
    return subprocess.run(["node", SCRIPT, *arguments], capture_output=True, text=True, timeout=60,
                          stdin=subprocess.DEVNULL)


def file(folder, name, text):
    path = os.path.join(folder, name)
    with open(path, "w", encoding="utf-8") as out:
        out.write(text if isinstance(text, str) else json.dumps(text))
    return path


def days(text):
    return {line.split()[0]: line for line in text.splitlines() if not line.startswith("#")}


def the_days_of_a_year_are_listed(folder):
    made = holidays("list", "US", "2026")
    assert made.returncode == 0, made.stderr
    got = days(made.stdout)
    for date, name in (("2026-01-01", "New Year"), ("2026-05-25", "Memorial"), ("2026-11-26", "Thanksgiving"),
                       ("2026-12-25", "Christmas")):
        assert name in got[date], (date, got.get(date))
    assert "2026-09-07" in got and "2026-02-14" not in got, got
    assert list(got) == sorted(got)


def a_state_has_days_of_its_own(folder):
    assert "2026-10-05" in days(holidays("list", "US-co", "2026").stdout)
    assert "2026-10-05" not in days(holidays("list", "US", "2026").stdout)


def a_place_or_year_that_is_none_is_64(folder):
    for place, year in (("XX", "2026"), ("US-zz", "2026"), ("US", "next"), ("US", "99")):
        made = holidays("list", place, year)
        assert made.returncode == 64 and "wanted" in made.stderr, (place, year, made)


def a_list_goes_into_a_company_and_its_plan(folder):
    """Looked through by the owner: he works on Columbus Day, and keeps a day of his own."""
    kept = file(folder, "list.txt", "# looked through\n2026-09-07 Mon Labor Day\n#2026-10-12 Mon Columbus Day\n"
                                    "2026-11-27 Fri the day after\n\n")
    company = file(folder, "company.json", COMPANY)
    made = holidays("write", kept, company)
    assert made.returncode == 0, made.stderr
    with open(company, encoding="utf-8") as got:
        whole = json.load(got)
    assert whole["holidays"] == ["2025-12-25", "2026-09-07", "2026-11-27"], whole["holidays"]
    assert whole["inspectors"] == COMPANY["inspectors"] and whole["work_days"] == COMPANY["work_days"]
    case = file(folder, "case.json", {
        "emberwait": 1, "now": "2026-09-04T16:00:00-06:00", "company": whole,
        "jobs": [{"id": "elm", "options": {"base": "slab", "pad": "existing", "place": "indoor"}}]})
    plan = subprocess.run([EXE, "plan", case], capture_output=True, text=True, timeout=60)
    assert plan.returncode == 0, plan.stderr
    walk = [t for t in json.loads(plan.stdout)["jobs"][0]["tasks"] if t["task"] == "site-walk"][0]
    assert walk["start"] == "2026-09-08T07:00:00-06:00", walk["start"]


def a_town_has_a_list_of_its_own(folder):
    company = file(folder, "company.json", COMPANY)
    kept = file(folder, "list.txt", "2026-10-12 Mon Columbus Day\n")
    assert holidays("write", kept, company, "alder").returncode == 0
    with open(company, encoding="utf-8") as got:
        whole = json.load(got)
    assert whole["inspectors"][0]["holidays"] == ["2026-10-12"]
    assert whole["holidays"] == COMPANY["holidays"]


def what_cannot_be_read_changes_nothing(folder):
    good = file(folder, "list.txt", "2026-10-12 Mon Columbus Day\n")
    company = file(folder, "company.json", COMPANY)
    for status, arguments in ((65, (file(folder, "a", "12 October\n"), company)),
                              (65, (file(folder, "b", "2026-02-30 Mon none\n"), company)),
                              (65, (file(folder, "c", "# nothing\n"), company)),
                              (64, (good, company, "nobody")),
                              (65, (good, file(folder, "d", "{")),),
                              (65, (good, file(folder, "e", "[]"))), (64, (good,)), (64, ())):
        made = holidays("write", *arguments)
        assert made.returncode == status and made.stderr, (arguments, made)
    with open(company, encoding="utf-8") as got:
        assert json.load(got) == COMPANY


def main():
    asked = [the_days_of_a_year_are_listed, a_state_has_days_of_its_own, a_place_or_year_that_is_none_is_64]
    tests = [a_list_goes_into_a_company_and_its_plan, a_town_has_a_list_of_its_own,
             what_cannot_be_read_changes_nothing]
    there = os.path.isdir(os.path.join(FOLDER, "node_modules", "date-holidays"))
    if not there:
        print("the package date-holidays is not installed: run `npm ci` in deploy/holidays", file=sys.stderr)
    failed, tried = 0, (asked if there else []) + tests
    for test in tried:
        with tempfile.TemporaryDirectory() as folder:
            try:
                test(folder)
            except (AssertionError, KeyError, OSError, subprocess.TimeoutExpired) as error:
                failed += 1
                print("FAIL %s: %s" % (test.__name__, error or "not so"))
    print("%d passed, %d failed%s" % (len(tried) - failed, failed, "" if there else ", %d skipped" % len(asked)))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py BUILD [--quick] [--only WORD] [--list]: every test of the project, closing with one count.

A step is a command. Its count is taken from what it prints: the line `N passed, N failed` (with
`, N skipped`), or Check's `100%: Checks: N, Failures: N, Errors: N`. A step that exits non-zero
without such a line counts as one failure; a step that exits 77 says why it could not run and fails,
unless it is marked optional.
"""
import concurrent.futures
import os
import re
import subprocess
import sys
import time

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
PLAIN = re.compile(r"^(\d+) passed, (\d+) failed(?:, (\d+) skipped)?$", re.M)
CHECK = re.compile(r"^\d+%: Checks: (\d+), Failures: (\d+), Errors: (\d+)$", re.M)


def sanitized_steps(build):
    """The same tests again with AddressSanitizer and UBSan looking on."""
    exe = os.path.join(build, "emberwait")
    out = [("sanitized " + n, [os.path.join(build, n)]) for n in sorted(os.listdir(build))
           if re.match(r"test_\w+$", n) and os.access(os.path.join(build, n), os.X_OK)]
    out.append(("sanitized stories",
                [sys.executable, os.path.join(ROOT, "tests", "stories", "run.py"), exe]))
    reference = os.path.join(ROOT, "tests", "reference", "compare.py")
    out.append(("sanitized reference", [sys.executable, reference, exe, "--count", "400", "--seed", "9000"]))
    http = os.path.join(ROOT, "tests", "http", "run.py")
    if os.path.exists(http):
        out.append(("sanitized http", [sys.executable, http, exe]))
    return out


def steps(build, quick):
    exe = os.path.join(build, "emberwait")
    py = sys.executable
    test = lambda *p: os.path.join(ROOT, "tests", *p)
    out = []
    for name in sorted(os.listdir(build)):
        path = os.path.join(build, name)
        if re.match(r"test_\w+$", name) and os.access(path, os.X_OK) and os.path.isfile(path):
            out.append(("unit " + name[5:], [path]))
    out.append(("stories", [py, test("stories", "run.py"), exe]))
    out.append(("lint", [py, test("lint", "lint.py"), ROOT, build]))
    more = [
        ("reference", test("reference", "compare.py"),
         [py, test("reference", "compare.py"), exe, "--count", "400" if quick else "4000"]),
        ("outlook", test("reference", "outlook.py"),
         [py, test("reference", "outlook.py"), exe, "--count", "10" if quick else "100"]),
        ("properties", os.path.join(build, "properties"),
         [os.path.join(build, "properties"), "5000" if quick else "100000"]),
        ("http", test("http", "run.py"), [py, test("http", "run.py"), exe]),
        ("demo", test("demo", "run.py"), [py, test("demo", "run.py"), exe]),
        ("schema", test("lint", "schema.py"), [py, test("lint", "schema.py"), ROOT, exe]),
        ("psychro", test("reference", "psychro", "compare.mjs"),
         ["node", test("reference", "psychro", "compare.mjs"), exe]),
    ]
    out += [(name, command) for name, path, command in more if os.path.exists(path)]
    return out


def run(step):
    name, command = step
    begin = time.monotonic()
    env = dict(os.environ, CK_FORK="yes", CK_DEFAULT_TIMEOUT="120", EMBERWAIT_DATA=ROOT)
    try:
        r = subprocess.run(command, capture_output=True, text=True, timeout=1500, env=env,
                           stdin=subprocess.DEVNULL)
        text, code = r.stdout + r.stderr, r.returncode
    except subprocess.TimeoutExpired as e:
        text, code = "timed out after %d s" % e.timeout, 1
    except FileNotFoundError as e:
        text, code = str(e), 127
    passed = failed = 0
    plain, check = PLAIN.findall(text), CHECK.findall(text)
    if plain:
        passed, failed = int(plain[-1][0]), int(plain[-1][1])
    elif check:
        total = sum(int(c[0]) for c in check)
        failed = sum(int(c[1]) + int(c[2]) for c in check)
        passed = total - failed
    if code != 0 and failed == 0:
        failed = 1
    if code == 0 and passed == 0:
        failed = 1
        text += "\nran no test"
    return name, passed, failed, time.monotonic() - begin, text


def main():
    build = os.path.abspath(sys.argv[1])
    quick = "--quick" in sys.argv
    todo = steps(build, quick)
    if "--sanitized" in sys.argv:
        todo += sanitized_steps(os.path.abspath(sys.argv[sys.argv.index("--sanitized") + 1]))
    if "--only" in sys.argv:
        word = sys.argv[sys.argv.index("--only") + 1]
        todo = [s for s in todo if word in s[0]]
    if "--list" in sys.argv:
        print("\n".join(s[0] for s in todo))
        return 0
    passed = failed = 0
    with concurrent.futures.ThreadPoolExecutor(max_workers=2) as pool:
        for name, p, f, seconds, text in pool.map(run, todo):
            passed, failed = passed + p, failed + f
            print("%-28s %6d passed %4d failed %7.1f s" % (name, p, f, seconds), flush=True)
            if f:
                print("\n".join("    " + line for line in text.splitlines()[-60:]), flush=True)
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not passed else 0


sys.exit(main())

#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py BUILD [--sanitized BUILD] [--quick] [--only WORD] [--list]: every test, one closing count.

A step is a command; two run at a time, the long ones first. Its count is taken from what it prints:
the line `N passed, N failed`, or Check's `100%: Checks: N, Failures: N, Errors: N`. A step that exits
non-zero without a failure in its count is one failure, and so is one that ran nothing: no step can
pass in silence. A step that exits 77 could not be run, says why, and stands in the closing line.
`--quick` takes fewer random cases and leaves out what takes minutes.

A new step needs no registration: a program test_* in BUILD, or tests/<name>/run.py, which is given
the path of `emberwait`. It finds EMBERWAIT_QUICK=1 in its environment when time is short.
"""
import concurrent.futures
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
TESTS = os.path.join(ROOT, "tests")
PLAIN = re.compile(r"^(\d+) passed, (\d+) failed(?:, (\d+) skipped)?$", re.M)
CHECK = re.compile(r"^\d+%: Checks: (\d+), Failures: (\d+), Errors: (\d+)$", re.M)


# Seconds on two slow cores, for the order only; what is not named is short.
LONG = {"clang-tidy": 300, "mutants": 280, "reference": 90, "properties": 80, "companies": 240, "sanitized reference": 70,
        "sanitized properties": 60, "sanitized http": 50, "http": 40, "browser": 200, "demo": 30, "cppcheck": 25,
        "sanitized unit intake_mutations": 60, "lint": 10}
# Folders whose run.py is named below, because it takes something else than the program.
OWN_ARGUMENTS = {"mutants"}
# Folders whose run.py is worth a second run under the sanitizers.
UNDER_SANITIZERS = {"stories", "http", "store", "fault"}


def programs(build, prefix):
    return [(prefix + name[5:], [os.path.join(build, name)]) for name in sorted(os.listdir(build))
            if re.match(r"test_\w+$", name) and os.path.isfile(os.path.join(build, name))
            and os.access(os.path.join(build, name), os.X_OK)]


def folders():
    return [name for name in sorted(os.listdir(TESTS))
            if os.path.exists(os.path.join(TESTS, name, "run.py")) and name not in OWN_ARGUMENTS]


def python(*words):
    """A step of python: words with a slash are below tests/, the rest stay."""
    return [sys.executable] + [os.path.join(TESTS, w[2:]) if w.startswith("./") else w for w in words]


def sanitized_steps(build):
    """The same tests again with AddressSanitizer and UBSan looking on."""
    exe = os.path.join(build, "emberwait")
    # test_app_fault takes malloc for itself, which the sanitizer has already done.
    out = [step for step in programs(build, "sanitized unit ") if "app_fault" not in step[0]]
    out += [("sanitized " + name, python("./%s/run.py" % name, exe)) for name in folders()
            if name in UNDER_SANITIZERS]
    out.append(("sanitized reference", python("./reference/compare.py", exe, "--count", "400",
                                              "--seed", "9000")))
    out.append(("sanitized properties", [os.path.join(build, "properties"), "2000", "7"]))
    return out


def steps(build, quick):
    exe = os.path.join(build, "emberwait")
    out = programs(build, "unit ")
    out += [(name, python("./%s/run.py" % name, exe)) for name in folders()]
    out.append(("lint", python("./lint/lint.py", ROOT, build)))
    out.append(("documents", python("./lint/documents.py", ROOT, exe)))
    out.append(("reference", python("./reference/compare.py", exe, "--seed", "1", "--count",
                                    "400" if quick else "4000")))
    out.append(("outlook", python("./reference/outlook.py", exe, "--count", "5" if quick else "30")))
    out.append(("properties", [os.path.join(build, "properties"), "5000" if quick else "100000"]))
    out.append(("companies", [os.path.join(build, "companies"), "1500" if quick else "50000"]))
    if not quick:
        out.append(("psychro", ["node", os.path.join(TESTS, "reference/psychro/compare.mjs"), exe]))
        out.append(("clang-tidy", python("./lint/analyze.py", "clang-tidy", build)))
        out.append(("cppcheck", python("./lint/analyze.py", "cppcheck", build)))
        out.append(("mutants", python("./mutants/run.py", ROOT, "--seconds", "240")))
    return out


def measure(step, folder):
    name, command = step
    begin = time.monotonic()
    env = dict(os.environ, CK_FORK="yes", CK_DEFAULT_TIMEOUT="120", EMBERWAIT_DATA=ROOT,
               PYTHONDONTWRITEBYTECODE="1", TMPDIR=folder)
    if "--quick" in sys.argv:
        env["EMBERWAIT_QUICK"] = "1"
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
    if code == 77:  # the step says why it could not run; said again in the closing line
        return name, 0, 0, time.monotonic() - begin, text, 1
    if code != 0 and failed == 0:
        failed = 1
    if code == 0 and passed == 0:
        failed = 1
        text += "\nran no test"
    return name, passed, failed, time.monotonic() - begin, text, 0


def run(step):
    """A step in a folder of its own for what it writes; it stays only when the step failed."""
    folder = tempfile.mkdtemp(prefix="emberwait-tests-")
    result = measure(step, folder)
    if not result[2]:
        shutil.rmtree(folder, ignore_errors=True)
    return result


def main():
    build = os.path.abspath(sys.argv[1])
    quick = "--quick" in sys.argv
    todo = steps(build, quick)
    if "--sanitized" in sys.argv:
        todo += sanitized_steps(os.path.abspath(sys.argv[sys.argv.index("--sanitized") + 1]))
    todo.sort(key=lambda step: -LONG.get(step[0], 0))
    if "--only" in sys.argv:
        word = sys.argv[sys.argv.index("--only") + 1]
        todo = [s for s in todo if word in s[0]]
    if "--list" in sys.argv:
        print("\n".join(s[0] for s in todo))
        return 0
    passed = failed = skipped = 0
    with concurrent.futures.ThreadPoolExecutor(max_workers=2) as pool:
        for done in concurrent.futures.as_completed([pool.submit(run, step) for step in todo]):
            name, p, f, seconds, text, left_out = done.result()
            passed, failed, skipped = passed + p, failed + f, skipped + left_out
            print("%-28s %6d passed %4d failed %7.1f s" % (name, p, f, seconds), flush=True)
            if f or left_out:
                print("\n".join("    " + line for line in text.splitlines()[-60:]), flush=True)
    print("%d passed, %d failed%s" % (passed, failed, ", %d skipped" % skipped if skipped else ""))
    return 1 if failed or not passed else 0


sys.exit(main())

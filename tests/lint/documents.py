#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""documents.py ROOT EMBERWAIT: what the pages say is there is there, and what is there is said.

Prints one line a fault and closes with `N passed, N failed` (a check is one). Not here, because a
unit test holds it already: routes against schema/openapi.json, the two lists of words.
"""
import glob
import json
import os
import re
import shutil
import subprocess
import sys

ROOT = os.path.abspath(sys.argv[1])
EXE = os.path.abspath(sys.argv[2])
# Import names of Debian's python packages that the tests may use.
PACKAGES = {"icalendar": "python3-icalendar", "jsonschema": "python3-jsonschema"}


def text(*path):
    with open(os.path.join(ROOT, *path), encoding="utf-8") as file:
        return file.read()


def told(*arguments):
    answer = subprocess.run([EXE, *arguments], capture_output=True, text=True, timeout=60,
                            stdin=subprocess.DEVNULL, env=dict(os.environ, EMBERWAIT_DATA=ROOT))
    return answer.stdout + answer.stderr


def commands():
    return re.findall(r"^  ([a-z]+) ", told("help"), re.M)


def man():
    return text("deploy", "emberwait.1").replace("\\-", "-")


def code():
    """All C text, for the names that pages use."""
    return "\n".join(text(os.path.relpath(path, ROOT)) for path in
                     sorted(glob.glob(os.path.join(ROOT, "server", "*", "*.[ch]")) +
                            glob.glob(os.path.join(ROOT, "tests", "**", "*.[ch]"), recursive=True)))


def pages():
    return ["README.md", "DEVELOPERS.md"] + sorted(
        os.path.relpath(path, ROOT) for path in glob.glob(os.path.join(ROOT, "server", "*", "README.md")))


def check_commands():
    """Every command stands in README.md and the manual page, and none that does not exist."""
    there = commands()
    faults = [] if there else ["`emberwait help` names no command"]
    for name in there:
        if not re.search(r"`(emberwait )?%s\b" % name, text("README.md")):
            faults.append("README.md: no `%s`" % name)
        if not re.search(r"^\.B[IR]? %s\b" % name, man(), re.M):
            faults.append("deploy/emberwait.1: no %s" % name)
    for name in re.findall(r"emberwait ([a-z]+)", text("README.md") + man()):
        if name not in there + ["help"] and "emberwait %s" % name in re.sub(
                r"[^`]*(`[^`]*`)?", r"\1", text("README.md")):
            faults.append("README.md: `emberwait %s` is no command" % name)
    return faults


def check_options():
    """An --option in a page, a unit or the manual is one the program reads, and the other way round."""
    read = set(re.findall(r'"(--[a-z-]+)"', code()))
    faults = []
    for name in ["README.md", "deploy/emberwait.service.in"]:
        for option in re.findall(r"emberwait [^`\n]*?(--[a-z-]+)", text(name)):
            if option not in read:
                faults.append("%s: %s is read nowhere" % (name, option))
    manual = set(re.findall(r"(--[a-z][a-z-]+)", man()))
    faults += ["deploy/emberwait.1: %s is read nowhere" % o for o in sorted(manual - read)]
    cli = set(re.findall(r'"(--[a-z-]+)"', "\n".join(
        text(os.path.relpath(p, ROOT)) for p in glob.glob(os.path.join(ROOT, "server/cli/*.c")))))
    faults += ["deploy/emberwait.1: no %s" % o for o in sorted(cli - manual - {"--help", "--version"})]
    return faults


def check_quantities():
    """Every quantity of `calc` stands in the manual page."""
    there = re.findall(r"^([a-z]+(?:-[a-z]+)+|evaporation) -> ", told("calc"), re.M)
    faults = [] if len(there) > 5 else ["`emberwait calc` lists %d quantities" % len(there)]
    return faults + ["deploy/emberwait.1: no %s" % q for q in there
                     if not re.search(r"(?<![\w-])%s(?![\w-])" % q, man())]


def check_rules_shown():
    """`rulebook show` tells every setting, clock, task and gate of the shipped rulebook, by its id."""
    shown, faults = told("rulebook", "show"), []
    book = json.loads(text("schema", "rulebook", "modular-masonry.json"))
    for kind in ("settings", "clocks", "tasks"):
        for row in book[kind]:
            name = row.get("id") or row.get("clock") or row.get("task")
            if not re.search(r"(?<![\w.-])%s(?![\w-])" % re.escape(name), shown):
                faults.append("rulebook show: no %s" % name)
    return faults


def check_exit_statuses():
    """README.md and the manual name the exit statuses that the help names."""
    there = re.findall(r"(\d+) [a-z]", told("help").split("Exit statuses")[-1])
    faults = [] if len(there) > 3 else ["the help names no exit statuses"]
    for number in there:
        for name, page in (("README.md", text("README.md")), ("deploy/emberwait.1", man())):
            if not re.search(r"(?<!\d)%s(?!\d)" % number, page):
                faults.append("%s: no exit status %s" % (name, number))
    return faults


def check_paths():
    """A path in a page exists."""
    faults = []
    roots = "server|schema|static|tests|deploy"
    for page in pages():
        for path in re.findall(r"`((?:%s)/[\w./*-]+)`" % roots, text(page)):
            if "NNNN" not in path and not glob.glob(os.path.join(ROOT, path.rstrip("/"))):
                faults.append("%s: no %s" % (page, path))
    for folder in sorted(os.listdir(os.path.join(ROOT, "server"))):
        here = os.path.join(ROOT, "server", folder)
        if glob.glob(os.path.join(here, "*.c")) and not os.path.exists(os.path.join(here, "README.md")):
            faults.append("server/%s: no README.md" % folder)
    return faults


def check_names():
    """A function, type or constant that DEVELOPERS.md names is in the sources."""
    body, faults = code() + text("CMakeLists.txt") + text("tests", "run.py"), []
    body += "\n".join(os.listdir(os.path.join(ROOT, "tests", "unit")))
    for path in glob.glob(os.path.join(ROOT, "tests", "bench", "*")):
        body += text(os.path.relpath(path, ROOT)) if os.path.isfile(path) else ""
    for name in sorted(set(re.findall(r"`([a-z]+_[a-z_]+|[A-Z]+_[A-Z_]+)(?:\(\))?`", text("DEVELOPERS.md")))):
        if not re.search(r"\b%s" % name, body):
            faults.append("DEVELOPERS.md: no %s in the sources" % name)
    return faults


def check_imports():
    """What a Python test imports comes with Python, lies beside it, or is brought by deploy/setup."""
    faults = []
    for path in glob.glob(os.path.join(ROOT, "tests", "**", "*.py"), recursive=True):
        if "node_modules" in path:
            continue
        name = os.path.relpath(path, ROOT)
        for module in re.findall(r"^\s*(?:import|from) (\w+)", text(name), re.M):
            beside = os.path.join(os.path.dirname(path), module + ".py")
            known = glob.glob(os.path.join(ROOT, "tests", "*", module + ".py"))
            if module in sys.stdlib_module_names or os.path.exists(beside) or known:
                continue
            if PACKAGES.get(module, "?") not in text("deploy", "setup"):
                faults.append("%s: %s is not brought by deploy/setup" % (name, module))
    return faults


def check_locks():
    """Lock files name no place to download from."""
    faults = []
    for path in glob.glob(os.path.join(ROOT, "tests", "**", "package-lock.json"), recursive=True):
        name = os.path.relpath(path, ROOT)
        if "node_modules" not in name and re.search(r'"resolved"|https?:', text(name)):
            faults.append("%s: names an address" % name)
    return faults


def check_manual():
    """The manual page formats without a warning."""
    if shutil.which("groff") is None:
        return ["no groff: deploy/setup test brings it"]
    answer = subprocess.run(["groff", "-ww", "-z", "-man", "-Tutf8",
                             os.path.join(ROOT, "deploy", "emberwait.1")],
                            capture_output=True, text=True)
    return answer.stderr.splitlines()


def main():
    checks = [check_commands, check_options, check_quantities, check_rules_shown, check_exit_statuses,
              check_paths, check_names, check_imports, check_locks, check_manual]
    failed = 0
    for check in checks:
        faults = check()
        failed += bool(faults)
        for fault in faults:
            print("%s: %s" % (check.__name__, fault))
        if faults:
            print("  why: %s" % check.__doc__)
    print("%d passed, %d failed" % (len(checks) - failed, failed))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""analyze.py clang-tidy|cppcheck BUILD: every C file of server/ through an analyzer.

The list of checks is .clang-tidy, with the reason of each that is off; the files and their flags are
those of compile_commands.json in BUILD. One file is one pass or failure. A finding is mended, or
quieted in its line with `NOLINT(check)` or `cppcheck-suppress` and a reason.
"""
import json
import os
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))


def ours(build):
    with open(os.path.join(build, "compile_commands.json"), encoding="utf-8") as file:
        commands = json.load(file)
    server = os.path.join(ROOT, "server") + os.sep
    return sorted({c["file"] for c in commands if c["file"].startswith(server)})


def clang_tidy(build, path):
    answer = subprocess.run(["clang-tidy", "-p", build, "--quiet", path], capture_output=True,
                            text=True)
    return answer.returncode, answer.stdout


def cppcheck(_, path):
    answer = subprocess.run(
        ["cppcheck", "--quiet", "--std=c11", "--enable=warning,portability", "--inline-suppr",
         "--error-exitcode=1", "--suppress=missingInclude", "--suppress=missingIncludeSystem",
         "--suppress=uninitvar",  # takes any array of pointers for unset; gcc and clang look as well
         "--suppress=autoVariables:*/store/store.c",  # the caller waits until the writer is done
         "-D_POSIX_C_SOURCE=200809L", "-I", os.path.join(ROOT, "server"), path],
        capture_output=True, text=True)
    return answer.returncode, answer.stderr


def main():
    tool = {"clang-tidy": clang_tidy, "cppcheck": cppcheck}[sys.argv[1]]
    build = os.path.abspath(sys.argv[2])
    paths = ours(build)
    failed = 0
    with ThreadPoolExecutor(max_workers=max(1, (os.cpu_count() or 1) - 1)) as pool:
        for path, (code, text) in zip(paths, pool.map(lambda p: tool(build, p), paths)):
            if code == 0:
                continue
            failed += 1
            found = re.findall(r"^\S+:\d+:\d+: (?:error|warning|portability).*$", text, re.M)
            print("\n".join(found or [os.path.relpath(path, ROOT) + ": " + text.strip()[-400:]]))
    print("%d passed, %d failed" % (len(paths) - failed, failed))
    return 1 if failed or not paths else 0


if __name__ == "__main__":
    sys.exit(main())

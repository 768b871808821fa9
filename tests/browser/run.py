#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py EMBERWAIT [WORD]: the pages in a real browser; only the cases whose name holds WORD.

Debian's chromium is driven by the npm package playwright-core and looked over by axe-core. Without a
browser, node or the packages the step says what is missing and exits 77. EMBERWAIT_QUICK=1 takes the
few cases that guard the rest. Screenshots go to the folder named by EMBERWAIT_SHOTS, when there is one.
"""
import os
import shutil
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
PACKAGES = ("playwright-core", "axe-core")


def skip(why):
    print("not run: " + why)
    sys.exit(77)


def main():
    if len(sys.argv) < 2:
        sys.exit("usage: run.py EMBERWAIT [WORD]")
    browser = next((path for path in map(shutil.which, BROWSERS) if path), None)
    if browser is None:
        skip("no chromium; `deploy/setup test` brings it")
    if shutil.which("node") is None:
        skip("no node; `deploy/setup test` brings it")
    for package in PACKAGES:
        if not os.path.isdir(os.path.join(HERE, "node_modules", package)):
            skip("%s is not there; run `npm ci` in tests/browser" % package)
    command = ["node", os.path.join(HERE, "run.mjs"), os.path.abspath(sys.argv[1]), *sys.argv[2:]]
    os.execvpe("node", command, dict(os.environ, EMBERWAIT_BROWSER=browser))


main()

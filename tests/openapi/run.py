#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py EMBERWAIT: schema/openapi.json before judges that are not ours.

A package of its own says whether it is OpenAPI 3.1; what readers trip over besides is told too. The
answers of the running server are held against it, by ajv, in tests/http. Without node or the packages
the step says what is missing and exits 77.
"""
import os
import shutil
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
SCHEMA = os.path.join(os.path.dirname(os.path.dirname(HERE)), "schema")
PACKAGES = ("@seriousme/openapi-schema-validator", "ajv", "ajv-formats")


def missing():
    """What is not there to judge with; None when all is."""
    if shutil.which("node") is None:
        return "no node; `deploy/setup test` brings it"
    for package in PACKAGES:
        if not os.path.isdir(os.path.join(HERE, "node_modules", package)):
            return "%s is not there; run `npm ci` in tests/openapi" % package
    return None


def judge(script, *arguments):
    """(exit status, last line of what was said, what was said besides)."""
    run = subprocess.run(["node", os.path.join(HERE, script), os.path.join(SCHEMA, "openapi.json"),
                          os.path.join(SCHEMA, "json"), *arguments], capture_output=True, text=True, timeout=300)
    lines = run.stdout.strip().splitlines()
    return run.returncode, lines[-1] if lines else "0 passed, 1 failed", run.stderr


def main():
    why = missing()
    if why:
        print("not run: " + why)
        return 77
    code, line, said = judge("lint.mjs")
    sys.stderr.write(said)
    print(line)
    return code


if __name__ == "__main__":
    sys.exit(main())

#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py EMBERWAIT [--only WORD]: the server from outside, every route, and what must be refused.

A check is one line; closes with `N passed, N failed`.
"""
import os
import sys
import threading
import traceback

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import case_answers  # noqa: E402
import case_bad  # noqa: E402
import case_checks  # noqa: E402
import case_dates  # noqa: E402
import case_csv  # noqa: E402
import case_evil  # noqa: E402
import case_keep  # noqa: E402
import case_mail  # noqa: E402
import case_paper  # noqa: E402
import case_people  # noqa: E402
import case_photos  # noqa: E402
import case_screens  # noqa: E402
import case_slow  # noqa: E402
import case_tokens  # noqa: E402
from client import Client, Description, Server, Tally, jsonschema  # noqa: E402
from sample import fill  # noqa: E402


def cases():
    for module in (case_answers, case_bad, case_checks, case_csv, case_tokens, case_keep, case_paper,
                   case_people, case_photos, case_screens,
                   case_dates, case_evil):
        for name, run in sorted(vars(module).items()):
            if name.startswith("test_"):
                yield name, run


def guarded(check, name, run, *arguments):
    try:
        run(check, *arguments)
    except Exception:
        check(name, False, traceback.format_exc())


def main():
    exe = os.path.abspath(sys.argv[1])
    only = sys.argv[sys.argv.index("--only") + 1] if "--only" in sys.argv else ""
    check, description = Tally(), Description()
    slow_check = Tally()
    slow = None
    if only in "slow":
        slow = threading.Thread(target=guarded, args=(slow_check, "slow", case_slow.run, exe))
        slow.start()
    mail_check = Tally()
    mail = None
    if only in "mail":
        mail = threading.Thread(target=guarded,
                                args=(mail_check, "mail", case_mail.run, exe, description))
        mail.start()
    for name, run in cases():
        if only not in name:
            continue
        server = Server(exe)
        client = Client(server, description)
        try:
            fill(client)
            guarded(check, name, run, exe, server, client)
            client.close()
            check(name + ": stops when told", server.stop() == 0, server.log()[-600:])
            check(name + ": no report of a sanitizer", "Sanitizer" not in server.log() and
                  "runtime error" not in server.log(), server.log()[-3000:])
        finally:
            server.stop()
    if slow:
        slow.join()
    if mail:
        mail.join()
    if jsonschema is None:
        print("python3-jsonschema is not installed: bodies were not held against the description",
              file=sys.stderr)
    else:
        check("answers were held against the description", description.checked > 50 or only,
              description.checked)
        description.second_judge(check)
    for fault in sorted(set(description.faults)):
        check("description", False, fault)
    passed, failed = (sum(getattr(tally, name) for tally in (check, slow_check, mail_check))
                      for name in ("passed", "failed"))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed else 0


sys.exit(main())

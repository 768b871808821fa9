#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""daemon.py EMBERWAIT: how soon the demo answers and what it holds, beside the bare start of a process.

Prints absolute figures for orientation and the ratio to starting `true`; asserts nothing.
"""
import re
import statistics
import subprocess
import sys
import time
import urllib.request


def bare():
    begin = time.monotonic()
    subprocess.run(["true"], check=True)
    return time.monotonic() - begin


def demo(exe):
    begin = time.monotonic()
    p = subprocess.Popen([exe, "demo", "--port", "0"], stdout=subprocess.PIPE, text=True)
    try:
        while True:
            line = p.stdout.readline()
            m = re.search(r"http://[0-9.]+:\d+/", line)
            if m:
                break
            if not line:
                raise SystemExit("the demo ended before it was ready")
        with urllib.request.urlopen(m.group() + "healthz", timeout=5) as r:
            r.read()
        ready = time.monotonic() - begin
        with urllib.request.urlopen(m.group(), timeout=5) as r:
            r.read()
        with open("/proc/%d/status" % p.pid, encoding="utf-8") as f:
            rss = int(re.search(r"VmRSS:\s+(\d+)", f.read()).group(1))
        return ready, rss
    finally:
        p.terminate()
        p.wait(10)


def main():
    exe = sys.argv[1]
    runs = [demo(exe) for _ in range(5)]
    base = statistics.median(bare() for _ in range(9))
    ready = statistics.median(r for r, _ in runs)
    print("bare process             %8.1f ms" % (base * 1e3))
    print("demo answers /healthz    %8.1f ms   ratio to bare %6.1f" % (ready * 1e3, ready / base))
    print("resident with the demo   %8.1f MB" % (statistics.median(r for _, r in runs) / 1024))


main()

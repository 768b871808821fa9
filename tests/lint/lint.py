#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""lint.py ROOT BUILD: the house rules that a compiler does not hold. Each check says its reason.

Prints one line a fault and closes with `N passed, N failed` (a check is one).
"""
import json
import os
import re
import subprocess
import sys

ROOT = os.path.abspath(sys.argv[1] if len(sys.argv) > 1 else ".")
BUILD = os.path.abspath(sys.argv[2]) if len(sys.argv) > 2 else None
SERVER = os.path.join(ROOT, "server")

BANNED = ["strcpy", "strcat", "sprintf", "vsprintf", "gets", "strtok", "atoi", "atol", "atof",
          "strncpy", "strncat", "alloca", "scanf", "sscanf", "system", "tmpnam", "mktemp"]
PURE = ("libew_compute.a", "libew_sequence.a", "libew_planner.a")
# What the computing layers may take from outside: mathematics, memory moves, our own layers.
PURE_ALLOWED = re.compile(
    r"^(mem(cpy|set|move|cmp)|str(cmp|len|ncmp)|l?lround|round|floor|ceil|fmin|fmax|fabs|exp|log|pow"
    r"|sqrt|cbrt|sin|cos|tan|asin|acos|atan2?|fmod|trunc|sincos|hypot|llrint|lrint|rint|nearbyint"
    r"|modf|ldexp|frexp|log10|log2|exp2|expm1|log1p|tanh|sinh|cosh|isnan|isinf"
    r"|__stack_chk_fail|_GLOBAL_OFFSET_TABLE_|__mem(cpy|set|move)_chk|__(asan|ubsan|tsan|gcov)_.*)$")


def files(*suffixes):
    for folder, _, names in os.walk(SERVER):
        for name in sorted(names):
            if name.endswith(suffixes):
                yield os.path.join(folder, name)


def relative(path):
    return os.path.relpath(path, ROOT)


def text(path):
    with open(path, encoding="utf-8") as f:
        return f.read()


def code(path):
    """The file without comments and string contents, line numbers kept."""
    body = re.sub(r"/\*.*?\*/", lambda m: re.sub(r"[^\n]", " ", m.group()), text(path), flags=re.S)
    body = re.sub(r'"(?:\\.|[^"\\\n])*"', '""', body)
    return re.sub(r"//[^\n]*", "", body)


def layer_table():
    """The include table of DEVELOPERS.md: | layer | may include |."""
    edges = {}
    for line in text(os.path.join(ROOT, "DEVELOPERS.md")).splitlines():
        m = re.match(r"\| `(\w+)/` \|[^|]*\|([^|]*)\|", line)
        if m:
            edges[m.group(1)] = set(re.findall(r"`(\w+)`", m.group(2)))
    return edges


def check_include_edges():
    """A layer includes only the layers the table in DEVELOPERS.md gives it."""
    edges = layer_table()
    faults = []
    for folder in sorted(os.listdir(SERVER)):
        if os.path.isdir(os.path.join(SERVER, folder)) and folder not in edges:
            faults.append("server/%s: not in the layer table of DEVELOPERS.md" % folder)
    for path in files(".c", ".h"):
        layer = relative(path).split(os.sep)[1]
        for i, line in enumerate(text(path).splitlines(), 1):
            m = re.match(r'\s*#\s*include\s+"([^"/]+)/', line)
            if m and m.group(1) != layer and m.group(1) not in edges.get(layer, set()):
                faults.append("%s:%d: %s/ may not include %s/" % (relative(path), i, layer, m.group(1)))
            if re.match(r'\s*#\s*include\s+"[^/"]+"', line):
                faults.append('%s:%d: include as "layer/file.h"' % (relative(path), i))
    compute = {"status.h", "limits.h", "zone.h"}
    for path in files(".c", ".h"):
        if relative(path).split(os.sep)[1] == "compute":
            for name in re.findall(r'#\s*include\s+"base/([^"]+)"', text(path)):
                if name not in compute:
                    faults.append("%s: compute may not include base/%s" % (relative(path), name))
    return faults


def check_pure_symbols():
    """compute, sequence and planner take no memory, time, file or output: nm -u against a short list."""
    faults = []
    if BUILD is None:
        return ["no build folder given"]
    defined, wanted = set(), {}
    for name in sorted(os.listdir(BUILD)):
        if not re.match(r"libew_\w+\.a$", name):
            continue
        out = subprocess.run(["nm", os.path.join(BUILD, name)], capture_output=True, text=True).stdout
        for line in out.splitlines():
            parts = line.split()
            if len(parts) == 3 and parts[1] in "TDBRVW":
                defined.add(parts[2])
            if len(parts) == 2 and parts[0] == "U" and name in PURE:
                wanted.setdefault(parts[1], name)
    if not wanted:
        faults.append("no symbols found in %s" % BUILD)
    for symbol, name in sorted(wanted.items()):
        if symbol not in defined and not PURE_ALLOWED.match(symbol):
            faults.append("%s uses %s" % (name, symbol))
    return faults


def check_banned():
    """Functions that overrun, hide state or cannot report a fault."""
    pattern = re.compile(r"(?<![\w.>])(%s)\s*\(" % "|".join(BANNED))
    faults = []
    for path in files(".c", ".h"):
        for i, line in enumerate(code(path).splitlines(), 1):
            m = pattern.search(line)
            if m:
                faults.append("%s:%d: %s is banned" % (relative(path), i, m.group(1)))
    return faults


def check_heads():
    """Each file names its licence and says why it exists."""
    faults = []
    for path in files(".c", ".h"):
        head = text(path)[:1500]
        if "SPDX-License-Identifier: MIT" not in head:
            faults.append("%s: no SPDX line" % relative(path))
        if head.count("/*") < 2:
            faults.append("%s: no comment that says why the file exists" % relative(path))
    return faults


def check_sizes():
    """Files under 600 lines, lines under 101 columns, functions under 80 lines (aim 60)."""
    faults = []
    for path in files(".c", ".h"):
        lines = text(path).splitlines()
        if len(lines) > 600:
            faults.append("%s: %d lines" % (relative(path), len(lines)))
        begin = None
        for i, line in enumerate(lines, 1):
            if len(line) > 100:
                faults.append("%s:%d: %d columns" % (relative(path), i, len(line)))
            if line == "{":
                begin = i
            if line == "}" and begin is not None:
                if i - begin > 80:
                    faults.append("%s:%d: function of %d lines" % (relative(path), begin, i - begin))
                begin = None
    return faults


def check_names():
    """`_ms` is banned (milliseconds or metres a second?)."""
    faults = []
    for path in files(".c", ".h"):
        for i, line in enumerate(code(path).splitlines(), 1):
            if re.search(r"\b[a-z]\w*_ms\b", line):
                faults.append("%s:%d: a name ends in _ms" % (relative(path), i))
    return faults


def check_sources():
    """Every [source] in a comment is an id of schema/sources.json."""
    with open(os.path.join(ROOT, "schema", "sources.json"), encoding="utf-8") as f:
        data = json.load(f)
    ids = set(data.get("sources", data))
    faults = []
    for path in files(".c", ".h"):
        for i, line in enumerate(text(path).splitlines(), 1):
            m = re.search(r"Source:\s*\[([a-z0-9-]+)\]", line)
            if m and m.group(1) not in ids:
                faults.append("%s:%d: unknown source %s" % (relative(path), i, m.group(1)))
    return faults


def check_words_never_said():
    """Words the screens never use of a part or a date (see words lists)."""
    faults = []
    pattern = re.compile(r"\b(safe|safely|approved|certified|cured)\b", re.I)
    for lang in ("en", "es"):
        path = os.path.join(ROOT, "schema", "words", lang + ".json")
        for i, line in enumerate(text(path).splitlines(), 1):
            m = pattern.search(line.split(":", 1)[-1])
            if m:
                faults.append("%s:%d: says %s" % (relative(path), i, m.group()))
    return faults


def check_pages():
    """No inline script or style, no third-party request, no innerHTML."""
    faults = []
    for folder, _, names in os.walk(os.path.join(ROOT, "static")):
        for name in names:
            if not name.endswith((".js", ".css", ".html")):
                continue
            path = os.path.join(folder, name)
            for i, line in enumerate(text(path).splitlines(), 1):
                if re.search(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(", line):
                    faults.append("%s:%d: builds markup from text" % (relative(path), i))
                if re.search(r"(https?:)?//[a-z0-9.-]+\.[a-z]{2,}", line) and "www.w3.org" not in line:
                    faults.append("%s:%d: names another host" % (relative(path), i))
    for path in files(".c"):
        for i, line in enumerate(text(path).splitlines(), 1):
            if re.search(r"<script>|<style>| style=| on(click|load|change|submit)=", line):
                faults.append("%s:%d: inline script or style" % (relative(path), i))
    return faults


def check_format():
    """clang-format leaves every C file as it is."""
    paths = list(files(".c", ".h"))
    out = subprocess.run(["clang-format", "--dry-run", "--Werror", "--style=file", *paths],
                         capture_output=True, text=True, cwd=ROOT)
    return sorted(set(re.findall(r"^(\S+?:\d+):\d+: error", out.stderr, re.M)))[:40]


def main():
    checks = [check_include_edges, check_pure_symbols, check_banned, check_heads, check_sizes,
              check_names, check_sources, check_words_never_said, check_pages, check_format]
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


sys.exit(main())

#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""run.py EMBERWAIT: what lies in deploy/ does what it says.

The nightly copy is run against a store; units and proxy samples are read, since no test may need
systemd, a proxy or root. Closes with `N passed, N failed`.
"""
import glob
import json
import os
import re
import subprocess
import sys
import tempfile
import time

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
DEPLOY = os.path.join(ROOT, "deploy")
EXE = os.path.abspath(sys.argv[1])
DAY_S = 86400


def run(*command):
    return subprocess.run(command, capture_output=True, text=True, timeout=60,
                          stdin=subprocess.DEVNULL)


def read(name):
    with open(os.path.join(DEPLOY, name), encoding="utf-8") as file:
        return file.read()


def backup(store, folder, days="30"):
    return run("sh", os.path.join(DEPLOY, "backup"), EXE, store, folder, days)


def new_store(folder):
    case, store = os.path.join(folder, "case.json"), os.path.join(folder, "yard.db")
    with open(case, "w", encoding="utf-8") as file:
        file.write(run(EXE, "demo", "--now", "2026-11-25T06:15:00-07:00", "--print-case").stdout)
    made = run(EXE, "import", "--db", store, "--create", case)
    assert made.returncode == 0, made.stderr
    return store


def a_copy_is_made_and_is_whole(folder):
    store, kept = new_store(folder), os.path.join(folder, "kept")
    made = backup(store, kept)
    assert made.returncode == 0, made.stderr
    copies = os.listdir(kept)
    assert len(copies) == 1 and re.fullmatch(r"emberwait-\d{8}T\d{6}Z\.db", copies[0]), copies
    copy = os.path.join(kept, copies[0])
    assert run(EXE, "verify", "--db", copy).returncode == 0
    whole, again = (json.loads(run(EXE, "export", "--db", path).stdout) for path in (copy, store))
    assert whole.pop("now") and again.pop("now")  # the second of each export
    assert whole["jobs"] and whole == again


def old_ones(kept, count, days):
    os.makedirs(kept)
    for i in range(count):
        path = os.path.join(kept, "emberwait-202001%02dT024000Z.db" % (i + 1))
        with open(path, "w", encoding="utf-8") as file:
            file.write("old")
        when = time.time() - days * DAY_S
        os.utime(path, (when, when))


def old_copies_go_but_never_the_last_seven(folder):
    store, kept = new_store(folder), os.path.join(folder, "kept")
    old_ones(kept, 10, 40)
    with open(os.path.join(kept, "emberwait-notes.txt"), "w", encoding="utf-8") as file:
        file.write("not a copy")
    assert backup(store, kept).returncode == 0
    left = sorted(os.listdir(kept))
    assert "emberwait-notes.txt" in left
    copies = [name for name in left if name.endswith(".db")]
    assert len(copies) == 7 and copies[0] == "emberwait-20200105T024000Z.db", copies


def young_copies_stay(folder):
    store, kept = new_store(folder), os.path.join(folder, "kept")
    old_ones(kept, 10, 20)
    assert backup(store, kept).returncode == 0
    assert len(os.listdir(kept)) == 11


def without_a_new_copy_no_old_one_goes(folder):
    kept = os.path.join(folder, "kept")
    old_ones(kept, 10, 40)
    assert backup(os.path.join(folder, "none.db"), kept).returncode != 0
    assert len(os.listdir(kept)) == 10


def a_wrong_call_is_64(folder):
    assert run("sh", os.path.join(DEPLOY, "backup"), EXE, folder).returncode == 64


def every_script_is_sound_shell(_):
    for path in sorted(glob.glob(os.path.join(DEPLOY, "*"))):
        if os.path.isdir(path):
            continue
        with open(path, encoding="utf-8") as file:
            if file.readline().startswith("#!/bin/sh"):
                checked = run("sh", "-n", path)
                assert checked.returncode == 0, checked.stderr
                assert os.access(path, os.X_OK), path


def the_proxies_reach_the_port_the_unit_serves(_):
    port = re.search(r"--port (\d+)", read("emberwait.service.in")).group(1)
    for name in ("nginx.conf", "apache.conf"):
        reached = set(re.findall(r"http://127\.0\.0\.1:(\d+)", read(name)))
        assert reached == {port}, (name, reached)


def the_proxies_hand_on_the_name_and_who_is_asking(_):
    nginx, apache = read("nginx.conf"), read("apache.conf")
    assert "proxy_set_header Host $host;" in nginx and "ProxyPreserveHost On" in apache
    # nginx hands headers on as they came, so the address has to be put in the client's words' place
    assert "proxy_set_header X-Forwarded-For $remote_addr;" in nginx
    for text in (nginx, apache):  # sessions and tokens of scripts reach the daemon
        assert not re.search(r"Authorization|auth_basic|AuthType|Cookie", text)
        assert re.search(r"\b443\b", text) and re.search(r"ssl", text, re.I)
    for name in ("nginx.conf", "apache.conf"):  # a token's path never goes into the usual log
        assert re.search(r"c\|h\|feed", read(name)), name


def the_units_give_up_what_they_do_not_need(_):
    for name in ("emberwait.service.in", "emberwait-backup.service.in", "emberwait-mail.service.in"):
        unit = read(name)
        for line in ("DynamicUser=yes", "NoNewPrivileges=yes", "CapabilityBoundingSet=",
                     "ProtectSystem=strict", "MemoryDenyWriteExecute=yes"):
            assert re.search("^%s$" % re.escape(line), unit, re.M), (name, line)
        assert "StateDirectory=emberwait" in unit and "User=emberwait" in unit
    assert "PrivateNetwork=yes" in read("emberwait-backup.service.in")


def every_unit_is_installed_with_what_it_starts(_):
    with open(os.path.join(ROOT, "CMakeLists.txt"), encoding="utf-8") as file:
        installed = file.read()
    for path in sorted(glob.glob(os.path.join(DEPLOY, "*.service.in")) +
                       glob.glob(os.path.join(DEPLOY, "*.timer"))):
        name = os.path.basename(path)
        name = name[:-3] if name.endswith(".in") else name
        assert re.search(r"\b%s\b" % re.escape(name), installed), name
        for script in re.findall(r"DATADIR@/emberwait/([a-z-]+)", read(os.path.basename(path))):
            assert "deploy/%s" % script in installed, (name, script)


def mail_folder(folder, *names):
    kept = os.path.join(folder, "mail")
    os.makedirs(kept)
    for i, name in enumerate(names):
        with open(os.path.join(kept, name), "w", encoding="utf-8") as file:
            file.write("To: one@example.org\n\nmessage %d\n" % i)
        when = time.time() - 100 + i
        os.utime(os.path.join(kept, name), (when, when))
    return kept


def mailer(folder, text):
    path = os.path.join(folder, "mailer")
    with open(path, "w", encoding="utf-8") as file:
        file.write("#!/bin/sh\n" + text)
    os.chmod(path, 0o755)
    return path


def send(kept, *command):
    return run(os.path.join(DEPLOY, "send-mail"), kept, *command)


def a_message_goes_to_the_mailer_once_and_oldest_first(folder):
    kept = mail_folder(folder, "b.eml", "a.eml", ".c.new", "notes.txt")
    os.symlink("/etc/hostname", os.path.join(kept, "link.eml"))
    took = mailer(folder, "cat >>%s/took" % folder)
    for _ in range(2):
        made = send(kept, took)
        assert made.returncode == 0, made.stderr
    with open(os.path.join(folder, "took"), encoding="utf-8") as file:
        assert file.read().count("message") == 2
    with open(os.path.join(folder, "took"), encoding="utf-8") as file:
        assert re.findall(r"message (\d)", file.read()) == ["0", "1"]
    assert sorted(os.listdir(os.path.join(kept, "sent"))) == ["a.eml", "b.eml"]
    assert {".c.new", "notes.txt", "link.eml"} <= set(os.listdir(kept))


def what_the_mailer_does_not_take_stays(folder):
    kept = mail_folder(folder, "a.eml", "b.eml")
    refuses = mailer(folder, "grep -q 'message 1'")
    made = send(kept, refuses)
    assert made.returncode == 75 and "a.eml" in made.stderr, made
    assert os.listdir(os.path.join(kept, "sent")) == ["b.eml"]
    assert os.path.exists(os.path.join(kept, "a.eml"))


def two_at_once_send_nothing_twice(folder):
    kept = mail_folder(folder, "a.eml")
    slow = mailer(folder, "cat >>%s/took; sleep 1" % folder)
    first = subprocess.Popen([os.path.join(DEPLOY, "send-mail"), kept, slow], stderr=subprocess.DEVNULL)
    time.sleep(0.4)
    second = send(kept, slow)
    assert first.wait(20) == 0 and second.returncode == 75, second
    with open(os.path.join(folder, "took"), encoding="utf-8") as file:
        assert file.read().count("message") == 1


def main():
    tests = [a_copy_is_made_and_is_whole, old_copies_go_but_never_the_last_seven, young_copies_stay,
             without_a_new_copy_no_old_one_goes, a_wrong_call_is_64, every_script_is_sound_shell,
             the_proxies_reach_the_port_the_unit_serves,
             the_proxies_hand_on_the_name_and_who_is_asking,
             the_units_give_up_what_they_do_not_need, every_unit_is_installed_with_what_it_starts,
             a_message_goes_to_the_mailer_once_and_oldest_first,
             what_the_mailer_does_not_take_stays, two_at_once_send_nothing_twice]
    failed = 0
    for test in tests:
        with tempfile.TemporaryDirectory() as folder:
            try:
                test(folder)
            except (AssertionError, AttributeError, OSError, subprocess.TimeoutExpired) as error:
                failed += 1
                print("FAIL %s: %s" % (test.__name__, error or "not so"))
    print("%d passed, %d failed" % (len(tests) - failed, failed))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

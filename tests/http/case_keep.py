# SPDX-License-Identifier: MIT
"""What was acknowledged is kept: kill -9, SIGTERM, a full disk. Many at once."""
import os
import resource
import selectors
import signal
import socket
import subprocess
import threading
import time

from client import Client, Server
from sample import reading, fill

RECORDS = "/api/v1/jobs/hollow-pine/records"


def writers(server, count, seconds, until=None):
    """Threads that write one record after the other; the ids that were acknowledged."""
    acknowledged, stop = [], threading.Event()

    def write(number):
        client = Client(server)
        for i in range(100000):
            if stop.is_set():
                return
            id = "w-%d-%d" % (number, i)
            try:
                answer = client.post(RECORDS, reading(id))
            except OSError:
                return
            except Exception:
                return
            if answer.status in (200, 201):
                acknowledged.append(id)

    threads = [threading.Thread(target=write, args=(n,)) for n in range(count)]
    for t in threads:
        t.start()
    time.sleep(seconds)
    if until:
        until()
    stop.set()
    for t in threads:
        t.join()
    return acknowledged


def kept(client, acknowledged):
    there = {r["id"] for r in client.get(RECORDS).json["records"]}
    return [id for id in acknowledged if id not in there]


def test_kill(check, exe, server, client):
    for turn in range(3):
        acknowledged = writers(server, 6, 0.4, lambda: server.process.kill())
        server.process.wait()
        check("some were acknowledged", len(acknowledged) > 10, len(acknowledged))
        server.__init__(exe, db=server.db)
        fresh = Client(server)
        lost = kept(fresh, acknowledged)
        check("none of %d is lost by kill -9" % len(acknowledged), not lost, lost[:5])
        check("the yard is well", fresh.get("/api/v1/yard").status == 200)
        fresh.close()


def test_stop(check, exe, server, client):
    acknowledged = writers(server, 6, 0.4, lambda: server.process.send_signal(signal.SIGTERM))
    check("stops by itself", server.process.wait(timeout=30) == 0, server.log()[-500:])
    check("no file of a writer is left", not os.path.exists(server.db + "-wal"), os.listdir(server.folder))
    other = Server(exe, db=server.db)
    lost = kept(Client(other), acknowledged)
    check("none of %d is lost" % len(acknowledged), not lost, lost[:5])
    check("SIGINT stops too", other.stop(signal.SIGINT) == 0)


def test_stop_waits_for_a_body_under_way(check, exe, server, client):
    import json
    body = json.dumps(reading("late")).encode()
    with socket.create_connection(("127.0.0.1", server.port), timeout=5) as s:
        s.sendall(("POST %s HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n"
                   % (RECORDS, server.host, len(body))).encode() + body[:20])
        time.sleep(0.2)
        server.process.send_signal(signal.SIGTERM)
        time.sleep(0.3)
        s.sendall(body[20:])
        got = s.recv(4096)
    check("answered", got.startswith(b"HTTP/1.1 201") and b"Connection: close" in got, got[:200])
    check("and ended", server.process.wait(timeout=10) == 0)
    other = Server(exe, db=server.db)
    check("and kept", not kept(Client(other), ["late"]))
    other.stop()


def test_full_disk(check, exe, server, client):
    other = Server(exe, restore_signals=False, preexec_fn=lambda: signal.signal(signal.SIGXFSZ, signal.SIG_IGN))
    mine = Client(other)
    try:
        fill(mine)
        resource.prlimit(other.process.pid, resource.RLIMIT_FSIZE, (400000, resource.RLIM_INFINITY))
        status, stored = 201, []
        for i in range(400):
            id = "full-%d" % i
            status = mine.post(RECORDS, reading(id, note="x" * 3900)).status
            if status != 201:
                break
            stored.append(id)
        check("a full disk is 507", status == 507, status)
        check("reading goes on", mine.get("/api/v1/yard").status == 200 and not kept(mine, stored))
        problem = mine.post(RECORDS, reading("full-x", note="x" * 3900))
        check("told as a problem", problem.json["type"].endswith("/io"), problem)
        resource.prlimit(other.process.pid, resource.RLIMIT_FSIZE,
                         (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
        healed = mine.post(RECORDS, reading("full-%d" % len(stored), note="x" * 3900))
        check("room again: written again", healed.status == 201, healed)
        check("nothing lost, nothing half", not kept(mine, stored + ["full-%d" % len(stored)]))
        mine.close()
        check("stops", other.stop() == 0)
    finally:
        other.stop()


def busy(server, count, rounds, path=b"/healthz"):
    """`count` connections that all ask at once, `rounds` times; answers that came."""
    request = b"GET " + path + b" HTTP/1.1\r\nHost: " + server.host.encode() + b"\r\n\r\n"
    sockets, answers = [], 0
    try:
        for _ in range(count):
            sockets.append(socket.create_connection(("127.0.0.1", server.port), timeout=5))
        for _ in range(rounds):
            for s in sockets:
                s.sendall(request)
            for s in sockets:
                answers += s.recv(65536).startswith(b"HTTP/1.1 200")
    except OSError:
        pass
    finally:
        for s in sockets:
            s.close()
    return answers


def test_many_at_once(check, exe, server, client):
    for count in (120, 127, 128, 129, 136, 255, 256, 257, 512):
        begin = time.monotonic()
        answers = busy(server, count, 4)
        took = time.monotonic() - begin
        check("%d at once" % count, answers == 4 * count and took < 4, (answers, took))
    check("the server is well", client.get("/healthz").status == 200)


def test_start_refused(check, exe, server, client):
    def run(*arguments):
        r = subprocess.run([exe, "serve", *arguments], capture_output=True, text=True, timeout=20)
        return r.returncode, r.stdout, r.stderr
    db = server.db + ".other"
    code, out, err = run("--db", db, "--listen", "0.0.0.0")
    check("an address others reach", code == 77 and not out and "--behind-proxy" in err and "https" in err, (code, err))
    check("not an address", run("--db", db, "--listen", "everywhere")[0] == 65)
    check("a port in use", run("--db", db, "--port", str(server.port))[0] == 69)
    code, out, err = run("--db", server.db, "--port", "0")
    check("a store in use", code in (69, 75), (code, err))
    for wrong in ([], ["--db"], ["--db", db, "--port", "x"], ["--db", db, "--port", "65536"],
                  ["--db", db, "--fast", "1"], ["--db", db, "--now", "today"]):
        code, out, err = run(*wrong)
        check("usage: %s" % wrong, code == 64 and "usage" in err and not out, (code, err))
    ours = Server(exe, extra=["--host", "yard.example"])
    mine = Client(ours)
    check("a name that was given", mine.get("/healthz", Host="yard.example").status == 200)
    check("and no other", mine.get("/healthz", Host="other.example").status == 421)
    ours.stop()

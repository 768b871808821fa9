# SPDX-License-Identifier: MIT
"""Clients that are slow on purpose: each is closed in time, and honest ones are served meanwhile."""
import socket
import threading
import time

from client import Client, Server


def trickle(server, first, piece, every_s=0.25, most_s=16):
    """Send `first`, then `piece` again and again: seconds until the server closed, or None."""
    begin = time.monotonic()
    with socket.create_connection(("127.0.0.1", server.port), timeout=every_s) as s:
        s.sendall(first)
        while time.monotonic() - begin < most_s:
            try:
                if s.recv(4096) == b"":
                    return time.monotonic() - begin
            except socket.timeout:
                pass
            except ConnectionError:
                return time.monotonic() - begin
            try:
                s.sendall(piece)
            except ConnectionError:
                return time.monotonic() - begin
    return None


def run(check, exe):
    server = Server(exe)
    try:
        host = b"Host: " + server.host.encode() + b"\r\n"
        post = (b"POST /api/v1/jobs HTTP/1.1\r\n" + host + b"Content-Type: application/json\r\n")
        kinds = {
            "says nothing": (b"", b""),
            "a head byte by byte": (b"GET / HTTP/1.1\r\n" + host + b"X: ", b"y"),
            "a request line byte by byte": (b"G", b"E"),
            "a body byte by byte": (post + b"Content-Length: 100000\r\n\r\n", b" "),
            "chunks byte by byte": (post + b"Transfer-Encoding: chunked\r\n\r\n", b"1\r\n \r\n"),
        }
        took = {}

        def one(name, first, piece):
            took[name] = trickle(server, first, piece)

        threads = [threading.Thread(target=one, args=(n, *k)) for n, k in kinds.items()]
        flood = [socket.create_connection(("127.0.0.1", server.port), timeout=5) for _ in range(700)]
        for t in threads:
            t.start()
        client = Client(server)
        begin = time.monotonic()
        check("an honest client is served among 700 silent ones", client.get("/healthz").status == 200)
        check("and at once", time.monotonic() - begin < 2)
        for t in threads:
            t.join()
        for s in flood:
            s.close()
        for name, seconds in sorted(took.items()):
            check("closed: " + name, seconds is not None and 4 < seconds < 8, seconds)
        closed = [l for l in Client(server).get("/metrics").text.splitlines()
                  if l.startswith("emberwait_http_closed_late_total ")]
        check("counted", float(closed[0].split()[1]) >= 700, closed)
        check("stops", server.stop() == 0)
    finally:
        server.stop()

# SPDX-License-Identifier: MIT
"""Small pictures made here, so that no file of anybody's is needed: PNG, JPEG and WebP heads and bodies."""
import os
import struct
import zlib


def png(width=3, height=2, extra=0):
    """A whole PNG; `extra` bytes of noise in a chunk nobody reads make it as large as wanted."""
    def chunk(kind, data):
        return (struct.pack(">I", len(data)) + kind + data +
                struct.pack(">I", zlib.crc32(kind + data)))
    row = b"\0" + b"\x80\x40\x20" * min(width, 5000)
    parts = [chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)),
             chunk(b"IDAT", zlib.compress(row * min(height, 50)))]
    if extra:
        parts.insert(1, chunk(b"emBw", os.urandom(extra)))
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts) + chunk(b"IEND", b"")


def jpeg(width=3, height=2, extra=0, frame=0xC0):
    """Segments of a JPEG: application data, tables, frame, scan, end. The scan is noise."""
    def segment(marker, data):
        return bytes((0xFF, marker)) + struct.pack(">H", len(data) + 2) + data
    body = b"\xff\xd8" + segment(0xE0, b"JFIF\0\1\2\0\0\1\0\1\0\0")
    for _ in range(0, extra, 60000):
        body += segment(0xE1, os.urandom(min(extra, 60000)))
    body += segment(0xDB, b"\0" + b"\1" * 64)
    body += segment(frame, struct.pack(">BHHB", 8, height, width, 1) + b"\1\x11\0")
    return body + segment(0xDA, b"\1\1\0\0\x3f\0") + b"\x12\x34" + b"\xff\xd9"


def webp(width=3, height=2, kind=b"VP8X"):
    if kind == b"VP8X":
        data = b"\0\0\0\0" + struct.pack("<I", width - 1)[:3] + struct.pack("<I", height - 1)[:3]
    elif kind == b"VP8L":
        data = b"\x2f" + struct.pack("<I", (width - 1) | (height - 1) << 14) + b"\0" * 5
    else:
        data = b"\x10\0\0\x9d\x01\x2a" + struct.pack("<HH", width, height)
    chunk = kind + struct.pack("<I", len(data)) + data
    return b"RIFF" + struct.pack("<I", 4 + len(chunk)) + b"WEBP" + chunk

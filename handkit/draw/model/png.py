"""PNG: the parts that a picture's file is made of, and handkit's mark in it.

In: the bytes of a part, or of a file. Out: bytes. What PNG is: ISO/IEC 15948.
"""

from __future__ import annotations

from struct import pack
from zlib import crc32

SIGNATURE = b"\x89PNG\r\n\x1a\n"
_HEAD = len(SIGNATURE) + 25  # with the first part, IHDR, which tells the size


def part(name: bytes, body: bytes) -> bytes:
    """Length, name, body, check sum."""
    return pack(">I", len(body)) + name + body + pack(">I", crc32(name + body))


# By which handkit knows what it may write over.
MARK = part(b"tEXt", b"Software\0handkit")


def marked(png: bytes) -> bytes:
    """A picture's file with the mark in it, behind its size."""
    return png[:_HEAD] + MARK + png[_HEAD:]

"""A photo's file: what it is, how large, taken with which lens; and its dots.

In: a JPEG's or a PNG's bytes. Out: `Picture`, blue first, or what is wrong with it. What a file says of
itself is read here, before a decoder is asked: nothing else is decoded, and nothing over `MOST_PIXELS`.

Sources: JPEG's segments: ITU-T T.81, annex B. PNG's header: W3C PNG, 11.2.2. What a camera says of its lens:
Exif 2.32, 4.6 (TIFF's entries: FocalLengthIn35mmFilm, 0xA405, behind the pointer 0x8769).
"""

from __future__ import annotations

import struct
from math import hypot

import cv2
import msgspec
import numpy as np
import numpy.typing as npt

from handkit.errors import PhotoError
from handkit.findings import Finding, Where, finding

Bytes = npt.NDArray[np.uint8]

# What is decoded at most, in pixels and in bytes of the file; more than the second many pixels are read at
# half their number both ways, from JPEG as from PNG.
MOST_PIXELS, MOST_BYTES = 64_000_000, 100_000_000
WHOLE_PIXELS = 26_000_000
LEAST_SIDE, MOST_SIDE = 400, 30_000
# A JPEG may have a part for each of its colours and for each bit of them; each is work for the whole picture.
MOST_SCANS = 64

JPEG = b"\xff\xd8"

# The diagonal in mm of the film that a focal length is told for (36 × 24).
FILM_DIAGONAL = hypot(36, 24)


class Header(msgspec.Struct, frozen=True):
    """What a file says of itself: sides in pixels; the focal length as a share of the diagonal, 0 where it
    does not say."""

    width: int
    height: int
    focal: float = 0.0


class Picture(msgspec.Struct, frozen=True):
    """A photo's dots, upright, and the focal length as a share of the diagonal, 0 where it is not known."""

    dots: Bytes
    focal: float


def picture_of(data: bytes, where: Where) -> Picture:
    """The photo. Raises PhotoError where it is none, too small or too large, or damaged."""
    header = header_of(data)
    if header is None:
        raise PhotoError([finding("photo-file", where)])
    sides = (header.width, header.height)
    if len(data) > MOST_BYTES or header.width * header.height > MOST_PIXELS or max(sides) > MOST_SIDE:
        raise PhotoError([_too_large(where, sides, len(data))])
    if min(sides) < LEAST_SIDE:
        raise PhotoError([finding("photo-small", where, width=sides[0], height=sides[1], least=LEAST_SIDE)])
    half = header.width * header.height > WHOLE_PIXELS
    if data.count(b"\xff\xda") > MOST_SCANS and data[:2] == JPEG:
        raise PhotoError([finding("photo-file/damaged", where)])
    try:
        dots = cv2.imdecode(
            np.frombuffer(data, np.uint8), cv2.IMREAD_REDUCED_COLOR_2 if half else cv2.IMREAD_COLOR
        )
    except cv2.error:
        dots = None
    if dots is None or sorted(dots.shape[:2]) != sorted(-(-side // (1 + half)) for side in sides):
        raise PhotoError([finding("photo-file/damaged", where)])
    return Picture(dots.astype(np.uint8, copy=False), header.focal)


def _too_large(where: Where, sides: tuple[int, int], size: int) -> Finding:
    return finding(
        "photo-large",
        where,
        width=sides[0],
        height=sides[1],
        size=size / 1e6,
        pixels=MOST_PIXELS / 1e6,
        most=MOST_BYTES / 1e6,
    )


def header_of(data: bytes) -> Header | None:
    """What a JPEG or a PNG says of itself; None of anything else.

    >>> header_of(b"GIF89a") is None
    True
    >>> header_of(b"\\x89PNG\\r\\n\\x1a\\n\\0\\0\\0\\rIHDR" + struct.pack(">II", 640, 480) + b"\\x08\\x02")
    Header(width=640, height=480, focal=0.0)
    """
    try:
        if data[:8] == b"\x89PNG\r\n\x1a\n" and data[12:16] == b"IHDR":
            return Header(*struct.unpack_from(">II", data, 16))
        return _jpeg(data) if data[:2] == JPEG else None
    except struct.error:
        return None


def _jpeg(data: bytes) -> Header | None:
    """The frame's size, and the lens of an Exif segment before it."""
    at, focal = 2, 0.0
    while True:
        start, kind, length = struct.unpack_from(">BBH", data, at)
        if start != 0xFF or length < 2:
            return None
        if kind in (0xC0, 0xC1, 0xC2):
            _, height, width = struct.unpack_from(">BHH", data, at + 4)
            return Header(width, height, focal)
        if kind == 0xE1 and data[at + 4 : at + 10] == b"Exif\0\0":
            focal = _lens(data[at + 10 : at + 2 + length])
        at += 2 + length


def _lens(tiff: bytes) -> float:
    """The focal length as a share of the diagonal, 0 where the entries don't tell or make no sense."""
    try:
        order = {b"II*\0": "<", b"MM\0*": ">"}[tiff[:4]]
        deeper = _entry(tiff, order, struct.unpack_from(order + "I", tiff, 4)[0], 0x8769)
        film = _entry(tiff, order, deeper, 0xA405) if deeper else 0
    except (KeyError, struct.error):
        return 0.0
    return film / FILM_DIAGONAL if 10 <= film <= 400 else 0.0


def _entry(tiff: bytes, order: str, at: int, tag: int) -> int:
    """The value of an entry of one whole number, 0 where there is none."""
    for index in range(struct.unpack_from(order + "H", tiff, at)[0]):
        found, kind = struct.unpack_from(order + "HH", tiff, at + 2 + 12 * index)
        if found == tag:
            return int(struct.unpack_from(order + ("H" if kind == 3 else "I"), tiff, at + 10 + 12 * index)[0])
    return 0

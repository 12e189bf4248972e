"""A photo's file: what is taken and what is refused, before and while it is decoded."""

from __future__ import annotations

import struct
import subprocess
import sys
from math import hypot
from zlib import compress, crc32

import cv2
import numpy as np
import pytest
from scenes import with_lens

from handkit.errors import PhotoError
from handkit.findings import Where
from handkit.photo import picture
from handkit.photo.picture import header_of, picture_of

GREY = np.full((480, 640, 3), 128, np.uint8)
JPEG = cv2.imencode(".jpg", GREY)[1].tobytes()
PNG = cv2.imencode(".png", GREY)[1].tobytes()


def chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", crc32(kind + data))


def png(width: int, height: int, *, depth: int = 8, colour: int = 2, woven: int = 0) -> bytes:
    """A PNG's beginning that claims this size, with next to nothing in it."""
    head = struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, woven)
    return PNG[:8] + chunk(b"IHDR", head) + chunk(b"IDAT", compress(bytes(1000))) + chunk(b"IEND", b"")


def turned(way: int) -> bytes:
    """A JPEG that says it is to be turned (Exif's Orientation, 0x0112)."""
    entry = struct.pack("<HHHIHH", 1, 0x0112, 3, 1, way, 0) + struct.pack("<I", 0)
    exif = b"Exif\0\0II*\0" + struct.pack("<I", 8) + entry
    return JPEG[:2] + b"\xff\xe1" + struct.pack(">H", len(exif) + 2) + exif + JPEG[2:]


REFUSED = [
    (b"", "photo-file"),
    (b"GIF89a" + bytes(100), "photo-file"),
    (b"<svg/>", "photo-file"),
    (JPEG[:40], "photo-file"),
    (b"\xff\xd8" + b"\xff\xe0\x00\x00" * 50, "photo-file"),
    (PNG[:100], "photo-file"),
    (png(640, 480), "photo-file"),
    (JPEG[:400] + JPEG[-100:] * 0, "photo-file"),
    (JPEG + b"\xff\xda" * 100, "photo-file"),
    (png(30_000, 30_000), "photo-large"),
    (png(40_000, 500), "photo-large"),
    (png(100, 100), "photo-small"),
]


@pytest.mark.parametrize(("data", "code"), REFUSED)
def test_what_is_no_photo_is_refused(data: bytes, code: str) -> None:
    with pytest.raises(PhotoError) as refused:
        picture_of(data, Where("bench.jpg"))
    assert [(each.code, each.where.file) for each in refused.value.findings] == [(code, "bench.jpg")]


def test_jpeg_and_png_are_read_alike() -> None:
    assert [picture_of(data, Where()).dots.shape for data in (JPEG, PNG)] == [(480, 640, 3)] * 2


def test_a_photo_stands_upright() -> None:
    assert picture_of(turned(6), Where()).dots.shape == (640, 480, 3)


@pytest.mark.parametrize("film", [24, 28, 50])
def test_the_lens_is_read(film: int) -> None:
    assert header_of(with_lens(JPEG, film)).focal == pytest.approx(film / hypot(36, 24))


@pytest.mark.parametrize("cut", range(6, 60, 3))
def test_a_lens_that_can_not_be_read_is_none(cut: int) -> None:
    """Its entries cut short anywhere: the photo is taken all the same."""
    whole = with_lens(JPEG, 26)
    exif = whole[6 : 6 + cut]
    data = JPEG[:2] + b"\xff\xe1" + struct.pack(">H", len(exif) + 2) + exif + JPEG[2:]
    assert header_of(data).width == 640


def test_large_ones_are_read_at_half_their_size(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(picture, "WHOLE_PIXELS", 640 * 480 - 1)
    assert [picture_of(data, Where()).dots.shape for data in (JPEG, PNG)] == [(240, 320, 3)] * 2


@pytest.mark.long
def test_the_largest_is_read_within_a_gigabyte() -> None:
    """50 million pixels of the dearest kind: 16 bits, four colours, woven."""
    code = (
        "import sys, resource; from handkit.findings import Where\n"
        "from handkit.photo.picture import picture_of\n"
        "data = open(sys.argv[1], 'rb').read()\n"
        "try: picture_of(data, Where())\nexcept Exception as e: print(e)\n"
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024, sum(resource.getrusage(0)[:2]))"
    )
    data = png(8000, 6250, depth=16, colour=6, woven=1)
    run = subprocess.run(
        [sys.executable, "-c", code, "/dev/stdin"], input=data, capture_output=True, check=True
    )
    megabytes, seconds = map(float, run.stdout.decode().split("\n")[-2].split())
    assert (megabytes < 1000, seconds < 20) == (True, True)

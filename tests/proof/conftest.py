"""PDF files written by hand, operator by operator: what the proof reads, with no writer but this."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

A4_BOX = "[0 0 595.275591 841.889764]"  # 210 x 297 mm (ISO 216) at 72 units to 25.4 mm
IN_MM = "2.834645669 0 0 2.834645669 0 0 cm"

# What handkit asks of a viewer (ISO 32000-1, Table 150).
PREFERENCES = "/ViewerPreferences <</PrintScaling /None /DisplayDocTitle true>>"

# The parts of a sound page, all in mm; a test swaps one for a wrong one.
SOUND = {
    "square": "/hkTestSquare <</Side 50>> BDC 20 20 50 50 re S EMC",
    "across": "/hkScaleBar <</Length 150>> BDC 20 10 m 170 10 l S EMC",
    "down": "/hkScaleBar <</Length 200>> BDC 10 20 m 10 220 l S EMC",
    "marks": "",
    "holes": "",
    "more": "",
}


# The width of the pen that each part is drawn with, mm.
PENS = {"square": 0.25, "across": 0.25, "down": 0.25, "marks": 0.18, "holes": 0.18, "more": 0.25}


def ring(x: float, y: float, r: float) -> str:
    """A circle of four cubics, closed."""
    k = 0.5522847498 * r
    return (
        f"{x + r} {y} m {x + r} {y + k} {x + k} {y + r} {x} {y + r} c "
        f"{x - k} {y + r} {x - r} {y + k} {x - r} {y} c {x - r} {y - k} {x - k} {y - r} {x} {y - r} c "
        f"{x + k} {y - r} {x + r} {y - k} {x + r} {y} c h"
    )


def mark(x: float, y: float, *, window: int, number: int, join: str = "[1 2]", piece: str = "back") -> str:
    """A registration mark: a cross in a circle."""
    return (
        f"/hkRegistration <</Piece ({piece})/Window {window}/Join {join}/Mark {number}>> BDC "
        f"{ring(x, y, 2.5)} S {x - 4} {y} m {x + 4} {y} l S {x} {y - 4} m {x} {y + 4} l S EMC"
    )


def hole(x: float, y: float, *, number: int, seam: str = "side", window: int = 1, off: float = 0.0) -> str:
    """A stitch hole: a tick and its point, which stands `off` mm beside the tick's middle."""
    return (
        f"/hkHole <</Piece (back)/Window {window}/Seam ({seam})/Run 1/Number {number}>> BDC "
        f"{x - 1.2} {y} m {x + 1.2} {y} l S {ring(x + off, y, 0.2)} f EMC"
    )


SOUND["marks"] = "\n".join(
    (
        mark(100, 100, window=1, number=1),
        mark(100, 200, window=1, number=2),
        mark(150, 90, window=2, number=1),
        mark(150, 190, window=2, number=2),
    )
)
SOUND["holes"] = "\n".join(hole(120, 100 + 4 * n, number=n) for n in (1, 2, 3))


@dataclass(frozen=True)
class Hand:
    """The parts a test swaps, and the writer."""

    folder: Path
    sound: dict[str, str]
    mark: Callable[..., str]
    hole: Callable[..., str]
    ring: Callable[..., str]

    def page(self, **parts: str) -> str:
        """A page's content: the sound parts but for those given."""
        drawn = (f"{PENS[name]} w {part}" for name, part in (self.sound | parts).items())
        return f"q {IN_MM}\n" + "\n".join(drawn) + "\nQ"

    def pdf(
        self,
        *contents: str,
        page: str = f"/MediaBox {A4_BOX}",
        catalog: str = PREFERENCES,
        resources: str = "",
        objects: tuple[str, ...] = (),
        trailer: str = "",
        name: str = "kit.pdf",
    ) -> Path:
        """A file with these page contents; `page` has one head for all or, by |, one for each.

        `objects` are numbered from 100.
        """
        first, heads = 3, page.split("|")
        kids = " ".join(f"{first + 2 * i} 0 R" for i in range(len(contents)))
        body = {
            1: f"<</Type /Catalog /Pages 2 0 R {catalog}>>",
            2: f"<</Type /Pages /Count {len(contents)} /Kids [{kids}]>>",
        }
        for i, content in enumerate(contents):
            number = first + 2 * i
            head = f"<</Type /Page /Parent 2 0 R /Resources <<{resources}>> /Contents {number + 1} 0 R"
            body[number] = f"{head} {heads[i % len(heads)]}>>"
            body[number + 1] = stream(content)
        body |= {100 + i: text for i, text in enumerate(objects)}
        path = self.folder / name
        path.write_bytes(_written(body, trailer))
        return path


def stream(content: str, head: str = "") -> str:
    """A stream object's text."""
    return f"<<{head}/Length {len(content.encode('latin-1'))}>>\nstream\n{content}\nendstream"


def _written(body: dict[int, str], trailer: str) -> bytes:
    out = b"%PDF-1.7\n"
    places: dict[int, int] = {}
    for number, text in body.items():
        places[number] = len(out)
        out += f"{number} 0 obj\n{text}\nendobj\n".encode("latin-1")
    start, table = len(out), b"xref\n0 1\n0000000000 65535 f \n"
    for number, place in places.items():
        table += f"{number} 1\n{place:010d} 00000 n \n".encode()
    size = max(places) + 1
    end = f"trailer\n<</Size {size} /Root 1 0 R {trailer}>>\nstartxref\n{start}\n%%EOF\n"
    return out + table + end.encode()


@pytest.fixture
def hand(tmp_path: Path) -> Hand:
    return Hand(tmp_path, dict(SOUND), mark, hole, ring)


@pytest.fixture
def as_stream() -> Callable[..., str]:
    return stream

"""Attached: the manifest as the bytes of a file, JSON, and what tells one content from another.

In: a `Manifest`; or bytes. Out: its bytes; or the `Manifest` in them.
"""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256

import msgspec

from handkit.errors import ProofError
from handkit.manifest.listed import FORMAT, ListedMark, Manifest

# The name of the attached file, and what a viewer says of it.
NAME = "handkit-manifest.json"
DESCRIPTION = "What each page of this kit shows, for handkit proof"

# Far above any kit's.
MOST_BYTES = 64_000_000


def digest(data: bytes) -> str:
    """What tells one content from another: SHA-256 of the bytes, runs of white space taken as one, which
    writers of PDF put before and after a content at will.

    >>> digest(b"q 1 0 m Q") == digest(b" q 1 0 m Q ") != digest(b"q 1 1 m Q")
    True
    """
    return sha256(b" ".join(data.split())).hexdigest()


def manifest_bytes(manifest: Manifest) -> bytes:
    """The manifest as it is attached."""
    return msgspec.json.encode(manifest)


def read_manifest(data: bytes) -> Manifest:
    """The manifest in these bytes. Raises ProofError with what is wrong with it."""
    if len(data) > MOST_BYTES:
        raise ProofError(f"more than {MOST_BYTES // 1_000_000} MB")
    try:
        found = msgspec.json.decode(data, type=Manifest)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as error:
        raise ProofError("no list that can be read") from error
    if found.format != FORMAT:
        raise ProofError(f"format {found.format}; this handkit reads {FORMAT}")
    _refuse_loose_ends(found)
    return found


def _refuse_loose_ends(found: Manifest) -> None:
    """Raise ProofError where a window shows what no piece has, or a line is none."""
    pieces = {piece.name: piece for piece in found.pieces}
    for page in found.pages:
        for window in page.windows:
            known = pieces.get(window.piece)
            if known is None:
                raise ProofError("a window of a piece that it hasn't")
            if any(not 0 <= first <= last < len(known.shapes) for first, last in window.shows):
                raise ProofError("a window of shapes that its piece hasn't")
            if len(window.rim) % 2 or len(window.rim) < 6:
                raise ProofError("a window without a rim")
            _refuse_broken(window.own)
        _refuse_broken(page.shapes)
    for piece in found.pieces:
        _refuse_broken(piece.shapes)


def _refuse_broken(shapes: Iterable[ListedMark]) -> None:
    for shape in shapes:
        for line in (*shape.lines, *shape.fills):
            count = len(line.points) // 2 - (not line.closed)
            if len(line.points) % 2 or count < 1 or len(line.bulges) not in (0, count):
                raise ProofError("a line that is none")

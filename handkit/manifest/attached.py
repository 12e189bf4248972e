"""Attached: the manifest as the bytes of a file, JSON, and what tells one content from another.

In: a `Manifest`; or bytes. Out: its bytes; or the `Manifest` in them.
"""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256

import msgspec

from handkit.errors import ProofError
from handkit.manifest.listed import FORMAT, Manifest
from handkit.manifest.sound import refuse_unsound

# The name of the attached file, and what a viewer says of it.
NAME = "handkit-manifest.json"
DESCRIPTION = "What each page of this kit shows, for handkit proof"

# Far above any kit's: the pouch's has 143 kB.
MOST_BYTES = 16_000_000


def digest(data: bytes) -> str:
    """What tells one content from another: SHA-256 of the bytes, runs of white space taken as one, which
    writers of PDF put before and after a content at will.

    >>> digest(b"q 1 0 m Q") == digest(b" q 1 0 m Q ") != digest(b"q 1 1 m Q")
    True
    """
    return sha256(b" ".join(data.split())).hexdigest()


def font_digest(name: str, program: bytes, letters: bytes, numbers: Iterable[float]) -> str:
    """What tells an embedded font from another: its name, its program, the map of its codes to letters; the
    flags of its descriptor, its first code and the widths of its letters, to a thousandth of its size."""
    told = " ".join((name, *(f"{number:.0f}" for number in numbers)))
    return digest(b" ".join((program, letters, told.encode())))


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
    refuse_unsound(found)
    return found

"""Content streams by regular expressions: read as a general reader reads them, or left to it."""

from __future__ import annotations

import random
from io import BytesIO
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader, PdfWriter
from pypdf.generic import ContentStream, DecodedStreamObject, create_string_object

from handkit.proof.content.operations import MOST_BYTES, MOST_ENTRIES, Operation, plain_operations


def blank() -> BytesIO:
    """A file of one empty page."""
    file = BytesIO()
    writer = PdfWriter()
    writer.add_blank_page(9, 9)
    writer.write(file)
    return file


# A reader as strict as the proof's; of which file it is makes no difference.
READER = PdfReader(blank(), strict=True)


def plain(data: bytes) -> list[Operation] | None:
    return plain_operations(data, create_string_object)


def general(data: bytes) -> list[Any]:
    """What the general reader makes of a stream. What it raises or logs is a broken file."""
    stream = DecodedStreamObject()
    stream.set_data(data)
    return [(operands, operator.decode()) for operands, operator in ContentStream(stream, READER).operations]


def same(data: bytes, caplog: Any) -> bool:
    """Whether a stream is plain; if it is, it reads alike, and the general reader mends nothing."""
    found = plain(data)
    if found is not None:
        caplog.clear()
        assert found == general(data), data
        assert not caplog.records, data
    return found is not None


# Streams that are plain, each with one thing that might be read otherwise.
PLAIN = [
    b"",
    b" \n",
    b"q\rQ\r\nq\fQ\tn",
    b"-.5 +3 m 4. -0 l 00012 .0 l S",
    b"1 2 3 4 5 6 c",
    b"[] 0 d [3 1.5] 0 d [ 3 1.5 ] 0 d",
    b"/F1 12 Tf(a)Tj[(a)-3(b)]TJ",
    b"(two words) Tj () Tj (<hex>) ' 1 2 (a) \"",
    rb"(\(\)\\\n\r\t\b\f) Tj (\101\7\12 \0501) Tj",
    b"(line\nbreak\r\n) Tj (%) Tj",
    b"(\xfe\xff\x00\xe9) Tj <FEFF00E9> Tj <efbbbfc3a9> Tj (\x80\x9f) Tj <abc> Tj <> Tj",
    b"/a.b-c_d*+ gs /0 gs",
    b"/hkHole <</Piece (back)/Window 1/Join [1 2]/In <</Deep [(a) /b]>>>> BDC EMC",
    b"/hkHole<</Run 1>>BDC/X BMC EMC EMC",
    b"0 0 m 1 1 l s 0 0 1 1 re W* n f* B* b* T*",
    b"0 0 0 rg 0 0 0 1 k 1 J 1 j /R ri /S sh",
]

# Streams that are left to the general reader.
NOT_PLAIN = [
    b"% a comment\nq Q",
    b"q Q % a comment",
    b"q BI /W 1 /H 1 /CS /G /BPC 8 ID \0 EI Q",
    b"q\0Q",
    b"q\x0bQ",
    b"(a (b) c) Tj",
    rb"(\q) Tj",
    rb"(\400) Tj",
    rb"(\8) Tj",
    b"(broken\\\nline) Tj",
    b"(never closed Tj",
    b"<4 1> Tj",
    b"<4g> Tj",
    b"/A#42 gs",
    b"/\xc3\xa9 gs",
    b"/ gs",
    b"/" + b"n" * 200 + b" gs",
    b"1-2 0 m",
    b"1,2 0 m",
    b"--1 0 m",
    b"+ 0 m",
    b". 0 m",
    b"1.2.3 0 m",
    b"1e5 0 m",
    b"1 2m 3 4 l",
    b"12345678901234567 0 m",
    b"[1 2 m",
    b"[1 2>> 0 d",
    b"] 0 d",
    b"<</A 1/A 2>> BDC",
    b"<</A>> BDC",
    b"<<1 2>> BDC",
    b"<</A true>> BDC",
    b"[null] 0 d",
    b"true gs",
    b"1 0 R",
    b"[1 0 R] 0 d",
    b"stream",
    b"/A <</B 1>> stream",
    b"unheard of",
    b"{ } q",
    b"1 2",
    b"[" * 9 + b"]" * 9 + b" 0 d",
    b"[" + b"1 " * (MOST_ENTRIES + 2) + b"] 0 d",
    b"q " * MOST_BYTES,
]


@pytest.mark.parametrize("data", PLAIN)
def test_plain_streams_read_as_the_general_reader_reads_them(data: bytes, caplog: Any) -> None:
    assert same(data, caplog)


@pytest.mark.parametrize("data", NOT_PLAIN, ids=range(len(NOT_PLAIN)))
def test_what_may_be_read_in_two_ways_is_left_to_the_general_reader(data: bytes) -> None:
    assert plain(data) is None


# Pieces of streams, sound ones and others.
PIECES = [
    *(piece for stream in (*PLAIN, *NOT_PLAIN[:-2]) for piece in stream.split(b" ")),
    b"[",
    b"]",
    b"<<",
    b">>",
]
SPACES = [b" ", b"", b"\n", b"\r\n", b"\t", b"\0", b"\x0b"]


def test_pieces_put_together_at_random_read_alike_or_are_left(caplog: Any) -> None:
    """The same ones on every run; a third of them are plain."""
    chance, found = random.Random(11), 0
    for _ in range(6000):
        pieces = chance.choices(PIECES, k=chance.randint(1, 5))
        data = b"".join(piece + chance.choices(SPACES, [9, 2, 1, 1, 1, 0.1, 0.1])[0] for piece in pieces)
        found += same(data, caplog)
    assert found > 600


@settings(max_examples=300, deadline=None)
@given(
    st.binary(max_size=12),
    st.sampled_from([b"(%s) Tj", b"<%s> Tj", b"/%s gs", b"[%s] 0 d", b"%s 0 m", b"%s"]),
)
def test_any_bytes_read_alike_or_are_left(inside: bytes, around: bytes) -> None:
    data = around.replace(b"%s", inside)
    found = plain(data)
    if found is not None:
        assert found == general(data)


@pytest.mark.parametrize(
    "data", [b"1 " * 400_000, b"1 [" * 300_000, b"(\\" * 400_000, b"(" + b"a" * 900_000, b"<<" * 400_000]
)
def test_hostile_streams_take_no_longer_than_they_are_long(data: bytes) -> None:
    """Under a second of any processor for a megabyte: without bounds some of these take hours."""
    assert plain(data) is None

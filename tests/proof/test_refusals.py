"""What is no readable drawing is refused with one plain sentence, however hostile it is."""

from __future__ import annotations

import os
import random
import re
import zlib
from pathlib import Path
from typing import Any

import pytest

from handkit.errors import FileError, ProofError
from handkit.proof.content.document import opened
from handkit.proof.content.objects import Allowance
from handkit.proof.content.walker import walked
from handkit.proof.proof import Proof
from handkit.proof.prover import prove

FORM = "/Type /XObject /Subtype /Form /BBox [0 0 9 9] "
BROKEN = "kit.pdf: found a broken file: it can't be read as a PDF"

# Page contents, and what is said of them after "kit.pdf: page 1: found ".
CONTENTS = [
    ("Q", "Q that closes nothing"),
    ("q q Q", "q or a tag that is never closed"),
    ("EMC", "EMC that closes nothing"),
    ("/hkFold BMC", "q or a tag that is never closed"),
    ("1 2 l S", "a line that begins nowhere"),
    ("1 2 m S 3 4 l S", "a line that begins nowhere"),
    ("1 2 3 4 v", "a line that begins nowhere"),
    ("1 m", "m without its 2 numbers"),
    ("1 2 3 m", "m without its 2 numbers"),
    ("/a /b m", "m without its 2 numbers"),
    ("1 2 m 3 4 5 6 7 c", "c without its 6 numbers"),
    ("1 0 0 1 0 cm", "cm without its 6 numbers"),
    ("(wide) w", "w without its 1 numbers"),
    ("3 d", "d without its lengths"),
    ("1 2 3 re", "re without its 4 numbers"),
    ("99999999 0 m", "a point that lies on no paper"),
    ("1" + "0" * 20 + " 0 m", "m without its 2 numbers"),
    ("9" * 9 + " 0 0 1 0 0 cm " * 40 + "1 1 m", "cm without its 6 numbers"),
    ("BMC", "a tag without a name"),
    ("/hkFold 3 BDC", "BDC without a name"),
    ("/hkFold /Missing BDC", "properties /Missing, which the page doesn't have"),
    ("Do", "Do without a name"),
    ("/Missing Do", "Do /Missing, which the page doesn't have"),
    ("q " * 300, "more than 256 q in one another"),
    ("/X BMC " * 300, "more than 256 tags in one another"),
]


@pytest.mark.parametrize(("content", "said"), CONTENTS)
def test_a_page_that_is_no_drawing(hand: Any, content: str, said: str) -> None:
    with pytest.raises(ProofError) as refused:
        prove(hand.pdf(content))
    assert str(refused.value) == f"kit.pdf: page 1: found {said}"


@pytest.mark.parametrize("content", ["# 0 m", "/hkHole <</Run #>> BDC EMC", "[#] 0 d", "# w 0 0 m 1 1 l S"])
@pytest.mark.parametrize("digits", [16, 310, 400, 5000])
def test_a_number_of_many_digits_is_refused_or_passed_over(hand: Any, content: str, digits: int) -> None:
    """Python's floats end at 10^308, its reading of whole numbers at 4300 digits."""
    outcome: Proof | ProofError
    try:
        outcome = prove(hand.pdf(content.replace("#", "9" * digits)))
    except ProofError as refused:
        outcome = refused
    assert isinstance(outcome, Proof | ProofError)


def form_refused(hand: Any, *objects: str) -> str:
    with pytest.raises(ProofError) as refused:
        prove(hand.pdf("/F Do", resources="/XObject <</F 100 0 R>>", objects=objects))
    return str(refused.value)


def test_a_form_that_draws_itself(hand: Any, as_stream: Any) -> None:
    endless = as_stream("/F Do", FORM + "/Resources <</XObject <</F 100 0 R>>>> ")
    assert form_refused(hand, endless) == "kit.pdf: page 1: found forms nested deeper than 12"


def test_forms_that_multiply_meet_the_limit(hand: Any, as_stream: Any) -> None:
    """Ten forms of ten calls each are 10^10 drawings in a file of 3 kB."""
    forms = [
        as_stream("/F Do " * 10, f"{FORM}/Resources <</XObject <</F {101 + i} 0 R>>>> ") for i in range(10)
    ]
    forms.append(as_stream("0 0 m 1 1 l S " * 10, FORM))
    path = hand.pdf("/F Do", resources="/XObject <</F 100 0 R>>", objects=tuple(forms))
    (page,) = opened(path).pages
    with pytest.raises(ProofError) as refused:
        walked(
            page,
            budget=Allowance(100_000, "found more than 100000 operations; too many for a kit of this size"),
        )
    assert str(refused.value) == "page 1: found more than 100000 operations; too many for a kit of this size"


def test_a_form_closes_what_it_opens_and_no_more(hand: Any, as_stream: Any) -> None:
    path = hand.pdf(
        "q /hkFold BMC /F Do EMC Q",
        resources="/XObject <</F 100 0 R>>",
        objects=(as_stream("Q", FORM),),
    )
    with pytest.raises(ProofError, match="page 1: found Q that closes nothing"):
        prove(path)


@pytest.mark.parametrize("matrix", ["[1 0 0 1 0]", "[1 0 0 1 0 /a]", f"[1 0 0 1 0 1{'0' * 20}]"])
def test_a_form_whose_matrix_is_none(hand: Any, as_stream: Any, matrix: str) -> None:
    said = form_refused(hand, as_stream("", f"{FORM}/Matrix {matrix} "))
    assert said == "kit.pdf: page 1: found a form whose Matrix is not six numbers"


def test_a_name_that_is_neither_form_nor_image(hand: Any) -> None:
    assert form_refused(hand, "(text)") == "kit.pdf: page 1: found Do /F, which the page doesn't have"


def test_too_much_drawing(hand: Any) -> None:
    with pytest.raises(ProofError) as refused:
        prove(hand.pdf("%" + "x" * 17_000_000))
    assert str(refused.value) == (
        "kit.pdf: page 1: found more than 1 MB of drawing that no kit would hold like this"
    )


def test_a_stream_that_unpacks_to_a_mountain(hand: Any) -> None:
    """A hundred thousand bytes that become a hundred million."""
    path = hand.pdf("here")
    packed = zlib.compress(b" " * 100_000_000)
    head = b"<</Length %d /Filter /FlateDecode>>\nstream\n" % len(packed)
    sound = path.read_bytes()
    start = sound.index(b"<</Length 4>>")
    tail = sound[sound.index(b"endstream", start) :]
    table = tail.index(b"startxref") + len(b"startxref\n")
    end = int(tail[table:].split()[0]) + len(head) + len(packed) - len(b"<</Length 4>>\nstream\nhere")
    path.write_bytes(sound[:start] + head + packed + b"\n" + tail[:table] + b"%d\n%%%%EOF\n" % end)
    with pytest.raises(ProofError) as refused:
        prove(path)
    assert str(refused.value) == f"kit.pdf: page 1: {BROKEN.removeprefix('kit.pdf: ')}"


def test_files_that_are_no_pdf(tmp_path: Path) -> None:
    for data in (b"", b"hello", b"\x89PNG\r\n", b"x" * 2000 + b"%PDF-1.7"):
        path = tmp_path / "kit.pdf"
        path.write_bytes(data)
        with pytest.raises(ProofError) as refused:
            prove(path)
        assert str(refused.value) == "kit.pdf: found no PDF: it doesn't begin with %PDF-"


@pytest.mark.parametrize("kept", [0.1, 0.5, 0.9, 0.99])
def test_a_file_cut_short(hand: Any, kept: float) -> None:
    path = hand.pdf(hand.page())
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * kept)])
    with pytest.raises(ProofError) as refused:
        prove(path)
    assert str(refused.value) == BROKEN


def test_an_encrypted_file(hand: Any) -> None:
    """The standard security handler, revision 3 (ISO 32000-1, 7.6.3); no password of ours opens it."""
    lock = "/Filter /Standard /V 2 /R 3 /Length 128 /P -4"
    key = f"<{'41' * 32}>"
    path = hand.pdf(
        hand.page(),
        objects=(f"<<{lock} /O {key} /U {key}>>",),
        trailer=f"/Encrypt 100 0 R /ID [<{'00' * 16}> <{'00' * 16}>]",
    )
    with pytest.raises(ProofError) as refused:
        prove(path)
    assert str(refused.value) == (
        "kit.pdf: found an encrypted file; allowed: a PDF that opens without a password"
    )


def test_a_file_without_pages(hand: Any) -> None:
    with pytest.raises(ProofError) as refused:
        prove(hand.pdf())
    assert str(refused.value) == "kit.pdf: found 0 pages; allowed: 1 to 2000"


def test_files_that_cannot_be_opened(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.pdf"
    os.mkfifo(pipe)
    said = {
        tmp_path / "none.pdf": "there is no such file",
        tmp_path: "is a folder; name the kit, such as pouch-kit.pdf",
        pipe: "is no ordinary file; name the kit, such as pouch-kit.pdf",
    }
    for path, expected in said.items():
        with pytest.raises(FileError) as refused:
            prove(path)
        assert str(refused.value) == f"{path}: {expected}"


@pytest.mark.parametrize(
    "page",
    [
        "/MediaBox [0 0 595]",
        "/MediaBox (A4)",
        "/MediaBox [0 0 /a /b]",
        "",
        f"/MediaBox [0 0 1{'0' * 20} 842]",
        "/MediaBox [0 0 595 842] /UserUnit (2)",
        "/MediaBox [0 0 595 842] /Rotate /Right",
    ],
)
def test_pages_without_a_size(hand: Any, page: str) -> None:
    with pytest.raises(ProofError):
        prove(hand.pdf(hand.page(), page=page))


def test_any_damage_gives_a_proof_or_a_refusal_never_another_error(hand: Any, as_stream: Any) -> None:
    """Bytes changed, dropped and doubled at random; the same ones on every run."""
    form = as_stream("/hkFold BMC 1 1 m 2 2 l S EMC", FORM + "/Matrix [1 0 0 1 2 3] ")
    path = hand.pdf(hand.page(more="/F Do"), resources="/XObject <</F 100 0 R>>", objects=(form,))
    sound, chance, refused = path.read_bytes(), random.Random(7), 0
    for _ in range(300):
        data = bytearray(sound)
        for _ in range(chance.randint(1, 4)):
            at, length = chance.randrange(len(data)), chance.randint(1, 12)
            change = chance.choice([b" ", b"<", b"]", b"(", b"9", b"/", b"e", bytes([chance.randrange(256)])])
            data[at : at + length] = change * length if chance.random() < 0.9 else change
        path.write_bytes(data)
        try:
            prove(path)
        except ProofError:
            refused += 1
    assert 0 < refused < 300


def packed(content: str, head: str = "") -> str:
    """A deflated stream, as text of one byte a letter."""
    data = zlib.compress(content.encode("latin-1"), 9).decode("latin-1")
    return f"<<{head}/Filter /FlateDecode /Length {len(data)}>>\nstream\n{data}\nendstream"


# Small files that ask for much: a form that a page draws, how often, and what is said.
SMALL = [
    (
        "0 0 m 9 9 l S " * 40_000,
        3,
        "page 1: found more than 20#### operations; too many for a kit of this size",
    ),
    ("q Q " * 240_000, 3, "page 1: found more than 20#### operations; too many for a kit of this size"),
    (" " * 5_000_000, 1, "page 1: found more than 4 MB of drawing; too much for a kit of this size"),
    ("/A#42 gs " * 200_000, 1, "page 1: found more than 1 MB of drawing that no kit would hold like this"),
    (
        f"<{'41' * 2_300_000}> Tj",
        1,
        "page 1: found more than 4 MB of drawing; too much for a kit of this size",
    ),
    (f"{'1 ' * 2_300_000}m", 1, "page 1: found more than 4 MB of drawing; too much for a kit of this size"),
    (f"<{'41' * 900_000}> Tj", 1, ""),
    (f"{'1 ' * 900_000}m", 1, "page 1: found m without its 2 numbers"),
    (f"{'1 ' * 8_000}m", 1, "page 1: found m without its 2 numbers"),
    ("<" + "41" * 8_000 + "> Tj", 1, ""),
]


@pytest.mark.long
@pytest.mark.parametrize(("content", "draws", "said"), SMALL, ids=range(len(SMALL)))
def test_a_small_file_asks_for_no_more_than_a_kit_of_its_size(
    hand: Any, content: str, draws: int, said: str
) -> None:
    path = hand.pdf("/F Do " * draws, resources="/XObject <</F 100 0 R>>", objects=(packed(content, FORM),))
    try:
        prove(path)
        found = ""
    except ProofError as refused:
        found = re.sub(r"20\d{4}", "20####", str(refused).removeprefix("kit.pdf: "))
    assert found == said


def test_texts_of_megabytes_are_not_read(hand: Any) -> None:
    for text in (f"<{'41' * 600_000}>", f"({'a' * 1_200_000})", " ".join([f"<{'41' * 500}>"] * 1_100)):
        path = hand.pdf(hand.page(), objects=(f"[{text}]",))
        with pytest.raises(ProofError) as refused:
            prove(path)
        assert str(refused.value) == "kit.pdf: found texts of more than 1 MB; too long for a kit"


def test_a_stream_of_more_objects_than_any_kit_has(hand: Any) -> None:
    path = hand.pdf(hand.page(), objects=("<</Type /ObjStm /N 100001>>",))
    with pytest.raises(ProofError) as refused:
        prove(path)
    assert str(refused.value) == "kit.pdf: found more than 100000 objects; too many for a kit"


CYCLES = [
    "/Type /Pages /Count 1 /Kids [2 0 R]",
    "/Type /Pages /Count 2 /Kids [2 0 R 3 0 R]",
    "/Type /Pages /Count 1 /Kids [100 0 R]",
]


@pytest.mark.parametrize("root", CYCLES)
def test_a_page_tree_that_goes_round(hand: Any, root: str) -> None:
    path = hand.pdf(hand.page(), objects=("<</Type /Pages /Count 1 /Kids [2 0 R]>>",))
    data = path.read_bytes()
    tree = b"<</Type /Pages /Count 1 /Kids [3 0 R]>>"
    path.write_bytes(data.replace(tree, f"<<{root}>>".encode(), 1))
    with pytest.raises(ProofError) as refused:
        prove(path)
    assert str(refused.value) == BROKEN

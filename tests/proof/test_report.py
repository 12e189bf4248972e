"""A proof told as text and as JSON."""

from __future__ import annotations

import json

from handkit.messages.proving import Wording
from handkit.proof.proof import Check, Proof
from handkit.proof.report import proof_json, proof_text

GOOD = Check("user-unit", True, Wording("user unit of 2 pages", "1", "1"))
_WITHIN = "{wanted:bare .3} ± {slack:mm .3}"
WRONG = Wording(
    "page {page}: test square, {way}",
    "{length:mm .3}",
    "{wanted:bare .3} ± {slack:mm .3}",
    "print the kit again",
)
BAD = Check(
    "test-square",
    False,
    WRONG,
    {"page": 1, "way": "across", "length": 49.9, "wanted": 50.0, "slack": 0.01},
    1,
)


def test_text_of_a_proof_that_passed() -> None:
    assert proof_text(Proof("kit.pdf", (GOOD,))) == (
        "ok     user unit of 2 pages: found 1; wanted 1 [user-unit]\n"
        "kit.pdf: passed 1 of 1 checks: all that its own list has is drawn, at full scale, if the printer "
        "keeps it; whether that is your project: handkit proof KIT.pdf PROJECT.toml\n"
    )


def test_text_of_a_proof_against_a_project() -> None:
    assert proof_text(Proof("kit.pdf", (GOOD,), "pouch.toml")).endswith(
        "kit.pdf: passed 1 of 1 checks: all that pouch.toml drafts is drawn, at full scale, if the printer "
        "keeps it\n"
    )


def test_text_of_a_proof_of_a_kit_for_one_printer() -> None:
    assert proof_text(Proof("kit.pdf", (GOOD,), "pouch.toml", "shed")).endswith(
        "kit.pdf: passed 1 of 1 checks: all that pouch.toml drafts is drawn, at full scale, as the printer "
        "shed prints it and no other\n"
    )


def test_text_of_a_proof_that_failed() -> None:
    assert proof_text(Proof("kit.pdf", (GOOD, BAD))) == (
        "ok     user unit of 2 pages: found 1; wanted 1 [user-unit]\n"
        "FAILED page 1: test square, across: found 49.900 mm; wanted 50.000 ± 0.010 mm; "
        "do: print the kit again [test-square]\n"
        "kit.pdf: 1 of 2 checks failed: do not cut from this print\n"
    )


def test_text_of_a_file_that_is_no_kit() -> None:
    kit = Check(
        "kit", False, Wording("this is none of handkit's kits", "not one mark of a kit", "a kit's marks")
    )
    assert proof_text(Proof("poster.pdf", (kit, GOOD))) == (
        "FAILED this is none of handkit's kits: found not one mark of a kit; wanted a kit's marks [kit]\n"
        "ok     user unit of 2 pages: found 1; wanted 1 [user-unit]\n"
        "poster.pdf: none of handkit's kits: do not cut from this print\n"
    )


def test_json_has_every_check() -> None:
    assert json.loads(proof_json(Proof("kit.pdf", (GOOD, BAD)))) == {
        "format": 1,
        "file": "kit.pdf",
        "project": None,
        "printer": None,
        "passed": False,
        "checks": [
            {
                "code": "user-unit",
                "what": "user unit of 2 pages",
                "found": "1",
                "wanted": "1",
                "passed": True,
                "do": "",
                "page": 0,
            },
            {
                "code": "test-square",
                "what": "page 1: test square, across",
                "found": "49.900 mm",
                "wanted": "50.000 ± 0.010 mm",
                "passed": False,
                "do": "print the kit again",
                "page": 1,
            },
        ],
    }


def test_text_is_told_in_the_kits_unit_and_json_in_mm() -> None:
    """49.9 mm is 1.9646 in; 50 ± 0.01 mm is 1.9685 ± 0.0004 in."""
    proof = Proof("kit.pdf", (BAD,), unit="in")
    assert "found 1.9646 in; wanted 1.9685 ± 0.0004 in; do" in proof_text(proof)
    assert json.loads(proof_json(proof))["checks"][0]["found"] == "49.900 mm"

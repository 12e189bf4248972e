"""The samples are as large as they are meant to be, and their proof passes."""

from __future__ import annotations

import json
from collections import Counter
from typing import Any

import numpy as np
import pytest

from handkit import Severity, kit
from handkit.commands.common.sample_files import SAMPLES, sample_names, samples_folder


def test_the_pouch(pouch: Any) -> None:
    assert len(pouch.pieces["pieces"]) == 11
    drawn = {
        tuple(m.properties[k] for k in ("Piece", "Seam", "Run", "Number")) for m in pouch.tagged("/hkHole")
    }
    assert len(drawn) >= 380
    openings = {
        (opening["kind"], opening["name"], opening["number"])
        for piece in pouch.pieces["pieces"]
        for opening in piece["openings"]
    }
    kinds = Counter(kind for kind, *_ in openings)
    assert kinds["rivet"] == 6
    assert kinds["snap"] == 2  # one snap: its cap's place and its stud's


def test_no_rivet_of_the_pouch_stands_in_a_tools_way(pouch: Any) -> None:
    """Judged from the JSON by plain boxes: a cap of the back lies under no thing that is carried there."""
    back = pouch.piece("back")
    caps = [(o["x"], o["y"], 4.5) for o in back["openings"]]  # 9 mm across, as the file has them
    for item in back["items"]:
        xs, ys = zip(*item["outline"], strict=True)
        for x, y, radius in caps:
            beside = max(min(xs) - x, x - max(xs), min(ys) - y, y - max(ys))
            assert beside >= radius, (item["name"], x, y)


def test_the_pouchs_sheath_keeps_the_blade_off_thread_and_metal(pouch: Any) -> None:
    """A welt has every hole of the edge seam, and nothing else pierces the leaves below the mouth."""
    sheath = pouch.piece("sheath")
    edge = next(seam for seam in pouch.plan["seams"] if seam["name"] == "sheath")
    assert [layer["piece"] for layer in edge["layers"]] == ["sheath", "sheath welt", "sheath"]
    assert "stretches" not in edge  # every layer has every hole
    mouth = sheath["letters"]["H"][1]
    assert not [o for o in sheath["openings"] if o["y"] < mouth]
    assert {hole["seam"] for hole in sheath["holes"] if hole["y"] < mouth} == {"sheath"}
    welt = pouch.piece("sheath welt")
    assert edge["stack_mm"] == 2 + 3 + 2  # by hand: leaf, welt, leaf
    assert welt["thickness_mm"] == 3  # as thick as the blade


def test_the_strap(strap: Any) -> None:
    """By hand: the butt ends 89 from the fold (the slot 14, 2 and half a hole, rows of 20, a keeper of 15
    with 2 and half a hole to either side, rows again, two insets); the last hole is 755 + π · 4.3 ÷ 2 + 2.5 +
    π · 3.6 from the fold, and the point 2.5 · 38 beyond it.
    """
    piece = strap.piece("strap")
    size = np.ptp(np.array(piece["outline"]), axis=0)
    last = 755 + np.pi * 4.3 / 2 + 2.5 + np.pi * 3.6
    assert size == pytest.approx((89 + last + 95, 38), abs=0.01)
    assert Counter(o["kind"] for o in piece["openings"])["tongue"] == 7
    assert any(seam["name"] == "strap keeper" for seam in strap.plan["seams"])


def test_the_sketching_case(kits: Any) -> None:
    """The block stands in its box between front, gusset and back; pencils lie under their strap."""
    case = kits("sketching case")
    names = [piece["name"] for piece in case.pieces["pieces"]]
    assert names == ["back", "pencils strap", "box front", "box gusset", "card pocket", "closing strap"]
    seams = {seam["name"]: seam for seam in case.plan["seams"]}
    assert seams["box, front"]["holes"] == seams["box, base"]["holes"] >= 130
    assert seams["card pocket"]["order"] < seams["box, front"]["order"] < seams["box, base"]["order"]
    carried = [item["name"] for item in case.piece("back")["items"]]
    assert len(carried) == 6
    assert "sketch block" in carried


@pytest.mark.long
def test_the_wallet(kits: Any) -> None:
    """Six pockets on a cover that folds, all on one sheet; the higher are tees, sewn in by their bars."""
    wallet = kits("wallet")
    names = [piece["name"] for piece in wallet.pieces["pieces"]]
    assert names == ["cover", *(f"{side} {k}" for side in ("left", "right") for k in (1, 2, 3))]
    assert wallet.report["totals"]["sheets"] == 1
    order = [seam["name"] for seam in wallet.plan["seams"]]
    for side in ("left", "right"):
        assert order.index(f"{side} 1, foot") < order.index(f"{side} 2, foot") < order.index(side)
        assert len(wallet.piece(f"{side} 1")["letters"]) == 8
    row = next(seam for seam in wallet.plan["seams"] if seam["name"] == "left")
    # By hand: cover 1.2 and pockets of 0.8; nowhere more than two of them, and one above the highest mouth.
    assert sorted({stretch["stack_mm"] for stretch in row["stretches"]}) == [1.2, 2.0, 2.8]


def test_no_kit_has_an_error(kit: Any) -> None:
    assert [finding for finding in kit.report["findings"] if finding["severity"] == "error"] == []


def test_the_proof_passes(kit: Any, handkit: Any) -> None:
    """Exit code 0, every check; `handkit` sees to the exit code."""
    proof = json.loads(handkit("proof", kit.pdf, "--format", "json", folder=kit.pdf.parent))
    assert proof["passed"]
    assert [check for check in proof["checks"] if not check["passed"]] == []


def test_the_proof_counts_the_holes_that_are_drawn(pouch: Any, handkit: Any) -> None:
    drawn = {
        tuple(m.properties[k] for k in ("Piece", "Seam", "Run", "Number")) for m in pouch.tagged("/hkHole")
    }
    pieces = {name[0] for name in drawn}
    told = handkit("proof", pouch.pdf, folder=pouch.pdf.parent)
    assert f"{len(drawn)} holes on {len(pieces)} pieces" in told


@pytest.mark.parametrize("name", ["pouch", "strap"])
def test_the_same_project_gives_the_same_bytes(kits: Any, script: Any, name: str, monkeypatch: Any) -> None:
    """In another process and time zone, with another hash seed and another locale."""
    kit, project = kits(name), {"pouch": "orchard_pouch/pouch.toml", "strap": "strap/strap.toml"}[name]
    for variable, value in (("PYTHONHASHSEED", "4711"), ("TZ", "Pacific/Chatham"), ("LC_ALL", "C")):
        monkeypatch.setenv(variable, value)
    again, report = kit.pdf.with_suffix(".again"), kit.pdf.with_suffix(".again.json")
    script("make", project, "-o", again, "--report", report, folder=kit.pdf.parent)
    assert again.read_bytes() == kit.pdf.read_bytes()
    assert json.loads(report.read_text("utf-8")) == kit.report


@pytest.mark.long
@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_has_its_pages_and_no_warning(name: str) -> None:
    """What the list of samples tells of each is what its kit has; a first look shows nothing to mend."""
    (project,) = (samples_folder() / name).glob("*.toml")
    made = kit.make(project)
    assert made.pages == SAMPLES[name].pages
    assert [str(found) for found in made.made.findings if found.severity is not Severity.NOTE] == []


def test_every_sample_is_listed() -> None:
    assert tuple(SAMPLES) == sample_names()

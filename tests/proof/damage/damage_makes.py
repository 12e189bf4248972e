"""Damage makes: the three kits that are damaged, made once, and what the proof tells of any bytes.

In: the name of a kit; the bytes of a file. Out: a kit's bytes; the checks that fail.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from handkit.errors import ProofError
from handkit.kinds.pages import Straights
from handkit.kit import make
from handkit.overrides import PageOverrides
from handkit.paper import paper_named
from handkit.proof.prover import Drafted, manifest_in, prove
from handkit.proof.report import proof_json

HERE = Path(__file__).parent
SAMPLES = HERE.parents[2] / "samples"

# By name: the project, and what stands in for its [page]. The pouch is a maker's; the strap on small paper
# has portions, joins and a straight that is left out; the last one has one of every other mark there is.
KITS: dict[str, tuple[Path, PageOverrides]] = {
    "pouch": (SAMPLES / "orchard_pouch" / "pouch.toml", PageOverrides()),
    "strap": (
        SAMPLES / "strap" / "strap.toml",
        PageOverrides(paper=paper_named("148x210mm"), straights=Straights.SHORTENED),
    ),
    "kinds": (HERE / "kits" / "kinds.toml", PageOverrides()),
}


@cache
def kit_of(name: str) -> bytes:
    """A kit's file, made once."""
    project, overrides = KITS[name]
    return make(project, overrides).pdf


def told(data: bytes, project: str = "") -> tuple[tuple[dict[str, Any], ...], str]:
    """The failing checks of a file, as other programs read them, or why it is not read; held to what one of
    the kits' projects drafts, where its name is given."""
    drafted = manifest_in(kit_of(project)) if project else None
    with TemporaryDirectory() as folder:
        path = Path(folder) / "kit.pdf"
        path.write_bytes(data)
        try:
            proof = json.loads(
                proof_json(prove(path, lambda _: Drafted(project, drafted) if drafted else None))
            )
        except ProofError as error:
            return (), str(error)
    return tuple(check for check in proof["checks"] if not check["passed"]), ""

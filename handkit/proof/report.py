"""Report: a proof as text for a terminal, and as JSON for other programs.

In: `Proof`. Out: text that ends its last line. What the file says of itself (its tags) has
escapes, so that it can neither act on a terminal nor begin a line of its own.
"""

from __future__ import annotations

import json

from handkit.proof.checks.kit_checks import CODE as KIT
from handkit.proof.proof import Check, Proof
from handkit.wording.figures import UNITS, Units
from handkit.wording.quoting import escaped

# What of a check other programs are told.
_FIELDS = ("code", "what", "found", "wanted", "passed", "do", "page")


def proof_text(proof: Proof) -> str:
    """One line for each check, in the kit's unit, and one that says whether the file may be printed.

    >>> from handkit.messages.proving import Wording
    >>> wrong = Check("user-unit", False, Wording("page {page}: unit", "2", "1"), {"page": 1})
    >>> print(proof_text(Proof("a.pdf", (wrong,))), end="")
    FAILED page 1: unit: found 2; wanted 1 [user-unit]
    a.pdf: 1 of 1 checks failed: do not cut from this print
    """
    failed, count = sum(not check.passed for check in proof.checks), len(proof.checks)
    if any(check.code == KIT for check in proof.checks):
        verdict = "none of handkit's kits: do not cut from this print"
    elif failed:
        verdict = f"{failed} of {count} checks failed: do not cut from this print"
    else:
        verdict = f"passed {count} of {count} checks: {_proved(proof)}"
    units = UNITS[proof.unit]
    return "\n".join(
        (*(_line(check, units) for check in proof.checks), escaped(f"{proof.file}: {verdict}") + "\n")
    )


def _proved(proof: Proof) -> str:
    """What a file that passes is sure to be, and what isn't known of it."""
    printed = "if the printer keeps it"
    if proof.printer:
        printed = f"as the printer {proof.printer} prints it and no other"
    if proof.project:
        return f"all that {proof.project} drafts is drawn, at full scale, {printed}"
    listed = f"all that its own list has is drawn, at full scale, {printed}"
    return f"{listed}; whether that is your project: handkit proof KIT.pdf PROJECT.toml"


def proof_json(proof: Proof) -> str:
    """The proof for other programs, all of it in mm: `format`, `file`, `passed`, `checks`."""
    content = {
        "format": 1,
        "file": proof.file,
        "project": proof.project or None,
        "printer": proof.printer or None,
        "passed": proof.passed,
        "checks": [{name: getattr(check, name) for name in _FIELDS} for check in proof.checks],
    }
    return json.dumps(content, ensure_ascii=False, indent=1) + "\n"


def _line(check: Check, units: Units) -> str:
    head = "ok    " if check.passed else "FAILED"
    texts = (check.wording.what, check.wording.found, check.wording.wanted)
    what, found, wanted = (check.told(text, units) for text in texts)
    do = f"; do: {check.do}" if check.do else ""
    return escaped(f"{head} {what}: found {found}; wanted {wanted}{do} [{check.code}]")

"""Telling: a proof as text for a terminal, and as JSON for other programs.

In: `Proof`. Out: text, without a newline at its end.
"""

from __future__ import annotations

import json

from handkit.proof.proof import Check, Proof


def proof_text(proof: Proof) -> str:
    """One line for each check, and a closing line that says whether the file may be printed.

    >>> print(proof_text(Proof("a.pdf", (Check("user-unit", "page 1: user unit", "2", "1", False),))))
    FAILED page 1: user unit: found 2; wanted 1 [user-unit]
    a.pdf: 1 of 1 checks failed: do not cut from this print
    """
    failed = sum(not check.passed for check in proof.checks)
    verdict = (
        f"{failed} of {len(proof.checks)} checks failed: do not cut from this print"
        if failed
        else f"all {len(proof.checks)} checks passed: full scale, if the printer keeps it"
    )
    return "\n".join((*map(_line, proof.checks), f"{proof.file}: {verdict}"))


def proof_json(proof: Proof) -> str:
    """The proof for other programs: `format`, `file`, `passed`, `checks`."""
    told = {
        "format": 1,
        "file": proof.file,
        "passed": proof.passed,
        "checks": [check.to_json() for check in proof.checks],
    }
    return json.dumps(told, ensure_ascii=False, indent=2)


def _line(check: Check) -> str:
    head = "ok    " if check.passed else "FAILED"
    return f"{head} {check.what}: found {check.found}; wanted {check.wanted} [{check.code}]"

"""File checks: that a file has what handkit writes beside its pages, and nothing that acts or covers.

In: the document. Out: checks `viewer` and `extras`.

A file that was only copied, or stored another way (linearised, other metadata), has the same; one that
another program has added something to (forms, scripts, layers, annotations) may print otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from handkit.proof.checks.checking import check, together
from handkit.proof.content.document import Document
from handkit.proof.proof import Check
from handkit.wording.quoting import cut

# What is asked of a viewer (ISO 32000-1, Table 150) beside the print scaling, which is a check of its own.
PREFERENCES = [("DisplayDocTitle", "true")]

# So many preferences are named; there are not many more.
MOST_NAMED = 20

# What entries are, for those who don't know the format.
_ENTRIES: Mapping[str, str] = MappingProxyType(
    {
        "/AA": "actions (AA)",
        "/AcroForm": "a form to fill in (AcroForm)",
        "/Annots": "annotations (Annots)",
        "/Collection": "a portfolio of other files (Collection)",
        "/Dur": "a time after which it is turned over (Dur)",
        "/Group": "a group with colours of its own (Group)",
        "/Names /JavaScript": "a script (JavaScript)",
        "/OCProperties": "layers that can be switched off (OCProperties)",
        "/Pages /Count": "a wrong count of pages (Count)",
        "/OutputIntents": "colours of another printer (OutputIntents)",
        "/Trans": "a page transition (Trans)",
    }
)


def file_checks(document: Document, *, attached: str) -> tuple[Check, ...]:
    """All of them; `attached` is the name of the one file that a kit may carry."""
    extras = list(_extras(document, attached))
    return (_viewer(document), *together(check("extras", True), extras))


def _viewer(document: Document) -> Check:
    found = [each for each in document.carried.preferences if each[0] != "PrintScaling"]
    wanted = _listed(PREFERENCES)
    if found == PREFERENCES:
        return check("viewer", True, wanted=wanted)
    return check("viewer/other", found=_listed(found), wanted=wanted)


def _listed(preferences: list[tuple[str, str]]) -> str:
    return ", ".join(cut(f"{key} {value}") for key, value in preferences[:MOST_NAMED]) or "nothing"


def _extras(document: Document, attached: str) -> Iterator[Check]:
    carried = document.carried
    for action in carried.actions:
        yield check("extras/action", action=action)
    for entry in carried.entries:
        yield check("extras/file", entry=_worded(entry))
    others = list(carried.attached)
    if attached in others:
        others.remove(attached)
    for name in others:
        yield check("extras/attached", name=name)
    for page in document.pages:
        for entry in page.carried:
            yield check("extras/page", page=page.number, entry=_worded(entry))


def _worded(entry: str) -> str:
    return _ENTRIES.get(entry, entry.removeprefix("/Names ").removeprefix("/Pages ").removeprefix("/"))

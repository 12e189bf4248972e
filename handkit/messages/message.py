"""A row of the tables of messages, and how much a finding weighs.

Words: a *code* is the fixed word at a finding's end, for other programs; a *key* names the row: it
is the code, or `code/variant` where one code is told in several ways; a *placeholder* is a value's
name in braces, filled in when the finding is made (`{{` and `}}` stand for braces as such); the
styles it may name, such as {name:quoted}, are told in `placeholders.py`.
"""

from __future__ import annotations

from enum import StrEnum

import msgspec


class Severity(StrEnum):
    """How much a finding weighs; the order of the members is the order of weight."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


class Message(msgspec.Struct, frozen=True):
    """How a finding is told: phrases without a full stop, with placeholders."""

    severity: Severity
    found: str
    allowed: str = ""
    remedy: str = ""


def error(found: str, allowed: str = "", remedy: str = "") -> Message:
    """What stops the work."""
    return Message(Severity.ERROR, found, allowed, remedy)


def warning(found: str, allowed: str = "", remedy: str = "") -> Message:
    """What should be looked at before cutting."""
    return Message(Severity.WARNING, found, allowed, remedy)


def note(found: str, allowed: str = "", remedy: str = "") -> Message:
    """What is good to know."""
    return Message(Severity.NOTE, found, allowed, remedy)

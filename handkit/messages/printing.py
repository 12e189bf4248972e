"""Messages of printers that are measured: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, error, warning

_SWITCH_OFF = (
    "in the print dialog choose 100 % and switch off all that fits, shrinks or enlarges a page or lays it "
    "out anew, print the test page again and measure that"
)
_OFTEN = "a printer's own error, up to {most:percent}"

PRINTING: Mapping[str, Message] = MappingProxyType(
    {
        "diagonals-off": error(
            "diagonals of {read:mm} in the mean, where the bars make it {wanted:mm}",
            "diagonals of a box with such sides",
            "measure all four again, from cross to cross and from tick to tick",
        ),
        "printer-askew": error(
            "uprights that lean by {skew:.1f}°",
            "a lean of up to {most:.1f}°",
            "see that the paper is taken in straight and lies on the printer's glass or tray as it should, "
            "print the test page again and measure that",
        ),
        "printer-either": warning(
            "a page at {across:percent} across and {down:percent} down",
            remedy="{fits:or} would do that as well as the printer's own error, and a rule can't tell which; "
            "see that in the print dialog nothing fits or scales, and give --edges: of a fitted page no step "
            "is lost",
        ),
        "printer-fitted": error(
            "a page at {across:percent} across and {down:percent} down, as by {fits:or}", _OFTEN, _SWITCH_OFF
        ),
        "printer-name": error(
            "the name {name:quoted}",
            "1 to {most} letters, digits, spaces, points, hyphens",
            "give the printer a short name",
        ),
        "printer-scaled": error(
            "a page at {across:percent} across and {down:percent} down, scaled by no fit that is known",
            _OFTEN,
            _SWITCH_OFF,
        ),
        "printer-uneven": error(
            "a page at {across:percent} across and {down:percent} down",
            _OFTEN,
            "measure again; if it is so, " + _SWITCH_OFF + ", or use another printer",
        ),
        "printer-unknown": error(
            "the printer {name:quoted}", "{known:quoted or}", "`handkit printer` lists them"
        ),
        "printer-unknown/none": error(
            "the printer {name:quoted}",
            "none, for no printer was measured",
            "`handkit printer test` prints a page to measure",
        ),
        "printers-damaged": error(
            "no list of printers as handkit writes it: {reason}",
            remedy="mend it, or move it elsewhere and measure the printers again; it is left as it stands",
        ),
        "reading-far": error(
            "{what} {read:mm}, where {drawn:mm} are drawn",
            "what a rule says of the test page for {paper}",
            'measure from middle to middle of its ends; inches are written "7 1/8 in"',
        ),
        "reading-out": error("an edge of {read:mm}", "{0:mm} to {most:mm}", "give the step's number"),
        "readings-count": error(
            "{text:quoted}",
            "{count} lengths with commas between",
            "write all {count}, decimals with a point",
        ),
    }
)

"""Messages of photos that are traced: one row a code, in the order of the alphabet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handkit.messages.message import Message, error, warning

_FILE = "save it as JPEG or PNG, as large as the camera takes it"
_COLOUR = "print the mat on blue or green paper of full colour"
_BARE = "nothing lies on a mark, the whole sheet is in the picture, its paper is lighter than its ink"

PHOTO: Mapping[str, Message] = MappingProxyType(
    {
        "names-count": error(
            "{text:quoted}",
            "{count:counted name} with commas between",
            "name all things in the order of their numbers",
        ),
        "photo-bars": error(
            "bars of {across:mm} and {up:mm}, where {drawn_across:mm} and {drawn_up:mm} are drawn",
            "what a rule says of a mat that is printed at full size",
            "measure from tick to tick in mm, first across; if it is so, print the mat again at 100 %",
        ),
        "photo-blurred": error(
            "edges {blur:.1f} pixels wide",
            "up to {most:g} pixels",
            "hold the camera still and let it find its distance, in more light",
        ),
        "photo-border": error(
            "a thing that reaches out of the field, at {at:point}",
            "things inside the field, clear of marks and bars",
            "lay it further in, or print a larger mat",
        ),
        "photo-coarse": warning(
            "{pixels:.1f} pixels a mm",
            "{least:g} and more",
            "go nearer, or take the picture with more pixels",
        ),
        "photo-count": error(
            "{found:counted thing} on the mat, {sizes}",
            "the {count:counted thing} that you said lie there",
            "lay things apart, wipe the sheet, and use a paper of a colour that no thing has",
        ),
        "photo-count/none": error(
            "nothing on the mat",
            "the {count:counted thing} that you said lie there",
            "use a paper of a colour that no thing has",
        ),
        "photo-cut": warning(
            "{width} × {height} pixels, which no camera's picture has",
            "the whole picture, 4:3, 3:2, 16:9 or as the phone takes it",
            "trace the photo as it was taken if it was cut: sizes are reckoned from its middle",
        ),
        "photo-edge": error(
            "thing {number} with an edge that can't be told from the paper along {share:percent} of it",
            "up to {most:percent}",
            "use a paper of another colour, or lay the thing where no deep shadow falls on it",
        ),
        "photo-file": error("no picture that can be read", "JPEG or PNG", _FILE),
        "photo-file/damaged": error("a picture that is damaged", "JPEG or PNG", _FILE),
        "photo-large": error(
            "{width} × {height} pixels, a file of {size:.0f} MB",
            "up to {pixels:.0f} million pixels and {most:.0f} MB",
            "save it smaller",
        ),
        "photo-marks": error(
            "{found} of the mat's {all} marks", "at least {least}", "lay the sheet so that all show: " + _BARE
        ),
        "photo-marks/none": error("no mat of this paper", "a mat with its {all} marks", _BARE),
        "photo-not-flat": error(
            "marks {off:mm} from where a flat sheet has them", "up to {most:mm}", "tape the paper down flat"
        ),
        "photo-pale": error(
            "a paper with hardly any colour",
            "paper of full colour: on white, shadows and light things can't be told from it",
            _COLOUR,
        ),
        "photo-parallax": warning(
            "thing {number}, {thick:mm} thick, seen {off:mm} beside its place",
            "up to {most:mm}",
            "lay tall things in the middle and hold the camera higher",
        ),
        "photo-shiny": warning(
            "thing {number} with a rim that mirrors the paper",
            remedy="its outline may be {off:mm} too small there, and by all of a tall side that mirrors: lay "
            "the thing on its print at 1:1",
        ),
        "photo-small": error("{width} × {height} pixels", "sides of {least} and more", _FILE),
        "photo-thick": error(
            "thing {number}, {thick:mm} thick",
            "up to {most:mm} in this picture",
            "say how far it rises over the paper, in mm",
        ),
        "photo-thick/lost": error(
            "thing {number}, {thick:mm} thick, which leaves nothing of what is seen",
            "",
            "say how far it rises over the paper, in mm",
        ),
        "photo-tilted": warning(
            "a camera that leans by {tilt:.0f}°",
            "up to {most:g}°",
            "hold it level over the middle of the sheet",
        ),
        "things-count": error(
            "{text:quoted}",
            "{photos:counted number} from 1 to {most}, one for each photo, with commas between",
            "say how many things lie on each mat",
        ),
        "things-named": error("the name {name:quoted} twice", "a name for each thing", "change one"),
    }
)

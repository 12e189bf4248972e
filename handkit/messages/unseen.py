"""Wordings of step 7, proof: why ink isn't seen, and how it lies beside where it should. They stand after
"found"; `x` and `y` count from the page's lower left corner.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

_AT = "at {x:bare place}, {y:mm place}"
UNSEEN: Mapping[str, str] = MappingProxyType(
    {
        "an annotation": f"covered by an annotation {_AT}",
        "an image": f"covered by an image {_AT}",
        "a shading": f"covered by a shading {_AT}",
        "black": f"lost in a black area {_AT}",
        "blend": "blended with what lies under it",
        "clipped": f"cut off by a clip {_AT}",
        "colour": "in a colour that can't be told",
        "covered": f"covered by what is painted over it {_AT}",
        "dashed": "drawn with a pen of {width:mm .3}, dashed {dash:dashes}",
        "font": "in a font that the page doesn't have",
        "group": "part of a see-through group",
        "layer": "in a layer that can be switched off",
        "letters": "letters that are not filled",
        "letters-over": f"covered by letters {_AT}",
        "light": "of {grey:.0f} % white",
        "mask": "under a mask",
        "off": f"off the page {_AT}",
        "pen": "drawn with a pen of {width:mm .3}",
        "squeezed": "squeezed, slanted or mirrored letters",
        "thin": "see-through, {share:.0f} % opaque",
        "transfer": "changed by a transfer function or a halftone",
    }
)

# How all of a page or a portion lies beside where it should.
MAPPED: Mapping[str, str] = MappingProxyType(
    {
        "mirrored": "mirrored",
        "scaled": "{by:.3f} times as large",
        "stretched": "{across:.3f} times as large across, {down:.3f} down",
        "turned-left": "turned by {by:.2f}° to the left",
        "turned-right": "turned by {by:.2f}° to the right",
        "leaning-left": "leaning by {by:.2f}° to the left",
        "leaning-right": "leaning by {by:.2f}° to the right",
        "moved": "its middle {ways}",
        "left": "{by:mm .2} to the left",
        "right": "{by:mm .2} to the right",
        "up": "{by:mm .2} up",
        "down": "{by:mm .2} down",
    }
)

"""Wordings of step 7, proof: why ink isn't seen. They stand after "found"; `x` and `y` count
from the page's lower left corner.
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
        "transfer": "changed by a transfer function",
    }
)

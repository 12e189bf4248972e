"""Light: the bytes of a picture as the light they stand for.

A byte is coded by the curve of sRGB (IEC 61966-2-1). Edges and shadows mix as light does, and not as bytes:
measured on coded bytes an edge lies up to 0.6 mm off.
"""

from __future__ import annotations

import numpy as np

_CODED = np.arange(256) / 255

# The share of full light of each byte, and the same as a whole number of 65535.
LINEAR = np.where(_CODED <= 0.04045, _CODED / 12.92, ((_CODED + 0.055) / 1.055) ** 2.4)
LINEAR_WORDS = np.round(LINEAR * 65535).astype(np.uint16)

# Back: the byte of each of 4096 even steps of light.
_EVEN = (np.arange(4096) + 0.5) / 4096
_BACK = np.where(_EVEN <= 0.0031308, 12.92 * _EVEN, 1.055 * _EVEN ** (1 / 2.4) - 0.055)
CODED_WORDS = np.round(_BACK * 255).astype(np.uint8)

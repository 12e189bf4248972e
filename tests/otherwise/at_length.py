"""The laws of this folder on as many good random projects as are asked for: python at_length.py 200"""

from __future__ import annotations

import sys
from itertools import count, islice

from random_projects import good
from test_by_hand import hold_by_hand
from test_mirrored import hold_mirrored
from test_trial import hold_trial

LAWS = (hold_by_hand, hold_mirrored, hold_trial)


def main(wanted: int) -> None:
    """Hold so many to all laws, and tell how many numbers that took."""
    number = -1
    for number, text in islice((each for k in count() for each in good(range(k, k + 1))), wanted):
        for law in LAWS:
            try:
                law(text)
            except Exception as fault:
                fault.add_note(f"project {number} and {law.__name__}:\n{text}")
                raise
    print(f"{wanted} good projects of {number + 1} numbers: {', '.join(law.__name__ for law in LAWS)}")


if __name__ == "__main__":
    main(int(sys.argv[1]))

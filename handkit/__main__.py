"""`handkit`, and `python -m handkit`: the command line, which can be interrupted at any moment.

In: words of the command line. Out: see `cli.py`; how it ends when it is interrupted: `interrupts.py`.
"""

from __future__ import annotations

from handkit.interrupts import INTERRUPTED, listen, tell_interrupted


def run() -> None:
    """Run the command. It is loaded when called, for that may be interrupted too."""
    listen()
    try:
        from handkit.cli import main

        main()
    except SystemExit as end:
        if end.code == INTERRUPTED:
            tell_interrupted()
        raise


if __name__ == "__main__":
    run()

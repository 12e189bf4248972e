"""`python -m handkit`: the command line, where no `handkit` is on the path.

In: words of the command line. Out: see `cli.py`.
"""

from __future__ import annotations

from handkit.cli import main

if __name__ == "__main__":
    main()

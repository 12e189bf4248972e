"""`handkit explain`: what a code at the end of a message stands for.

In: the code, or nothing. Out: its explanation with an example, or all codes.
"""

from __future__ import annotations

import click

from handkit.commands.common.ending import fail, reporting_errors
from handkit.commands.common.options import terminal_width
from handkit.commands.common.output import write_output


@click.command()
@click.argument("code", required=False)
def explain(code: str | None) -> None:
    """Tell at length what a code such as radius-too-big stands for; without CODE, list them."""
    from handkit.commands.common.explained import codes, explained
    from handkit.draw.export.text_lines import WIDTH, filled
    from handkit.findings import nearest

    width = terminal_width() or WIDTH
    with reporting_errors():
        if code is None:
            told = [
                line
                for work, listed in codes().items()
                for line in (f"{work}:", *filled(", ".join(listed), width, "  ", "  "), "")
            ]
        else:
            asked = code.strip("[]").lower()
            told = explained(asked, width)
            if not told:
                near = nearest(asked, [each for listed in codes().values() for each in listed])
                meant = f"; did you mean {near}?" if near else "; handkit explain lists all"
                fail(f"no message has the code {code!r}{meant}")
        write_output("".join(f"{line.rstrip()}\n" for line in told))

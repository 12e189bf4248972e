"""The command line: its commands, and what all of them share. Exit codes: `commands/common/ending.py`.

All but click is imported when a command runs, so that each pays for its own road only, and `--help` for none.
"""

from __future__ import annotations

import atexit
import gc
import sys
from io import TextIOWrapper

import click

from handkit import __version__
from handkit.commands.arrange import arrange
from handkit.commands.check import check
from handkit.commands.common.output import Commands
from handkit.commands.draft import draft
from handkit.commands.explain import explain
from handkit.commands.keys import keys
from handkit.commands.make import make
from handkit.commands.mat import mat
from handkit.commands.new import new
from handkit.commands.pieces import pieces
from handkit.commands.plan import plan
from handkit.commands.printer import printer
from handkit.commands.proof import proof
from handkit.commands.sample import sample
from handkit.commands.show import show
from handkit.commands.trace import trace

# A command makes much and drops little, in no circles: looking for these at Python's usual pace costs
# it a twentieth of its time.
GARBAGE = (100_000, 20, 20)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="handkit")
def main() -> None:
    """Patterns for leather and cloth worked by hand.

    One project file in; full-scale templates with every stitch hole, and a plan with the order of
    work and the thread to cut, out. Start with your own things: handkit new, or with a sample: handkit
    sample, and handkit make its file.
    """
    gc.set_threshold(*GARBAGE)
    atexit.register(gc.freeze)  # no last look for garbage: the process gives all back at once
    if isinstance(sys.stdout, TextIOWrapper):  # a terminal that lacks a letter shows its number
        sys.stdout.reconfigure(errors="backslashreplace")


main.add_command(arrange)
main.add_command(check)
main.add_command(draft)
main.add_command(explain)
main.add_command(keys)
main.add_command(make)
main.add_command(mat)
main.add_command(new)
main.add_command(pieces)
main.add_command(plan)
main.add_command(printer)
main.add_command(proof)
main.add_command(sample)
main.add_command(show)
main.add_command(trace)

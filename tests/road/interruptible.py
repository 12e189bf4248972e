"""handkit as a program of its own that Ctrl-C ends, whatever runs the tests."""

from __future__ import annotations

# What runs the tests may ignore Ctrl-C, and its children with it.
COMMAND = """
import signal
signal.signal(signal.SIGINT, signal.default_int_handler)
from handkit.__main__ import run
from handkit.interrupts import listen
listen()
print("here", flush=True)
run()
"""

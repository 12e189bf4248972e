"""Measured drawings: pieces to be marked out by their measures, on one page each."""

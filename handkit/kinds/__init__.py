"""Kinds that several steps know: one row a kind, with all that makes it unlike the others."""

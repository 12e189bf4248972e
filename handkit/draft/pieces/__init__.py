"""Pieces: true outlines, what they carry, where each lies."""

"""Pieces that are given by their measures in place of tiled sheets."""

"""Drawings as data: marks, tags, letters, and the search for a free place."""

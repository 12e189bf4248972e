"""Seams and openings on the pieces: stitch lines, runs, places."""

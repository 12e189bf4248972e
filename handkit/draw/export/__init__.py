"""Forms for other programs and for a terminal."""

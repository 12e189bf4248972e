"""How numbers, names and lists are written, for findings, pages and a terminal alike."""

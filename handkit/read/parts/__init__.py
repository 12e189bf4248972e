"""What is carried and what holds it: items, parts, and the entries that a part promises."""

"""Which windows a piece is cut into."""

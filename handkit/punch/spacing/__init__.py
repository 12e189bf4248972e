"""Where the holes of a seam stand on each of its layers."""

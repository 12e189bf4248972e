"""One value at a time: lengths, texts, points, and how a fault of one is told."""

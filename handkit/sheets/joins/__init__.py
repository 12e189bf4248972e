"""Where windows are joined, with marks, clear of holes."""

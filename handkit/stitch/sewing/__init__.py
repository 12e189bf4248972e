"""One seam at a time: the needles' way, thread, tools."""

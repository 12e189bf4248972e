"""Whether what a part drafts has room where it lies."""

"""A project back to a file: every entry as a maker would write it by hand."""

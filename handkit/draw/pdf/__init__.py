"""Pages of marks to the bytes of a PDF file."""

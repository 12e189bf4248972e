"""Tables of the file to records: pieces, seams, openings, page."""

"""The sums behind drafted parts: sections, bows, boxes, ease."""

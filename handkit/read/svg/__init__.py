"""From an SVG file that a maker has drawn to the outline of one shape in it, at true size."""

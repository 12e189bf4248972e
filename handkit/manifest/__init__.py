"""What a kit should show, carried in its file: written by the drawing, held to by the proof."""

"""What a kit should show, listed for the proof."""

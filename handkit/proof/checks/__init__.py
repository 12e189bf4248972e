"""What is measured of the marks."""

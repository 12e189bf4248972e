"""What is done to each edge of leather, and when."""

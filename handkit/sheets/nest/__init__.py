"""What lies where on which page."""

"""What lies on one another: how high it reaches, and what is pulled tight over it."""

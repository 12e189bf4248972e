"""What is told of clashes, and what mends them."""

"""What is cut, bought and used up."""

"""What is wrong, or too near, with the holes as they stand."""

"""What is traced from a photo, on paper and for other programs."""

"""What only the file as a whole can show."""

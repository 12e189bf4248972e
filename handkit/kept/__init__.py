"""What is kept from one run of a watched command to the next, and what makes two runs alike."""

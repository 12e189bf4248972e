"""What is drawn, held to the list of what should be."""

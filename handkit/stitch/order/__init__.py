"""What is done before what."""

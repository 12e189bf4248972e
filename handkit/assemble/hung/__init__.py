"""What is held at its ends or in a hole, and hangs free: handles, ties."""

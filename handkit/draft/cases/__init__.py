"""What stands by itself: bags, covers."""

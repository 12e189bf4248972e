"""The article put together: what lies where, and what gets in the way of what."""

"""Template sheets, full scale."""

"""All other pages of a kit."""

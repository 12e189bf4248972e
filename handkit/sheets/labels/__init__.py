"""Sheets with their windows, and where names are written."""

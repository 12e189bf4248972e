"""Blocks of text and tables over pages."""

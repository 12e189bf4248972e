"""Arranging: parts laid on a base whose size follows from them."""

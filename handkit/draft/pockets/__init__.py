"""Pockets: what holds things on a base: a module a kind, and what they share."""

"""The front door: commands with a module of their own, and how every command ends."""

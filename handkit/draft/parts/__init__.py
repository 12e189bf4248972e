"""Parts drafted from the items they hold."""

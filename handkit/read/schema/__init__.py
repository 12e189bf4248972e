"""The language of the project file: every key, what it takes, its page for makers."""

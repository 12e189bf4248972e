"""The steps at the bench, a module for each kind of step."""

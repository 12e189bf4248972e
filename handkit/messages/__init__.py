"""The wording of all that handkit tells about a project: one table a step, one row a code."""

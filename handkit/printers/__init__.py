"""Under the steps: what a printer does to a page, how that is measured, told from a fitted page, and kept."""

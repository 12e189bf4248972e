"""A PDF file to the marks its pages draw."""

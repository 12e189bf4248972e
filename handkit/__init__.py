"""handkit: from measured things to full-scale templates and a plan, for work by hand."""

__version__ = "0.1.0"

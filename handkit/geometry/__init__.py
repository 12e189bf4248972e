"""Plane geometry for all steps: lines and arcs, offsets, crossings, areas. Knows nothing of leather."""

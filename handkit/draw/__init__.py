"""Step 6, draw: `Sheets` and `StitchPlan` in; PDF bytes, SVG, JSON and text out."""

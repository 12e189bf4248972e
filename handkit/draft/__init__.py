"""Step 2, draft: `Project` in; `Pattern` out: true shapes, stitch lines, where each piece lies."""

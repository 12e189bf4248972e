"""Step 3, punch: `Pattern` in; `Punched` out: every hole, numbered and matched across layers."""

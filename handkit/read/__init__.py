"""Step 1, read: one TOML file in; `Project` out, everything checked, in mm."""

"""Step 5, sheets: `Punched` and paper in; `Sheets` out: what lies where on which sheet."""

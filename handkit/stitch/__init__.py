"""Step 4, stitch: `Punched` in; `StitchPlan` out: order of work, needles' way, thread, lists."""

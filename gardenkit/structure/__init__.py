"""The bones of the garden: paths, stones, beds, supports, steps, and what is seen."""

"""Plants: the catalogue, choosing, spacing, arranging, growth, bloom, colour, balance."""

"""Plants: the catalogue, choosing, spacing, composing, growth, bloom, colour, balance."""

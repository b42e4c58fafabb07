"""The place as found: survey, levels, sun, soil, climate, water."""

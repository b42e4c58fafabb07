"""Drawings of the garden: plan, elevation, charts, on screen and on paper."""

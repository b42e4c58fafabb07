"""The garden as a painter sees it: every leaf, board and stone at its depth, lit by the sun of the hour."""

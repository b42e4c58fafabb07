"""Plane shapes, smooth curves and simple solids: the only part of gardenkit that knows shapely."""

"""A made-up large garden of rooms side by side, as many as asked for, to measure how cost grows with the garden."""

import itertools
from functools import lru_cache

from gardenkit.brief.wants import Want, check_for
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project
from gardenkit.project.edits import brief, planting, site
from gardenkit.project.edits.structure import beds, paths, seats
from gardenkit.project.layout import layout
from gardenkit.site.site import Building, ExistingTree

ACRE_ROOMS = 20  # of which each is 12.72 x 15.9 m: together an acre
WIDE, DEEP = 12.72, 15.9  # m a room
BEDS = (
    (0.6, 0.6, 5.6, 4.0),
    (7.1, 0.6, 12.1, 4.0),
    (0.6, 11.9, 5.6, 15.3),
    (7.1, 11.9, 12.1, 15.3),
    (0.6, 9.6, 5.2, 11.2),
)
KINDS = (
    "Hydrangea paniculata",
    "Panicum virgatum",
    "Salvia nemorosa",
    "Nepeta × faassenii",
    "Rudbeckia fulgida 'Goldsturm'",
    "Geranium sanguineum",
    "Hosta 'Halcyon'",
    "Phlox subulata",
    "Cornus kousa",
    "Echinacea purpurea",
)
PLANTS_A_BED, TREES = 20, 10  # a room


@lru_cache(maxsize=4)
def large_garden(rooms: int = ACRE_ROOMS, *, across: int = 5) -> Project:
    """Return a garden of so many rooms, ``across`` beside each other, the house in the first.

    Each has 5 beds, some 100 plants, 10 trees, a seat and a path to the next; a single room has no path.
    """
    down = -(-rooms // across)
    made = Project(name=f"Made-up garden of {rooms} rooms", units="metric")
    made = site.set_place(made, latitude=52.1, longitude=5.2, timezone="Europe/Amsterdam")
    made = site.set_boundary(made, ((0.0, 0.0), (across * WIDE, 0.0), (across * WIDE, down * DEEP), (0.0, down * DEEP)))
    corners = [(column * WIDE, row * DEEP) for row in range(down) for column in range(across)][:rooms]
    walls = ((4.0, 5.2), (11.0, 5.2), (11.0, 7.0), (4.0, 7.0))
    made = site.add_thing(made, Building(name="house", outline=walls, eaves=5.0))
    for number, (x, y) in enumerate(corners):
        made = _room(made, number, x, y)
    for number in range(rooms if rooms > 1 else 0):
        ends_row = number % across == across - 1 or number == rooms - 1
        other = number - min(2, number % across) if ends_row else number + 1
        made = paths.add_path(
            made, f"path {number}", start=f"seat {number}", end=f"seat {other}", curvature=0.1, width=0.7
        )
    made = _planted(made, corners)
    return brief.add_want(made, Want(text="sun in June", check=check_for("seat_sun_june", "at least", 4.0)))


def _room(made: Project, number: int, x: float, y: float) -> Project:
    for tree in range(TREES):
        at = (x + 0.6 + 1.2 * tree, y + (4.5 if tree % 2 else 11.5))
        record = ExistingTree(name=f"tree {number}.{tree}", at=at, height=4.0 + tree % 4, spread=2.0)
        made = site.add_thing(made, record)
    made = seats.add_seat(made, f"seat {number}", at=(x + 6.4, y + 8.2), facing=float(number * 40 % 360))
    for bed, (left, low, right, high) in enumerate(BEDS):
        outline = ((x + left, y + low), (x + right, y + low), (x + right, y + high), (x + left, y + high))
        made = beds.draw_bed(made, outline, name=f"bed {number}.{bed}")
    return made


def _planted(made: Project, corners: list[tuple[float, float]]) -> Project:
    worked = layout(made)
    kinds = itertools.cycle(load_catalogue()[name] for name in KINDS)
    for x, y in corners:
        for left, low, right, high in BEDS:
            wide, deep = (right - left - 0.6) / 4, (high - low - 0.6) / 3
            spots = [(x + left + 0.3 + wide * i, y + low + 0.3 + deep * j) for i in range(5) for j in range(4)]
            free = [spot for spot in spots if worked.bed_at(spot) is not None]  # a path may cut a bed's edge
            for first in range(0, len(free), 5):
                made = planting.add_plants(made, next(kinds), free[first : first + 5])
    return made

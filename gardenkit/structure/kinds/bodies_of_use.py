"""The bodies, pieces and weights of things of use: butts, compost bays, decks, raised beds."""

import math

import attrs

from gardenkit.sources import HOUSE, PLAIN, Figure
from gardenkit.structure.kinds.placed import (
    MOIST_COMPOST,
    SOFTWOOD,
    SOIL_WET,
    Counted,
    Weighed,
    by_area,
)
from gardenkit.structure.kinds.thing_forms import LAP, LINING, Form, box, drum, legs, moved, slats, walls
from gardenkit.structure.structure import Thing
from gardenkit.units import FOOT, INCH

STAND = 0.3  # m a butt stands up, for a can below its tap. House value.
BAY = 1.0  # m: a compost bay is about a metre each way. House value.
COURSE = 0.2  # m: boards of a raised bed are about 8 in high. House value.
SLAT, SLAT_GAP = 0.14, 0.025  # m: boards of compost bays and the air between them. House values.
BOARD = Figure(2 * INCH, "m", f"raised beds and bays in 2 in boards; {HOUSE}")
CPSC = "CPSC's home playground checklist, second-hand (answers.com, child playground safety)"
BOARDED = by_area(45.0, heaviest=20.0)  # boards on joists and posts. House values.
PLAY_ZONE = Figure(6 * FOOT, "m", f"clear ground all round play equipment, {CPSC}")
PROTECTING = "9 in of bark under equipment up to 7 ft high, CPSC"


def butt(thing: Thing) -> tuple[Form, ...]:
    """Return a barrel on a stand, with its lid and tap."""
    r, h = thing.width / 2, thing.height
    return (
        box((-0.7 * r, 0.7 * r), (-0.7 * r, 0.7 * r), (0.0, STAND), "timber", boards=3),
        drum((0.0, 0.0), 0.86 * r, (STAND, STAND + 0.45 * (h - STAND)), "green plastic", head=r),
        drum((0.0, 0.0), r, (STAND + 0.45 * (h - STAND), h - 0.05), "green plastic", head=0.88 * r),
        drum((0.0, 0.0), 0.92 * r, (h - 0.05, h), "dark plastic"),
        box((-0.02, 0.02), (0.86 * r, 0.86 * r + 0.08), (STAND + 0.08, STAND + 0.13), "metal"),
    )


def butt_litres(thing: Thing) -> float:
    """Return the litres of a butt above its stand, as a cylinder nine tenths as wide."""
    return 1000 * math.pi * (0.45 * thing.width) ** 2 * max(0.0, thing.height - STAND)


def butt_weight(thing: Thing) -> Weighed:
    """Return a butt empty (a twentieth of its water) and full."""
    litres = butt_litres(thing)
    empty = litres / 20
    return Weighed(empty=empty, full=empty + litres, heaviest=empty, source=f"1 kg a litre; empty a twentieth, {HOUSE}")


def bays_of(thing: Thing) -> int:
    """Return how many compost bays stand side by side."""
    return max(1, round(thing.width / BAY))


def compost_bays(thing: Thing) -> tuple[Form, ...]:
    """Return open-topped bays of boards side by side, the fronts half as high, with compost in them."""
    x, y, h, thick, count = thing.width / 2, thing.depth / 2, thing.height, float(BOARD), bays_of(thing)
    inner = (thing.width - thick) / count
    sides = [
        board
        for k in range(count + 1)
        for board in slats((-x + k * inner, -x + k * inner + thick), (-y, y), h, SLAT, gap=SLAT_GAP)
    ]
    spans = [(-x + k * inner + thick, -x + (k + 1) * inner) for k in range(count)]
    backs = [board for span in spans for board in slats(span, (-y, -y + thick), h, SLAT, gap=SLAT_GAP)]
    fronts = [board for span in spans for board in slats(span, (y - thick, y), 0.45 * h, SLAT, gap=SLAT_GAP)]
    heaps = [
        box(span, (-y + thick, y - thick), (0.0, (0.7, 0.35, 0.15)[k % 3] * h), "compost")
        for k, span in enumerate(spans)
    ]
    return (*backs, *sides, *heaps, *fronts)


def boards_of_bays(thing: Thing) -> float:
    """Return m2 of boards in compost bays: sides, backs, half-high fronts."""
    return (bays_of(thing) + 1) * thing.depth * thing.height + 1.45 * thing.width * thing.height


def bays_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return the boards of compost bays."""
    rule = f"{bays_of(thing)} bays: sides, backs, fronts half as high"
    return (Counted(item="boards", amount=boards_of_bays(thing), unit="m2", rule=rule),)


def bays_weight(thing: Thing) -> Weighed:
    """Return bays empty, and full of moist compost."""
    empty = boards_of_bays(thing) * BOARD * SOFTWOOD
    full = empty + thing.width * thing.depth * thing.height * 0.8 * MOIST_COMPOST
    panel = thing.depth * thing.height * BOARD * SOFTWOOD
    return Weighed(empty=empty, full=full, heaviest=panel, source=f"{SOFTWOOD.source}; {MOIST_COMPOST.source}")


def bins(thing: Thing) -> tuple[Form, ...]:
    """Return a boarded store for bins, its lids sloping to the front, doors before."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    count = max(1, round(thing.width / 0.75))
    wide = thing.width / count
    wall = walls(attrs.evolve(thing, depth=thing.depth - 0.04, height=h - 0.05), LINING, "timber", course=LAP)
    body = moved(wall, (0.0, -0.02))
    doors = [
        box((-x + k * wide + 0.02, -x + (k + 1) * wide - 0.02), (y - 0.04, y), (0.05, h - 0.12), "dark timber")
        for k in range(count)
    ]
    return (*body, *doors, box((-x, x), (-y, y), (h - 0.05, h), "dark timber", boards=6))


def clothes_line(thing: Thing) -> tuple[Form, ...]:
    """Return a post with four arms and the lines between them."""
    r, h = thing.width / 2, thing.height
    lines = [
        box(x, y, (h - 0.03, h - 0.02), "cord") for share in (0.5, 0.75, 0.98) for x, y in _square(share * r / 2**0.5)
    ]
    arms = [
        box((-r, r), (-0.015, 0.015), (h - 0.06, h), "metal"),
        box((-0.015, 0.015), (-r, r), (h - 0.06, h), "metal"),
    ]
    return (drum((0.0, 0.0), 0.03, (0.0, h - 0.06), "metal", sides=8), *lines, *arms)


def _square(a: float) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    t = 0.008
    return [
        ((-a, a), (-a - t, -a + t)),
        ((-a, a), (a - t, a + t)),
        ((-a - t, -a + t), (-a, a)),
        ((a - t, a + t), (-a, a)),
    ]


def deck(thing: Thing) -> tuple[Form, ...]:
    """Return a floor of boards on posts."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    boards = max(4, min(30, round(min(thing.width, thing.depth) / 0.14)))
    return (
        *legs(x - 0.1, y - 0.1, max(0.01, h - 0.15), "dark timber", thick=0.1),
        box((-x, x), (-y, y), (max(0.0, h - 0.15), h), "timber", boards=boards),
    )


def deck_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return the boards of a deck and the concrete of its posts, one each 6 ft both ways."""
    rows = [math.ceil(side / (6 * FOOT) - 1e-9) + 1 for side in (thing.width, thing.depth)]
    return (
        Counted(item="decking", amount=thing.width * thing.depth, unit="m2", rule="boards and joists by the area"),
        Counted(
            item="concrete", amount=rows[0] * rows[1], rule=f"one bag a post, posts 6 ft apart; {HOUSE}", source=HOUSE
        ),
    )


def play_frame(thing: Thing) -> tuple[Form, ...]:
    """Return a swing frame: two splayed ends, a beam, two seats on ropes."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    found = [box((-x, x), (-0.06, 0.06), (h - 0.12, h), "timber")]
    for end in (-1, 1):
        for side in (-1, 1):
            near = (end * x - 0.05, end * x + 0.05)
            foot = tuple((a, side * b) for a, b in ((near[0], y - 0.1), (near[1], y - 0.1), (near[1], y), (near[0], y)))
            head = tuple((a, side * b) for a, b in ((near[0], 0.0), (near[1], 0.0), (near[1], 0.1), (near[0], 0.1)))
            found.append(Form(foot=foot, head=head, low=0.0, high=h - 0.12, material="timber"))
    for seat in (-0.4 * x, 0.4 * x):
        found += [box((seat + u, seat + u + 0.02), (-0.01, 0.01), (0.45, h - 0.12), "cord") for u in (-0.22, 0.2)]
        found.append(box((seat - 0.22, seat + 0.22), (-0.08, 0.08), (0.42, 0.45), "dark plastic"))
    return tuple(found)


def play_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return a play frame and the bark below it and 6 ft round it."""
    area = (thing.width + 2 * PLAY_ZONE) * (thing.depth + 2 * PLAY_ZONE)
    return (
        Counted(item="play frame", amount=1),
        Counted(item="bark", amount=area * 9 * INCH, unit="m3", rule=PROTECTING, source=CPSC),
    )


def raised_bed(thing: Thing) -> tuple[Form, ...]:
    """Return four walls of boards with soil a hand below their top."""
    x, y, thick = thing.width / 2 - BOARD, thing.depth / 2 - BOARD, float(BOARD)
    soil = box((-x, x), (-y, y), (0.0, max(0.02, thing.height - 0.05)), "soil")
    return (soil, *walls(thing, thick, "timber", course=COURSE))


def fill_of(thing: Thing) -> float:
    """Return the m3 inside the walls of a raised bed, filled to the top."""
    inside = max(0.0, thing.width - 2 * BOARD) * max(0.0, thing.depth - 2 * BOARD)
    return inside * thing.height


def raised_parts(thing: Thing) -> tuple[Counted, ...]:
    """Return the boards and the soil of a raised bed."""
    round_it = 2 * (thing.width + thing.depth - 2 * BOARD)
    return (
        Counted(
            item="boards", amount=round_it * thing.height, unit="m2", rule="walls 2 in thick, all round", source=PLAIN
        ),
        Counted(item="raised bed soil", amount=fill_of(thing), unit="m3", rule="the inside of the walls, to the top"),
    )


def raised_weight(thing: Thing) -> Weighed:
    """Return the walls, and with soaked soil."""
    walls_kg = 2 * (thing.width + thing.depth) * thing.height * BOARD * SOFTWOOD
    board = max(thing.width, thing.depth) * 0.2 * BOARD * SOFTWOOD
    full = walls_kg + fill_of(thing) * SOIL_WET
    return Weighed(empty=walls_kg, full=full, heaviest=board, source=f"{SOFTWOOD.source}; {SOIL_WET.source}")

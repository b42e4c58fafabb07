"""Charts of the place: the texture triangle with a soil on it, and rain beside what the air draws from the ground."""

import math
from collections.abc import Sequence

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.labels import text_width
from gardenkit.drawing.scene import CHART_SCALE, Anchor, Area, Disc, Hatch, Label, Mark, Scene, Stroke
from gardenkit.geometry.plane import Point
from gardenkit.weather_units import MILLIMETRES, Scale

Shares = tuple[float, float, float]  # percent of sand, silt and clay

# Corners of the twelve classes as (sand, silt, clay). Source: USDA Soil Survey Manual, Handbook 18, 2017, pp. 122-124
TRIANGLE: dict[str, tuple[Shares, ...]] = {
    "sand": ((90, 0, 10), (85, 15, 0), (100, 0, 0)),
    "loamy sand": ((85, 0, 15), (70, 30, 0), (85, 15, 0), (90, 0, 10)),
    "sandy loam": ((80, 0, 20), (52, 28, 20), (52, 41, 7), (43, 50, 7), (50, 50, 0), (70, 30, 0), (85, 0, 15)),
    "loam": ((45, 28, 27), (23, 50, 27), (43, 50, 7), (52, 41, 7), (52, 28, 20)),
    "silt loam": ((23, 50, 27), (0, 73, 27), (0, 88, 12), (8, 80, 12), (20, 80, 0), (50, 50, 0)),
    "silt": ((8, 80, 12), (0, 88, 12), (0, 100, 0), (20, 80, 0)),
    "sandy clay loam": ((65, 0, 35), (45, 20, 35), (45, 28, 27), (52, 28, 20), (80, 0, 20)),
    "clay loam": ((45, 15, 40), (20, 40, 40), (20, 53, 27), (45, 28, 27)),
    "silty clay loam": ((20, 40, 40), (0, 60, 40), (0, 73, 27), (20, 53, 27)),
    "sandy clay": ((45, 0, 55), (65, 0, 35), (45, 20, 35)),
    "silty clay": ((0, 40, 60), (20, 40, 40), (0, 60, 40)),
    "clay": ((0, 0, 100), (45, 0, 55), (45, 15, 40), (20, 40, 40), (0, 40, 60)),
}
FILLS = (
    "#f6efdc",
    "#efe6d0",
    "#f2e9d6",
    "#e9dcc3",
    "#f0e8d8",
    "#f7f2e6",
    "#e8dac0",
    "#e4d4b8",
    "#eaddc6",
    "#e1cfb2",
    "#e3d2b5",
    "#dcc8a6",
)
SIDE, LETTERS, SMALL = 110.0, 2.6, 2.2  # mm
LABEL_SHIFT: dict[str, Point] = {
    "silt": (0.5, -1.5),
    "sand": (0.0, -1.5),
    "loamy sand": (2.2, -2.2),
    "sandy clay": (0.6, 1.2),
}  # mm, to stand inside a narrow class
RAIN, AIR = "#8fb3c9", "#c46a2b"
RAIN_WORDS, AIR_WORDS = "rain", "what a clipped lawn would draw (reference evapotranspiration)"
LEFT, BASE = 4.0, 17.0  # mm: where the bars begin
MONTH_WIDE, CHART_HIGH = 13.0, 46.0


def texture_triangle(shares: Shares | None, *, name: str = "") -> Scene:
    """Return the texture triangle with its twelve classes; ``shares`` (sand, silt, clay, percent) is the soil, ``name``
    its class.
    """
    marks: list[Mark] = []
    for fill, (word, corners) in zip(FILLS, TRIANGLE.items(), strict=True):
        ring = tuple(_spot(c) for c in corners)
        chosen = word == name
        marks.append(
            Area(
                rings=(ring,),
                fill="#e6d574" if chosen else fill,
                stroke=style.INK,
                width_mm=style.BUILT if chosen else style.PLANT,
                layer="ground",
                tip=word,
            )
        )
        marks += _class_words(word, ring, bold=chosen)
    marks += _axes()
    if shares is not None:
        at = _spot(shares)
        sand, silt, clay = shares
        tip = f"sand {sand:.0f}, silt {silt:.0f}, clay {clay:.0f} percent"
        marks.append(
            Disc(
                at=at, radius=2.1, fill=style.PAPER, stroke=style.ALERT, width_mm=style.BUILT, layer="overlay", tip=tip
            )
        )
        marks.append(Disc(at=at, radius=0.8, fill=style.ALERT, layer="overlay"))
    said = (
        f"The soil is {name}: sand {shares[0]:.0f}, silt {shares[1]:.0f}, clay {shares[2]:.0f} percent."
        if shares
        else "No soil is given yet."
    )
    high = SIDE * math.sqrt(3) / 2
    return Scene(
        marks=tuple(marks),
        bounds=(-16.0, -15.0, SIDE + 16.0, high + 7.0),
        title="Texture triangle",
        description=said,
        scale=CHART_SCALE,
    )


def _bar(foot: Point, tall: float, said: str, colour: str, tip: str) -> list[Mark]:
    """Return one bar of a month, its figure above it."""
    x, base = foot
    ring = ((x, base), (x + 5.5, base), (x + 5.5, base + tall), (x, base + tall))
    ink = style.outline_of(colour)
    bar = Area(rings=(ring,), fill=colour, stroke=ink, width_mm=style.PLANT, layer="planting", tip=tip)
    return [bar, _words((x + 2.75, base + tall + 1.8), said, size=SMALL)]


def _bar_key(left: float, rows: Sequence[tuple[str, str]]) -> list[Mark]:
    marks: list[Mark] = []
    x = left
    for text, colour in rows:
        ring = ((x, 4.4), (x + 5, 4.4), (x + 5, 7.6), (x, 7.6))
        marks.append(Area(rings=(ring,), fill=colour, stroke=style.INK, width_mm=style.RIB, layer="furniture"))
        marks.append(_words((x + 6.5, 6.0), text, anchor="start"))
        x += 12.0 + text_width(text, LETTERS)
    return marks


def rain_and_air(
    rain_mm: Sequence[float] | None, reference_mm: Sequence[float] | None, *, scale: Scale = MILLIMETRES
) -> Scene:
    """Return a year of two bars a month: rain, and reference evapotranspiration, in mm a month shown on a scale."""
    given = ((RAIN_WORDS, RAIN, rain_mm), (AIR_WORDS, AIR, reference_mm))
    rows = [(words, colour, [scale.shown(v) for v in values]) for words, colour, values in given if values is not None]
    decimals = min(scale.decimals, 1)
    title = f"Rain and reference evapotranspiration ({scale.spelled} a month)"
    high, across = BASE + CHART_HIGH + 12.0, LEFT + 12 * MONTH_WIDE
    marks: list[Mark] = [
        Label(at=(2.0, high - 4.5), text=title, size_mm=3.8, anchor="start", bold=True, layer="furniture")
    ]
    most = max([value for _, _, values in rows for value in values], default=0.0) or 1e-9
    shares = [(colour, values, [max(0.0, v) / most for v in values]) for _, colour, values in rows]
    for number, month in enumerate(style.MONTHS):
        middle = LEFT + MONTH_WIDE * (number + 0.5)
        marks.append(_words((middle, BASE - 3.2), month))
        for colour, values, share in shares:
            x = middle - 5.5 if colour == RAIN else middle
            marks += _bar((x, BASE), share[number] * CHART_HIGH, f"{values[number]:.{decimals}f}", colour, month)
    marks.append(
        Stroke(points=((LEFT, BASE), (across, BASE)), colour=style.INK, width_mm=style.EDGE, layer="structure")
    )
    marks += _bar_key(LEFT, [(words, colour) for words, colour, _ in rows])
    return Scene(
        marks=tuple(marks),
        bounds=(0.0, 0.0, across + 4.0, high),
        title=title,
        description=_in_words(rows, decimals),
        scale=CHART_SCALE,
    )


def _in_words(rows: Sequence[tuple[str, str, Sequence[float]]], decimals: int) -> str:
    said = "; ".join(
        f"{words}: " + ", ".join(f"{m} {v:.{decimals}f}" for m, v in zip(style.MONTHS, values, strict=True))
        for words, _, values in rows
    )
    return f"{said}." if said else "No monthly weather yet."


def _spot(shares: Shares) -> Point:
    """Return where a soil lies in the triangle: sand to the lower left, silt to the lower right, clay at the top."""
    _, silt, clay = shares
    return (SIDE * (silt + clay / 2) / 100, SIDE * clay / 100 * math.sqrt(3) / 2)


def _class_words(word: str, ring: tuple[Point, ...], *, bold: bool) -> list[Mark]:
    x, y = _middle(ring)
    dx, dy = LABEL_SHIFT.get(word, (0.0, 0.0))
    lines = [word] if text_width(word, LETTERS) < _across(ring) * 0.62 else word.split()
    if word.endswith("clay loam") and len(lines) > 1:
        lines = [word.removesuffix(" clay loam"), "clay loam"] if word != "clay loam" else lines
    return [
        _words(
            (x + dx, y + dy + 1.5 * (len(lines) - 1) - 3.0 * i),
            text,
            bold=bold,
            size=LETTERS if len(word) > 4 or word == "clay" else SMALL,
        )
        for i, text in enumerate(lines)
    ]


def _middle(ring: tuple[Point, ...]) -> Point:
    """Return the centre of area of a ring."""
    twice, x, y = 0.0, 0.0, 0.0
    for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
        cross = ax * by - bx * ay
        twice, x, y = twice + cross, x + (ax + bx) * cross, y + (ay + by) * cross
    return (x / (3 * twice), y / (3 * twice))


def _across(ring: tuple[Point, ...]) -> float:
    return max(p[0] for p in ring) - min(p[0] for p in ring)


def _axes() -> list[Mark]:
    marks: list[Mark] = []
    fine: list[tuple[Point, Point]] = []
    for tens in range(10, 100, 10):
        ends = (
            (_spot((100 - tens, 0, tens)), _spot((0, 100 - tens, tens)), (-3.6, 0.0)),  # clay, read on the left side
            (_spot((0, tens, 100 - tens)), _spot((100 - tens, tens, 0)), (2.6, 2.2)),  # silt, on the right side
            (_spot((tens, 100 - tens, 0)), _spot((tens, 0, 100 - tens)), (1.8, -3.2)),  # sand, along the foot
        )
        for a, b, (dx, dy) in ends:
            fine.append((a, b))
            marks.append(_words((a[0] + dx, a[1] + dy), str(tens), size=SMALL, colour=style.SOFT_INK))
    marks.append(Hatch(lines=tuple(fine), colour="#b9ac92", width_mm=style.RIB, layer="sun"))
    high = SIDE * math.sqrt(3) / 2
    for at, text, turn in (
        ((SIDE / 4 - 11.0, high / 2), "clay, percent", -60.0),
        ((SIDE * 0.75 + 11.0, high / 2), "silt, percent", 60.0),
    ):
        marks.append(attrs.evolve(_words(at, text, bold=True), turn=turn))
    marks.append(_words((SIDE / 2, -10.0), "sand, percent", bold=True))
    return marks


def _words(
    at: Point,
    text: str,
    *,
    anchor: Anchor = "middle",
    bold: bool = False,
    size: float = LETTERS,
    colour: str = style.INK,
) -> Label:
    return Label(at=at, text=text, size_mm=size, bold=bold, colour=colour, anchor=anchor, layer="furniture")

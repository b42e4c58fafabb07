"""Charts in the manner of the plan: what flowers when, and bars by month."""

from collections.abc import Iterable, Sequence

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.labels import text_width
from gardenkit.drawing.scene import CHART_SCALE, Anchor, Area, Hatch, Label, Mark, Ring, Scene, Stroke
from gardenkit.planting.season import halves_words, months_touched, runs_of, span_words
from gardenkit.units import counted

# millimetres: at CHART_SCALE one unit of a scene is 1 mm of paper
MONTH_WIDE, ROW_HIGH, BAR_HIGH, TITLE_HIGH, HEAD_HIGH = 13.0, 6.2, 3.6, 9.0, 6.0
NAME_LETTERS, NOTE_LETTERS = 2.7, 2.5
BAR_CHART_HIGH, BAR_WIDE = 46.0, 7.6  # a bar's share of the width: twelve of them stand beside a plan


@attrs.frozen(kw_only=True)
class BloomRow:
    """One kind of plant in the bloom calendar: half months in flower, 1 (early January) to 24, its colours ``#rrggbb``.

    ``also`` are other things to look at (months, colour, word): berries, autumn leaf, bark; drawn as a thinner bar.
    """

    name: str
    halves: tuple[int, ...]
    colours: tuple[str, ...] = ()
    key: str = ""
    also: tuple[tuple[tuple[int, ...], str, str], ...] = ()

    @property
    def months(self) -> tuple[int, ...]:
        """Return the months in flower, wholly or by half."""
        return months_touched(self.halves)


def bloom_calendar(
    rows: Iterable[BloomRow], *, title: str = "What flowers when", month: int | None = None, sort: bool = True
) -> Scene:
    """Return the bloom calendar: a row a plant, a column a month, bars in flower colour, and how many flower at once.

    Rows are sorted by the half month of the first flower unless ``sort`` is off; ``month`` is marked. A month when
    nothing flowers says so.
    """
    listed = sorted(rows, key=_first_half) if sort else list(rows)
    left = 4.0 + max([text_width(_named(row), NAME_LETTERS) for row in listed] or [20.0])
    left = max(left, text_width("kinds in flower", NAME_LETTERS, bold=True) + 4.0)
    wide, high = left + 12 * MONTH_WIDE + 2.0, TITLE_HIGH + HEAD_HIGH + ROW_HIGH * (len(listed) + 1) + 3.0
    top = high - TITLE_HIGH - HEAD_HIGH
    marks: list[Mark] = [*_month_grid(left, top, ROW_HIGH * (len(listed) + 1), month), title_of(title, high)]
    for number, row in enumerate(listed):
        marks += _bloom_row(row, left, top - ROW_HIGH * (number + 0.5))
    marks += _counts(listed, left, top - ROW_HIGH * (len(listed) + 0.5))
    return chart(marks, wide, high, title, _bloom_words(listed))


def bar_chart(
    values: Sequence[float],
    *,
    title: str,
    unit: str,
    labels: Sequence[str] = style.MONTHS,
    colour: str = "#e6d574",
    highlight: int | None = None,
    lines: Sequence[tuple[float, str]] = (),
    decimals: int = 1,
) -> Scene:
    """Return upright bars with their figures: sun hours or rain by month. ``lines`` are levels to compare with.

    ``highlight`` is the index of one bar to mark. Negative values are drawn as nothing and keep their figure.
    """
    each = max(BAR_WIDE, max((text_width(label, NOTE_LETTERS) + 2.0 for label in labels), default=BAR_WIDE))
    left, base, wide = 4.0, 9.0, 8.0 + each * len(values)
    note = max((text_width(text, NOTE_LETTERS) + 4.0 for _, text in lines), default=0.0)
    high = base + BAR_CHART_HIGH + TITLE_HIGH + 4.0
    most = max([*values, *(level for level, _ in lines), 1e-9])
    marks: list[Mark] = [title_of(f"{title} ({unit})", high)]
    for number, (amount, label) in enumerate(zip(values, labels, strict=False)):
        marks += _bar(
            left + each * (number + 0.5),
            base,
            each * 0.62,
            max(0.0, amount) / most * BAR_CHART_HIGH,
            fill=colour,
            figure=f"{amount:.{decimals}f}",
            label=label,
            bold=number == highlight,
        )
    marks.append(rule(left, left + each * len(values), base, style.INK, style.EDGE))
    for level, text in lines:
        y = base + level / most * BAR_CHART_HIGH
        marks.append(rule(left, left + each * len(values), y, style.SOFT_INK, style.PLANT, dash=style.HIDDEN_DASH))
        at = (left + each * len(values) + 1.5, y)
        marks.append(words(at, text, anchor="start", colour=style.SOFT_INK))
    said = "; ".join(f"{label} {amount:.{decimals}f}" for label, amount in zip(labels, values, strict=False))
    return chart(marks, wide + note, high, title, f"{title}, {unit}: {said}.")


def _bloom_row(row: BloomRow, left: float, y: float) -> list[Mark]:
    marks: list[Mark] = [
        Label(at=(left - 2.0, y), text=_named(row), size_mm=NAME_LETTERS, anchor="end", italic=True, layer="furniture")
    ]
    half = MONTH_WIDE / 2
    for first, last in runs_of(row.halves):
        colours = row.colours or ("#d8d4c8",)
        for k, colour in enumerate(colours[:3]):
            part = BAR_HIGH / min(len(colours), 3)
            low = y - BAR_HIGH / 2 + part * k
            marks.append(_box(left + half * (first - 1), low, half * (last - first + 1), part, colour))
        x0, x1 = left + half * (first - 1), left + half * last
        ring = _ring(x0, y - BAR_HIGH / 2, x1 - x0, BAR_HIGH)
        edge = style.outline_of(colours[0])
        tip = f"{row.name}: in flower {span_words(first, last)}"
        marks.append(Area(rings=(ring,), stroke=edge, width_mm=style.EDGE, layer="overlay", tip=tip))
    for months, colour, word in row.also:
        for first, last in runs_of(tuple(m for m in months if m not in row.months)):
            thin = _box(left + MONTH_WIDE * (first - 1), y - 0.7, MONTH_WIDE * (last - first + 1), 1.4, colour)
            marks.append(
                attrs.evolve(thin, stroke=style.outline_of(colour), width_mm=style.RIB, tip=f"{row.name}: {word}")
            )
    return marks


def kinds_each_month(rows: Sequence[BloomRow]) -> tuple[int, ...]:
    """Return how many kinds of a bloom calendar are in flower in each month, January first."""
    return tuple(sum(month in row.months for row in rows) for month in range(1, 13))


def _counts(rows: Sequence[BloomRow], left: float, y: float) -> list[Mark]:
    marks: list[Mark] = [words((left - 2.0, y), "kinds in flower", anchor="end", bold=True)]
    for month, count in enumerate(kinds_each_month(rows), 1):
        at = (left + MONTH_WIDE * (month - 0.5), y)
        colour = style.INK if count else style.ALERT
        marks.append(words(at, str(count) if count else "none", bold=True, colour=colour))
    return marks


def _month_grid(left: float, top: float, high: float, month: int | None) -> list[Mark]:
    marks: list[Mark] = []
    if month is not None:
        box = _box(left + MONTH_WIDE * (month - 1), top - high, MONTH_WIDE, high + HEAD_HIGH, "#f1e7c9")
        marks.append(attrs.evolve(box, layer="ground"))
    uprights = tuple(((left + MONTH_WIDE * k, top - high), (left + MONTH_WIDE * k, top + 1.0)) for k in range(13))
    marks.append(Hatch(lines=uprights, colour="#d9d4c6", width_mm=style.PLANT))
    marks += [rule(left, left + 12 * MONTH_WIDE, y, style.INK, style.PLANT) for y in (top, top - high + ROW_HIGH)]
    for k, name in enumerate(style.MONTHS):
        marks.append(words((left + MONTH_WIDE * (k + 0.5), top + HEAD_HIGH / 2 + 0.3), name, bold=k + 1 == month))
    return marks


def _bar(
    x: float, base: float, wide: float, high: float, *, fill: str, figure: str, label: str, bold: bool
) -> list[Mark]:
    edge = style.outline_of(fill)
    marks: list[Mark] = [
        words((x, base + high + 2.2), figure, bold=bold),
        words((x, base - 3.2), label, bold=bold),
    ]
    if high > 0:
        bar = _box(x - wide / 2, base, wide, high, fill)
        weight = style.BUILT if bold else style.PLANT
        marks.insert(0, attrs.evolve(bar, stroke=edge, width_mm=weight, tip=f"{label}: {figure}"))
    return marks


def _bloom_words(rows: Sequence[BloomRow]) -> str:
    said = [f"{row.name}: {halves_words(row.halves)}" for row in rows if row.halves]
    empty = [style.MONTHS[m - 1] for m in range(1, 13) if not any(m in row.months for row in rows)]
    gap = f" Nothing flowers in {', '.join(empty)}." if empty and said else ""
    return f"Bloom calendar of {counted(len(rows), 'kind')}. {'; '.join(said)}.{gap}"


def _first_half(row: BloomRow) -> tuple[int, int, str]:
    """Return what a row is sorted by: the half month its flowering begins, winter bloom counted from December."""
    if not row.halves:
        return (99, 0, row.name)
    starts = [half for half in row.halves if (half - 2) % 24 + 1 not in row.halves]
    return (min(starts, default=1), len(row.halves), row.name)


def _named(row: BloomRow) -> str:
    return f"{row.name}  {row.key}" if row.key else row.name


def title_of(title: str, high: float) -> Label:
    """Return the title of a chart so many millimetres high."""
    return Label(at=(2.0, high - TITLE_HIGH / 2), text=title, size_mm=3.8, anchor="start", bold=True, layer="furniture")


def words(
    at: tuple[float, float], text: str, *, anchor: Anchor = "middle", bold: bool = False, colour: str = style.INK
) -> Label:
    """Return small words of a chart."""
    return Label(at=at, text=text, size_mm=NOTE_LETTERS, bold=bold, colour=colour, anchor=anchor, layer="furniture")


def rule(x0: float, x1: float, y: float, colour: str, width_mm: float, *, dash: tuple[float, ...] = ()) -> Stroke:
    """Return a level line of a chart."""
    return Stroke(points=((x0, y), (x1, y)), colour=colour, width_mm=width_mm, dash=dash, layer="structure")


def _box(x: float, y: float, wide: float, high: float, fill: str) -> Area:
    return Area(rings=(_ring(x, y, wide, high),), fill=fill, layer="planting")


def _ring(x: float, y: float, wide: float, high: float) -> Ring:
    return ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


def chart(marks: Sequence[Mark], wide: float, high: float, title: str, description: str) -> Scene:
    """Return marks in millimetres as a chart, described for who does not see it."""
    return Scene(
        marks=tuple(marks),
        bounds=(0.0, 0.0, wide, high),
        title=title,
        description=description,
        scale=CHART_SCALE,
        paper=style.PAPER,
    )

"""The order of work as bars over working weeks, with what each step waits for."""

from collections.abc import Mapping, Sequence

from gardenkit.drawing import style
from gardenkit.drawing.labels import text_width
from gardenkit.drawing.scene import CHART_SCALE, Anchor, Area, Hatch, Label, Mark, Scene
from gardenkit.schedules.care import MONTHS
from gardenkit.schedules.programme import WEEK, Stretch
from gardenkit.units import counted

ROW, BAR, HEAD, TITLE = 6.2, 3.6, 6.0, 9.0  # mm of paper
WIDE = 100.0  # of the weeks together, mm
LETTERS = 2.5
FILL = "#b9c6a5"


def programme_chart(stretches: Sequence[Stretch], *, title: str = "When each step is done") -> Scene:
    """Return one bar a step over working weeks; years stand one after the other, each with its own weeks."""
    years = sorted({one.year for one in stretches})
    begins = {year: min(one.starts for one in stretches if one.year == year) for year in years}
    weeks = {
        year: max(_weeks(one.starts + one.days - begins[year]) for one in stretches if one.year == year)
        for year in years
    }
    first = {year: sum(weeks[before] for before in years if before < year) for year in years}
    wide = WIDE / max(1, sum(weeks.values()))
    place = {step: number for number, step in enumerate(dict.fromkeys(one.step for one in stretches), start=1)}
    left = 6.0 + 1.12 * max(text_width(_step(one, place), LETTERS, bold=True) for one in stretches)  # fonts differ
    high = TITLE + HEAD + ROW * len(stretches) + 2.0
    top = high - TITLE - HEAD
    marks: list[Mark] = [_label((2.0, high - TITLE / 2), title, size=3.8, bold=True)]
    marks.append(_uprights(left, wide, sum(weeks.values()), top, ROW * len(stretches)))
    for year in years:
        month = next(one.month for one in stretches if one.year == year)
        words = f"{MONTHS[month - 1][:3]} {year}, {counted(weeks[year], 'week')}"
        marks.append(_label((left + wide * first[year] + 1.0, top + HEAD / 2), words, bold=True))
    right = left + WIDE
    for number, one in enumerate(stretches):
        y = top - ROW * (number + 0.5)
        x = left + wide * (first[one.year] + (one.starts - begins[one.year]) / WEEK)
        long = wide * one.days / WEEK
        note = _note(one, place)
        ring = ((x, y - BAR / 2), (x + long, y - BAR / 2), (x + long, y + BAR / 2), (x, y + BAR / 2))
        tip = f"{one.called}: {note}"
        marks.append(_label((left - 2.0, y), _step(one, place), bold=True, anchor_end=True))
        edge = style.outline_of(FILL)
        marks.append(Area(rings=(ring,), fill=FILL, stroke=edge, width_mm=style.EDGE, layer="planting", tip=tip))
        marks.append(_label((x + long + 1.5, y), note))
        right = max(right, x + long + 1.5 + text_width(note, LETTERS))
    return Scene(
        marks=tuple(marks),
        bounds=(0.0, 0.0, right + 2.0, high),
        title=title,
        description="; ".join(f"{_step(one, place)}, {one.year}: {_note(one, place)}" for one in stretches),
        scale=CHART_SCALE,
        paper=style.PAPER,
    )


def _weeks(days: int) -> int:
    return -(-days // WEEK)


def _step(one: Stretch, place: Mapping[str, int]) -> str:
    return f"{place[one.step]}  {one.called}"


def _note(one: Stretch, place: Mapping[str, int]) -> str:
    """Return how long a step takes, the numbers of those it waits for and the month it waits for."""
    waits = [str(place[step]) for step in one.after]
    listed = " and ".join([", ".join(waits[:-1]), waits[-1]] if len(waits) > 1 else waits)
    said = counted(one.days, "day") + (f", after {listed}" if listed else "")
    return said + (f", not before {MONTHS[one.month - 1]}: {one.season}" if one.season else "")


def _label(
    at: tuple[float, float], text: str, *, size: float = LETTERS, bold: bool = False, anchor_end: bool = False
) -> Label:
    anchor: Anchor = "end" if anchor_end else "start"
    return Label(at=at, text=text, size_mm=size, bold=bold, anchor=anchor, layer="furniture")


def _uprights(left: float, wide: float, weeks: int, top: float, high: float) -> Hatch:
    lines = tuple(((left + wide * k, top - high), (left + wide * k, top)) for k in range(weeks + 1))
    return Hatch(lines=lines, colour="#d9d4c6", width_mm=style.PLANT)

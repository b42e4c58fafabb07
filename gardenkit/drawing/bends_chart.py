"""How a path turns along its length, as a chart: to the left above the line, to the right below, straight on it."""

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.charts import NOTE_LETTERS, TITLE_HIGH, chart, rule, title_of, words
from gardenkit.drawing.scene import Area, Mark, Scene, Stroke
from gardenkit.geometry.curve import STRAIGHT
from gardenkit.structure.route import Route, least_radius
from gardenkit.units import System, counted, show_length

WIDE, HIGH, LEFT, LOW = 66.0, 26.0, 16.0, 9.0  # mm of the chart and its margins
STEP = 0.1  # m between the places drawn. House value.
ENDS = 2  # stored points at either end whose curvature is not yet settled, as in ``Curve.changes_of_side``
HALF_WORD = 10.0  # mm of the words at the peak, so that they keep on the chart
FILL = "#b9cfae"
GENTLE = 1 / 20  # per metre: what turns more gently is not drawn any higher. House value.


def bends_chart(route: Route, units: System) -> Scene:
    """Return how sharply a path turns from its start to its end, its tightest radius named; broken lines, where it
    comes near, are the tightest turn that keeps its inner edge round.
    """
    along, bends = route.curve.along[ENDS:-ENDS], route.curve.curvature()[ENDS:-ENDS]
    places = np.linspace(along[0], along[-1], max(2, round((along[-1] - along[0]) / STEP) + 1))
    tightest = 1.0 / least_radius(route.width)
    most = max(1.15 * float(np.abs(bends).max()), GENTLE)
    middle = LOW + HIGH / 2
    x = LEFT + WIDE * places / route.length
    y = middle + HIGH / 2 * np.interp(places, along, bends) / most
    line = tuple(zip(x.tolist(), y.tolist(), strict=True))
    body = ((line[0][0], middle), *line, (line[-1][0], middle))
    marks: list[Mark] = [
        title_of("how it turns along its way", LOW + HIGH + TITLE_HIGH + 6.0),
        Area(rings=(body,), fill=FILL, layer="planting"),
        rule(LEFT, LEFT + WIDE, middle, style.INK, style.EDGE),
        Stroke(points=line, colour=style.INK, width_mm=style.PLANT, layer="structure", tip="curvature"),
        words((LEFT - 2.0, middle + HIGH / 4), "left", anchor="end"),
        words((LEFT - 2.0, middle), "straight", anchor="end"),
        words((LEFT - 2.0, middle - HIGH / 4), "right", anchor="end"),
        words((LEFT, LOW - 2 * NOTE_LETTERS), "0", anchor="start"),
        words((LEFT + WIDE, LOW - 2 * NOTE_LETTERS), show_length(route.length, units), anchor="end"),
    ]
    if tightest <= most:
        for side in (1, -1):
            y_rim = middle + side * HIGH / 2 * tightest / most
            marks.append(rule(LEFT, LEFT + WIDE, y_rim, style.SOFT_INK, style.PLANT, dash=style.HIDDEN_DASH))
        said = show_length(least_radius(route.width), units)
        at = (LEFT + WIDE, middle + HIGH / 2 * tightest / most + 2.0)
        marks.append(words(at, f"least radius {said}", anchor="end", colour=style.SOFT_INK))
    peak = int(np.abs(bends).argmax())
    if abs(bends[peak]) > STRAIGHT:
        up = 1 if bends[peak] > 0 else -1
        far = min(max(WIDE * float(along[peak]) / route.length, HALF_WORD), WIDE - HALF_WORD)
        at = (LEFT + far, middle + up * (HIGH / 2 + 2.0))
        marks.append(words(at, f"radius {show_length(1 / abs(float(bends[peak])), units)}"))
    turns = counted(route.curve.changes_of_side(), "time")
    told = f"Turns along {route.name}, {show_length(route.length, units)} long; it turns to the other side {turns}."
    return chart(marks, LEFT + WIDE + 6.0, LOW + HIGH + TITLE_HIGH + 6.0, route.name, told)

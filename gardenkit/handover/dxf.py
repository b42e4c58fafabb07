"""The plan as a DXF drawing: real size in feet or metres, one layer for each sort of thing, names as text."""

import io
import math
from pathlib import Path
from typing import TYPE_CHECKING

from gardenkit.garden import Garden
from gardenkit.geometry.plane import Point
from gardenkit.handover.features import Feature, features
from gardenkit.handover.paper import saved
from gardenkit.units import FOOT

if TYPE_CHECKING:
    from ezdxf.layouts import Modelspace

COLOURS = {  # numbers of colours of the DXF format: 7 is the ink of the page
    "BOUNDARY": 7,
    "BUILDING": 7,
    "FENCE": 8,
    "ROOT-PROTECTION": 1,
    "TREE-REMOVE": 1,
    "PATH": 30,
    "STONE": 9,
    "AREA": 40,
    "THING": 30,
    "CONTOUR": 32,
    "RETAINING-WALL": 7,
    "SERVICE": 6,
    "SETTING-OUT": 1,
}
REST, PALE = "REST-", 9  # layers and colour (light grey) of what lies outside the one area that a plan is of
PLANTED = 3  # colour of all layers of plants
LETTERS = 0.125  # m: 2.5 mm on paper at 1 : 50
NEEDLE = 3.0  # m: length of the arrow to north


def write(garden: Garden, target: Path) -> int:
    """Write the plan as a DXF file; returns its size in bytes. Raises GardenError without a boundary."""
    return saved(drawing(garden), target)


def drawing(garden: Garden) -> bytes:
    """Return the plan as DXF R2010 text: x right and y up as on the plan, in feet (imperial gardens) or metres."""
    import ezdxf
    from ezdxf import units

    imperial = garden.units == "imperial"
    document = ezdxf.new("R2010", units=units.FT if imperial else units.M)
    document.header["$MEASUREMENT"] = 0 if imperial else 1
    each, space = FOOT if imperial else 1.0, document.modelspace()
    found = features(garden)
    for layer in dict.fromkeys([*(_layer(f) for f in found), "NORTH"]):
        document.layers.add(layer, color=_colour(layer))
    for feature in found:
        _put(space, feature, each)
    _north(space, garden.project.site.y_bearing, found[0].parts[0][0], each)
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode("utf-8", errors="replace")


def _layer(feature: Feature) -> str:
    """Return the layer of a feature: what lies outside the area of the plan has its own, to be dimmed or frozen."""
    return f"{REST}{feature.layer}" if feature.rest else feature.layer


def _colour(layer: str) -> int:
    return PALE if layer.startswith(REST) else COLOURS.get(layer, PLANTED if layer.startswith("PLANT-") else 7)


def _put(space: "Modelspace", feature: Feature, each: float) -> None:
    layer = {"layer": _layer(feature)}
    for part in feature.parts:
        for ring in part:
            spots = [_in_units(at, each) for at in ring]
            if feature.shape == "point":
                space.add_point(spots[0], dxfattribs=layer)
            else:
                space.add_lwpolyline(spots, close=feature.shape == "area", dxfattribs=layer)
    if feature.radius:
        space.add_circle(_in_units(feature.at, each), feature.radius / each, dxfattribs=layer)
    words = str(feature.facts.get("key", feature.name))
    text = space.add_text(_plain(words), height=LETTERS / each, dxfattribs=layer)
    text.set_placement(_in_units(feature.at, each))


def _north(space: "Modelspace", y_bearing: float, boundary: tuple[Point, ...], each: float) -> None:
    """Draw an arrow to true north beside the plot: north lies at minus ``y_bearing`` from the plan's y axis."""
    turn = math.radians(y_bearing)
    foot = (max(x for x, _ in boundary) + 2.0, min(y for _, y in boundary))
    tip = (foot[0] - NEEDLE * math.sin(turn), foot[1] + NEEDLE * math.cos(turn))
    space.add_line(_in_units(foot, each), _in_units(tip, each), dxfattribs={"layer": "NORTH"})
    label = space.add_text("N", height=2 * LETTERS / each, dxfattribs={"layer": "NORTH"})
    label.set_placement(_in_units(tip, each))


def _in_units(at: Point, each: float) -> Point:
    return at[0] / each, at[1] / each


def _plain(words: str) -> str:
    """Return a name as a text of the drawing: no line ends, and no codes of the format (%% and ^) at work."""
    shown = "".join(letter if letter.isprintable() else " " for letter in words)
    return shown.replace("^", "^ ").replace("%%", "% %")

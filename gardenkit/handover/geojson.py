"""The plan on the map: GeoJSON (RFC 7946) in WGS84, turned to true north about the place of the garden."""

import json
import math
from collections.abc import Callable, Sequence
from pathlib import Path

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.handover.features import Feature, features
from gardenkit.handover.paper import saved
from gardenkit.site.site import Site

DECIMALS = 9  # of a degree: a tenth of a millimetre on the ground, so that no thin ring crosses itself. House value.
To = Callable[[Point], list[float]]


def write(garden: Garden, target: Path) -> int:
    """Write the plan as a GeoJSON file; returns its size in bytes. See ``plan_on_the_map``."""
    text = json.dumps(plan_on_the_map(garden), ensure_ascii=False, allow_nan=False, indent=1)
    return saved(text.encode("utf-8", errors="replace"), target)


def plan_on_the_map(garden: Garden) -> dict[str, object]:
    """Return the plan as a feature collection; the place's latitude and longitude are the middle of the plot.

    Raises GardenError without a boundary or a place.
    """
    found, to = features(garden), _to_earth(garden.project.site)
    return {"type": "FeatureCollection", "features": [_feature(feature, to) for feature in found]}


def _to_earth(site: Site) -> To:
    """Return what gives longitude and latitude of a plan point: east and north of the plot's middle, by pyproj."""
    from pyproj import Transformer

    place = site.place
    if place.latitude == 0.0 and place.longitude == 0.0:
        raise GardenError("the plan on the map needs the place; give its latitude and longitude in 03_site_measurement")
    low_x, low_y, high_x, high_y = plane.bounds(plane.region(site.boundary))
    middle, turn = ((low_x + high_x) / 2, (low_y + high_y) / 2), math.radians(site.y_bearing)
    ground = f"+proj=aeqd +lat_0={place.latitude!r} +lon_0={place.longitude!r} +datum=WGS84 +units=m"
    earth = Transformer.from_crs(ground, "EPSG:4326", always_xy=True)

    def to(at: Point) -> list[float]:
        x, y = at[0] - middle[0], at[1] - middle[1]
        east, north = x * math.cos(turn) + y * math.sin(turn), y * math.cos(turn) - x * math.sin(turn)
        longitude, latitude = earth.transform(east, north)
        return [round(float(longitude), DECIMALS), round(float(latitude), DECIMALS)]

    return to


def _feature(feature: Feature, to: To) -> dict[str, object]:
    properties = {"layer": feature.layer, "name": feature.name, **feature.facts}
    if feature.rest:
        properties["outside_area"] = True
    return {"type": "Feature", "geometry": _geometry(feature, to), "properties": properties}


def _geometry(feature: Feature, to: To) -> dict[str, object]:
    if feature.shape == "point":
        return {"type": "Point", "coordinates": to(feature.at)}
    if feature.shape == "line":
        return {"type": "LineString", "coordinates": [to(at) for at in feature.parts[0][0]]}
    polygons = [_polygon(part, to) for part in feature.parts]
    if len(polygons) == 1:
        return {"type": "Polygon", "coordinates": polygons[0]}
    return {"type": "MultiPolygon", "coordinates": polygons}


def _polygon(part: Sequence[Sequence[Point]], to: To) -> list[list[list[float]]]:
    """Return closed rings, the outer anticlockwise and its holes clockwise (RFC 7946, 3.1.6)."""
    rings = []
    for number, ring in enumerate(part):
        turned = list(ring) if (_signed(ring) > 0) == (number == 0) else list(reversed(ring))
        spots = [to(at) for at in turned]
        rings.append([*spots, spots[0]])
    return rings


def _signed(ring: Sequence[Point]) -> float:
    """Return twice the area of a ring, positive when it runs anticlockwise."""
    return math.fsum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))

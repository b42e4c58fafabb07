"""The plan for other programs: DXF, SVG, GeoJSON, places of plants, each opened again by readers that did not write it.

DXF is read by ezdxf with its auditor, and by a reader of group codes here (Autodesk, "DXF Reference": pairs of lines, a
code and a value). GeoJSON is read by json and GEOS, and measured on the ellipsoid by GeographicLib's geodesics
(pyproj.Geod; Karney 2013), not by the projection that wrote it.
"""

import csv
import json
import math
import re
import xml.etree.ElementTree as ET
from collections import Counter
from io import StringIO
from pathlib import Path

import attrs
import ezdxf
import pytest
import shapely
from pyproj import Geod

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.handover import dxf, geojson, plan_files
from gardenkit.project import Project
from gardenkit.site.place import Place

EXAMPLES = Path(__file__).parents[2] / "examples"
WGS84 = Geod(ellps="WGS84")


@attrs.frozen(eq=False)
class Files:
    garden: Garden
    dxf: Path
    geojson: Path
    each: float  # metres in a unit of the drawing


@pytest.fixture(scope="module", params=["fennel_street_corner", "lantern_lane_strip"])
def files(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Files:
    folder, garden = tmp_path_factory.mktemp("plan"), Garden.open(EXAMPLES / request.param)
    writers = {"plan.dxf": dxf.write, "plan.geojson": geojson.write}
    writers |= {"plan.svg": plan_files.write_svg, "plants.csv": plan_files.write_plants}
    for name, write in writers.items():
        assert write(garden, folder / name) == (folder / name).stat().st_size
    return Files(garden, folder / "plan.dxf", folder / "plan.geojson", 0.3048 if garden.units == "imperial" else 1.0)


def entities(text: str) -> list[tuple[str, dict[int, list[str]]]]:
    """Return the entities of a DXF text as (kind, values by group code)."""
    lines = text.splitlines()
    pairs = [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=True)]
    start = next(k for k, pair in enumerate(pairs) if pair == (2, "ENTITIES"))
    found: list[tuple[str, dict[int, list[str]]]] = []
    for code, value in pairs[start + 1 :]:
        if (code, value) == (0, "ENDSEC"):
            return found
        if code == 0:
            found.append((value, {}))
        else:
            found[-1][1].setdefault(code, []).append(value)
    raise AssertionError("the section has no end")


def test_ezdxfs_auditor_finds_nothing_and_the_units_are_real(files: Files) -> None:
    document = ezdxf.readfile(files.dxf)
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    assert document.header["$INSUNITS"] == (2 if files.garden.units == "imperial" else 6)  # DXF Reference: 2 ft, 6 m


def test_group_codes_hold_every_stone_plant_and_wall_at_real_size_on_its_layer(files: Files) -> None:
    read, garden = entities(files.dxf.read_text(encoding="utf-8")), files.garden

    def corners(layer: str) -> list[list[tuple[float, float]]]:
        lines = [held for kind, held in read if kind == "LWPOLYLINE" and held[8] == [layer]]
        return [
            [(files.each * float(x), files.each * float(y)) for x, y in zip(held[10], held[20], strict=True)]
            for held in lines
        ]

    for layer, outlines in (
        ("BOUNDARY", [garden.project.site.boundary]),
        ("BUILDING", [b.outline for b in garden.project.site.buildings]),
        ("STONE", [s.outline for laid in garden.layout.layings.values() for s in laid.stones]),
    ):
        drawn = corners(layer)
        assert len(drawn) == len(outlines) > 0
        for line, outline in zip(drawn, outlines, strict=True):
            assert len(line) == len(outline)
            assert max(math.dist(a, b) for a, b in zip(line, outline, strict=True)) < 1e-6
    spots = Counter(held[8][0] for kind, held in read if kind == "POINT")
    planted = Counter(
        f"PLANT-{garden.catalogue[p.species].layer.upper().replace(' ', '-')}" for p in garden.project.planting.plants
    )
    assert {layer: count for layer, count in spots.items() if layer.startswith("PLANT-")} == planted


def test_the_svg_has_its_true_size_and_every_key(files: Files) -> None:
    """Read by the standard library's parser of XML; the path of the boundary by its numbers (W3C, SVG 1.1, 8.3)."""
    garden, root = files.garden, ET.parse(files.dxf.with_name("plan.svg")).getroot()
    (boundary,) = (one for one in root.iter() if [part.text for part in one] == ["boundary"])
    first, *steps = re.findall(r"[Ml][^Mlz]*", boundary.get("d", ""))
    assert [part[0] for part in (first, *steps)] == ["M", "l"]
    x, y = re.findall(r"-?[\d.]+", first)
    moves = [float(number) for number in re.findall(r"-?[\d.]+", steps[0])]
    corners = [(float(x), float(y))]
    for dx, dy in zip(moves[::2], moves[1::2], strict=True):
        corners.append((corners[-1][0] + dx, corners[-1][1] + dy))
    each, drawn = 1000 / {"imperial": 48.0, "metric": 50.0}[garden.units], garden.project.site.boundary
    for (ax, ay), (bx, by) in zip(corners, [*drawn, drawn[0]], strict=True):
        assert ax - corners[0][0] == pytest.approx((bx - drawn[0][0]) * each, abs=0.2)
        assert corners[0][1] - ay == pytest.approx((by - drawn[0][1]) * each, abs=0.2)
    wide = float(root.get("viewBox", "").split()[2])
    assert root.get("width") == f"{wide:.2f}mm" and wide > max(x for x, _ in corners)
    said = {word for one in root.iter() if one.tag.endswith("text") for word in "".join(one.itertext()).split()}
    standing = {garden.keys[species.botanical] for species in garden.kinds if species.layer != "bulb"}
    assert len(standing - said) < len(standing) / 4  # a label that finds no room is left out


def test_the_table_of_plants_holds_each_where_it_stands_and_in_its_bed(files: Files) -> None:
    """Read by the standard library's reader; which bed holds a plant is asked of GEOS."""
    text = files.dxf.with_name("plants.csv").read_text(encoding="utf-8-sig")
    heads, *rows = csv.reader(StringIO(text, newline=""), strict=True)
    unit = "ft" if files.garden.units == "imperial" else "m"
    assert heads == ["number", "key", "plant", f"x {unit}", f"y {unit}", "bed"]
    every = (*files.garden.project.planting.plants, *files.garden.creeping)
    beds = {bed.name: bed.region for bed in files.garden.layout.beds}
    for (number, key, name, x, y, bed), plant in zip(rows, every, strict=True):
        assert (number, name, key) == (str(plant.number or ""), plant.species, files.garden.keys[plant.species])
        assert (float(x) * files.each, float(y) * files.each) == pytest.approx(plant.at, abs=0.0006)
        assert (
            shapely.distance(beds[bed], shapely.Point(plant.at)) == 0 if bed in beds else bed in ("", "between stones")
        )
    assert sum(row[5] in beds for row in rows) > 0.8 * len(files.garden.project.planting.plants)


def test_the_map_is_well_formed_by_rfc_7946(files: Files) -> None:
    text = files.geojson.read_text(encoding="utf-8")
    told = json.loads(text)
    assert told["type"] == "FeatureCollection"
    assert "crs" not in told  # RFC 7946, 4: WGS84 without saying
    assert len(shapely.get_parts(shapely.from_geojson(text))) == len(told["features"])
    for feature in told["features"]:
        geometry = shapely.from_geojson(json.dumps(feature["geometry"]))
        assert feature["type"] == "Feature"
        assert geometry.is_valid
        for part in shapely.get_parts(geometry):
            if part.geom_type == "Polygon":
                assert part.exterior.is_ccw  # RFC 7946, 3.1.6
                assert not any(ring.is_ccw for ring in part.interiors)


def test_the_map_lies_at_the_right_place_and_turn_and_has_the_right_size(files: Files) -> None:
    site, told = files.garden.project.site, json.loads(files.geojson.read_text(encoding="utf-8"))
    ring = next(f for f in told["features"] if f["properties"]["layer"] == "BOUNDARY")["geometry"]["coordinates"][0]
    assert ring[0] == ring[-1]
    xs, ys = [p[0] for p in site.boundary], [p[1] for p in site.boundary]
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    for corner in site.boundary:
        x, y = corner[0] - middle[0], corner[1] - middle[1]
        asked = (math.degrees(math.atan2(x, y)) + site.y_bearing) % 360  # the y axis points there, from north
        found = []
        for longitude, latitude in ring[:-1]:
            azimuth, _, far = WGS84.inv(site.place.longitude, site.place.latitude, longitude, latitude)
            found.append((abs(far - math.hypot(x, y)), abs((azimuth - asked + 180) % 360 - 180)))
        assert any(off < 0.005 and turn < 0.05 for off, turn in found), (corner, found)


def test_the_map_needs_a_place_and_both_a_boundary(plain_garden: Project, tmp_path: Path) -> None:
    with pytest.raises(GardenError, match="needs the place"):
        geojson.plan_on_the_map(Garden(plain_garden, tmp_path))
    for document in (dxf.drawing, geojson.plan_on_the_map):
        with pytest.raises(GardenError, match="needs the boundary"):
            document(Garden(Project(name="bare"), tmp_path))


def test_a_quarter_turn_puts_the_plans_top_in_the_east(plain_garden: Project, tmp_path: Path) -> None:
    place = Place(name="x", latitude=-41.0, longitude=173.0, timezone="Pacific/Auckland")
    turned = attrs.evolve(plain_garden, site=attrs.evolve(plain_garden.site, place=place, y_bearing=90.0))
    told = json.loads(json.dumps(geojson.plan_on_the_map(Garden(turned, tmp_path))))
    (house,) = (f for f in told["features"] if f["properties"]["layer"] == "BUILDING")
    assert min(longitude for longitude, _ in house["geometry"]["coordinates"][0]) > 173.0  # the house is at the top


def test_names_of_the_format_are_only_words(plain_garden: Project, tmp_path: Path) -> None:
    evil = "%%u ^J {\\P} </script> \u2028 0 ENDSEC"
    bed = attrs.evolve(plain_garden.structure.beds[0], name=evil)
    structure = attrs.evolve(plain_garden.structure, beds=(bed,))
    place = Place(name="x", latitude=-41.0, longitude=173.0)
    site = attrs.evolve(plain_garden.site, place=place)
    garden = Garden(attrs.evolve(plain_garden, structure=structure, site=site), tmp_path)
    text = dxf.drawing(garden).decode("utf-8")
    assert not ezdxf.read(StringIO(text)).audit().errors
    benign = Garden(attrs.evolve(plain_garden, site=site), tmp_path)
    kinds = [kind for kind, _ in entities(dxf.drawing(benign).decode("utf-8"))]
    read = entities(text)
    assert [kind for kind, _ in read] == kinds
    shown, _ = (held[1][0] for kind, held in read if kind == "TEXT" and held[8] == ["BED"])
    assert "%%" not in shown
    assert "</script>" in shown
    told = json.loads(json.dumps(geojson.plan_on_the_map(garden)))
    assert evil in [f["properties"]["name"] for f in told["features"]]

"""Levels of a back garden that falls 4 ft: what is dug, drawn, counted, and said about house, roots and water."""

from pathlib import Path

import attrs
import pytest

from gardenkit.drawing.levels_plan import levels_scene
from gardenkit.drawing.plan_levels import signed
from gardenkit.drawing.scene import Label, plain
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.project.edits.drawn import draw
from gardenkit.project.edits.moved import place_of, put_at
from gardenkit.project.pointing import level_at
from gardenkit.project.sunlight import sun_map
from gardenkit.schedules import quantities
from gardenkit.site.heights import SpotHeight
from gardenkit.site.place import Place
from gardenkit.site.site import Building, ExistingTree, Fence, Site
from gardenkit.structure.structure import Level
from gardenkit.units import FOOT

PLOT = tuple((x * FOOT, y * FOOT) for x, y in ((0, 0), (52, 0), (50, 44), (24, 46), (0, 40)))


def garden(tmp_path: Path, project: Project) -> Garden:
    return Garden(project, tmp_path)


def back_garden(**site: object) -> Project:
    """52 by 46 ft, falling 4 ft away from the house; invented."""
    heights = tuple(
        SpotHeight(at=(x * FOOT, y * FOOT), height=round(-4 * FOOT * y / 46, 4))
        for x in (0, 26, 52)
        for y in (0, 23, 46)
    )
    house = Building(
        name="house", outline=tuple((x * FOOT, y * FOOT) for x, y in ((10, -20), (42, -20), (42, 0), (10, 0)))
    )
    made = Project(name="back", site=Site(boundary=PLOT, heights=heights, buildings=(house,), **site))
    box = tuple((x * FOOT, y * FOOT) for x, y in ((18, 1), (30, 1), (30, 15), (18, 15)))  # a terrace of 12' x 14'
    return edits.add_area(made, "patio", outline=box, name="terrace")


def terraced(**more: object) -> Project:
    fields: dict[str, object] = {"of": "terrace", "height": -0.2, "fall": 2.0, "falls_to": 0.0, "edge": "wall"}
    return edits.add_level(back_garden(), **(fields | more))


def in_the_shade_of(high: float, *, sunk: float = 0.0) -> float:
    """Return the hours of sun in April 1.5 m north of a fence ``high`` m, in a court dug ``sunk`` m deep."""
    heights = tuple(SpotHeight(at=(x, y), height=0.0) for x in (0.0, 8.0) for y in (0.0, 8.0))
    fence = Fence(name="fence", line=((0.5, 2.0), (7.5, 2.0)), height=high)
    plot = ((0.0, 0.0), (8.0, 0.0), (8.0, 8.0), (0.0, 8.0))
    place = Place(latitude=45.0, longitude=0.0, timezone="UTC")
    made = Project(name="court", site=Site(boundary=plot, heights=heights, fences=(fence,), place=place))
    if sunk:
        court = ((0.5, 2.1), (7.5, 2.1), (7.5, 7.5), (0.5, 7.5))
        made = edits.add_level(made, name="court", outline=court, height=-sunk, edge="wall")
    return float(sun_map(made, Catalogue(()), rough=True, months=(4,)).at((4.0, 3.5))[3])


def test_the_sun_is_read_on_the_levels_to_be_made_and_not_on_the_ground_as_found() -> None:
    """Ground dug 1.2 m deep behind a fence of 1.5 m lies as ground behind one of 2.7 m does."""
    dug = in_the_shade_of(1.5, sunk=1.2)
    assert dug == pytest.approx(in_the_shade_of(2.7), abs=0.05)
    assert dug < in_the_shade_of(1.5) - 1.0


def said(garden: Garden, *words: str) -> list[str]:
    found = [line.sentence() for line in garden.advice_about(("levels", "permit", "clearance", "patio"))]
    return [one for one in found if all(word in one for word in words)]


def test_a_terrace_is_dug_held_counted_and_priced(tmp_path: Path) -> None:
    made = garden(tmp_path, terraced(height=-0.1))
    assert made.earth is not None
    soil = made.earth.soil
    assert soil.fill > soil.cut > 0
    counted = {line.item: line for line in made.quantities if line.where in ("levels", "terrace")}
    assert counted["excavation"].amount == pytest.approx(soil.cut)
    (patio,) = [line for line in made.quantities if line.item == "excavation" and line.where == "terrace"]
    built = quantities.ground_area_lines(made.project.structure.ground_areas[0], made.layout.ground_areas["terrace"])
    held = sum(line.amount for line in built if line.item == "excavation") - patio.amount
    assert 0 < held < soil.fill
    firmed = attrs.evolve(soil, fill=soil.fill - held)  # of the fill the paving's layers are no soil
    assert counted["soil placed"].amount == pytest.approx(firmed.fill)
    assert counted["fill soil"].amount == pytest.approx(firmed.bought)
    assert counted["drain pipe"].amount == pytest.approx(sum(wall.length for wall in made.earth.walls))
    assert {"retaining wall", "fill soil"} <= {order.item for order in made.orders}
    assert any(line.name.startswith("retaining wall") for line in made.costs.lines)
    assert [phase.name for phase in made.phases][1] == "Levels"


@pytest.mark.parametrize("high", [0.06, 0.5])
def test_the_layers_of_a_raised_terrace_are_neither_dug_nor_filled_twice(tmp_path: Path, high: float) -> None:
    """On level ground: what is dug, less what is placed, is what the layers take less what the level adds."""
    heights = tuple(SpotHeight(at=(x, y), height=0.0) for x in (0.0, 16.0) for y in (0.0, 14.0))
    flat = attrs.evolve(back_garden(), site=attrs.evolve(back_garden().site, heights=heights))
    raised = edits.add_level(flat, of="terrace", height=high, fall=0.0, edge="wall")
    before, after = (garden(tmp_path, made) for made in (flat, raised))

    def soil(of: Garden, item: str, *where: str) -> float:
        return sum(line.amount for line in of.quantities if line.item == item and line.where in where)

    area = plane.area(after.layout.ground_areas["terrace"])
    dug, deep = soil(before, "excavation", "terrace"), soil(before, "excavation", "terrace") / area
    assert 0.15 < deep < 0.3
    assert soil(after, "excavation", "terrace", "levels") == pytest.approx(max(0.0, dug - high * area), rel=0.02)
    squares = 0.14 * plane.perimeter(after.layout.ground_areas["terrace"]) / 2  # m2: those along the edge, half counted
    placed = max(0.0, high - deep) * area
    assert soil(after, "soil placed", "levels") == pytest.approx(placed, abs=0.02 + high * squares / 2)


def test_the_terrace_is_judged_by_its_own_fall_and_not_by_the_slope_it_lies_in(tmp_path: Path) -> None:
    assert said(garden(tmp_path, back_garden()), "terrace", "steep for tables")
    assert not said(garden(tmp_path, terraced()), "terrace", "steep for tables")
    assert said(garden(tmp_path, terraced(fall=0.0)), "terrace", "puddles")


def test_a_wall_asks_for_permit_and_drain_and_a_high_one_for_an_engineer(tmp_path: Path) -> None:
    assert said(garden(tmp_path, terraced()), "retaining wall may need a permit")
    assert not said(garden(tmp_path, terraced()), "engineer design")
    high = terraced(height=0.9)
    assert said(garden(tmp_path, high), "engineer design")
    assert said(garden(tmp_path, high), "gravel and a pipe")


def test_soil_against_the_house_is_said(tmp_path: Path) -> None:
    """The floor is at 0: ground must stay 6 in below (IRC R404.1.6, from memory)."""
    low = edits.add_level(back_garden(), at=(26 * FOOT, 2 * FOOT), height=0.3, bank=3.0)
    assert said(garden(tmp_path, low), "above the floor")
    assert not said(garden(tmp_path, terraced(height=-0.4)), "floor")


def test_levels_at_the_boundary_and_among_roots_are_said(tmp_path: Path) -> None:
    tree = ExistingTree(name="apple", at=(12.0, 10.0), height=5, spread=4, trunk_diameter=0.2)
    with_tree = attrs.evolve(back_garden(), site=attrs.evolve(back_garden().site, trees=(tree,)))
    dug = edits.add_level(with_tree, at=(13.0, 10.0), height=-2.0, bank=2.0)
    assert said(garden(tmp_path, dug), "apple", "dug away among its roots")
    assert said(garden(tmp_path, edits.change_level(dug, "spot", bank=4.0)), "at the boundary")
    assert not said(garden(tmp_path, dug), "at the boundary")
    away = edits.add_level(with_tree, at=(5.0, 4.0), height=-0.5, bank=2.0)
    assert not said(garden(tmp_path, away), "the ground is", "roots")


def test_water_that_stays_at_a_low_edge_is_said_until_something_takes_it(tmp_path: Path) -> None:
    """A lawn that falls towards the house lies below the ground there: its water has nowhere to go."""
    outline = tuple((x * FOOT, y * FOOT) for x, y in ((10, 20), (40, 20), (40, 32), (10, 32)))
    wet = edits.add_level(back_garden(), outline=outline, height=-0.8, fall=2.0, falls_to=180.0, name="lawn")
    assert said(garden(tmp_path, wet), "water stays there")
    drained = edits.add_level(wet, at=(25 * FOOT, 20 * FOOT), height=-0.85, name="gully")
    assert not said(garden(tmp_path, drained), "water stays there")
    turned = edits.change_level(wet, "lawn", falls_to=0.0)
    assert not said(garden(tmp_path, turned), "water stays there")


def test_without_heights_the_levels_say_so(tmp_path: Path) -> None:
    flat = attrs.evolve(terraced(), site=attrs.evolve(terraced().site, heights=()))
    assert garden(tmp_path, flat).earth is None
    assert said(garden(tmp_path, flat), "no measured heights")


def test_the_plan_says_new_heights_with_those_found_in_brackets() -> None:
    from gardenkit.project.layout import layout

    project = attrs.evolve(terraced(), units="metric")
    scene = levels_scene(project, layout(project), scale=60, title="levels")
    words = [mark.text for mark in plain(scene.marks) if isinstance(mark, Label)]
    assert any(text.startswith("-0.20 (-0.2") for text in words)  # found: 8 ft out on a fall of 4 in 46
    assert "2 %" in words
    assert [signed(h, "metric") for h in (0.3, -0.12, 0.0)] == ["+0.30", "-0.12", "±0.00"]


def test_a_level_is_drawn_clicked_moved_and_renamed() -> None:
    spot = draw(back_garden(), "spot level", ((3.0, 3.0),))
    assert spot.structure.levels[0].height == pytest.approx(-4 * FOOT * 3.0 / (46 * FOOT), abs=0.002)  # as found
    assert level_at(spot.structure, (3.1, 3.1)) == spot.structure.levels[0]
    moved = put_at(spot, "level", "spot", (4.0, 4.0))
    assert place_of(moved, "level", "spot") == (4.0, 4.0)
    area = draw(back_garden(), "level area", ((2.0, 6.0), (6.0, 6.0), (6.0, 9.0), (2.0, 9.0)))
    assert level_at(area.structure, (5.5, 8.5)) == area.structure.levels[0]
    shifted = put_at(area, "level", "level", (5.0, 7.5))
    assert shifted.structure.levels[0].outline[0] == (3.0, 6.0)


def test_an_area_that_has_a_level_is_not_removed_and_a_new_name_follows() -> None:
    project = terraced()
    with pytest.raises(GardenError, match='level "terrace" is of "terrace"'):
        edits.remove_area(project, "terrace")
    assert edits.rename_area(project, "terrace", to="patio").structure.levels[0].of == "patio"
    assert edits.remove_area(edits.remove_level(project, "terrace"), "terrace").structure.ground_areas == ()


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"of": "lawm", "height": 0.0}, "no paved or lawn area"),
        ({"at": (90.0, 3.0), "height": 0.0}, "outside the boundary"),
        ({"at": (3.0, 3.0), "height": 0.0, "bank": 0.1}, "bank of 1:n"),
        ({"at": (3.0, 3.0), "height": 0.0, "fall": 80.0}, "fall"),
        ({"outline": ((0, 0), (3, 3), (3, 0), (0, 3)), "height": 0.0}, "cross"),
    ],
)
def test_a_level_that_cannot_be_is_refused_in_one_sentence(fields: dict[str, object], words: str) -> None:
    with pytest.raises(GardenError, match=words):
        edits.add_level(back_garden(), **fields)


def test_what_was_saved_is_checked_when_opened() -> None:
    import gardenkit.project as projects

    lost = attrs.evolve(back_garden().structure, levels=(Level(name="a", at=(1, 1), height=0, of="gone"),))
    with pytest.raises(GardenError, match='"gone", which is no paved or lawn area'):
        projects.check(attrs.evolve(back_garden(), structure=lost))


def test_a_wall_stands_in_the_view_from_the_lower_ground_to_the_higher() -> None:
    """The terrace's low edge is 15 ft out: its wall stands up to the terrace, on the ground found beyond."""
    from gardenkit.drawing.view_levels import wall_fences
    from gardenkit.project.earthworks import earthworks
    from gardenkit.project.layout import layout

    project = terraced(fall=0.0)
    worked = layout(project)
    stood, earth = wall_fences(project, worked), earthworks(project, worked)
    assert earth is not None
    assert sum(plane.line(one.line).length for one in stood) == pytest.approx(
        sum(w.length for w in earth.walls), rel=0.05
    )
    far = [one for one in stood if min(y for _, y in one.line) > 15 * FOOT]  # off the edge, on the low side
    assert far
    assert all(one.height == pytest.approx(-0.2 + 4 * FOOT * 15 / 46, abs=0.02) for one in far)


def test_a_channel_at_the_low_edge_takes_the_water(tmp_path: Path) -> None:
    outline = tuple((x * FOOT, y * FOOT) for x, y in ((10, 20), (40, 20), (40, 32), (10, 32)))
    wet = edits.add_level(back_garden(), outline=outline, height=-0.8, fall=2.0, falls_to=180.0, name="lawn")
    assert said(garden(tmp_path, wet), "water stays there")
    drained = edits.add_thing(wet, "channel drain", at=(25 * FOOT, 20 * FOOT))
    assert not said(garden(tmp_path, drained), "water stays there")


def test_levels_walls_and_notes_go_into_the_plan_for_other_programs(tmp_path: Path) -> None:
    """Read back by ezdxf: each on a layer of its own."""
    import io

    import ezdxf

    from gardenkit.handover.dxf import drawing

    project = edits.add_note(terraced(), "service", line=((14.0, 1.0), (14.0, 9.0)), text="gas")
    found = ezdxf.read(io.StringIO(drawing(garden(tmp_path, project)).decode("utf-8"))).modelspace()
    layers = {entity.dxf.layer for entity in found}
    assert {"LEVEL", "RETAINING-WALL", "CONTOUR", "SERVICE"} <= layers
    assert any(entity.dxf.text == "gas" for entity in found.query("TEXT"))

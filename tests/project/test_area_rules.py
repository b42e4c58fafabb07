"""Patios too small, lawns too steep, retaining walls, and what stands near power lines and drain fields is said."""

import math
from pathlib import Path

import attrs
import pytest

from gardenkit.garden import Garden
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project
from gardenkit.project.area_rules import tree_findings
from gardenkit.project.layout import layout
from gardenkit.project.rules import PathSlope, steep_findings
from gardenkit.saying import in_system
from gardenkit.site.heights import SpotHeight
from gardenkit.site.site import Building, Fence, Obstacle, Site
from gardenkit.structure.ramps import ramp
from gardenkit.structure.structure import GroundArea, Seat, Structure, Support
from gardenkit.structure.structure import Path as StonePath
from gardenkit.units import FOOT, INCH, show_length

PLOT = ((0.0, 0.0), (14.0, 0.0), (14.0, 14.0), (0.0, 14.0))
HOUSE = Building(name="house", outline=((0.0, 10.0), (14.0, 10.0), (14.0, 14.0), (0.0, 14.0)))


BARE = Structure()


def box(x0: float, y0: float, x1: float, y1: float) -> tuple[tuple[float, float], ...]:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def said(topic: str, *, structure: Structure = BARE, **site: object) -> list[str]:
    project = Project(name="plot", site=Site(boundary=PLOT, **site), structure=structure)
    return [f.what for f in layout(project).findings if f.topic == topic]


@pytest.mark.parametrize(("side_ft", "count"), [(10, 0), (9, 1)])
def test_a_patio_under_10_ft_across_is_small_for_two(side_ft: float, count: int) -> None:
    """10 x 10 ft for two, common practice; 25 sq ft a person, contractor: 9 x 9 ft has the area but not the width."""
    patio = GroundArea(
        name="sitting place", kind="patio", outline=box(1.0, 1.0, 1.0 + side_ft * FOOT, 1.0 + side_ft * FOOT)
    )
    assert len(said("patio", structure=Structure(ground_areas=(patio,)))) == count


def test_a_patio_that_falls_to_the_house_is_warned_and_one_that_falls_away_is_not() -> None:
    """IRC R401.3 (2006): falls away from the house."""
    patio = GroundArea(name="sitting place", kind="patio", outline=box(3.0, 4.0, 9.0, 9.5))
    heights = [tuple(SpotHeight(at=(x, y), height=s * 0.02 * y) for x in (0, 14) for y in (0, 14)) for s in (1, -1)]
    away, towards = (
        said("levels", structure=Structure(ground_areas=(patio,)), buildings=(HOUSE,), heights=h) for h in heights
    )
    assert not any("towards the house" in w for w in away)
    assert any("towards the house" in w for w in towards)


@pytest.mark.parametrize(("kind", "over"), [("pergola", 0.3048), ("arch", 0.0)])
def test_beams_that_end_over_the_line_or_in_a_wall_are_said(kind: str, over: float) -> None:
    """A pergola's beams and rafters reach 12 in past its posts on every side (house value), an arch's end at them."""

    def found(x: float, y: float) -> list[str]:
        frame = Support(name="frame", kind=kind, line=((x, y), (x + 2.0, y)), height=2.4, depth=1.5)
        said_of = said("supports", structure=Structure(supports=(frame,)), buildings=(HOUSE,))
        return [words for words in said_of if "beams and rafters" in words]

    (at_edge,) = found(over - 0.15, 3.0)
    assert "reach 0.15 m past the boundary" in at_edge and "local building or planning office" in at_edge
    (corner,) = found(12.0 - over + 0.1, 0.75 + over - 0.05)
    assert f"reach {math.hypot(0.1, 0.05):.2f} m past the boundary" in corner
    (in_house,) = found(5.0, 10.0 - 0.75 - over + 0.2)
    assert "reach 0.20 m into house" in in_house
    assert not found(over + 0.05, 3.0) and not found(5.0, 10.0 - 0.75 - over - 0.05)


def test_a_retaining_wall_over_4_ft_wants_an_engineer() -> None:
    """Contractor guide: above 4 ft engineered, above 3 ft geogrid; an ordinary wall asks for neither."""
    line = ((1.0, 2.0), (9.0, 2.0))
    high = said("permit", fences=(Fence(name="retaining wall", line=line, height=4.5 * FOOT),))
    assert any("engineer" in w for w in high)
    middle = said("permit", fences=(Fence(name="bank", kind="retaining wall", line=line, height=3.5 * FOOT),))
    assert any("geogrid" in w for w in middle)
    assert said("permit", fences=(Fence(name="garden wall", line=line, height=4.5 * FOOT),)) == []


def test_a_support_within_10_ft_of_a_power_line_stops_the_work() -> None:
    """OSHA 29 CFR 1910.333(c)(3): 10 ft to 50 kV for people not qualified."""
    line = Obstacle(name="Power line over the lane", outline=box(0.0, 0.0, 14.0, 0.1))
    trellis = Support(name="trellis", kind="trellis", line=((1.0, 0.1 + 9.9 * FOOT), (3.0, 0.1 + 9.9 * FOOT)))
    project = Project(name="x", site=Site(boundary=PLOT, obstacles=(line,)), structure=Structure(supports=(trellis,)))
    assert [
        f.seriousness for f in layout(project).findings if "untrained" in f.what or "from a power line" in f.what
    ] == ["stop"]
    off = attrs.evolve(trellis, line=((1.0, 0.1 + 10.1 * FOOT), (3.0, 0.1 + 10.1 * FOOT)))
    project = attrs.evolve(project, structure=Structure(supports=(off,)))
    assert not any(f.seriousness == "stop" for f in layout(project).findings)


def test_a_tree_that_outgrows_lines_and_drains_is_named() -> None:
    """Vermont Urban & Community Forestry: over 25 ft keeps 20 ft from lines; NC Extension: as far off as it is tall."""
    from gardenkit.planting.planting import Plant

    tall = max(load_catalogue().layer("tree"), key=lambda s: s.height)
    things = (
        Obstacle(name="overhead line", outline=box(0.0, 0.0, 14.0, 0.1)),
        Obstacle(name="septic drain field", outline=box(0.0, 12.0, 14.0, 13.0)),
    )
    site = Site(boundary=PLOT, obstacles=things)
    found = tree_findings(site, [(Plant(number=1, species=tall.botanical, at=(7.0, 3.0)), tall)])
    assert {f.what.split(" m ")[0] != "" for f in found} == {True}
    assert sum("overhead lines" in f.what for f in found) == 1
    assert sum("drain field" in f.what for f in found) == 1


def test_free_standing_wires_over_10_ft_want_more_posts() -> None:
    """Georgia Cooperative Extension: 7 lb a foot of wire; at 2 in of sag 10 ft want more than the usual 250 lb."""
    wires = Support(name="vine wires", kind="wall wires", line=((1.0, 3.0), (9.0, 3.0)), height=60 * INCH)
    assert any("lb of pull" in w for w in said("supports", structure=Structure(supports=(wires,))))
    short = attrs.evolve(wires, line=((1.0, 3.0), (1.0 + 6.8 * FOOT, 3.0)))
    assert not any("lb of pull" in w for w in said("supports", structure=Structure(supports=(short,))))


def test_the_steepest_path_of_the_wants_is_the_one_the_findings_name(tmp_path: Path) -> None:
    """A path down into a dip and up again is level from end to end and steep on the way: both say the same figure."""
    heights = tuple(SpotHeight(at=(x, y), height=0.25 * abs(y - 5.0)) for x in (0.0, 14.0) for y in (0.0, 5.0, 10.0))
    seats = (Seat(name="low", at=(7.0, 1.0)), Seat(name="high", at=(7.0, 9.0)))
    walk = StonePath(name="walk", start="low", end="high", curvature=0.0, surface="paving")
    structure = Structure(paths=(walk,), seats=seats)
    garden = Garden(Project(name="dip", site=Site(boundary=PLOT, heights=heights), structure=structure), tmp_path)
    named = next(f for f in garden.layout.findings if f.topic == "slope")
    assert f"rises {garden.facts['path_slope']:.1f} %" in named.what
    assert garden.facts["path_slope"] == pytest.approx(25.0, abs=0.1)


def test_a_ramp_is_as_long_in_the_findings_as_on_the_page_of_steps_and_ramps() -> None:
    """The finding names the ramp to the millimetre, so that it rounds to the same inches as the page's table."""
    rise = 0.5716
    path = StonePath(name="walk", start="a", end="b")
    slope = PathSlope(steepest=20.0, at=(0.0, 0.0), run=3.0, rise=rise)
    said = in_system(steep_findings(path, slope)[0].what, "imperial")
    assert f"a ramp {show_length(ramp(rise).overall, 'imperial')} long" in said

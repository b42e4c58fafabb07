"""Garden lights on a cable, against published sums of voltage drop, loads and transformers."""

import math

import pytest

from gardenkit.drawing.garden import garden_scene
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.project import Project
from gardenkit.project.edits import structure
from gardenkit.project.layout import layout
from gardenkit.schedules.lighting import cable_line, cables, light_findings, light_lines
from gardenkit.site.notes import Note
from gardenkit.site.site import Building, ExistingTree, Site, root_circles
from gardenkit.structure.kinds import THINGS
from gardenkit.structure.low_voltage import cable_for, drop_at_end, transformer_for
from gardenkit.structure.structure import Structure, Thing
from gardenkit.units import FOOT


def test_all_load_at_the_end_of_80_ft_of_12_gauge() -> None:
    """2 x 80 x 6.667 x .001588 = 1.69 V, from the ohms a foot of starnursery.com: 80 W at 12 V."""
    assert drop_at_end([(80 * FOOT, 80.0)], 12) == pytest.approx(1.69, abs=0.005)


def test_a_load_spread_along_the_run_loses_about_half() -> None:
    """Trade constant 7,500 for 12 gauge with the load spread: 4 x 20 W over 80 ft: 6,400 / 7,500 = .85 V
    (deafaviation.com reprint). Many lamps spread evenly come to W x ft / (12 / R) = 0.847 V.
    """
    many = [(80 * FOOT * (k + 0.5) / 400, 0.2) for k in range(400)]
    assert drop_at_end(many, 12) == pytest.approx(0.847, abs=0.002)
    assert drop_at_end(many, 12) == pytest.approx(0.85, abs=0.005)


@pytest.mark.parametrize(
    ("gauge", "constant", "near"),
    [
        (10, 11_764, 0.0002),
        (12, 7_547, 0.0014),  # printed from .00159, while the same table gives .001588 ohm a foot
        (14, 4_752, 0.0002),
        (16, 2_988, 0.0002),
    ],
)
def test_the_constant_of_each_cable(gauge: int, constant: float, near: float) -> None:
    """12 / R with the load spread (starnursery.com): watts x feet / constant; with the load at the end twice that."""
    assert drop_at_end([(100 * FOOT, 60.0)], gauge) == pytest.approx(2 * 60 * 100 / constant, rel=near)


def test_lamps_take_80_percent_of_a_transformer() -> None:
    """100 W transformer -> 80 W -> 40 lights of 2 W (kingsoutdoorlighting.com)."""
    assert transformer_for(80.0) == 100
    assert transformer_for(80.5) == 150


def test_a_long_heavy_run_takes_a_thicker_cable_and_at_last_two_runs() -> None:
    assert cable_for([(10.0, 12.0)]).gauge == 16
    thick = cable_for([(25.0 + 2 * k, 12.0) for k in range(5)])
    assert thick.gauge < 16 and thick.drop <= 1.2
    with pytest.raises(GardenError, match="two runs"):
        cable_for([(120.0, 150.0)])


def test_a_cable_laid_by_hand_loses_the_volts_of_its_own_way_and_says_which_lamp_it_misses() -> None:
    """Two lamps 10 and 20 m along a cable with a corner, 10 % slack: 2 I R over each stretch, R .004016 ohm a foot of
    16 gauge (starnursery.com); a lamp 3 m off hangs on none.
    """
    plot = Project(name="plot", site=Site(boundary=((0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0))))
    for name, at in (("near", (11.0, 1.0)), ("last", (11.0, 11.0)), ("off", (15.0, 14.0))):
        plot = structure.add_thing(plot, "path light", at=at, name=name)
    before = cables(plot)[0]
    laid = structure.lay_cable(plot, ((1.0, 1.0), (11.0, 1.0), (11.0, 12.0)), name="south")
    (cable,) = cables(laid)
    assert [(one.name, pytest.approx(far)) for far, one in cable.lamps] == [("near", 11.0), ("last", 22.0)]
    watts = THINGS["path light"].lamp.watts if THINGS["path light"].lamp else 0.0
    amps = watts / 12
    by_hand = 2 * 0.004016 / FOOT * (2 * amps * 11.0 + amps * 11.0)
    assert cable.run().drop == pytest.approx(by_hand)
    assert cable.run().length == pytest.approx(21.0 * 1.1)
    said = light_findings(laid)
    assert any("no cable passes off" in one.what and one.seriousness == "warning" for one in said)
    assert [line.amount for line in light_lines(laid) if line.item == "cable"] == [pytest.approx(23.1)]
    marks = garden_scene(laid, layout(laid)).marks
    assert any(getattr(mark, "tip", "") == "south: low-voltage cable" for mark in marks)
    assert before.where != "south" and cables(structure.remove_cable(laid, "south"))[0].where == before.where
    with pytest.raises(GardenError, match="outside the boundary"):
        structure.lay_cable(plot, ((1.0, 1.0), (99.0, 1.0)))


def lit(*lamps: tuple[float, float]) -> Project:
    """Return a garden with lamps and an oak that stays, its roots protected for 6 m round (5, 5)."""
    oak = ExistingTree(name="oak", at=(10.0, 10.0), trunk_diameter=0.5, height=12.0, spread=8.0)
    site = Site(boundary=((0, 0), (20, 0), (20, 20), (0, 20)), trees=(oak,))
    project = Project(name="lit", site=site)
    for k, at in enumerate(lamps):
        project = structure.add_thing(project, "path light", at=at, name=f"lamp {k}")
    return project


def test_a_cable_from_lamp_to_lamp_is_led_round_the_roots_of_a_tree_that_stays() -> None:
    ((oak, far),) = root_circles(lit().site)
    assert far == pytest.approx(6.0)
    (fed,) = cables(lit((2.0, 10.0), (18.0, 10.0)))
    assert plane.distance(plane.line(fed.line), plane.point(oak.at)) >= far
    straight, led = 16.0, 2 * math.sqrt(8**2 - 6**2) + 6 * 2 * math.asin(6 / 8)  # two tangents and the arc between
    assert fed.run().length / 1.1 == pytest.approx(led, rel=0.01)
    assert led > straight
    assert not [f.what for f in light_findings(lit((2.0, 10.0), (18.0, 10.0))) if "oak" in f.what]


def test_a_cable_is_led_round_the_house_its_transformer_hangs_on() -> None:
    """On the far wall of a house 4 m wide, past a corner: never through it, and no longer than by its walls."""
    house = Building(name="house", outline=((4.0, 4.0), (8.0, 4.0), (8.0, 8.0), (4.0, 8.0)))
    hung = Note(name="t", kind="transformer", line=((6.0, 8.0),))
    lamp = Thing(name="a", kind="path light", at=(6.0, 2.0), width=0.16, depth=0.16, height=0.46)
    site = Site(boundary=((0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (0.0, 12.0)), buildings=(house,), notes=(hung,))
    way = cable_line(Project(name="p", site=site, structure=Structure(things=(lamp,))))
    assert (way[0], way[-1]) == ((6.0, 8.0), (6.0, 2.0))
    inside = plane.grown(plane.region(house.outline), -0.11)
    assert not plane.meet(plane.line(way), inside)
    assert 6.0 < plane.line(way).length < 2.0 + 4.0 + math.hypot(2.0, 2.0) + 0.1


def test_a_lamp_among_the_roots_is_said_with_what_to_do() -> None:
    (said,) = (f for f in light_findings(lit((2.0, 10.0), (8.0, 10.0))) if "oak" in f.what)
    assert "move lamp 1 out of it, or dig by hand between the roots" in said.what
    assert said.seriousness == "caution"

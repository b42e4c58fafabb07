"""The bones of a whole garden: what the rules say of it, what is seen in it, and all its ground accounted for."""

import math
import pathlib

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.project import Alternative, Project, rules, views
from gardenkit.project.layout import layout, propose
from gardenkit.site.heights import SpotHeight
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Obstacle, Site
from gardenkit.storage.records import from_data, to_data
from gardenkit.structure.structure import GroundArea, Path, Seat, Structure, Support
from gardenkit.units import INCH

HOUSE = Building(name="house", outline=((1, 15), (7, 15), (7, 18), (1, 18)), floor=0.2)
GATE = Opening(name="gate", kind="gate", start=(7.5, 0), end=(8.5, 0))
DOOR = Opening(name="door", kind="door", start=(2, 15), end=(3, 15), on="house")
SITE = Site(
    boundary=((0, 0), (12, 0), (12, 18), (0, 18)),
    buildings=(HOUSE,),
    openings=(GATE, DOOR),
    trees=(ExistingTree(name="pear", at=(9.5, 9), height=6, spread=4),),
)
WALK = Path(name="walk", start="gate", end="door", curvature=0.4)


def garden(*, site: Site = SITE, **bones: object) -> Project:
    return Project(name="try", site=site, structure=Structure(**{"paths": (WALK,), **bones}))


def sloping(percent: float) -> Site:
    spots = ((0.0, 0.0), (12.0, 0.0), (0.0, 18.0), (12.0, 18.0))
    return attrs.evolve(SITE, heights=tuple(SpotHeight(at=at, height=at[1] * percent / 100) for at in spots))


def said(project: Project, topic: str) -> list[str]:
    return [f.what for f in layout(project).findings if f.topic == topic]


# ---- findings


def test_a_gate_narrower_than_the_path_is_said() -> None:
    wide = garden(paths=(attrs.evolve(WALK, width=48 * INCH),))
    assert any(f.where == "gate" and "narrower" in f.what for f in layout(wide).findings)
    assert not any(f.where == "gate" for f in layout(garden(paths=(attrs.evolve(WALK, width=0.9),))).findings)


def test_level_ground_has_no_slope_finding_and_a_steep_one_has_steps_and_a_ramp() -> None:
    assert said(garden(site=sloping(1)), "slope") == []
    steep = garden(site=sloping(16))
    assert any("over 12.5 %" in what for what in said(steep, "slope"))
    assert any("risers" in what and "ramp" in what for what in said(steep, "steps"))


def test_the_path_s_own_slope_rule_is_used() -> None:
    six = attrs.evolve(WALK, curvature=0.0)
    site = sloping(6)
    trail, route = (
        garden(site=site, paths=(six,)),
        garden(site=site, paths=(attrs.evolve(six, slope_rule="accessible route"),)),
    )
    assert said(trail, "slope") == []  # 1:12 to 200 ft, Access Board 1017.7.1
    assert said(route, "slope") != []  # 1:20, 2010 ADA Standards 403.3


@pytest.mark.parametrize("percent", [4.0, 9.0, 15.0])
def test_the_slope_of_a_straight_path_up_a_plane_is_the_plane_s(percent: float) -> None:
    site = attrs.evolve(
        sloping(percent), openings=(GATE, attrs.evolve(DOOR, start=(7.5, 15), end=(8.5, 15), on="house"))
    )
    site = attrs.evolve(
        site, buildings=(attrs.evolve(HOUSE, outline=((6, 15), (11, 15), (11, 18), (6, 18))),), trees=()
    )
    project = garden(site=site, paths=(attrs.evolve(WALK, curvature=0.0),))
    ground = rules.ground_of(site)
    assert ground is not None
    slope = rules.path_slope(project.structure.paths[0], layout(project).routes["walk"], ground)
    assert abs(slope.steepest) == pytest.approx(percent, rel=1e-3)


def test_an_arch_over_the_path_too_low_and_too_narrow_is_said() -> None:
    low = Support(name="arch", kind="arch", line=((7.5, 1.0), (8.5, 1.0)), height=1.9, depth=0.6)
    found = [f.what for f in layout(garden(supports=(low,))).findings if f.where == "arch"]
    assert any("headroom" in what for what in found) and any("between posts" in what for what in found)


def test_a_trellis_before_the_door_and_by_the_gas_meter_is_said() -> None:
    meter = Obstacle(name="gas meter", outline=((3.6, 14.6), (3.9, 14.6), (3.9, 14.9), (3.6, 14.9)))
    trellis = Support(name="trellis", kind="trellis", line=((2.2, 14.8), (3.4, 14.8)), height=1.8, against="house")
    found = layout(garden(site=attrs.evolve(SITE, obstacles=(meter,)), supports=(trellis,), paths=())).findings
    assert any("door door" in f.what for f in found) and any("gas meter" in f.where for f in found)


def test_a_support_that_cannot_be_built_is_said_once() -> None:
    bad = Support(name="bad", kind="trellis", line=((2, 5), (4, 5)), height=0.2)
    found = layout(garden(supports=(bad,))).findings
    assert sum(f.where == "bad" and "too low" in f.what for f in found) == 1


# ---- ground accounted for


@given(
    curvature=st.floats(0, 1),
    sway=st.integers(0, 4),
    seed=st.integers(1, 50),
    surface=st.sampled_from(["stepping stones", "flagstones"]),
)
@settings(max_examples=25, deadline=None)
def test_whatever_the_sliders_all_ground_is_shared_out_stones_lie_apart_inside_and_gaps_are_kept_or_named(
    curvature: float, sway: int, seed: int, surface: str
) -> None:
    path = attrs.evolve(
        WALK, curvature=curvature, sway=sway, surface=surface, stones=attrs.evolve(WALK.stones, seed=seed)
    )
    lawn = GroundArea(name="lawn", kind="lawn", outline=((2, 4), (6, 4), (6, 9), (2, 9)))
    worked = layout(garden(paths=(path,), ground_areas=(lawn,), cuts=(((-1, 11), (13, 11)),)))
    assert worked.problems == ()
    hard = plane.area(worked.hardscape)
    beds = sum(b.area for b in worked.beds)
    assert beds + hard + plane.area(worked.scraps) == pytest.approx(plane.area(worked.ground), abs=1e-6)
    stones = [plane.region(s.outline) for s in worked.layings["walk"].stones]
    assert all(plane.area(plane.difference(s, worked.routes["walk"].region)) < 1e-6 for s in stones)
    total = sum(plane.area(s) for s in stones)
    assert plane.area(plane.union(stones)) == pytest.approx(total, abs=1e-6)
    if surface == "stepping stones":
        named = {f.where for f in worked.findings if f.topic == "gap"}
        for gap in worked.layings["walk"].gaps:
            within = path.stones.gap_low - 5e-4 <= gap.clear <= path.stones.gap_high + 5e-4
            assert within or f'path "walk", stones {gap.first + 1} and {gap.second + 1}' in named


def test_a_path_to_a_ground_area_and_one_that_joins_a_path_meet_them() -> None:
    terrace = GroundArea(name="terrace", kind="patio", outline=((0, 10), (3, 10), (3, 13), (0, 13)))
    branch = Path(name="branch", start="terrace", end="walk", width=0.7, joins_at=0.4)
    worked = layout(garden(paths=(WALK, branch), ground_areas=(terrace,)))
    assert worked.problems == ()
    ends = worked.routes["branch"].curve.points[[0, -1]]
    assert plane.distance(plane.region(terrace.outline), plane.point(ends[0])) < 1e-6
    walk = worked.routes["walk"].curve
    assert math.dist(ends[1], walk.at(0.4 * walk.length)[0]) < 1e-6


def test_ways_to_wander_are_found_for_each_goal_and_an_unknown_path_is_named() -> None:
    ways = {m.goal: m for m in propose(garden(site=sloping(2)), "walk")}
    assert ways["shortest"].length <= min(m.length for m in ways.values())
    assert ways["least straight view"].straight_view <= min(m.straight_view for m in ways.values()) + 0.01
    with pytest.raises(GardenError, match='nearest known is "walk"'):
        propose(garden(), "wallk")


# ---- what is seen


def test_an_open_plot_is_seen_whole_from_the_gate() -> None:
    site = Site(boundary=((0, 0), (12, 0), (12, 18), (0, 18)), openings=(GATE,))
    view = views.look(Project(name="open", site=site), views.Eye(place="gate", at=GATE.middle))
    assert view.measures.area == pytest.approx(12 * 18, abs=1e-6)


def test_a_fence_above_the_eye_hides_the_path_behind_it_and_one_below_does_not() -> None:
    # from the gate to a seat 16 m away, a fence right across at 8 m: half the straight path shows
    seat = Seat(name="seat", at=(8, 16))
    straight = Path(name="walk", start="gate", end="seat", curvature=0.0, clear_of_walls=0.0)
    shares = {}
    for height in (0.0, 3.0):
        fences = (Fence(name="screen", line=((0, 8), (12, 8)), height=height),) if height else ()
        site = Site(boundary=((0, 0), (12, 0), (12, 18), (0, 18)), openings=(GATE,), fences=fences)
        project = Project(name="f", site=site, structure=Structure(paths=(straight,), seats=(seat,)))
        part = views.path_seen(project, layout(project), "walk", views.eye_at(project, "gate"))
        shares[height] = part.share
        if height:
            assert part.hidden_by[0][0] == "screen"
    assert shares[0.0] == 1.0
    assert shares[3.0] == pytest.approx(0.5, abs=0.02)


def test_the_wants_list_can_ask_how_much_of_the_path_shows_from_the_gate() -> None:
    share = Garden(garden(), pathlib.Path()).facts["path_straight_view"]
    assert 0 < share <= 100


def test_a_climber_over_an_arch_is_looked_under() -> None:
    from gardenkit.planting.catalogue import load_catalogue
    from gardenkit.planting.planting import Plant, Planting

    arch = Support(name="arch", kind="arch", line=((7.2, 0.4), (8.8, 0.4)), height=2.5, depth=0.6)
    rose = Plant(number=1, species="Lonicera sempervirens", at=(7.2, 0.5), support="arch")
    project = attrs.evolve(garden(supports=(arch,)), planting=Planting(plants=(rose,)))
    bodies = views.bodies(project, load_catalogue(), year=8)
    assert all("Lonicera" not in body.name for body in bodies)


@pytest.mark.parametrize(
    ("place", "posture", "word"), [("gat", "", 'nearest known is "gate"'), ("gate", "lying", "standing or seated")]
)
def test_a_place_or_posture_not_known_is_named(place: str, posture: str, word: str) -> None:
    with pytest.raises(GardenError, match=word):
        views.eye_at(garden(), place, posture=posture)


def test_alternatives_are_kept_in_the_project_file() -> None:
    project = attrs.evolve(garden(), alternatives=(Alternative(name="straight", structure=Structure(paths=(WALK,))),))
    assert from_data(to_data(project), where="test") == project
    assert from_data({k: v for k, v in to_data(garden()).items() if k != "alternatives"}, where="test") == garden()

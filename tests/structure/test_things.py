"""Every kind of placed thing has everything: bodies, plan, elevation, view, shade, ground, pieces, price, care."""

import math
from pathlib import Path
from typing import Any

import attrs
import numpy as np
import pytest

from gardenkit.drawing.by_night import DARK, SHARES, by_night
from gardenkit.drawing.elevation import elevation_scene
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.plan_things import LAMPLIGHT, MATERIALS, thing_marks
from gardenkit.drawing.scene import Area
from gardenkit.drawing.side_things import seen as seen_from_the_side
from gardenkit.drawing.view import view_scene
from gardenkit.drawing.view_placed import far_to_near
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.solid import top_of
from gardenkit.handover.features import features
from gardenkit.planting.planting import Plant
from gardenkit.project import Project
from gardenkit.project.edits import structure as edits
from gardenkit.project.pointing import placed_at
from gardenkit.schedules.orders import ITEMS
from gardenkit.site.site import Building, ExistingTree, Site
from gardenkit.structure.kinds import THINGS, ThingKind, thing_kind
from gardenkit.structure.kinds.thing_forms import box
from gardenkit.structure.kinds.things_hedges import Planted
from gardenkit.structure.structure import GroundArea, Structure, Thing
from gardenkit.structure.things import SHADES_FROM, forms_of, lit_by, outline_of, taken_by, thing_solids

PLOT = ((0.0, 0.0), (16.0, 0.0), (16.0, 20.0), (0.0, 20.0))
HOUSE = Building(name="house", outline=((2.0, 17.0), (14.0, 17.0), (14.0, 20.0), (2.0, 20.0)), eaves=3.0)
KINDS = pytest.mark.parametrize("kind", THINGS.values(), ids=lambda kind: kind.name)


def usual(kind: ThingKind, **changes: Any) -> Thing:
    made = Thing(name="new", kind=kind.name, at=(8.0, 8.0), facing=30.0, **attrs.asdict(kind.usual))
    return attrs.evolve(made, **changes)


def garden(*things: Thing, site: Site | None = None, folder: Path = Path(), **bones: Any) -> Garden:
    place = site or Site(boundary=PLOT, buildings=(HOUSE,))
    return Garden(Project(name="plot", site=place, structure=Structure(things=things, **bones)), folder)


def missing(kind: ThingKind) -> list[str]:
    """Return what a kind of thing lacks, by asking for everything that is drawn, built or said of it."""
    thing, lacks = usual(kind), []
    forms = kind.forms(thing)
    if not forms or max(f.high for f in forms) != pytest.approx(thing.height) or min(f.low for f in forms) < 0:
        lacks.append("bodies as high as it is")
    elif max(abs(p[0]) for f in forms for p in (*f.foot, *f.head)) > thing.width / 2 + 0.1:
        lacks.append("bodies within its width")
    lacks += [f"colour of {f.material}" for f in forms if f.material not in MATERIALS]
    counts = kind.counts(thing)
    if not counts or any(c.amount <= 0 or not c.rule or not c.source for c in counts):
        lacks.append("pieces")
    lacks += [f"item {c.item}" for c in counts if c.item not in ITEMS]
    weighed = kind.weight(thing)
    if not (0 < weighed.heaviest <= weighed.full and weighed.empty <= weighed.full and weighed.source):
        lacks.append("weight")
    if kind.footed and not any(asked.asks(2.5, thing.width * thing.depth) for asked in kind.permits):
        lacks.append("permits to ask about")
    said = {"words": kind.words, "cautions": kind.cautions, "care": kind.care}
    lacks += [name for name, value in said.items() if not value]
    lacks += ["source of a caution" for one in (*kind.cautions, *kind.permits) if not (one.what and one.source)]
    lacks += ["months of its care" for c in kind.care if not c.months or not set(c.months) <= set(range(1, 13))]
    return lacks


@KINDS
def test_every_kind_of_thing_has_everything(kind: ThingKind) -> None:
    assert missing(kind) == []


@pytest.mark.parametrize(
    ("without", "lacks"),
    [
        ({"forms": lambda thing: ()}, ["bodies as high as it is"]),
        (
            {"forms": lambda thing: (box((-2, 2), (-0.1, 0.1), (0, thing.height), "stone"),)},
            ["bodies within its width"],
        ),
        ({"forms": lambda thing: (box((-0.1, 0.1), (0, 0.1), (0, thing.height), "tweed"),)}, ["colour of tweed"]),
        ({"counts": lambda thing: ()}, ["pieces"]),
        ({"permits": ()}, ["permits to ask about"]),
        ({"words": ""}, ["words"]),
        ({"cautions": ()}, ["cautions"]),
        ({"care": ()}, ["care"]),
    ],
)
def test_a_made_up_kind_with_a_piece_missing_is_found_out(without: dict[str, Any], lacks: list[str]) -> None:
    assert missing(attrs.evolve(THINGS["water butt"], name="made up", **without)) == lacks


@KINDS
def test_every_thing_stands_on_plan_elevation_and_view(kind: ThingKind) -> None:
    thing = usual(kind)
    work = garden(thing)
    (symbol,) = thing_marks((thing,))
    shown = [plane.region(mark.rings[0], mark.rings[1:]) for mark in symbol.marks if isinstance(mark, Area)]
    drawn = plane.grown(plane.union(shown), 0.01)
    bodies = [one for one in forms_of(thing) if not (kind.inside and one.material == "soil")]  # its bed is drawn there
    assert bodies and all(plane.area(plane.difference(plane.region(one.head), drawn)) < 1e-6 for one in bodies)
    plan = garden_scene(work.project, work.layout)
    assert any(getattr(mark, "tip", "").startswith(f"new: {kind.name}") for mark in plan.marks)
    assert "new" in plan.description
    line = ((4.0, 6.0), (12.0, 6.0))
    (found,) = seen_from_the_side((thing,), line, depth=5.0)
    assert found[1].marks
    assert elevation_scene((), line=line, title="side", depth=5.0, things=(thing,)).marks
    seen = view_scene(work.project, work.layout, work.catalogue, eye=(8.0, 2.0), towards=0.0, year=0, month=6)
    assert "new" in seen.description


@KINDS
def test_every_tall_thing_casts_shade_and_hides_and_takes_its_ground_from_beds(kind: ThingKind) -> None:
    thing = usual(kind)
    bodies = thing_solids(thing, lambda _: 0.4)
    assert bool(bodies) == (thing.height >= SHADES_FROM)
    if bodies:
        assert max(map(top_of, bodies)) <= 0.4 + thing.height + 1e-9
        assert max(map(top_of, bodies)) > 0.4 + 0.7 * thing.height
    before, after = (sum(bed.area for bed in garden(*things).beds if bed.name != "new") for things in ((), (thing,)))
    assert before - after == pytest.approx(plane.area(taken_by(thing)), abs=1e-6)
    assert (before - after > 0) == any(form.low < 0.01 for form in forms_of(thing))


@KINDS
def test_every_thing_is_counted_priced_phased_and_handed_over(kind: ThingKind, tmp_path: Path) -> None:
    work = garden(usual(kind), folder=tmp_path)
    lines = [line for line in work.quantities if line.where == "new" and line.item not in ("mulch", "compost")]
    based = ["crushed stone"] if kind.base else []
    based += ["excavation", "spoil away"] if kind.base or kind.dug else []
    assert [line.item for line in lines] == [*(part.item for part in kind.counts(usual(kind))), *based]
    assert all(line.source for line in lines) and "about" in lines[0].rule
    names = {ITEMS[line.item] for line in lines}
    priced = [line for line in work.costs.lines if line.name in names]
    assert len(priced) == len(names) and all(line.cost > 0 and line.source for line in priced)
    assert any("new" in words for phase in work.phases for words in phase.work)
    assert any("(new)" in task.botanical for task in work.care)
    cautions = [f for f in work.advice if f.where == "new" or "new" in f.where.split(", ")]
    assert cautions
    assert any(f.layer == "THING" and f.name == "new" for f in features(work))
    assert any(mark.what.startswith("new, ") for mark in work.setting_out.marks)


@KINDS
def test_every_thing_is_put_down_turned_moved_named_and_chosen_by_a_click(kind: ThingKind) -> None:
    project = edits.add_thing(garden().project, kind.name, at=(5.0, 6.0))
    project = edits.turn_thing(edits.move_thing(project, kind.name, to=(6.0, 7.0)), kind.name, facing=-90.0)
    project = edits.rename_thing(project, kind.name, to="mine")
    (thing,) = project.structure.things
    assert (thing.name, thing.at, thing.facing) == ("mine", (6.0, 7.0), 270.0)
    assert placed_at(project.structure, (6.1, 7.0)) == thing
    assert placed_at(project.structure, (14.0, 1.0)) is None
    assert edits.remove_thing(project, "mine").structure.things == ()


@KINDS
def test_a_thing_put_so_near_that_it_reaches_over_the_boundary_is_refused_in_one_sentence(kind: ThingKind) -> None:
    """It may stand against the boundary; a hedge reaches over by half its depth, as it is trimmed."""
    usually = kind.usual
    reach = usually.width / 2
    empty = attrs.evolve(garden().project, site=Site(boundary=PLOT))
    snug = edits.add_thing(empty, kind.name, at=(reach, 8.0))
    if usually.width > 0.3:
        near = max(0.0, reach - 0.3)
        with pytest.raises(
            GardenError, match=rf'^{kind.name} ".*" would reach .* past the boundary; put it .* further in'
        ):
            edits.add_thing(empty, kind.name, at=(near, 8.0))
        with pytest.raises(GardenError, match="past the boundary"):
            edits.move_thing(snug, kind.name, to=(near, 8.0))
    found_over = attrs.evolve(snug.structure.things[0], at=(0.0, 8.0))
    found = attrs.evolve(snug, structure=attrs.evolve(snug.structure, things=(found_over,)))
    assert edits.rename_thing(found, kind.name, to="kept").structure.things[0].name == "kept"
    assert edits.change_thing(found, kind.name, height=usually.height).structure.things


def test_seats_and_supports_may_not_reach_over_the_boundary_either() -> None:
    empty = attrs.evolve(garden().project, site=Site(boundary=PLOT))
    with pytest.raises(GardenError, match=r'^seat "s" would reach .* past the boundary'):
        edits.add_seat(empty, "s", at=(0.4, 8.0))
    with pytest.raises(GardenError, match=r'^support "p" would reach .* past the boundary'):
        edits.add_support(empty, "p", "pergola", line=((-0.5, 8.0), (3.0, 8.0)))


# ---- what is found


def test_where_a_thing_stands_wrong_is_said() -> None:
    bath = usual(THINGS["bird bath"])
    project = edits.add_seat(edits.add_seat(garden().project, "a", at=(4.0, 3.0)), "b", at=(12.0, 3.0))
    project = edits.add_path(project, "walk", start="a", end="b", curvature=0.0)

    def said(at: tuple[float, float]) -> str:
        bones = attrs.evolve(project.structure, things=(attrs.evolve(bath, at=at),))
        found = Garden(attrs.evolve(project, structure=bones), Path()).layout.findings
        return " | ".join(f.what for f in found if f.subject == ("thing", "new") and f.topic == "structure")

    assert "past the boundary" in said((0.1, 5.0))
    assert "inside house" in said((8.0, 17.0))
    assert 'on path "walk"' in said((8.0, 3.0))
    assert said((8.0, 8.0)) == ""


def test_a_base_among_the_roots_of_a_tree_that_stays_is_said() -> None:
    """BS 5837:2012: a stem 0.30 m thick keeps a circle of 3.6 m; bays 3.5 m off are in it, 5.5 m off they are not."""
    site = Site(
        boundary=PLOT, trees=(ExistingTree(name="oak", at=(8.0, 11.5), trunk_diameter=0.30, height=9.0, spread=6.0),)
    )
    near, far = (usual(THINGS["compost bays"], at=(8.0, y)) for y in (8.0, 6.0))
    for thing, expected in ((near, True), (far, False)):
        found = garden(thing, site=site).layout.findings
        assert any("among its roots" in f.what for f in found) is expected


def test_a_fire_nearer_than_15_ft_to_the_house_is_said() -> None:
    """IFC 307.4.2, second-hand: 15 ft (4.572 m) in an approved container, to buildings."""
    bowl = THINGS["fire bowl"]
    for gap, expected in ((4.5, True), (4.6, False)):
        thing = usual(bowl, at=(8.0, 17.0 - gap - bowl.usual.depth / 2), facing=0.0)
        found = garden(thing).layout.findings
        assert any("from house" in f.what for f in found) is expected


def test_what_stands_within_6_ft_of_play_equipment_is_said() -> None:
    """CPSC, Public Playground Safety Handbook 5.3.9, from memory: 6 ft (1.83 m) clear on all sides."""
    frame = usual(THINGS["play frame"], name="swings", facing=0.0)
    for gap, expected in ((1.80, True), (1.86, False)):
        bench = usual(THINGS["bench"], name="seat", at=(8.0, 8.0 + frame.depth / 2 + gap + 0.3), facing=0.0)
        found = [f.what for f in garden(frame, bench).layout.findings if "clear all round" in f.what]
        assert bool(found) is expected
        assert all("seat stands in it" in what for what in found)


def test_a_table_has_36_in_from_its_edge_to_what_stands_round_it_or_it_is_said() -> None:
    """36 in clear round a table to rise and pass (designer's guide), from the table's edge; chairs are pushed in."""
    table = usual(THINGS["table and chairs"], name="table", facing=0.0)
    edge = table.depth / 2 - 0.45 * 0.75  # chairs reach three quarters of their depth past the table
    for inches, expected in ((35.0, True), (37.0, False)):
        wall = Building(
            name="shed",
            outline=tuple((x, 8.0 + edge + inches * 0.0254 + y) for x, y in ((-1, 0), (16, 0), (16, 1), (-1, 1))),
        )
        work = garden(table, site=Site(boundary=PLOT, buildings=(wall,)))
        assert any("shed stands in it" in f.what for f in work.layout.findings) is expected


def test_two_things_on_one_spot_are_said_once() -> None:
    first, second = (usual(THINGS["bench"], name=name) for name in ("a", "b"))
    found = [f for f in garden(first, second).layout.findings if "overlaps" in f.what]
    assert len(found) == 1


def test_plants_under_a_thing_are_said_and_those_in_a_raised_bed_are_not(tmp_path: Path) -> None:
    def said(kind: str) -> list[str]:
        project = edits.add_thing(garden().project, kind, at=(8.0, 8.0))
        plants = (Plant(number=7, species="Nepeta racemosa", at=(8.0, 8.0)),)
        project = attrs.evolve(project, planting=attrs.evolve(project.planting, plants=plants, last_number=7))
        return [f.what for f in Garden(project, tmp_path).advice_about(("structure",)) if "plant" in f.what]

    assert said("compost bays") == ["stands on 1 plant (7); move it or them"]
    assert said("raised bed") == []


# ---- figures


def test_a_raised_bed_holds_the_published_fill() -> None:
    """A bed of 4 x 8 ft inside, 12 in deep takes 32 cu ft, 18 in 48; 48 x 36 in, 18 in deep 18 cu ft (second-hand)."""
    foot = 0.3048
    kind = THINGS["raised bed"]
    wall = 2 * kind.inside
    for wide, deep, high, cubic_feet in ((8, 4, 1, 32), (8, 4, 1.5, 48), (4, 3, 1.5, 18)):
        thing = usual(kind, width=wide * foot + wall, depth=deep * foot + wall, height=high * foot)
        fill = next(c.amount for c in kind.counts(thing) if c.item == "raised bed soil")
        assert fill / foot**3 == pytest.approx(cubic_feet, abs=0.05)


def test_a_pot_holds_its_published_litres() -> None:
    """Cylinders of 30 x 25 cm inside: 17.67 L (novacalculator.com); 7 x 7 in 4.4 L and 11 x 11 in 17 L (Pacific
    Bulb Society, 2003). Walls are 2 cm here, floor likewise.
    """
    kind = THINGS["pot"]
    assert kind.litres is not None
    for across, high, litres, near in (
        (0.30, 0.25, 17.67, 0.01),
        (0.1778, 0.1778, 4.4, 0.05),
        (0.2794, 0.2794, 17, 0.2),
    ):
        thing = usual(kind, width=across + 0.04, depth=across + 0.04, height=high + 0.02)
        assert kind.litres(thing) == pytest.approx(litres, abs=near)


def test_a_planter_of_published_size_holds_its_litres_and_weighs_them_wet() -> None:
    """A box of 60 x 20 x 18 cm inside holds 21.6 L (novacalculator.com); wet potting mix weighs 40 to 60 lb a cubic
    foot (biologyinsights.com): 13.8 to 20.8 kg of it.
    """
    kind = THINGS["planter"]
    assert kind.litres is not None
    thing = usual(kind, width=0.60 + 2 * 0.025, depth=0.20 + 2 * 0.025, height=0.18 + 0.04 + 0.025)
    assert kind.litres(thing) == pytest.approx(21.6, abs=0.01)
    wet = kind.weight(thing).full - kind.weight(thing).empty
    assert 0.0216 * 40 * 16.018 <= wet <= 0.0216 * 60 * 16.018 + 0.01


def test_a_shed_has_a_base_of_stone_until_it_stands_on_one() -> None:
    """4 in of stone, 6 in past its walls (ICPI), and 10 % for compacting; none on paving that has its own."""
    shed = usual(THINGS["shed"], facing=0.0)
    inch = 0.0254
    sides = (shed.width + 12 * inch, shed.depth + 12 * inch)
    corners_cut = (4 - math.pi) * (6 * inch) ** 2  # past its corners it is rounded
    stone = [line.amount for line in garden(shed).quantities if line.item == "crushed stone"]
    assert stone == [pytest.approx((sides[0] * sides[1] - corners_cut) * 4 * inch * 1.1, rel=0.01)]
    floor = GroundArea(name="floor", kind="patio", outline=((6.0, 6.0), (10.0, 6.0), (10.0, 10.0), (6.0, 10.0)))
    on_paving = garden(shed, ground_areas=(floor,)).quantities
    assert not [line for line in on_paving if line.item == "crushed stone" and line.where == "new"]


@pytest.mark.parametrize("kind", [kind for kind in THINGS.values() if kind.lamp], ids=lambda kind: kind.name)
def test_a_lamp_lights_the_ground_of_its_reach_and_no_wall_behind_it(kind: ThingKind) -> None:
    thing = usual(kind, facing=0.0)
    reach = float(kind.lamp.pool)
    lit = plane.region(lit_by(thing))
    whole = math.pi * reach**2
    share = float(kind.lamp.beam) / 360 if kind.lamp.beam else 0.5 if kind.lamp.ahead else 1.0
    assert plane.area(lit) == pytest.approx(share * whole, rel=0.01)
    assert plane.contains(lit, (8.0, 8.0 + 0.9 * reach))
    assert plane.contains(lit, (8.0, 8.0 - 0.9 * reach)) is (share == 1.0)


def test_lamps_stand_along_a_path_as_far_apart_as_published_and_look_at_it() -> None:
    """6 to 8 ft apart (engineerfix.com), half of that from its ends, beside its edge."""
    project = edits.add_seat(edits.add_seat(garden().project, "a", at=(4.0, 2.0)), "b", at=(12.0, 14.0))
    project = edits.light_path(edits.add_path(project, "walk", start="a", end="b"), "walk", side="both in turn")
    route = Garden(project, Path()).layout.routes["walk"]
    lamps = project.structure.things
    assert 6 * 0.3048 <= route.length / len(lamps) <= 8 * 0.3048
    edge = plane.line(tuple(map(tuple, route.curve.points)))
    far = [plane.distance(plane.point(one.at), edge) for one in lamps]
    assert far == [pytest.approx(route.width / 2 + 0.15, abs=0.01)] * len(lamps)
    assert not [f for f in Garden(project, Path()).layout.findings if 'on path "walk"' in f.what]
    for one in lamps:
        turn = math.radians(one.facing)
        ahead = (one.at[0] + far[0] * math.sin(turn), one.at[1] + far[0] * math.cos(turn))
        assert plane.distance(plane.point(ahead), edge) < 0.01
    with pytest.raises(GardenError, match="a bench gives no light"):
        edits.light_path(project, "walk", kind="bench")
    with pytest.raises(GardenError, match="there is no path"):
        edits.light_path(project, "wlak")


def test_the_plan_by_night_is_dark_but_where_the_lamps_reach_in_their_colour() -> None:
    lamps = [
        usual(THINGS["path light"], name=f"l{n}", at=(4.0 + 6 * n, 6.0), light=("warm", "cool")[n]) for n in (0, 1)
    ]
    work = garden(*lamps)
    plan = garden_scene(work.project, work.layout)
    night = by_night(plan, work.project.structure.things)
    added = [mark for mark in night.marks if mark not in plan.marks]
    veils, glows = ([m for m in added if (m.fill == DARK) is dark] for dark in (True, False))
    for at, dark in (((4.0, 6.0), False), ((8.0, 14.0), True)):
        over = [m for m in veils if plane.contains(plane.region(m.rings[0], m.rings[1:]), at)]
        assert len(over) == (len(SHARES) if dark else 0)
    assert {m.fill for m in glows} == set(LAMPLIGHT.values())
    with pytest.raises(GardenError, match="no lamp in this garden"):
        by_night(plan, ())


def test_the_order_says_how_bright_a_lamp_is_and_of_which_colour() -> None:
    made = [garden(usual(THINGS["path light"], light=light)).quantities for light in ("warm", "cool")]
    warm, cool = (next(line.rule for line in lines if line.item == "path light") for lines in made)
    assert "100 lumens, warm white, about 2,700 K" in warm and "cool white, about 4,000 K" in cool


def test_plants_may_be_set_in_a_raised_bed_and_its_bed_follows_it() -> None:
    project = edits.add_thing(garden().project, "raised bed", at=(5.0, 6.0), name="salads")
    inside = next(bed for bed in Garden(project, Path()).beds if bed.name == "salads")
    wall = 2 * THINGS["raised bed"].inside
    assert inside.area == pytest.approx((2.4 - wall) * (1.2 - wall), rel=1e-6)
    moved = edits.move_thing(project, "salads", to=(9.0, 6.0))
    again = next(bed for bed in Garden(moved, Path()).beds if bed.name == "salads")
    assert plane.centre(again.region)[0] == pytest.approx(9.0, abs=1e-6)
    with pytest.raises(GardenError, match="within the walls"):
        edits.change_bed(project, "salads", soil="loam")
    with pytest.raises(GardenError, match="already something called"):
        edits.rename_bed(project, "Bed 1", to="salads")


def test_a_path_goes_to_a_thing_and_is_not_left_behind(tmp_path: Path) -> None:
    project = edits.add_thing(garden().project, "compost bays", at=(4.0, 4.0), name="compost")
    project = edits.add_seat(project, "bench", at=(11.0, 12.0))
    project = edits.add_path(project, "to the compost", start="bench", end="compost")
    route = Garden(project, tmp_path).layout.routes["to the compost"]
    end = (float(route.curve.points[-1][0]), float(route.curve.points[-1][1]))
    assert plane.distance(plane.region(outline_of(project.structure.things[0])), plane.point(end)) < 0.05
    with pytest.raises(GardenError, match="goes to"):
        edits.remove_thing(project, "compost")
    renamed = edits.rename_thing(project, "compost", to="heap")
    assert renamed.structure.paths[0].end == "heap"


def test_a_nearer_body_is_drawn_over_a_farther_one_from_every_side() -> None:
    """A table top over its legs: from above the top is last, from below (a bug's eye) the legs are."""
    leg = box((-0.05, 0.05), (-0.05, 0.05), (0.0, 0.7), "timber")
    top = box((-0.5, 0.5), (-0.5, 0.5), (0.7, 0.75), "timber")
    assert far_to_near((top, leg), (0.0, -3.0), 1.6)[-1] == top
    assert far_to_near((leg, top), (0.0, -3.0), 0.3)[-1] == leg
    left, right = (box((x, x + 0.2), (-1.0, 1.0), (0.0, 1.0), "stone") for x in (-1.0, 1.0))
    for eye, last in (((-4.0, 0.0), left), ((4.0, 0.0), right)):
        assert far_to_near((right, left), eye, 1.6)[-1] == last


def test_turning_a_thing_turns_its_ground_clockwise() -> None:
    """Facing 90 degrees clockwise from the plan's y is along x: what was wide is deep on the plan."""
    thing = usual(THINGS["bench"], at=(0.0, 0.0), facing=90.0)
    xs, ys = zip(*outline_of(thing), strict=True)
    assert max(xs) == pytest.approx(thing.depth / 2) and max(ys) == pytest.approx(thing.width / 2)
    back = max((f for f in forms_of(thing)), key=lambda f: f.high)
    assert math.fsum(p[0] for p in back.foot) < 0  # its back is behind it, to the west


def test_an_unknown_kind_names_the_nearest() -> None:
    with pytest.raises(GardenError, match='nearest known is "bench"'):
        thing_kind("benhc")


def test_bodies_are_convex() -> None:
    """The hull of every outline keeps all its corners' area, or shade and view would be of another shape."""

    def grows(ring: plane.Outline) -> bool:
        hull, own = (plane.area(plane.region(r)) for r in (plane.hull_outline(np.asarray(ring)), ring))
        return own > 1e-6 and abs(hull - own) > 1e-4

    bodies = [(kind.name, form) for kind in THINGS.values() for form in kind.forms(usual(kind))]
    assert [name for name, form in bodies if grows(form.foot) or grows(form.head)] == []


def test_a_hedge_has_the_published_number_of_plants() -> None:
    """Half a spacing from the ends, so n = L / s: 2 m at 33 cm (3 a metre) -> 6; 6 m at 6 a metre in two rows of 33 cm:
    18 and 17 plants (ashridgetrees.co.uk). Yew 3 on 2 m, box 6 a metre (bunkershillgardenshop.co.uk).
    """
    assert Planted(metre=3.0).count(2.0) == 6
    assert Planted(metre=6.0, rows=2).count(6.0) == 18 + 17
    for name, run, plants in (("yew hedge", 2.0, 3), ("box edging", 5.0, 30), ("beech hedge", 6.0, 18)):
        kind = THINGS[name]
        assert [c.amount for c in kind.counts(usual(kind, width=run))] == [plants]

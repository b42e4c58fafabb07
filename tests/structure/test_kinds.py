"""Every kind in the tables has everything: words, plan, elevation, view, body, parts, quantities, cautions, care."""

from itertools import product
from pathlib import Path
from types import SimpleNamespace

import attrs
import pytest

from gardenkit.drawing import style, view_ground
from gardenkit.drawing.plan_site import FENCE
from gardenkit.drawing.plan_structure import PLAN
from gardenkit.drawing.view_built import FACES
from gardenkit.drawing.view_climbers import SHAPES
from gardenkit.drawing.view_supports import VIEW
from gardenkit.drawing.wall_view import ELEVATION
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.solid import top_of
from gardenkit.planting.composing import supported
from gardenkit.project import Project
from gardenkit.schedules import quantities
from gardenkit.site.shade import fence_solids
from gardenkit.site.site import Fence, Site
from gardenkit.structure.build_up import take_off
from gardenkit.structure.kinds import (
    FENCES,
    GROUND_AREAS,
    SUPPORTS,
    SURFACES,
    FenceKind,
    GroundKind,
    SupportKind,
    SurfaceKind,
    fence_kind,
    is_overhead,
)
from gardenkit.structure.kinds.rows import Drawn, Ground
from gardenkit.structure.kinds.support_parts import DEFAULT_POSTS
from gardenkit.structure.laying import Laying, Stone
from gardenkit.structure.path_rules import passes
from gardenkit.structure.structure import Bed, GroundArea, StoneChoice, Structure, Support
from gardenkit.structure.supports import HABITS, WEIGHTS, holds, match


def usual(kind: SupportKind) -> Support:
    size = kind.usual
    line = ((1.0, 2.0), (1.0 + size.length, 2.0))
    return Support(name="new", kind=kind.name, line=line, height=size.height, depth=size.depth, openness=size.openness)


def missing(kind: SupportKind) -> list[str]:
    """Return what a kind of support lacks, by asking for everything that is drawn, built or said of it."""
    lacks = []
    if kind.drawn.plan not in PLAN or not PLAN[kind.drawn.plan](usual(kind)):
        lacks.append("plan")
    if kind.drawn.elevation not in ELEVATION or not ELEVATION[kind.drawn.elevation](0.0, 1.0, 0.0, 2.0, "tip"):
        lacks.append("elevation")
    if kind.drawn.view not in VIEW:
        lacks.append("view")
    if kind.stands not in SHAPES:
        lacks.append("climber")
    bodies = kind.solids(usual(kind), lambda _: 0.3)
    if not bodies or max(map(top_of, bodies)) != pytest.approx(0.3 + kind.usual.height):
        lacks.append("solid")
    parts = kind.parts(usual(kind), DEFAULT_POSTS, "espalier")
    if not parts or any(part.count <= 0 for part in parts):
        lacks.append("parts")
    said = {"words": kind.words, "cautions": kind.cautions, "care": kind.care}
    lacks += [name for name, value in said.items() if not value]
    lacks += ["source of a caution" for caution in kind.cautions if not (caution.what and caution.source)]
    lacks += [
        "months of its care" for care in kind.care if not care.months or not set(care.months) <= set(range(1, 13))
    ]
    return lacks


@pytest.mark.parametrize("kind", SUPPORTS.values(), ids=lambda kind: kind.name)
def test_every_kind_of_support_has_everything(kind: SupportKind) -> None:
    assert missing(kind) == []


@pytest.mark.parametrize(
    ("without", "lacks"),
    [
        ({"drawn": Drawn(plan="spiral", elevation="tapered", view="tapered")}, ["plan"]),
        ({"drawn": Drawn(plan="tapered", elevation="", view="tapered")}, ["elevation"]),
        ({"drawn": Drawn(plan="tapered", elevation="tapered", view="lattices")}, ["view"]),
        ({"solids": lambda support, ground: ()}, ["solid"]),
        ({"parts": lambda support, posts, form: ()}, ["parts"]),
        ({"words": ""}, ["words"]),
        ({"cautions": ()}, ["cautions"]),
        ({"care": ()}, ["care"]),
    ],
)
def test_a_made_up_kind_with_a_piece_missing_is_found_out(without: dict[str, object], lacks: list[str]) -> None:
    made_up = attrs.evolve(SUPPORTS["obelisk"], name="spire", **without)
    assert missing(made_up) == lacks


COMBINATIONS = tuple(product(sorted(HABITS), ("light", "medium", "heavy"), sorted(SUPPORTS)))


@pytest.mark.parametrize(("habit", "weight", "kind"), COMBINATIONS)
def test_composing_and_the_supports_page_agree_on_what_a_support_holds(habit: str, weight: str, kind: str) -> None:
    """What holds brings no warning, nor a caution unless it clings or is heavy; what does not hold is said."""
    support = usual(SUPPORTS[kind])
    trained = habit == "trained"
    plant = SimpleNamespace(
        layer="wall fruit" if trained else "climber", climbs_by=() if trained else (habit,), weight=weight
    )
    held = supported.holds(support, plant)
    assert held is holds(habit, weight, support)
    worst = [f.seriousness for f in match(habit, weight, support)]
    if held:
        assert "warning" not in worst
        assert habit in ("roots", "discs") or weight == "heavy" or "caution" not in worst
    else:
        assert "warning" in worst or "caution" in worst


def test_classes_of_climbers_by_missouri_extension() -> None:
    """Univ. of Missouri Extension G6840: twiners want slender uprights, tendrils mesh, discs a solid face not wires."""
    assert holds("twining", "light", "wall wires")
    assert not holds("discs", "light", "wall wires")
    assert holds("discs", "light", "fence")
    assert not holds("tendrils", "light", "fence")
    assert not holds("roots", "light", "fence", surface="wood")
    assert WEIGHTS[0] == "light"


def test_one_walks_below_an_arch_and_round_an_obelisk() -> None:
    assert is_overhead(usual(SUPPORTS["arch"]))
    assert not is_overhead(usual(SUPPORTS["obelisk"]))


def test_an_obelisk_is_counted_by_its_own_pieces_and_not_as_wires() -> None:
    """Four legs as long as the edge of a pyramid 0.5 m wide and 2 m high and 1 ft in the ground; no eye bolts."""
    parts = {p.name: p for p in SUPPORTS["obelisk"].parts(usual(SUPPORTS["obelisk"]), DEFAULT_POSTS, "espalier")}
    assert set(parts) == {"leg", "rung", "finial"}
    assert parts["leg"].length == pytest.approx((2.0**2 + 2 * 0.25**2) ** 0.5 + 0.3048)


# ---- ground: path surfaces, paved or lawn areas; fences


def missing_ground(kind: GroundKind | SurfaceKind) -> list[str]:
    """Return what a kind of ground lacks on plan, in a view, in the take-off, in words."""
    look = kind.ground
    lacks = [] if look.plan in style.GROUND else ["plan"]
    if look.texture and look.texture not in style.TEXTURE_INK:
        lacks.append("texture")
    if look.view != "turf" and look.view not in view_ground.SURFACES:
        lacks.append("view")
    if look.grain not in ("", *view_ground.BLADES, *view_ground.GRAIN):
        lacks.append("grain")
    said = {"words": kind.words, "cautions": kind.cautions, "care": kind.care}
    return lacks + [name for name, value in said.items() if not value]


@pytest.mark.parametrize("kind", [*GROUND_AREAS.values(), *SURFACES.values()], ids=lambda kind: kind.name)
def test_every_kind_of_ground_has_everything(kind: GroundKind | SurfaceKind) -> None:
    assert missing_ground(kind) == []


@pytest.mark.parametrize("kind", GROUND_AREAS.values(), ids=lambda kind: kind.name)
def test_every_area_is_counted_with_its_rule(kind: GroundKind) -> None:
    ground_area = GroundArea(name="new", kind=kind.name, outline=((0.0, 0.0), (3.0, 0.0), (3.0, 4.0), (0.0, 4.0)))
    lines = quantities.ground_area_lines(ground_area, plane.region(ground_area.outline))
    assert lines
    assert all(line.amount > 0 and line.rule and line.source for line in lines)


@pytest.mark.parametrize("kind", SURFACES.values(), ids=lambda kind: kind.name)
def test_every_surface_is_dug_and_filled(kind: SurfaceKind) -> None:
    region = plane.region(((0.0, 0.0), (1.0, 0.0), (1.0, 4.0), (0.0, 4.0)))
    stone = Stone(
        number=0,
        outline=((0.2, 0.2), (0.7, 0.2), (0.7, 0.7), (0.2, 0.7)),
        at=(0.45, 0.45),
        across=0.5,
        along=0.5,
        weight=30.0,
        turn=0.0,
        area=0.25,
    )
    laid = Laying(stones=(stone,)) if kind.stone in ("single", "field") else Laying()
    assert take_off(region, kind.name, laid, StoneChoice()).dug > 0


@pytest.mark.parametrize(
    ("without", "lacks"),
    [
        ({"ground": Ground(plan="purple", view="pond")}, ["plan"]),
        ({"ground": Ground(plan="pond", view="")}, ["view"]),
        ({"ground": Ground(plan="pond", view="pond", texture="tweed")}, ["texture"]),
        ({"care": ()}, ["care"]),
        ({"cautions": ()}, ["cautions"]),
    ],
)
def test_a_made_up_area_with_a_piece_missing_is_found_out(without: dict[str, object], lacks: list[str]) -> None:
    assert missing_ground(attrs.evolve(GROUND_AREAS["pond"], name="rill", **without)) == lacks


@pytest.mark.parametrize("kind", FENCES.values(), ids=lambda kind: kind.name)
def test_every_kind_of_fence_has_everything(kind: FenceKind) -> None:
    fence = Fence(name="new", line=((0.0, 0.0), (4.0, 0.0)), kind=kind.name, height=kind.usual, openness=kind.openness)
    assert FENCE[kind.plan](fence, "tip")
    assert kind.view in FACES
    assert fence_solids(fence)
    assert kind.words and kind.cautions and kind.care and kind.called


def test_a_fence_is_the_kind_recorded_else_what_its_name_says() -> None:
    line = ((0.0, 0.0), (4.0, 0.0))
    assert fence_kind(Fence(name="privet hedge on the wall", line=line)).name == "hedge"
    assert fence_kind(Fence(name="lane wall", line=line)).name == "wall"
    assert fence_kind(Fence(name="the old one", line=line)).name == "fence"
    assert fence_kind(Fence(name="lane wall", kind="hedge", line=line)).name == "hedge"


def test_single_stones_carry_no_wheelchair_however_wide() -> None:
    """2010 ADA Standards 302: floor surfaces firm, stable, slip resistant; stones with gaps between are none."""
    assert "wheelchair" in passes(1.5, surface="paving")
    assert "wheelchair" not in passes(1.5, surface="stepping stones")
    assert "wheelchair" not in passes(1.5, surface="bark")


def test_what_is_built_brings_its_care_into_the_year_and_its_cautions_to_the_findings(tmp_path: Path) -> None:
    structure = Structure(
        ground_areas=(
            GroundArea(name="lily pond", kind="pond", outline=((1.0, 1.0), (4.0, 1.0), (4.0, 3.0), (1.0, 3.0))),
        ),
        supports=(usual(SUPPORTS["obelisk"]),),
    )
    fence = Fence(name="privet hedge", line=((0.0, 0.0), (9.0, 0.0)))
    site = Site(boundary=((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)), fences=(fence,))
    garden = Garden(Project(name="water", site=site, structure=structure), tmp_path)
    year = {(task.task, task.botanical) for task in garden.care}
    assert ("clip the hedge", "(privet hedge)") in year
    assert ("check that the legs stand firm", "(new)") in year
    assert any(f.where == "lily pond" and "drown" in f.what for f in garden.advice)


def test_a_bed_that_reaches_past_the_boundary_is_said(tmp_path: Path) -> None:
    bed = Bed(name="long border", at=(2.0, 2.0), outline=((1.0, 1.0), (12.0, 1.0), (12.0, 3.0), (1.0, 3.0)))
    site = Site(boundary=((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)))
    found = Garden(Project(name="x", site=site, structure=Structure(beds=(bed,))), tmp_path).layout.findings
    assert [f.what for f in found if f.where == 'bed "long border"'] == [
        "reaches 3.00 m past the boundary; it is drawn, counted and planted only up to it"
    ]


def test_a_meadow_is_sown_as_thinly_as_published_and_mown_as_often_as_it_says() -> None:
    """4 g a square metre, most advice 3 to 5 (meadowmania.co.uk, wild flower seed rates): 48 g on 12 m2."""
    ground_area = GroundArea(
        name="m", kind="meadow mown once", outline=((0.0, 0.0), (3.0, 0.0), (3.0, 4.0), (0.0, 4.0))
    )
    (line,) = quantities.ground_area_lines(ground_area, plane.region(ground_area.outline))
    assert "(48 g)" in line.rule and line.amount == pytest.approx(12.0)
    cuts = {
        kind: sum("hay off" in care.task for care in GROUND_AREAS[kind].care)
        for kind in GROUND_AREAS
        if "meadow" in kind
    }
    assert cuts == {"meadow mown once": 1, "meadow mown twice": 2}


def test_the_edge_of_a_lawn_is_held_where_it_lies_along_open_ground(tmp_path: Path) -> None:
    """A lawn of 3 x 4 m with a bed all round: 14 m of edging; without one named, none is counted."""
    plot = Site(boundary=((-2.0, -2.0), (8.0, -2.0), (8.0, 8.0), (-2.0, 8.0)))
    lawn = GroundArea(name="lawn", kind="lawn", outline=((0.0, 0.0), (3.0, 0.0), (3.0, 4.0), (0.0, 4.0)))
    for edging, metres in (("steel", [pytest.approx(14.0, abs=0.1)]), ("", [])):
        bones = Structure(ground_areas=(attrs.evolve(lawn, edging=edging),))
        found = Garden(Project(name="p", site=plot, structure=bones), tmp_path).quantities
        assert [line.amount for line in found if line.item == "edging"] == metres


def test_a_rill_is_lined_at_its_own_depth_and_asks_for_no_fish(tmp_path: Path) -> None:
    """A side and twice the depth and twice 1 ft (esbenshades.com): 8 m long, 0.15 m deep: 8 + 0.3 + 0.61 m."""
    rill = GroundArea(name="rill", kind="rill", outline=((0.0, 0.0), (8.0, 0.0), (8.0, 0.4), (0.0, 0.4)))
    line, carted = quantities.ground_area_lines(rill, plane.region(rill.outline))
    assert line.amount == pytest.approx((8 + 0.3 + 0.6096) * (0.4 + 0.3 + 0.6096))
    assert (carted.item, carted.unit) == ("spoil away", "m3")
    plot = Site(boundary=((-2.0, -2.0), (9.0, -2.0), (9.0, 3.0), (-2.0, 3.0)))
    said = [
        f.what for f in Garden(Project(name="p", site=plot, structure=Structure(ground_areas=(rill,))), tmp_path).advice
    ]
    assert not any("fish" in what for what in said) and any("child" in what for what in said)

"""Every kind of support, area, path surface and fence in a garden: seen, shading, on its ground, counted, in print.

Placed things are asked the same in ``test_things.py``.
"""

from functools import cache
from pathlib import Path as Folder
from typing import Any, NamedTuple

import attrs
import numpy as np
import pytest

from gardenkit.drawing.from_the_side import side_scene
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.painted_view import Moment, prospect
from gardenkit.drawing.scene import Stroke, Symbol
from gardenkit.drawing.view import view_scene
from gardenkit.garden import Garden
from gardenkit.handover import booklet
from gardenkit.project import Project
from gardenkit.project.edits import handover
from gardenkit.project.solids import is_of, solids
from gardenkit.schedules.orders import ITEMS
from gardenkit.schedules.weights import weight_of
from gardenkit.site.openings import Opening
from gardenkit.site.place import Place
from gardenkit.site.site import Fence, Site
from gardenkit.structure.kinds import FENCES, GROUND_AREAS, SUPPORTS, SURFACES, THINGS
from gardenkit.structure.structure import GroundArea, Path, Seat, Structure, Support, Thing

PLACE = Place(latitude=45.0, longitude=0.0, timezone="UTC")
ENDS = (Seat(name="a", at=(4.0, 8.0)), Seat(name="b", at=(12.0, 9.0)))
NONE_ASKED = {  # no permit is known to be asked: flat on the ground (IRC R105.2), or a plant's own frame
    *("lawn", "patio", "gravel", "rill", "meadow mown once", "meadow mown twice"),
    *("arch", "trellis", "wall wires", "espalier", "obelisk"),
}


class Kind(NamedTuple):
    """A kind by the part of the plan it belongs to and its name there."""

    sort: str
    name: str

    @property
    def called(self) -> str:
        return f"the {self.name}"


TABLES: dict[str, Any] = {"support": SUPPORTS, "area": GROUND_AREAS, "path": SURFACES, "fence": FENCES}
ALL = [Kind(sort, name) for sort, table in TABLES.items() for name in table]
BUILT = [kind for kind in ALL if kind.sort != "fence"]
UPRIGHT = [kind for kind in ALL if kind.sort in ("support", "fence")]


def ids(kind: Kind) -> str:
    return f"{kind.sort} {kind.name}"


def record(kind: Kind, at: tuple[float, float] = (8.0, 8.0)) -> Any:
    (x, y), row = at, TABLES[kind.sort][kind.name]
    match kind.sort:
        case "support":
            size, half = row.usual, row.usual.length / 2
            more = {"height": size.height, "depth": size.depth, "openness": size.openness}
            return Support(name=kind.called, kind=kind.name, line=((x - half, y), (x + half, y)), **more)
        case "area":
            return GroundArea(
                name=kind.called,
                kind=kind.name,
                outline=((x - 2, y - 2), (x + 2, y - 2), (x + 2, y + 1), (x - 2, y + 1)),
            )
        case "path":
            return Path(name=kind.called, start="a", end="b", surface=kind.name, width=0.9)
    line = ((x - 3, y), (x + 3, y))
    return Fence(name=kind.called, kind=kind.name, line=line, height=row.usual, openness=row.openness)


@cache
def garden(kind: Kind | None) -> Garden:
    """Return a plot with one of a kind on it; with none, two seats."""
    fields: dict[str, Any] = {"support": "supports", "area": "ground_areas", "path": "paths"}
    bones: dict[str, Any] = {} if kind is None or kind.sort == "fence" else {fields[kind.sort]: (record(kind),)}
    fences = (record(kind),) if kind is not None and kind.sort == "fence" else ()
    site = Site(boundary=((0, 0), (16, 0), (16, 20), (0, 20)), place=PLACE, fences=fences)
    return Garden(Project(name="plot", site=site, structure=Structure(seats=ENDS, **bones)), Folder())


def seen(work: Garden) -> list[Any]:
    return list(
        view_scene(work.project, work.layout, work.catalogue, eye=(8.0, 2.0), towards=0.0, year=0, month=6).marks
    )


@pytest.mark.parametrize("kind", ALL, ids=ids)
def test_it_stands_on_the_plan_and_in_the_view(kind: Kind) -> None:
    work = garden(kind)
    plan = garden_scene(work.project, work.layout)
    assert any(getattr(mark, "tip", "").startswith(kind.called) for mark in plan.marks)
    bare = seen(garden(None))
    assert [mark for mark in seen(work) if mark not in bare]


def from_the_side(work: Garden, line: tuple[tuple[float, float], tuple[float, float]]) -> dict[str, list[Any]]:
    """Return what the pen draws of a garden looked at square to a line, by its words."""
    drawn = side_scene(prospect(work), Moment(year=0, month=6), line=line, depth=3.0, with_pen=True, person=False)
    found: dict[str, list[Any]] = {}
    for mark in drawn.marks:
        if isinstance(mark, Symbol):
            found.setdefault(mark.tip, []).extend(mark.marks)
    return found


@pytest.mark.parametrize("kind", ALL, ids=ids)
def test_it_stands_on_the_elevation_at_its_place_and_height(kind: Kind) -> None:
    """What stands up is looked at from before it; a path or area shows where the line crosses it."""
    line = ((8.0, 4.0), (8.0, 14.0)) if kind.sort == "path" else ((2.0, 7.5), (14.0, 7.5))
    (marks,) = (marks for tip, marks in from_the_side(garden(kind), line).items() if tip.startswith(kind.called))
    runs = [run for m in marks for name in ("rings", "lines") for run in getattr(m, name, ())]
    runs += [m.points for m in marks if isinstance(m, Stroke)]
    xs, ys = np.array([at for run in runs for at in run]).T
    middle = (4.0, 5.5) if kind.sort == "path" else (5.9, 6.1)
    assert middle[0] <= (xs.min() + xs.max()) / 2 <= middle[1]
    if kind in UPRIGHT:
        assert ys.max() == pytest.approx(record(kind).height, abs=0.2)
        assert ys.min() == pytest.approx(0.0, abs=0.5)
    else:
        assert ys == pytest.approx(0.0)
        assert xs.max() - xs.min() == pytest.approx(4.0 if kind.sort == "area" else 0.9, rel=0.1)


@pytest.mark.parametrize("kind", UPRIGHT, ids=ids)
def test_what_stands_up_casts_shade_and_hides_by_its_own_body(kind: Kind) -> None:
    """Shade and views are both worked out from these bodies: ``project/solids.py``."""
    work = garden(kind)
    bodies = [body for body in solids(work.project) if is_of(body, kind.called)]
    assert bodies and all(body.name.startswith(kind.called) for body in bodies)


@pytest.mark.parametrize("kind", [kind for kind in BUILT if kind.sort != "support"], ids=ids)
def test_an_area_and_a_path_take_their_ground_from_beds_and_each_other(kind: Kind) -> None:
    work = garden(kind)
    taken = work.layout.ground_areas.get(kind.called) or work.layout.surfaces[kind.called]
    left = sum(bed.area for bed in garden(None).beds) - sum(bed.area for bed in work.beds)
    assert left == pytest.approx(taken.area, rel=0.02)
    if kind.sort == "area":
        path = Path(name="across", start="a", end="b", width=0.9, curvature=0.0)
        bones = attrs.evolve(work.project.structure, paths=(path,))
        crossed = Garden(attrs.evolve(work.project, structure=bones), Folder()).layout
        assert crossed.ground_areas[kind.called].area < taken.area
        assert crossed.ground_areas[kind.called].intersection(crossed.surfaces["across"]).area < 1e-6


@pytest.mark.parametrize("kind", BUILT, ids=ids)
def test_it_is_weighed(kind: Kind) -> None:
    work = garden(kind)
    weights = [weight_of(line, work.project) for line in work.quantities if line.where == kind.called]
    assert sum(weights) > 0
    if kind.sort == "support":
        assert any("about" in line.rule and "heaviest piece" in line.rule for line in work.quantities)


def test_a_new_gate_in_a_new_fence_is_bought_hung_and_weighed_with_it() -> None:
    fence = record(Kind("support", "fence"))
    opening = Opening(name="side gate", kind="gate", start=(7.5, 8.0), end=(8.5, 8.0), on=fence.name)
    site = Site(boundary=((0, 0), (16, 0), (16, 20), (0, 20)), place=PLACE, openings=(opening,))
    work = Garden(Project(name="plot", site=site, structure=Structure(supports=(fence,))), Folder())
    (line,) = [line for line in work.quantities if line.item == "gate"]
    assert (line.where, line.amount) == (fence.name, 1) and "3' 3½\" wide" in line.rule
    assert any(line.name == ITEMS["gate"] and line.cost > 0 for line in work.costs.lines)


def test_a_fence_of_24_ft_weighs_what_its_wood_does() -> None:
    """Four posts of 4 x 4 in, 9 ft long for 6 ft of fence (a third of each in the ground), three rails a bay of 2 x 4
    in and boards 3/4 in thick over 24 x 6 ft, at 500 kg a cubic metre; an 80 lb bag of concrete is 80 lb.
    """
    foot, inch = 0.3048, 0.0254
    fence = Support(name="f", kind="fence", line=((1.0, 8.0), (1.0 + 24 * foot, 8.0)), height=6 * foot, openness=0.0)
    site = Site(boundary=((0, 0), (16, 0), (16, 20), (0, 20)))
    project = Project(name="plot", site=site, structure=Structure(supports=(fence,)))
    lines = [line for line in Garden(project, Folder()).quantities if line.where == "f"]
    wood = sum(weight_of(line, project) for line in lines if line.item in ("post", "timber 2 x 4", "fence boards"))
    posts = 4 * 9 * foot * (3.5 * inch) ** 2
    rails = 9 * 8 * foot * 1.5 * inch * 3.5 * inch
    boards = 24 * 6 * foot**2 * 0.75 * inch
    assert wood == pytest.approx(500 * (posts + rails + boards), rel=0.005)
    (concrete,) = [line for line in lines if line.item == "concrete"]
    assert weight_of(concrete, project) == pytest.approx(concrete.amount * 80 * 0.45359237)


@pytest.mark.parametrize("kind", BUILT, ids=ids)
def test_it_is_counted_priced_phased_and_looked_after_with_sources(kind: Kind) -> None:
    work = garden(kind)
    lines = [line for line in work.quantities if line.where == kind.called]
    assert lines and all(line.amount > 0 and line.rule and line.source for line in lines)
    names = {ITEMS[line.item] for line in lines}
    priced = {line.name: line for line in work.costs.lines}
    assert names <= set(priced) and all(priced[name].source for name in names)
    assert any(kind.called in words for phase in work.phases for words in phase.work)


@pytest.mark.parametrize("kind", ALL, ids=ids)
def test_it_brings_its_care_its_cautions_and_the_permits_to_ask_about(kind: Kind) -> None:
    work = garden(kind)
    assert any(kind.called in task.botanical for task in work.care)
    about = [found for found in work.advice if kind.called in found.where]
    if kind.sort != "fence":  # what stands already is judged where something is built by it
        assert any(found.what and found.source for found in about if found.seriousness in ("caution", "warning"))
    asked = any(found.topic == "permit" for found in about)
    assert asked is (kind.sort in ("support", "area") and kind.name not in NONE_ASKED) or kind.name == "retaining wall"


def everything(folder: Folder) -> Garden:
    """Return one garden that holds one of every kind there is, paths beside one another."""
    spots = [(4.0 + 7.0 * (n % 10), 4.0 + 7.0 * (n // 10)) for n in range(60)]
    things = [
        Thing(name=f"the {row.name}", kind=row.name, at=spots[n], **attrs.asdict(row.usual))
        for n, row in enumerate(THINGS.values())
    ]
    rest = spots[len(things) :]
    others = {kind: record(kind, at) for kind, at in zip([k for k in BUILT if k.sort != "path"], rest, strict=False)}
    seats = tuple(
        Seat(name=f"{end}{n}", at=(x, 60.0 + 2.0 * n))
        for n in range(len(SURFACES))
        for end, x in (("a", 6.0), ("b", 30.0))
    )
    paths = tuple(
        Path(name=f"the {name}", start=f"a{n}", end=f"b{n}", surface=name, curvature=0.0)
        for n, name in enumerate(SURFACES)
    )
    bones = Structure(
        things=tuple(things),
        supports=tuple(one for kind, one in others.items() if kind.sort == "support"),
        ground_areas=tuple(one for kind, one in others.items() if kind.sort == "area"),
        seats=seats,
        paths=paths,
    )
    fences = tuple(record(kind, (60.0, 60.0 + 3.0 * n)) for n, kind in enumerate(k for k in ALL if k.sort == "fence"))
    site = Site(boundary=((0, 0), (80, 0), (80, 90), (0, 90)), place=PLACE, fences=fences)
    return Garden(Project(name="everything", site=site, structure=bones), folder)


def test_every_kind_has_its_line_in_the_client_copy(tmp_path: Folder) -> None:
    work = everything(tmp_path)
    for found in work.open_warnings:
        settled = handover.accept(work.project, where=found.where, what=found.what, reason="agreed with the client")
        work = Garden(settled, tmp_path)
    said = booklet.render(work)
    assert [name for name in (*THINGS, *(kind.name for kind in ALL)) if f"the {name}" not in said] == []

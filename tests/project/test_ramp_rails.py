"""The runs of a ramp that is part of a path: drawn with their slope, railed on both sides, counted, seen, judged."""

import math
from pathlib import Path as Folder

import pytest

from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.view import view_scene
from gardenkit.garden import Garden
from gardenkit.project import Project, edits
from gardenkit.project.edits import structure
from gardenkit.project.layout import layout
from gardenkit.site.heights import SpotHeight
from gardenkit.site.site import Site
from gardenkit.structure.structure import Seat, Structure
from gardenkit.units import FOOT, INCH

LONG = 63 * FOOT  # 48 in at 1:12: two runs of 24 ft, landings of 5 ft at both ends and between (ADA 405.2, 405.7)
PROFILE = ((0, 0), (5, 0), (29, 2), (34, 2), (58, 4), (63, 4))  # ft along, ft up


def ramp(**more: bool) -> Project:
    corners = ((0, 0), (22, 0), (22, 4), (0, 4))
    heights = tuple(SpotHeight(at=(float(x), float(y)), height=x / LONG * 4 * FOOT) for x, y in corners)
    seats = (Seat(name="low", at=(1.0, 2.0)), Seat(name="high", at=(1.0 + LONG, 2.0)))
    made = Project(name="p", site=Site(boundary=corners, heights=heights), structure=Structure(seats=seats))
    made = structure.add_path(
        made,
        "ramp",
        start="low",
        end="high",
        surface="paving",
        curvature=0.0,
        use="wheelchair",
        slope_rule="ramp",
        **more,
    )
    return structure.grade_path(made, "ramp", heights=[(at / 63, high * FOOT) for at, high in PROFILE])


def said(project: Project) -> list[str]:
    return [f.what for f in layout(project).findings if "handrails" in f.what]


def test_a_ramp_of_48_in_has_two_runs_of_24_ft_at_1_in_12() -> None:
    runs = layout(ramp()).ramps["ramp"]
    assert [(run.end - run.start) / FOOT for run in runs] == pytest.approx([24, 24], abs=0.01)
    assert [run.one_in for run in runs] == pytest.approx([12, 12], abs=0.01)


def test_its_handrails_go_up_both_sides_and_12_in_further() -> None:
    """Handrails on both sides of a run that rises over 6 in (ADA 405.8), 12 in beyond its top and bottom (505.10.1)."""
    each = math.hypot(24 * FOOT, 2 * FOOT) + 2 * 12 * INCH
    counted = {flag: Garden(ramp(handrails=flag), Folder()).quantities for flag in (True, False)}
    lines = [line.amount for line in counted[True] if line.item == "handrail"]
    assert lines == pytest.approx([2 * each, 2 * each], abs=0.02)
    assert not [line for line in counted[False] if line.item == "handrail"]


def test_a_ramp_without_handrails_is_said_and_its_remedy_builds_them() -> None:
    """A run that rises no more than 6 in needs none (ADA 405.8)."""
    assert len(said(ramp())) == 1 and said(ramp(handrails=True)) == []
    work = Garden(ramp(), Folder())
    (finding,) = [f for f in work.advice if "handrails on both sides" in f.what]
    assert finding.remedy is not None
    assert edits.apply(work.project, finding.remedy).structure.paths[0].handrails
    low = structure.grade_path(
        ramp(), "ramp", heights=[(0, 0.0), (0.5, 0.0), (0.5 + 72 / 12 / 63, 0.5 * FOOT), (1, 0.5 * FOOT)]
    )
    assert said(low) == []
    gentle = structure.grade_path(ramp(), "ramp", heights=[(0, 0.0), (1, 3.1 * FOOT)])
    assert layout(gentle).ramps["ramp"] == () and said(gentle) == []


def test_a_ramp_that_follows_the_ground_is_railed_where_the_ground_is_steep() -> None:
    """4 ft up in 63 ft, 1 in 16, is steeper than a walk (1 in 20, ADA 403.3) all along."""
    lying = structure.change_path(ramp(), "ramp", heights=())
    (run,) = layout(lying).ramps["ramp"]
    assert (run.one_in, run.rise) == (pytest.approx(15.75, abs=0.01), pytest.approx(4 * FOOT, abs=0.01))
    assert len(said(lying)) == 1
    railed = Garden(structure.change_path(lying, "ramp", handrails=True), Folder())
    assert sum(line.amount for line in railed.quantities if line.item == "handrail") > 2 * LONG
    walk = structure.change_path(lying, "ramp", slope_rule="trail")
    assert layout(walk).ramps["ramp"] == () and said(walk) == []


def test_each_run_is_drawn_with_its_slope_and_its_rails_on_both_edges() -> None:
    work = Garden(ramp(handrails=True), Folder())
    marks = garden_scene(work.project, work.layout).marks
    assert [mark.text for mark in marks if "1:12" in getattr(mark, "text", "")] == ["1:12.0 up"] * 2
    runs = [mark for mark in marks if "handrails on both sides" in getattr(mark, "tip", "")]
    assert len(runs) == 2
    route = work.layout.routes["ramp"]
    rails = [m.points for mark in runs for m in mark.marks if getattr(m, "width_mm", 0) == 0.5]
    assert len(rails) == 4
    for rail in rails:
        off = [abs(y - 2.0) for _, y in rail]
        assert off == pytest.approx([route.width / 2] * len(off), abs=1e-6)


def test_the_rails_stand_in_the_view_as_high_as_they_are_built() -> None:
    views = []
    for flag in (True, False):
        work = Garden(ramp(handrails=flag), Folder())
        seen = view_scene(work.project, work.layout, work.catalogue, eye=(10.0, 0.4), towards=0.0, year=0, month=6)
        views.append(seen.marks)
    added = [mark for mark in views[0] if mark not in views[1]]
    assert added and any("handrail" in getattr(mark, "tip", "") for mark in added)

"""What stands overhead is drawn of the posts, beams and rafters that are ordered: on plan, in view, from the side."""

from collections import Counter

import attrs
import pytest

from gardenkit.drawing.built_sides import support_scene
from gardenkit.drawing.plan_structure import support_marks
from gardenkit.drawing.scene import Area, Hatch, plain
from gardenkit.drawing.view_camera import Camera
from gardenkit.drawing.view_ground import stage
from gardenkit.drawing.view_supports import support_parts
from gardenkit.site.site import Site
from gardenkit.structure.kinds import parts_list
from gardenkit.structure.kinds.support_parts import PostChoice
from gardenkit.structure.structure import Support
from gardenkit.units import System

PERGOLA = Support(name="p", kind="pergola", line=((1.0, 1.0), (6.2, 1.0)), height=2.6, depth=2.4)
ARBOUR = Support(name="a", kind="arbour", line=((1.0, 1.0), (3.0, 1.0)), height=2.5, depth=1.2)
ARCH = Support(name="g", kind="arch", line=((1.0, 1.0), (2.5, 1.0)), height=2.4, depth=0.6)
OVERHEAD, RAILS = ("rafter", "cross rail over the top"), ("beam board", "top rail")


def ordered(support: Support, units: System) -> Counter[str]:
    parts = parts_list(support, posts=PostChoice(across=0.09, units=units))
    return Counter({part.name: int(part.count) for part in parts if part.unit == "pieces"})


@pytest.mark.parametrize("units", ["imperial", "metric"])
@pytest.mark.parametrize("support", [PERGOLA, ARBOUR, ARCH], ids=lambda one: one.kind)
def test_as_many_timbers_are_drawn_as_are_ordered(support: Support, units: System) -> None:
    order = ordered(support, units)
    across = sum(order[name] for name in OVERHEAD)
    along = sum(order[name] for name in RAILS)
    marks = plain(support_marks([support], units))
    rafters = next(m for m in marks if isinstance(m, Hatch))
    posts = [m for m in marks if isinstance(m, Area)][-1]
    assert (len(rafters.lines), len(posts.rings)) == (across, order["post"])
    camera = Camera(eye=(3.0, -9.0, 1.6), towards=0.0, angle=80.0, width=300.0)
    _, standing = support_parts(stage(Site(), camera, 6), [support], units)
    made = [[m for piece in one.make() for m in piece.marks if isinstance(m, Area)] for one in standing]
    assert len(made[-1]) == across + along
    assert sum(map(len, made[:-1])) == order["post"]


def test_the_beam_is_as_deep_and_as_long_from_the_side_as_it_is_bought() -> None:
    parts = {part.name: part for part in parts_list(PERGOLA, posts=PostChoice(across=0.09, units="metric"))}
    beam, rafter = parts["beam board"], parts["rafter"]
    scene = support_scene(PERGOLA, units="metric", scale=50)
    boxes = [
        (max(x) - min(x), max(y) - min(y), max(y))
        for m in plain(scene.marks)
        if isinstance(m, Area)
        for x, y in [tuple(zip(*m.rings[0], strict=True))]
    ]
    assert beam.size is not None
    assert rafter.size is not None
    assert any(box == pytest.approx((beam.length, beam.size.deep("metric"), 2.6)) for box in boxes)
    tops = [box for box in boxes if box[2] > 2.6]
    assert len(tops) == rafter.count
    assert {round(box[1], 4) for box in tops} == {rafter.size.deep("metric")}
    below, over = 2600 - round(1000 * beam.size.deep("metric")), 2600 + round(1000 * rafter.size.deep("metric"))
    assert f"{below / 1000:.2f} m clear below, {over / 1000:.2f} m to the top" in scene.title


def test_a_frame_whose_line_has_no_length_is_no_error_in_any_drawing() -> None:
    """What is wrong with it is said on the structure page; a sheet of the rest is drawn all the same."""
    nothing = attrs.evolve(PERGOLA, line=((1.0, 1.0), (1.0, 1.0)))
    assert support_marks([nothing]) == ()
    assert "p: pergola" in support_scene(nothing, units="metric", scale=50).title

"""Every kind in the tables has everything: words, plan, elevation, view, body, parts, quantities, cautions, care."""

from itertools import product
from types import SimpleNamespace

import attrs
import pytest

from gardenkit.drawing.plan_structure import PLAN
from gardenkit.drawing.view_climbers import SHAPES
from gardenkit.drawing.view_supports import VIEW
from gardenkit.drawing.wall_view import ELEVATION
from gardenkit.geometry.solid import top_of
from gardenkit.planting.arranging import start
from gardenkit.structure.kinds import SUPPORTS, SupportKind, is_overhead
from gardenkit.structure.kinds.rows import Drawn
from gardenkit.structure.kinds.support_parts import DEFAULT_POSTS
from gardenkit.structure.structure import Support
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
def test_arranging_and_the_supports_page_agree_on_what_a_support_holds(habit: str, weight: str, kind: str) -> None:
    """What holds brings no warning, nor a caution unless it clings or is heavy; what does not hold is said."""
    support = usual(SUPPORTS[kind])
    trained = habit == "trained"
    plant = SimpleNamespace(
        layer="wall fruit" if trained else "climber", climbs_by=() if trained else (habit,), weight=weight
    )
    held = start.holds(support, plant)
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

"""Supports: which climber suits which, what people and doors need, and parts lists that add up."""

import pytest

from gardenkit.findings import GardenError
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building
from gardenkit.structure.kinds import SUPPORTS, parts_list
from gardenkit.structure.kinds.support_parts import PostChoice, post_of
from gardenkit.structure.structure import Support
from gardenkit.structure.supports import fit_findings, match, passage_findings, size_findings, wall_notes
from gardenkit.structure.training import FORMS, trained, trained_findings
from gardenkit.structure.wall_elevation import StandingPlant, wall_elevation
from gardenkit.units import FOOT, INCH

HOUSE = Building(name="house", outline=((0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (0.0, 6.0)), eaves=2.6)
DOOR = Opening(name="back door", kind="door", start=(3.0, 0.0), end=(4.0, 0.0), on="house")
WINDOW = Opening(name="kitchen", kind="window", start=(5.0, 0.0), end=(6.5, 0.0), sill=1.0, head=2.1, on="house")


def support(kind="trellis", line=((0.0, -0.1), (2.0, -0.1)), **more) -> Support:
    return Support(name="north trellis", kind=kind, line=line, **more)


def worst(found) -> str:
    order = ("stop", "warning", "caution", "note")
    return min((f.seriousness for f in found), key=order.index, default="")


@pytest.mark.parametrize(
    ("habit", "weight", "kind", "surface", "seriousness"),
    [
        ("twining", "light", "trellis", "", ""),
        ("twining", "light", "fence", "", "caution"),  # too flat: wire through eye screws
        ("twining", "light", "pergola", "", "note"),
        ("tendrils", "light", "trellis", "", ""),
        ("leaf stalks", "light", "pergola", "", "caution"),  # nothing thin to hold
        ("roots", "medium", "trellis", "", "warning"),  # a clinger on bars
        ("discs", "light", "wall wires", "", "warning"),  # not wires
        ("roots", "medium", "fence", "wood", "warning"),  # siding
        ("roots", "medium", "wall wires", "masonry", "caution"),
        ("scrambling", "medium", "arbour", "", "note"),  # tie in
    ],
)
def test_habit_against_support(habit, weight, kind, surface, seriousness) -> None:
    """Univ. of Missouri Extension G6840 for the classes; what each class does not hold on is common practice."""
    assert worst(match(habit, weight, kind, surface=surface)) == seriousness


def test_a_post_thicker_than_4_in_is_too_thick_for_a_twiner() -> None:
    assert worst(match("twining", "light", "pergola", post_across=5.5 * INCH)) == "caution"


@pytest.mark.parametrize("kind", sorted(SUPPORTS))
def test_a_heavy_climber_always_brings_the_engineer(kind: str) -> None:
    found = match("twining", "heavy", kind)
    assert any("ask an engineer or builder" in f.what for f in found)
    weak = kind not in {"arbour", "pergola"}
    assert (worst(found) == "warning") is weak


def test_of_two_habits_the_better_one_counts() -> None:
    assert match(("roots", "twining"), "light", "trellis") == ()


def test_unknown_words_name_the_nearest() -> None:
    with pytest.raises(GardenError, match='nearest known is "twining"'):
        match("twinning", "light", "trellis")
    with pytest.raises(GardenError, match='nearest known is "pergola"'):
        match("twining", "light", "pergolla")
    with pytest.raises(GardenError, match="not known"):
        match((), "light", "trellis")


def test_an_arch_narrower_than_its_path_is_warned() -> None:
    found = passage_findings("arch", clear_width=0.9, clear_height=2.2, path_width=0.95)
    assert [f.seriousness for f in found] == ["warning"]


def test_an_arch_allows_6_in_of_vine_each_side() -> None:
    wide = {"clear_height": 2.3, "path_width": 36 * INCH}
    assert passage_findings("arch", clear_width=48 * INCH, **wide) == ()
    assert worst(passage_findings("arch", clear_width=47 * INCH, **wide)) == "caution"
    assert passage_findings("arch", clear_width=47 * INCH, planted=False, **wide) == ()


@pytest.mark.parametrize(("inches", "seriousness"), [(79.9, "warning"), (80, "note"), (86, "")])
def test_headroom_of_80_in(inches: float, seriousness: str) -> None:
    """2010 ADA Standards 307.4 and IRC R311.7.2: 80 in; 6 in more while the vine is not cut."""
    found = passage_findings("arch", clear_width=2.0, clear_height=inches * INCH, path_width=1.0)
    assert worst(found) == seriousness


def test_usual_sizes() -> None:
    assert worst(size_findings(support("pergola", height=2.0))) == "note"
    assert size_findings(support("pergola", height=8.5 * FOOT)) == ()
    assert worst(size_findings(support("arbour", ((0, 0), (0.8, 0)), height=2.1))) == "caution"


def test_a_trellis_before_the_door_is_warned_and_beside_it_not() -> None:
    before = fit_findings(support(line=((2.5, -0.1), (3.5, -0.1))), openings=[DOOR, WINDOW])
    assert [(f.seriousness, f.at) for f in before] == [("warning", (3.5, 0.0))]
    assert fit_findings(support(line=((0.5, -0.1), (2.9, -0.1))), openings=[DOOR, WINDOW]) == ()


def test_a_trellis_below_the_sill_does_not_cover_the_window() -> None:
    over = support(line=((5.0, -0.1), (6.0, -0.1)), height=1.8)
    assert worst(fit_findings(over, openings=[WINDOW])) == "caution"
    assert fit_findings(support(line=((5.0, -0.1), (6.0, -0.1)), height=0.9), openings=[WINDOW]) == ()


def test_a_tall_trellis_reaches_the_eave() -> None:
    assert worst(fit_findings(support(height=2.6), buildings=[HOUSE])) == "caution"
    assert fit_findings(support(height=2.1), buildings=[HOUSE]) == ()


def test_a_meter_too_near_is_named() -> None:
    found = fit_findings(support(), things={"gas": ("gas meter", (2.3, 0.0)), "power": ("electric meter", (7.0, 0.0))})
    assert [f.where for f in found] == ["north trellis, gas"]


def test_wall_notes_only_on_walls() -> None:
    assert wall_notes(support()) == ()
    assert len(wall_notes(support(against="house"))) == 2


@pytest.mark.parametrize("kind", sorted(SUPPORTS))
def test_every_kind_has_a_parts_list(kind: str) -> None:
    parts = parts_list(support(kind, ((0.0, 0.0), (4.0, 0.0)), depth=1.2))
    assert all(p.count > 0 for p in parts)
    assert any(p.name in ("post", "leg") for p in parts)


def test_fence_of_24_ft_has_four_posts_and_its_rails() -> None:
    """Posts every 8 ft at most, one at each end; three rails from 6 ft high."""
    fence = support("fence", ((0.0, 0.0), (24 * FOOT, 0.0)), height=6 * FOOT, openness=0.0)
    parts = {p.name: p for p in parts_list(fence)}
    assert (parts["post"].count, parts["rail"].count) == (4, 9)
    assert parts["rail"].length == pytest.approx(8 * FOOT)
    assert parts["infill boards"].count == pytest.approx(144 * FOOT**2, abs=1e-3)
    assert parts["post"].length == pytest.approx(108 * INCH)


def test_frost_lengthens_the_posts() -> None:
    cold = PostChoice(frost_depth=42 * INCH)
    assert post_of(support("fence", height=6 * FOOT), cold).length == pytest.approx(126 * INCH)


def test_wall_supports_have_no_posts() -> None:
    for kind in ("trellis", "wall wires", "espalier"):
        assert "post" not in {p.name for p in parts_list(support(kind, ((0, 0), (4, 0)), against="house"))}


def test_a_support_without_length_is_refused() -> None:
    with pytest.raises(GardenError, match="has no length"):
        parts_list(support(line=((1.0, 1.0), (1.0, 1.0))))


def test_espalier_wires_and_trees() -> None:
    """UK nursery guide: first wire at 15 in, then every 15-18 in; common practice: 14 ft a tree."""
    made = trained(28 * FOOT, 75 * INCH)
    assert [round(w / INCH, 6) for w in made.wires] == [15, 30, 45, 60, 75]
    assert (made.trees, made.wire_length) == (2, pytest.approx(5 * 28 * FOOT))


@pytest.mark.parametrize(("form", "first", "apart"), [("fan", 15, 6), ("cordon", 24, 24), ("three tiers", 24, 24)])
def test_other_trained_forms(form: str, first: float, apart: float) -> None:
    assert (FORMS[form].first / INCH, FORMS[form].apart / INCH) == pytest.approx((first, apart))


def test_a_short_wall_for_an_espalier_is_cautioned() -> None:
    made = trained(3.0, 2.0)
    assert worst(trained_findings("south wall", made, length=3.0, on_wall=True)) == "caution"
    with pytest.raises(GardenError, match="needs a height"):
        trained(3.0, 0.2)


# ---- the wall seen square on


def test_wall_elevation_runs_left_to_right_from_outside() -> None:
    plant = StandingPlant(name="rose", at=(1.0, -0.5), height=2.0, spread=1.5)
    seen = wall_elevation(HOUSE, 0, openings=[DOOR, WINDOW], supports=[support()], plants=[plant])
    assert [(m.name, m.left, m.right) for m in seen.marks] == [
        ("back door", 3.0, 4.0),
        ("kitchen", 5.0, 6.5),
        ("north trellis", 0.0, 2.0),
        ("rose", 0.25, 1.75),
    ]
    assert (seen.length, seen.eaves) == (8.0, 2.6)


def test_wall_elevation_leaves_out_what_stands_elsewhere() -> None:
    far = StandingPlant(name="oak", at=(4.0, -6.0), height=9.0, spread=5.0)
    inside = StandingPlant(name="fig", at=(4.0, 3.0), height=2.0, spread=1.0)
    assert wall_elevation(HOUSE, 0, plants=[far, inside]).marks == ()
    assert wall_elevation(HOUSE, 1, openings=[DOOR]).marks == ()
    with pytest.raises(GardenError, match="no wall 4"):
        wall_elevation(HOUSE, 4)

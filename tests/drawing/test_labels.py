"""Words on the plan: none on another, none off the sheet, each with a way back to what it names."""

from itertools import combinations

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.drawing.labels import Wish, drifts, label_box, overlaps, place, text_width
from gardenkit.drawing.plan import plan_scene
from gardenkit.drawing.scene import Label, Scene, Stroke, plain

SHEET = (0.0, 0.0, 12.0, 9.0)


def labels(scene: Scene) -> list[Label]:
    return [mark for mark in plain(scene.marks) if isinstance(mark, Label)]


@pytest.mark.parametrize("scale", [48.0, 50.0, 96.0, 100.0])
def test_no_two_labels_of_a_plan_with_sixty_plants_overlap_at_sheet_scale(garden, scale: float) -> None:  # type: ignore[no-untyped-def]
    scene = plan_scene(title="Test garden", scale=scale, **garden.parts())
    boxes = [(label.text, label_box(label, scale)) for label in labels(scene)]
    assert len(garden.plants) == 60
    assert not [(a[0], b[0]) for a, b in combinations(boxes, 2) if overlaps(a[1], b[1])]


def test_every_kind_and_every_bed_is_named_at_a_quarter_inch_to_the_foot(garden) -> None:  # type: ignore[no-untyped-def]
    texts = [label.text for label in labels(plan_scene(title="Test garden", scale=48.0, **garden.parts()))]
    for key in ("SAL", "NEP", "FES", "ECH", "HEU"):
        assert any(text.startswith(key) for text in texts)
    assert {"SOUTH BED", "EAST BED", "HOUSE", "Lawn", "bench", "rose arch", "gate", "Old apple"} <= set(texts)


def test_sixty_single_plants_are_all_labelled_at_a_quarter_inch(garden) -> None:  # type: ignore[no-untyped-def]
    lone = tuple(attrs.evolve(p, key=f"K{p.number}") for p in garden.plants)
    scene = plan_scene(title="Test garden", scale=48.0, **{**garden.parts(), "plants": lone})
    texts = {label.text for label in labels(scene)}
    assert {f"K{n}" for n in range(1, 61)} <= texts


wishes = st.lists(
    st.builds(
        Wish,
        text=st.text("ABCdefgij ", min_size=1, max_size=14),
        at=st.tuples(st.floats(0.5, 11.5), st.floats(0.5, 8.5)),
        clear=st.floats(0, 0.6),
        inside=st.booleans(),
        rank=st.integers(1, 6),
        turn=st.sampled_from([0.0, 0.0, 30.0, 90.0]),
    ),
    max_size=25,
)


@settings(max_examples=40, deadline=None)
@given(wishes)
def test_placed_labels_never_overlap_nor_leave_the_sheet(asked: list[Wish]) -> None:
    placed = place(asked, scale=48.0, bounds=SHEET)
    set_ = [mark for mark in placed.marks if isinstance(mark, Label)]
    boxes = [label_box(label, 48.0) for label in set_]
    assert len(set_) + len(placed.left_out) == len(asked)
    assert not any(overlaps(a, b) for a, b in combinations(boxes, 2))
    assert all(
        b[0] >= SHEET[0] - 1e-9 and b[1] >= SHEET[1] - 1e-9 and b[2] <= SHEET[2] + 1e-9 and b[3] <= SHEET[3] + 1e-9
        for b in boxes
    )


def test_a_label_that_must_stand_aside_points_back_with_a_leader() -> None:
    crowd = [(6.0 + 0.1 * dx, 4.5 + 0.1 * dy) for dx in range(-5, 6) for dy in range(-5, 6)]
    wish = Wish(text="Salvia", at=(6.0, 4.5), clear=0.1, inside=False)
    placed = place([wish], scale=48.0, bounds=SHEET, avoid=[(p, 0.05) for p in crowd])
    (leader,) = [mark for mark in placed.marks if isinstance(mark, Stroke)]
    assert leader.points[-1] == (6.0, 4.5)


def test_a_label_stays_on_its_own_symbol_when_nothing_is_in_the_way() -> None:
    (label,) = place([Wish(text="SAL", at=(5.0, 5.0), clear=0.4)], scale=48.0, bounds=SHEET).marks
    assert isinstance(label, Label)
    assert label.at == pytest.approx((5.0, 5.0))


def test_the_more_important_label_keeps_the_place() -> None:
    asked = [Wish(text="small", at=(5.0, 5.0), rank=6), Wish(text="BED", at=(5.0, 5.0), rank=1)]
    found = {m.text: m.at for m in place(asked, scale=48.0, bounds=SHEET).marks if isinstance(m, Label)}
    assert found["BED"] == pytest.approx((5.0, 5.0))
    assert found["small"] != pytest.approx((5.0, 5.0))


def test_labels_that_find_no_room_are_handed_back() -> None:
    tiny = (0.0, 0.0, 0.3, 0.1)
    wish = Wish(text="a very long name for a small sheet", at=(0.1, 0.05))
    assert place([wish], scale=48.0, bounds=tiny).left_out == (wish,)


def test_labels_take_more_ground_on_a_smaller_scale() -> None:
    label = Label(at=(0, 0), text="South bed")
    quarter, eighth = label_box(label, 48.0), label_box(label, 96.0)
    assert eighth[2] - eighth[0] == pytest.approx(2 * (quarter[2] - quarter[0]))


@pytest.mark.parametrize(
    ("text", "ems"),
    [("SOUTH BED", 5.834), ("Salvia nemorosa", 7.447), ("0123456789", 5.56), ("illicit", 1.888)],
)
def test_text_is_never_taken_for_narrower_than_helvetica_sets_it(text: str, ems: float) -> None:
    """Advance widths summed from the Helvetica font metrics (AFM, 1000 units to the em)."""
    assert ems < text_width(text, 1.0) < 1.05 * ems


def test_plants_of_one_kind_that_stand_together_are_one_drift() -> None:
    row = [("SAL", (0.5 * k, 0.0), 0.5) for k in range(4)]
    away = [("SAL", (9.0, 0.0), 0.5), ("NEP", (0.5, 0.2), 0.5)]
    assert drifts([*row, *away]) == ((0, 1, 2, 3), (4,), (5,))


def test_a_drift_is_named_on_its_own_plants_rather_than_on_the_path_beside_it() -> None:
    plants = [(0.3 * i, 0.0) for i in range(5)]
    wish = Wish(text="NEP 5", at=plants[2], clear=0.25, bold=True, path=tuple(plants[:2] + plants[3:]))
    placed = place([wish], scale=48.0, bounds=(-3, -3, 6, 6), avoid=[(at, 0.2) for at in plants])
    ((low_x, low_y, high_x, high_y),) = placed.boxes
    assert low_y < 0.0 < high_y
    assert low_x < plants[2][0] < high_x

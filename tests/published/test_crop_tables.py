"""How close vegetables stand, when they go in and how long a family stays away, against published tables.

The figures of each source are written down here as it prints them (inches, weeks), beside its name.
"""

import pytest

from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.crops import LEAST_BREAK, crop_kinds
from gardenkit.units import INCH

# In the row, between rows (inches). A: howstuffworks.com, vegetable spacing guide; B: Southern States, Vegetable Seed
# Guide, hand cultivation; C: Fedco Seeds, Vegetable Planting Guide, thinned to, row spacing.
IN_ROW = {
    "cabbage": ((18, 24, 24, 36), (18, 18, 24, 30), (24, 30, 24, 30)),
    "carrot": ((2, 4, 12, 24), (3, 4, 12, 24)),
    "lettuce": ((6, 12, 12, 18), (8, 10, 18, 18)),
    "bush bean": ((2, 3, 18, 24), (3, 6, 24, 24), (3, 4, 24, 36)),
    "tomato": ((18, 36, 24, 48),),
    "asparagus": ((18, 18, 36, 48),),
    "broccoli": ((18, 18, 24, 36), (24, 30, 30, 30)),
    "beetroot": ((4, 6, 12, 24), (2, 4, 12, 18)),
    "aubergine": ((24, 24, 24, 36),),
    "kale": ((12, 18, 18, 30),),
    "onion": ((3, 4, 12, 24),),
    "parsnip": ((4, 5, 18, 24),),
    "garden pea": ((1, 3, 24, 36),),
    "sweet corn": ((8, 9, 24, 36), (12, 12, 36, 36)),
    "rocket": ((4, 4, 18, 18),),
    "Swiss chard": ((12, 16, 18, 24),),
    "globe artichoke": ((36, 36, 48, 48),),
}
# Kansas State Univ., intensive beds, the same all ways (inches), as pollinatorweb.com/host-plants/vegetables has it.
ALL_WAYS = {"cabbage": (12, 12), "carrot": (3, 3), "lettuce": (6, 12), "bush bean": (4, 4), "tomato": (18, 24)}
ALL_WAYS |= {"pepper": (12, 12), "onion": (3, 3), "garden pea": (2, 2), "spinach": (4, 4)}
# Neil Sperry (neilsperry.com/faq, planting dates): weeks from the mean last killing freeze, before it below 0.
WEEKS = {
    **dict.fromkeys(("asparagus", "garden pea", "onion", "potato"), (-8, -4)),
    **dict.fromkeys(("lettuce", "spinach", "beetroot", "broccoli", "cabbage", "carrot", "kale", "radish"), (-4, -2)),
    **dict.fromkeys(("tomato", "bush bean", "pepper", "aubergine", "sweet corn", "cucumber"), (0, 9)),
    "sweet potato": (4, 5),
}
# naturework.com, vegetable plant families: what a rotation keeps apart.
FAMILIES = {
    "Solanaceae": ("tomato", "pepper", "aubergine", "potato"),
    "Brassicaceae": ("kale", "cabbage", "broccoli", "radish"),
    "Cucurbitaceae": ("cucumber", "winter squash"),
    "Fabaceae": ("garden pea", "bush bean"),
    "Apiaceae": ("carrot", "parsnip"),
    "Amaryllidaceae": ("onion",),
    "Amaranthaceae": ("beetroot", "Swiss chard", "spinach"),
    "Asteraceae": ("lettuce",),
    "Poaceae": ("sweet corn",),
    "Convolvulaceae": ("sweet potato",),
}
CATALOGUE = load_catalogue()
KINDS = {CATALOGUE[name].common.split(",")[0]: kind for name, kind in crop_kinds().items()}
ROUNDED = 0.011  # m: our table is in centimetres, theirs in whole inches


@pytest.mark.parametrize("name", IN_ROW)
def test_a_row_is_set_as_one_of_the_tables_sets_it_or_between_them(name: str) -> None:
    kind, tables = KINDS[name], IN_ROW[name]
    low, high = min(t[0] for t in tables) * INCH, max(t[1] for t in tables) * INCH
    assert low - ROUNDED <= kind.in_row <= high + ROUNDED
    near, far = min(t[2] for t in tables) * INCH, max(t[3] for t in tables) * INCH
    assert near - ROUNDED <= kind.rows <= far + ROUNDED


@pytest.mark.parametrize("name", ALL_WAYS)
def test_a_bed_nobody_steps_in_is_set_as_closely_as_published(name: str) -> None:
    low, high = ALL_WAYS[name]
    assert low * INCH - ROUNDED <= KINDS[name].close <= high * INCH + ROUNDED


@pytest.mark.parametrize("name", WEEKS)
def test_a_crop_goes_in_in_the_weeks_that_are_published(name: str) -> None:
    kind, (low, high) = KINDS[name], WEEKS[name]
    assert kind.frost == "last"
    assert kind.first <= high and kind.last >= low


def test_families_are_those_a_rotation_keeps_apart() -> None:
    for family, names in FAMILIES.items():
        assert {CATALOGUE[KINDS[name].botanical].family for name in names} == {family}


def test_a_family_stays_away_for_three_years_at_least() -> None:
    """3 years least, 4 best (naturework.com); 1 or 2 are better than none (NC State Extension, Surry County, 2021)."""
    assert LEAST_BREAK == 3


def test_every_vegetable_of_the_catalogue_is_a_crop() -> None:
    kitchen = {s.botanical for s in CATALOGUE if s.role == "kitchen"}
    assert set(crop_kinds()) <= kitchen
    assert not [k for k in crop_kinds().values() if not 0 < k.in_row <= k.rows or k.first > k.last or not k.source]

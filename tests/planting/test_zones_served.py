"""A cold garden and a mild one find as much to choose from as one in the reference zone, in sun and in shade."""

from collections.abc import Callable

import pytest

from gardenkit.planting.bloom import zone_shift_days
from gardenkit.planting.catalogue import Species, load_catalogue
from gardenkit.planting.composing.formal import can_be_clipped
from gardenkit.planting.season import flower_halves

ZONES = (3, 6, 9)
KINDS = tuple(p for p in load_catalogue() if p.is_ornamental)
ROLES = ("framework", "accompanying", "ground cover", "filler", "scatter", "climber")
# How many kinds make a choice, by light and soil: house values, of every role alike. What fills a dry shade for one
# year is nowhere in trade in such numbers, not in zone 6 either.
CHOICE = {
    **{(sun, soil): 8 for sun in ("full", "part") for soil in ("dry", "medium", "moist")},
    ("shade", "medium"): 5,
    ("shade", "moist"): 4,
    ("shade", "dry"): 3,
}
NOT_ASKED = {("filler", "shade", "dry")}
USES: dict[str, Callable[[Species], bool]] = {
    "small tree": lambda p: p.is_tree and p.height <= 8,
    "evergreen frame": lambda p: p.is_evergreen and p.layer in ("shrub", "conifer", "tree"),
    "evergreen floor": lambda p: p.is_evergreen and p.role == "ground cover",
    "edging": lambda p: (
        p.layer in ("perennial", "grass", "ground cover") and p.height <= 0.4 and "clump" in p.spreads_by
    ),
    "grass": lambda p: p.layer == "grass",
    "bulb": lambda p: p.layer in ("bulb", "tender bulb"),
    "climber": lambda p: p.layer == "climber",
}
FERNS, CLIPPED = 8, 5  # kinds. House values.
# Half months that a garden of the zone is used in, and in which several kinds are to flower: from early May to early
# September in zone 3 (frost on either side), all year in zone 9
GROWING = {3: range(9, 18), 6: range(7, 20), 9: range(1, 25)}


def living_in(zone: int) -> tuple[Species, ...]:
    """The kinds that live through the zone's winter, and annuals."""
    return tuple(p for p in KINDS if p.layer == "annual" or p.zone_min <= zone <= p.zone_max)


def cells(zone: int) -> dict[tuple[str, str, str], int]:
    """How many kinds there are for each role, light and soil."""
    here = living_in(zone)
    return {
        (role, sun, soil): sum(p.role == role and sun in p.sun_range and soil in p.moisture for p in here)
        for role in ROLES
        for sun, soil in CHOICE
    }


@pytest.mark.parametrize("zone", ZONES)
def test_every_role_offers_a_choice_in_sun_and_shade_on_dry_and_moist_ground(zone: int) -> None:
    found = {cell: n for cell, n in cells(zone).items() if cell not in NOT_ASKED}
    assert {cell: n for cell, n in found.items() if n < CHOICE[cell[1:]]} == {}


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize("use", USES)
def test_every_use_offers_a_choice_in_sun_and_shade(zone: int, use: str) -> None:
    here = [p for p in living_in(zone) if USES[use](p)]
    for sun, least in (("full", 8), ("part", 8), ("shade", 5)):
        assert sum(sun in p.sun_range for p in here) >= least, (zone, use, sun)


@pytest.mark.parametrize("zone", ZONES)
def test_ferns_for_shade_and_evergreens_to_clip_are_there(zone: int) -> None:
    here = living_in(zone)
    assert sum(p.layer == "fern" and "shade" in p.sun_range for p in here) >= FERNS
    assert sum(can_be_clipped(p) for p in here) >= CLIPPED


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize(("sun", "least"), [("full", 8), ("part", 8), ("shade", 5)])
def test_in_no_half_month_of_the_growing_season_fewer_than_several_flower(zone: int, sun: str, least: int) -> None:
    shift = zone_shift_days(str(zone))
    flowering = [flower_halves(p, shift) for p in living_in(zone) if sun in p.sun_range]
    assert [half for half in GROWING[zone] if sum(half in halves for halves in flowering) < least] == []


def test_the_cold_and_the_mild_zone_have_grown() -> None:
    """334 and 435 kinds lived there before; 805 in zone 6."""
    assert len([p for p in KINDS if p.zone_min <= 3 <= p.zone_max]) >= 365
    assert len([p for p in KINDS if p.zone_min <= 9 <= p.zone_max]) >= 470

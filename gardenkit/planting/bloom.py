"""What flowers when: the bloom calendar by plant and colour, what flowers together, the months when nothing does."""

from collections.abc import Iterable, Mapping

import attrs

from gardenkit.findings import Finding, GardenError
from gardenkit.planting.season import (
    LEAST_DAYS,
    MONTHS,
    flower_halves,
    flower_months,
    foliage_colour,
    fruit_months,
    halves_words,
    months_touched,
)
from gardenkit.planting.species import Species
from gardenkit.site.climate import Climate
from gardenkit.site.hardiness import zone_limits_c
from gardenkit.site.phenology import hopkins_between
from gardenkit.sources import HOUSE, Figure

REFERENCE_ZONE = "6"  # the catalogue's bloom months are for USDA zone 6, eastern North America
REFERENCE_PLACE = (40.0, -80.0, 350.0)  # latitude, longitude, metres: south-west Pennsylvania, zone 6. House value.
REFERENCE_FROST = 121.0  # 1 May, day of the year of the mean last frost at the reference. House value.
DAYS_A_ZONE = Figure(10.0, "days", f"{HOUSE}: spring a zone (10 F of winter minimum) colder comes this much later")
MOST_SHIFT = Figure(60.0, "days", f"{HOUSE}: beyond this the rule says nothing useful")
WAYS: dict[str, str] = {
    "hopkins": "latitude, longitude and height against the reference place (Hopkins 1918, North America)",
    "zone": "hardiness zone against zone 6, ten days a zone (house value; winter cold, not spring warmth)",
    "last frost": "mean last frost against the reference's 1 May (house value)",
}
WINTER = (12, 1, 2)
DORMANT = (11, 12, 1, 2, 3)


@attrs.frozen(kw_only=True)
class BloomRow:
    """One kind in the calendar: how many there are, its half months in flower (1 early January to 24), and its
    colours (#rrggbb).
    """

    botanical: str
    common: str
    count: int
    halves: tuple[int, ...]
    colours: tuple[str, ...]

    @property
    def months(self) -> tuple[int, ...]:
        """Return the months in flower, wholly or by half."""
        return months_touched(self.halves)

    def in_flower(self, month: int) -> bool:
        """Return whether it flowers in the month."""
        return month in self.months


@attrs.frozen(kw_only=True)
class Shift:
    """How many days later spring comes than in the reference zone, and how that was worked out."""

    days: float
    way: str
    why: str


@attrs.frozen(kw_only=True)
class WinterRow:
    """What one kind gives in winter: the catalogue's words for it, leaf colour, months of fruit or flower."""

    botanical: str
    count: int
    interest: tuple[str, ...]
    foliage: str | None
    fruit: tuple[int, ...]
    flowers: tuple[int, ...]


def bloom_calendar(
    kinds: Mapping[Species, int] | Iterable[Species], *, shift_days: float = 0.0
) -> tuple[BloomRow, ...]:
    """Return one row a flowering kind, in the order of first bloom; ``kinds`` may give how many there are of each."""
    rows = [
        BloomRow(botanical=s.botanical, common=s.common, count=n, halves=halves, colours=s.flower_colours)
        for s, n in _counted(kinds).items()
        if (halves := flower_halves(s, shift_days))
    ]
    return tuple(sorted(rows, key=lambda row: (_first(row.halves), len(row.halves), row.botanical)))


def kinds_by_month(rows: Iterable[BloomRow]) -> dict[int, tuple[str, ...]]:
    """Return for each month, 1 to 12, the kinds in flower: what overlaps."""
    listed = tuple(rows)
    return {month: tuple(r.botanical for r in listed if r.in_flower(month)) for month in range(1, 13)}


def colours_by_month(rows: Iterable[BloomRow]) -> dict[int, tuple[str, ...]]:
    """Return for each month the flower colours seen, each once, most plants first."""
    listed = sorted(rows, key=lambda row: -row.count)
    return {m: tuple(dict.fromkeys(c for r in listed if r.in_flower(m) for c in r.colours)) for m in range(1, 13)}


def gaps(rows: Iterable[BloomRow], *, wanted: Iterable[int] = range(3, 11), least: int = 1) -> tuple[int, ...]:
    """Return the wanted months (default March to October) with fewer than ``least`` kinds in flower."""
    by_month = kinds_by_month(rows)
    months = tuple(wanted)
    if bad := [m for m in months if m not in by_month]:
        raise GardenError(f"a wanted month of bloom is {bad[0]}; give months from 1 to 12")
    return tuple(m for m in months if len(by_month[m]) < least)


def half_gaps(rows: Iterable[BloomRow], *, wanted: Iterable[int] = range(3, 11)) -> tuple[int, ...]:
    """Return the halves (1 early January to 24) of wanted months in which nothing flowers though the month has flowers.

    Before the first and after the last flower of those months there is no gap.
    """
    listed = tuple(rows)
    flowering = {half for row in listed for half in row.halves}
    halves = [half for month in wanted for half in (2 * month - 1, 2 * month)]
    seen = [n for n, half in enumerate(halves) if half in flowering]
    between = halves[seen[0] : seen[-1]] if seen else []
    return tuple(half for half in between if half not in flowering and half + half % 2 * 2 - 1 in flowering)


def bloom_findings(
    rows: Iterable[BloomRow], *, wanted: Iterable[int] = range(3, 11), least: int = 1, shift: Shift | None = None
) -> tuple[Finding, ...]:
    """Return a finding for the empty months of the wanted season, and one for how the months were shifted."""
    listed, months = tuple(rows), tuple(wanted)
    found = []
    empty = gaps(listed, wanted=months, least=least)
    if empty:
        names = ", ".join(MONTHS[m - 1] for m in empty)
        found.append(
            Finding(
                where="bloom calendar",
                what=f"fewer than {least} kinds in flower in {names}" if least > 1 else f"nothing flowers in {names}",
                why=f"{len(listed)} flowering kinds; wanted {', '.join(MONTHS[m - 1] for m in months)}",
                source="bloom months of the catalogue, zone 6",
                seriousness="warning",
                topic="bloom",
            )
        )
    if halves := half_gaps(listed, wanted=months):
        found.append(
            Finding(
                where="bloom calendar",
                what=f"nothing flowers in {halves_words(halves)}, though the month has flowers",
                why="between two kinds, by the half months of the catalogue",
                source="half months of bloom of the catalogue, zone 6",
                topic="bloom",
            )
        )
    if shift is not None and abs(shift.days) >= LEAST_DAYS:
        when = "later" if shift.days > 0 else "earlier"
        what = f"spring is taken to come {abs(shift.days):.0f} days {when} than the catalogue's zone 6"
        found.append(Finding(where="bloom calendar", what=what, why=shift.why, source=WAYS[shift.way], topic="bloom"))
    return tuple(found)


# ---- the shift of the site against the reference


def site_shift(
    climate: Climate, *, latitude: float | None = None, longitude: float = 0.0, elevation: float = 0.0, way: str = ""
) -> Shift:
    """Return how much later spring comes than in the reference zone: by the named ``way`` of WAYS, or the best at hand.

    The best is the last frost, then the zone, then Hopkins for places in North America (longitude -170 to -50,
    latitude 24 to 72). Held within 60 days either way. Raises GardenError when the way asked for has nothing to go by.
    """
    ways = {
        "last frost": _by_frost(climate),
        "zone": _by_zone(climate),
        "hopkins": _by_hopkins(latitude, longitude, elevation),
    }
    if way and ways.get(way) is None:
        raise GardenError(f'the bloom shift cannot be worked out by "{way}" here; give that figure, or use another way')
    shift = ways[way] if way else next((s for s in ways.values() if s is not None), None)
    return shift or Shift(
        days=0.0, way="zone", why="neither frost date nor zone nor place is known, so nothing is shifted"
    )


def zone_shift_days(zone: str) -> float:
    """Return days later than in zone 6, at ten days a zone (10 F); minus in milder zones. House value.

    >>> zone_shift_days("5"), zone_shift_days("7b")
    (10.0, -12.5)
    """
    middle = sum(zone_limits_c(zone)) / 2
    reference = sum(zone_limits_c(REFERENCE_ZONE)) / 2
    return _held(round((reference - middle) * 9 / 5 / 10 * DAYS_A_ZONE, 6))


# ---- winter


def winter_rows(kinds: Mapping[Species, int] | Iterable[Species], *, shift_days: float = 0.0) -> tuple[WinterRow, ...]:
    """Return what each kind gives from December to February, kinds with nothing left out."""
    rows = []
    for s, n in _counted(kinds).items():
        fruit = tuple(m for m in fruit_months(s, shift_days) if m in DORMANT)
        flowers = tuple(m for m in flower_months(s, shift_days) if m in WINTER)
        if s.winter_interest or s.is_evergreen or fruit or flowers:
            leaves = foliage_colour(s, 1, shift_days)
            words = s.winter_interest or (("evergreen",) if s.is_evergreen else ())
            rows.append(
                WinterRow(botanical=s.botanical, count=n, interest=words, foliage=leaves, fruit=fruit, flowers=flowers)
            )
    return tuple(rows)


def winter_findings(kinds: Mapping[Species, int] | Iterable[Species]) -> tuple[Finding, ...]:
    """Return a finding when winter offers little: no leaves, or leaves only."""
    rows = winter_rows(kinds)
    has = {word for row in rows for word in row.interest}
    if not rows:
        what = "nothing is left to look at from December to February; add an evergreen, bark, berries or seed heads"
    elif has <= {"evergreen"}:
        what = "winter interest is green leaves only; bark, berries, seed heads or a winter flower would add interest"
    else:
        return ()
    return (
        Finding(
            where="winter", what=what, source="winter interest of the catalogue", seriousness="caution", topic="bloom"
        ),
    )


# ---- helpers


def _counted(kinds: Mapping[Species, int] | Iterable[Species]) -> dict[Species, int]:
    if isinstance(kinds, Mapping):
        return dict(kinds)
    counted: dict[Species, int] = {}
    for species in kinds:
        counted[species] = counted.get(species, 0) + 1
    return counted


def _first(halves: tuple[int, ...]) -> int:
    """Return the half month a row is sorted by: winter bloom that passes the year end comes first."""
    return halves[0] - 24 if halves[0] > halves[-1] else halves[0]


def _held(days: float) -> float:
    return max(-float(MOST_SHIFT), min(float(MOST_SHIFT), days))


def _by_frost(climate: Climate) -> Shift | None:
    if climate.last_frost is None:
        return None
    import datetime as dt

    day = dt.date.fromisoformat(f"2001-{climate.last_frost}").timetuple().tm_yday
    why = f"mean last frost {climate.last_frost} against 05-01"
    return Shift(days=_held(day - REFERENCE_FROST), way="last frost", why=why)


def _by_zone(climate: Climate) -> Shift | None:
    if climate.zone is None:
        return None
    return Shift(
        days=zone_shift_days(climate.zone), way="zone", why=f"zone {climate.zone} against zone {REFERENCE_ZONE}"
    )


def _by_hopkins(latitude: float | None, longitude: float, elevation: float) -> Shift | None:
    if latitude is None or not (24 <= latitude <= 72 and -170 <= longitude <= -50):
        return None
    days = hopkins_between(REFERENCE_PLACE, (latitude, longitude, elevation))
    why = f"{latitude:.1f} north, {longitude:.1f} east, {elevation:.0f} m against {REFERENCE_PLACE}"
    return Shift(days=_held(days), way="hopkins", why=why)

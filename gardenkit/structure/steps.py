"""Steps for a change of level: how many, how high, how deep, with the cautions of the named codes.

All code figures are model-code figures: every finding sends the designer to the local building or planning office.
"""

import math

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, Seriousness, nearest
from gardenkit.sources import COMMON, HOUSE, MEMORY, Figure
from gardenkit.units import FOOT, INCH, inch_words

IRC = "IRC 2021, R311.7, second-hand"
HANDBOOK = "Construction for Landscape Architecture (handbook)"
# Twice the riser plus the tread: published bands in inches, each a setting of its own.
BANDS: dict[str, tuple[float, float, str]] = {
    "26-27": (26.0, 27.0, COMMON),
    "25-27": (25.0, 27.0, COMMON),
    "24-28": (24.0, 28.0, COMMON),
    "22-30": (22.0, 30.0, HANDBOOK),
}
MOST_RISER = Figure(7 * INCH, "m", f"risers rarely over 7 in; {COMMON}")
LEAST_RISER = Figure(4 * INCH, "m", f"risers 4 to 7 in; {COMMON}")


@attrs.frozen(kw_only=True)
class StepCode:
    """What one code asks of steps, in metres; ``guard_includes``: a drop of exactly ``guard_at`` needs a guard too."""

    name: str
    source: str
    most_riser: float = 7.75 * INCH
    least_tread: float = 10 * INCH
    least_width: float = 36 * INCH
    headroom: float = 80 * INCH
    most_flight: float = 151 * INCH  # 12 ft 7 in
    least_landing: float = 36 * INCH
    rail_from_risers: int = 4
    rail_low: float = 34 * INCH
    rail_high: float = 38 * INCH
    guard_at: float = 30 * INCH
    guard_includes: bool = False
    guard_height: float = 36 * INCH


CODES: dict[str, StepCode] = {
    "IRC 2021": StepCode(name="IRC 2021", source=IRC),
    "Buxton": StepCode(name="Buxton", source="code page of Buxton, Maine, buxton.me.us", guard_includes=True),
}


@attrs.frozen(kw_only=True)
class Steps:
    """Steps as worked out, in metres; ``run`` is without, ``overall`` with the landings at top and bottom.

    ``middle_landings`` break a flight that is too high in one go. Treads are one fewer than risers in each flight.
    """

    rise: float
    risers: int
    riser: float
    tread: float
    width: float
    middle_landings: int
    landing: float
    band: str

    @property
    def treads(self) -> int:
        """Number of treads, the landings not counted."""
        return self.risers - 1 - self.middle_landings

    @property
    def run(self) -> float:
        """Level length from the first riser to the last in metres, middle landings included."""
        return self.treads * self.tread + self.middle_landings * self.landing

    @property
    def overall(self) -> float:
        """Run and a landing at top and bottom, in metres."""
        return self.run + 2 * self.landing

    @property
    def two_risers_and_tread(self) -> float:
        """2R + T in metres."""
        return 2 * self.riser + self.tread

    @property
    def rail(self) -> float:
        """Metres of handrail along one side."""
        return math.hypot(self.run, self.rise)

    @property
    def up(self) -> str:
        """How a flight is marked on the plan: "up 5"."""
        return f"up {self.risers}"

    @property
    def counted(self) -> str:
        """What is built of them, in words."""
        return f"{self.risers} steps, a riser with its tread each, {self.width:.2f} m wide"


def steps(
    rise: float,
    *,
    most_riser: float = MOST_RISER,
    band: str = "26-27",
    two_risers_and_tread: float | None = None,
    width: float = 48 * INCH,
    landing: float = 36 * INCH,
    code: str = "IRC 2021",
) -> Steps:
    """Return the steps for a level difference ``rise`` in metres: the fewest risers not above ``most_riser``.

    The tread follows from 2R + T, by default the low end of the named ``band``. Raises GardenError for a rise or riser
    not above 0, a band or code not known, a sum outside its band, and a tread that would not be above 0.

    >>> steps(36 * 0.0254, most_riser=6 * 0.0254).risers
    6
    """
    rules, (low, high, _source) = _code(code), _band(band)
    if not (rise > 0 and most_riser > 0):
        raise GardenError(f"steps for a rise of {rise:g} m with risers to {most_riser:g} m; give both above 0")
    total = low * INCH if two_risers_and_tread is None else two_risers_and_tread
    if not low * INCH - 1e-9 <= total <= high * INCH + 1e-9:
        raise GardenError(
            f"2R + T of {total / INCH:g} in is outside the band {band}; choose a wider band or another sum"
        )
    risers = math.ceil(rise / most_riser - 1e-9)
    riser = rise / risers
    tread = total - 2 * riser
    if tread <= 0:
        raise GardenError(f"risers of {riser / INCH:.1f} in leave no tread in the band {band}; lower the riser")
    middle = max(0, math.ceil(rise / rules.most_flight - 1e-9) - 1)
    return Steps(
        rise=rise,
        risers=risers,
        riser=riser,
        tread=tread,
        width=width,
        middle_landings=middle,
        landing=landing,
        band=band,
    )


def steps_within(rise: float, run: float, *, width: float, band: str = "26-27", landing: float = 36 * INCH) -> Steps:
    """Return one flight that climbs ``rise`` in a level ``run`` from its first riser to its last: the fewest risers of
    4 to 7 in whose treads then lie in the named band; where none do, the fewest that ``steps`` gives.

    >>> steps_within(28 * 0.0254, 36 * 0.0254, width=1.2).risers
    4
    """
    fewest = steps(rise, band=band).risers

    def made(risers: int) -> Steps:
        return Steps(
            rise=rise,
            risers=risers,
            riser=rise / risers,
            tread=run / (risers - 1) if risers > 1 else 0.0,
            width=width,
            middle_landings=0,
            landing=landing,
            band=band,
        )

    tried = (made(risers) for risers in range(max(2, fewest), int(rise / LEAST_RISER + 1e-9) + 1))
    return next((one for one in tried if in_band(one.riser, one.tread, band=band)), made(fewest))


def in_band(riser: float, tread: float, *, band: str = "26-27") -> bool:
    """Return whether 2R + T (metres) lies in a named band, both ends included."""
    low, high, _source = _band(band)
    return low * INCH - 1e-9 <= 2 * riser + tread <= high * INCH + 1e-9


def needs_handrail(risers: int, *, code: str = "IRC 2021") -> bool:
    """Return whether a flight of so many risers needs a handrail by a named code."""
    return risers >= _code(code).rail_from_risers


def needs_guard(drop: float, *, code: str = "IRC 2021") -> bool:
    """Return whether a drop in metres needs a guard; the codes differ at exactly 30 in."""
    rules = _code(code)
    return drop > rules.guard_at + 1e-9 or (rules.guard_includes and drop >= rules.guard_at - 1e-9)


def step_findings(
    where: str,
    flight: Steps,
    *,
    code: str = "IRC 2021",
    headroom: float | None = None,
    drop: float | None = None,
    at_door: bool = False,
    handrail: bool = False,
    stride: bool = True,
) -> tuple[Finding, ...]:
    """Return what a named code and common practice say about a flight.

    ``headroom`` is the clear height over it, ``drop`` the greatest fall beside it (its own rise when not given),
    metres; with a ``handrail`` none is asked for, without ``stride`` 2R + T is judged elsewhere.
    """
    rules = _code(code)
    found = [*_sizes(where, flight, rules), *_habits(where, flight, stride=stride)]
    if needs_handrail(flight.risers, code=code) and not handrail:
        what = (
            f"{flight.risers} risers want a handrail {inch_words(rules.rail_low)} to {inch_words(rules.rail_high)} high"
        )
        found.append(_finding(where, what, f"from {rules.rail_from_risers} risers", rules.source, "caution"))
    beside = flight.rise if drop is None else drop
    if needs_guard(beside, code=code):
        what = f"a drop of {inch_words(beside)} wants a guard at least {inch_words(rules.guard_height)} high"
        limit = f"{'from' if rules.guard_includes else 'above'} {inch_words(rules.guard_at)}"
        found.append(_finding(where, what, limit, f"{rules.source}; {MEMORY}", "warning"))
    if headroom is not None and headroom < rules.headroom - 1e-9:
        what = f"only {inch_words(headroom)} of headroom over the steps"
        found.append(_finding(where, what, f"at least {inch_words(rules.headroom)}", rules.source, "warning"))
    if at_door:
        what = "at the door: step down at least 4 in to a landing 4 ft deep (3 ft least), falling 1/4 in per ft"
        found.append(_finding(where, what, "", COMMON, "note"))
    return tuple(found)


# ---- helpers


def _sizes(where: str, flight: Steps, rules: StepCode) -> list[Finding]:
    checks = (
        (flight.riser > rules.most_riser + 1e-9, "riser", flight.riser, "at most", rules.most_riser),
        (
            flight.treads > 0 and flight.tread < rules.least_tread - 1e-9,
            "tread",
            flight.tread,
            "at least",
            rules.least_tread,
        ),
        (flight.width < rules.least_width - 1e-9, "width", flight.width, "at least", rules.least_width),
        (flight.landing < rules.least_landing - 1e-9, "landing", flight.landing, "at least", rules.least_landing),
    )
    found = [
        _finding(where, f"the {name} is {inch_words(value)}", f"{bound} {inch_words(limit)}", rules.source, "warning")
        for wrong, name, value, bound, limit in checks
        if wrong
    ]
    if flight.landing < flight.width - 1e-9 and flight.middle_landings:
        found.append(_finding(where, "landings are shallower than the steps are wide", "", HOUSE, "note"))
    return found


def _habits(where: str, flight: Steps, *, stride: bool) -> list[Finding]:
    found: list[Finding] = []
    if flight.risers == 1:
        found.append(
            _finding(where, "a single step is easily missed; slope the path or make more", "", COMMON, "caution")
        )
    elif flight.risers < 3:
        found.append(_finding(where, "fewer than 3 risers together are easily missed", "", HANDBOOK, "caution"))
    if flight.risers > 6 and not flight.middle_landings:
        found.append(
            _finding(where, f"{flight.risers} steps on end; a landing after 6 rests the walker", "", COMMON, "note")
        )
    if flight.width < 30 * INCH - 1e-9:
        found.append(
            _finding(where, f"steps {inch_words(flight.width)} wide feel unsafe", "under 30 in", COMMON, "caution")
        )
    elif flight.width < 5 * FOOT - 1e-9:
        found.append(
            _finding(where, f"steps {inch_words(flight.width)} wide are narrow for two", "5 ft", COMMON, "note")
        )
    if stride and not in_band(flight.riser, flight.tread, band=flight.band):
        why = f"2R + T is {flight.two_risers_and_tread / INCH:.1f} in"
        found.append(
            _finding(where, f"the stride is outside the band {flight.band}", why, BANDS[flight.band][2], "note")
        )
    return found


def _finding(where: str, what: str, why: str, source: str, seriousness: Seriousness) -> Finding:
    return Finding(
        where=where, what=f"{what}; {LOCAL_CODE}", why=why, source=source, seriousness=seriousness, topic="steps"
    )


def _code(name: str) -> StepCode:
    if name not in CODES:
        raise GardenError(f'there is no step code "{name}"{nearest(name, CODES)}')
    return CODES[name]


def _band(name: str) -> tuple[float, float, str]:
    if name not in BANDS:
        raise GardenError(f'there is no step band "{name}"{nearest(name, BANDS)}')
    return BANDS[name]

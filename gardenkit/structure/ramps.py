"""Ramps and sloping paths that wheels can use: lengths, landings and the published limits on slope, width and headroom.

The figures are the 2010 ADA Standards and the Access Board's outdoor guidelines: design targets at home, law
elsewhere. Every finding sends the designer to the local building or planning office.
"""

import math
from collections.abc import Sequence

import attrs

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, Seriousness, nearest
from gardenkit.sources import MEMORY, Figure
from gardenkit.units import FOOT, INCH, counted, inch_words

ADA = "2010 ADA Standards"
CROSS_SLOPE = 1 / 48
RAIL_HIGH = Figure(36 * INCH, "m", f"{ADA} 505.4: 34 to 38 in above the ramp, second-hand")
RAIL_ON = Figure(1 * FOOT, "m", f"{ADA} 505.10.1: 12 in further at the top and the bottom of a run; {MEMORY}")
Piece = tuple[float, float]  # length in metres, slope as rise over run


@attrs.frozen(kw_only=True)
class RampRule:
    """A named ramp rule: steepest slope, most rise in one run, landing, least width, rise of a run that needs rails."""

    name: str
    source: str
    slope: float = 1 / 12
    rise_per_run: float = 30 * INCH
    landing: float = 60 * INCH
    width: float = 36 * INCH
    rails_above: float = 6 * INCH


RAMP_RULES: dict[str, RampRule] = {
    "ADA 2010": RampRule(name="ADA 2010", source=f"{ADA} 405.2 to 405.8"),
    "IRC exit door": RampRule(name="IRC exit door", source=f"IRC R311.8; {MEMORY}", landing=36 * INCH),
    "IRC other": RampRule(name="IRC other", source=f"IRC R311.8; {MEMORY}", slope=1 / 8, landing=36 * INCH),
}


@attrs.frozen(kw_only=True)
class TrailRule:
    """A named rule for sloping paths: ``steps`` of (slope up to, longest stretch in metres), never beyond the last."""

    name: str
    source: str
    steps: tuple[tuple[float, float], ...]
    steep_share: float = 1.0  # most of the length steeper than 1:12


TRAIL_RULES: dict[str, TrailRule] = {
    "outdoor trail": TrailRule(
        name="outdoor trail",
        source="US Access Board, outdoor developed areas, 1017.7.1",
        steps=((1 / 20, math.inf), (1 / 12, 200 * FOOT), (1 / 10, 30 * FOOT), (1 / 8, 10 * FOOT)),
        steep_share=0.30,
    ),
    "outdoor access route": TrailRule(
        name="outdoor access route",
        source="US Access Board, outdoor developed areas, 1016.7.1",
        steps=((1 / 20, math.inf), (1 / 12, 50 * FOOT), (1 / 10, 30 * FOOT)),
    ),
    "ADA walk": TrailRule(name="ADA walk", source=f"{ADA} 403.3, second-hand", steps=((1 / 20, math.inf),)),
}


@attrs.frozen(kw_only=True)
class Ramp:
    """A straight ramp as worked out, metres: ``length`` of the sloping runs, ``overall`` with all landings."""

    rise: float
    slope: float
    runs: int
    length: float
    landing: float
    handrails: bool
    rule: str

    @property
    def middle_landings(self) -> int:
        """Landings between runs."""
        return self.runs - 1

    @property
    def overall(self) -> float:
        """Length with the landings at top and bottom and between runs."""
        return self.length + (self.runs + 1) * self.landing

    @property
    def between_landings(self) -> float:
        """Length without the landings at top and bottom."""
        return self.overall - 2 * self.landing

    @property
    def one_in(self) -> float:
        """Level length for one of height."""
        return 1 / self.slope


def ramp(rise: float, *, slope: float | None = None, rule: str = "ADA 2010") -> Ramp:
    """Return a ramp for a rise in metres by a named rule, at its steepest slope unless a gentler one is given.

    Raises GardenError for a rise not above 0, a slope steeper than the rule's, or a rule not known.

    >>> ramp(45 * 0.0254).runs
    2
    """
    rules = _ramp_rule(rule)
    if not rise > 0:
        raise GardenError(f"a ramp for a rise of {rise:g} m; give a rise above 0")
    used = rules.slope if slope is None else slope
    if not 0 < used <= rules.slope * (1 + 1e-9):
        raise GardenError(f"a ramp slope of {used:.3f} is outside 0 to {rules.slope:.4f}, the steepest by {rules.name}")
    runs = math.ceil(rise / rules.rise_per_run - 1e-9)
    rails = rise / runs > rules.rails_above + 1e-9
    return Ramp(rise=rise, slope=used, runs=runs, length=rise / used, landing=rules.landing, handrails=rails, rule=rule)


def ramp_one_in(rise: float, length: float, *, rule: str = "ADA 2010") -> Ramp:
    """Return a ramp that rises 1 in ``length``, or as steep as its rule allows where that would be steeper.

    >>> ramp_one_in(0.5, 8).one_in
    12.0
    """
    return ramp(rise, slope=min(1 / length, _ramp_rule(rule).slope), rule=rule)


def ramp_findings(
    where: str, made: Ramp, *, width: float, cross_slope: float = 0.0, curved: bool = False, handrail: bool = False
) -> tuple[Finding, ...]:
    """Return what the ramp's rule says: width in metres, cross slope as rise over run, curves; with a ``handrail``
    none is asked for.
    """
    rules = _ramp_rule(made.rule)
    found = [
        _finding(
            where,
            f"{counted(made.runs, 'run')}, {made.runs + 1} landings, {made.overall:.2f} m in all",
            "",
            rules.source,
            "note",
        )
    ]
    if made.handrails and not handrail:
        found.append(
            _finding(where, "handrails on both sides, 34 to 38 in high", "run above 6 in", rules.source, "caution")
        )
    if width < rules.width - 1e-9:
        why = f"at least {inch_words(rules.width)}"
        found.append(_finding(where, f"the ramp is {inch_words(width)} wide", why, rules.source, "warning"))
    if cross_slope > CROSS_SLOPE + 1e-9:
        found.append(
            _finding(where, f"cross slope {100 * cross_slope:.1f} %", "at most 1:48", f"{ADA} 405.3", "warning")
        )
    if curved:
        what = "curved ramps of small radius slope sideways too; treat as not complying"
        found.append(_finding(where, what, "", f"{ADA}, advisory to 405.7", "warning"))
    return tuple(found)


def slope_up(one_in: float) -> str:
    """Return how a ramp is marked on the plan.

    >>> slope_up(12)
    '1:12.0 up'
    """
    return f"1:{one_in:.1f} up"


def trail_findings(where: str, pieces: Sequence[Piece], *, rule: str = "outdoor trail") -> tuple[Finding, ...]:
    """Return where a path, given as stretches of (length in metres, slope), breaks a named slope rule.

    Slopes count up and down alike. Neighbouring stretches of the same class of slope count as one unless a rest lies
    between: give a rest as a stretch of slope 0.
    """
    if rule not in TRAIL_RULES:
        raise GardenError(f'there is no slope rule "{rule}"{nearest(rule, TRAIL_RULES)}')
    rules = TRAIL_RULES[rule]
    if any(length <= 0 for length, _ in pieces):
        raise GardenError(f"a stretch of {where} has no length; give each a length above 0 m")
    found = []
    for length, slope in _joined(pieces, rules):
        most = next((far for limit, far in rules.steps if slope <= limit * (1 + 1e-9)), 0.0)
        if length > most + 1e-9:
            what = f"{length:.1f} m at {100 * slope:.1f} % is too {'long' if most else 'steep'}"
            why = f"at most {most:.1f} m at this slope" if most else f"never above {100 * rules.steps[-1][0]:.1f} %"
            found.append(_finding(where, what, why, rules.source, "warning"))
    total = sum(length for length, _ in pieces)
    steep = sum(length for length, slope in pieces if abs(slope) > 1 / 12 * (1 + 1e-9))
    if total and steep / total > rules.steep_share + 1e-9:
        what = f"{100 * steep / total:.0f} % of the way is steeper than 1:12"
        found.append(_finding(where, what, f"at most {100 * rules.steep_share:.0f} %", rules.source, "warning"))
    return tuple(found)


# ---- helpers


def _joined(pieces: Sequence[Piece], rules: TrailRule) -> list[Piece]:
    """Return stretches with neighbours of the same class of slope joined, at the steeper of their slopes."""
    joined: list[tuple[float, float, int]] = []
    for length, raw in pieces:
        slope = abs(raw)
        kind = sum(slope > limit * (1 + 1e-9) for limit, _ in rules.steps)
        if joined and joined[-1][2] == kind:
            far, steep, _ = joined[-1]
            joined[-1] = (far + length, max(steep, slope), kind)
        else:
            joined.append((length, slope, kind))
    return [(length, slope) for length, slope, _ in joined]


def _ramp_rule(name: str) -> RampRule:
    if name not in RAMP_RULES:
        raise GardenError(f'there is no ramp rule "{name}"{nearest(name, RAMP_RULES)}')
    return RAMP_RULES[name]


def _finding(where: str, what: str, why: str, source: str, seriousness: Seriousness) -> Finding:
    return Finding(
        where=where, what=f"{what}; {LOCAL_CODE}", why=why, source=source, seriousness=seriousness, topic="slope"
    )

"""All tapes, offsets and angles fitted together: where each point lies, how surely, and which tape is likely wrong."""

import math
from typing import Literal

import attrs
import numpy as np

from gardenkit.findings import Finding, GardenError, nearest, worst_first
from gardenkit.geometry.plane import Point, heading
from gardenkit.site import fitting, mirrors, suspects
from gardenkit.site.fitting import Fit, Matrix
from gardenkit.site.loci import SideQuestion, two_tape_tie
from gardenkit.site.survey import ANGLES, Part, Reading, Survey, check, label, names, points_of, readings
from gardenkit.site.suspects import LeftOut, Suspect
from gardenkit.units import System, show_length

__all__ = [
    "Adjusted",
    "AdjustedPoint",
    "LeftOut",
    "Residual",
    "SideQuestion",
    "Suspect",
    "advise",
    "leave_one_out",
    "solve",
    "two_tape_tie",
]

ErrorRule = Literal["fit", "tape", "larger"]
SQUARE_ENOUGH = 30.0  # degrees: tapes crossing below this, or above 180 less this, fix a point weakly. From memory.
LONGEST_TAPE = 30.0  # m, a common tape; longer ties are not proposed. House value.
SHORTEST_TIE = 0.5  # m, shorter ties add nothing to a plan. House value.
UNSURE = 0.10  # m, long semi-axis of the error ellipse above which a point is called unsure. House value.


@attrs.frozen(kw_only=True)
class AdjustedPoint:
    """A point on the plan in metres with its standard errors and error ellipse.

    ``sx``, ``sy`` are standard errors along the plan's axes; the ellipse has semi-axes ``long`` and ``short`` (metres),
    the long one ``turned`` degrees clockwise from the y axis. All are 0 for points that hold the plan.
    """

    name: str
    at: Point
    fixed: bool = False
    sx: float = 0.0
    sy: float = 0.0
    long: float = 0.0
    short: float = 0.0
    turned: float = 0.0


@attrs.frozen(kw_only=True)
class Residual:
    """One reading after the fit: ``residual`` is calculated less measured, metres or degrees.

    ``redundancy`` is 0 (nothing checks it) to 1 (fully checked); ``standardised`` is the residual in its own standard
    errors before scaling, 0 for an unchecked reading.
    """

    measure: int
    label: str
    part: Part
    measured: float
    calculated: float
    residual: float
    redundancy: float
    standardised: float


@attrs.frozen(kw_only=True)
class Adjusted:
    """The whole survey fitted: points, residuals, and how well everything agrees.

    ``s0`` is the standard error of unit weight (1 when readings agree as well as their stated precision), ``spare`` the
    number of readings beyond need, ``y_bearing`` where the plan's y axis points when known or found from bearings.
    """

    survey: Survey
    points: tuple[AdjustedPoint, ...]
    residuals: tuple[Residual, ...]
    s0: float
    spare: int
    fits: bool
    y_bearing: float | None = None
    left_out: tuple[LeftOut, ...] = ()
    suspects: tuple[Suspect, ...] = ()
    net: Fit = attrs.field(eq=False, repr=False)

    @property
    def suspect(self) -> Suspect | None:
        """Return the measure most likely wrong, or None when all is well or it cannot be told."""
        return next((s for s in self.suspects if s.surety != "possible"), None)

    @property
    def tapes(self) -> tuple[Residual, ...]:
        """Return the residuals of all lengths, in metres."""
        return tuple(r for r in self.residuals if r.part not in ANGLES)

    @property
    def tape_error(self) -> float:
        """Return the root mean square residual of the lengths in metres, 0 without any."""
        return math.sqrt(sum(r.residual**2 for r in self.tapes) / len(self.tapes)) if self.tapes else 0.0

    def at(self, name: str) -> Point:
        """Return where a point lies; raises GardenError for an unknown name."""
        for point in self.points:
            if point.name == name:
                return point.at
        raise GardenError(f'the survey has no point "{name}"{nearest(name, [p.name for p in self.points])}')


def solve(survey: Survey, *, y_bearing: float | None = None, errors: ErrorRule = "larger") -> Adjusted:
    """Return the survey adjusted by weighted least squares, without first guesses by hand.

    Two or more stations with coordinates hold the plan; otherwise it starts at (0, 0) or the one fixed station with
    the first tie along the x axis. ``y_bearing`` (degrees from north) ties compass bearings to the plan; None lets
    them find it. ``errors`` scales standard errors by the fit's s0 ("fit"), by the stated precision ("tape"), or by
    the larger. Method: Gauss-Newton on the observation equations, with redundancy numbers and leave-one-out.

    Raises GardenError for what cannot be or cannot close, SideQuestion where only the designer knows left from right.

    >>> from gardenkit.site.survey import Side, Station, Tie
    >>> base = (Station(name="A", at=(0.0, 0.0)), Station(name="B", at=(14.0, 0.0)))
    >>> ties = (Tie(a="A", b="P", distance=13.0), Tie(a="B", b="P", distance=15.0))
    >>> left = (Side(start="A", end="B", point="P", side="left"),)
    >>> [round(v, 9) for v in solve(Survey(stations=base, measures=ties, sides=left)).at("P")]
    [5.0, 12.0]
    """
    check(survey)
    if not survey.measures:
        raise GardenError("the survey has no measures yet; type or paste at least one tie between two points")
    found = mirrors.best_fit(survey, y_bearing=y_bearing)
    numbers = readings(survey)
    fits = suspects.within_tapes(found.square_sum, found.spare)
    s0 = math.sqrt(found.square_sum / found.spare) if found.spare else 0.0
    scale = {"fit": s0 if found.spare else 1.0, "tape": 1.0, "larger": max(1.0, s0)}[errors]
    left_out = () if fits else suspects.taken_out(survey, numbers, found)
    return Adjusted(
        survey=survey,
        points=_points(survey, found, scale),
        residuals=_residuals(survey, numbers, found),
        s0=s0,
        spare=found.spare,
        fits=fits,
        y_bearing=found.north,
        left_out=left_out,
        suspects=suspects.named(left_out, found.spare),
        net=found,
    )


def leave_one_out(adjusted: Adjusted) -> tuple[LeftOut, ...]:
    """Return how well the rest fits with each checked measure taken out in turn, best fitting rest first."""
    return adjusted.left_out or suspects.taken_out(adjusted.survey, readings(adjusted.survey), adjusted.net)


def advise(adjusted: Adjusted, *, system: System = "imperial", unsure: float = UNSURE) -> tuple[Finding, ...]:
    """Return what is wrong or weak in a survey and which tie to add, most serious first.

    ``unsure`` is the long semi-axis in metres from which a point counts as unsure; lengths are shown in ``system``.
    """
    found = _disagreement(adjusted, system)
    for point in adjusted.points:
        for what, why, source in _weaknesses(adjusted, point, unsure, system):
            more = better_tie(adjusted, point.name)
            add = gain = ""
            if more is not None:
                other, far, after = more
                add = f"; also measure {point.name} to {other}, about {show_length(far, system)}"
                gain = f"; its long error axis then shrinks to {show_length(after, system, small=True)}"
            found.append(
                Finding(
                    where=f"survey point {point.name}",
                    what=f"{what}{add}",
                    why=why + gain,
                    source=source,
                    seriousness="caution",
                    at=point.at,
                    topic="survey",
                )
            )
    return worst_first(found)


def better_tie(adjusted: Adjusted, name: str) -> tuple[str, float, float] | None:
    """Return the tie that would make a point surest: (other point, metres, long semi-axis after); None if no gain."""
    net = adjusted.net
    cov = fitting.covariance(net.rows)
    place = {column: i for i, column in enumerate(net.columns)}
    tied = {frozenset(r.points) for r in readings(adjusted.survey) if r.part == "distance"}
    mine = [place[name, i] for i in (0, 1) if (name, i) in place]
    best: tuple[float, str, float, float] | None = None
    for point in adjusted.points:
        far = math.dist(point.at, net.points[name])
        if point.name == name or not SHORTEST_TIE <= far <= LONGEST_TAPE or frozenset((name, point.name)) in tied:
            continue
        row = np.zeros(len(net.columns))
        tie = Reading(measure=-1, part="distance", points=(name, point.name), value=far, sigma=1.0)
        for key, slope in fitting.slopes(tie, net.points).items():
            if key in place:
                row[place[key]] = slope
        lift = cov @ row
        gain = np.outer(lift, lift) / (adjusted.survey.tape_precision**2 + float(row @ lift))
        gained = sum(float(gain[i, i]) for i in mine)
        if gained > 1e-9 and (best is None or gained > best[0]):
            scale = max(1.0, adjusted.s0)
            after = fitting.spread(point_covariance(net, (cov - gain) * scale**2, name))[0]
            best = (gained, point.name, far, after)
    return best[1:] if best else None


def _disagreement(adjusted: Adjusted, system: System) -> list[Finding]:
    if adjusted.fits:
        return []
    how = f"readings disagree {adjusted.s0:.1f} times more than their stated precision"
    rule = "chi-square and leave-one-out tests at 1 % (house value)"
    first = adjusted.suspect
    if first is not None:
        what = f"{_misreading(adjusted, first, system)}; measure it again"
        why = f"{first.reason}; {how}"
    elif adjusted.suspects:
        listed = "; ".join(_misreading(adjusted, one, system) for one in adjusted.suspects)
        what = f"something is wrong, and the survey cannot tell which: {listed}; measure these again, in this order"
        why = f"{adjusted.suspects[0].reason}; {how}"
    else:
        what, why = "the measures disagree more than tapes do; measure the longest ones again", how
    return [Finding(where="survey", what=what, why=why, source=rule, seriousness="warning", topic="survey")]


def _misreading(adjusted: Adjusted, one: Suspect, system: System) -> str:
    part = max((r for r in adjusted.residuals if r.measure == one.measure), key=lambda r: abs(r.residual)).part
    turning = part in ANGLES
    by = f"{abs(one.misread):.1f} degrees" if turning else show_length(abs(one.misread), system)
    sure = {"shown": "is wrong", "likely": "is likely wrong", "possible": "may be wrong"}[one.surety]
    return f"{one.label} (measure {one.measure + 1}) {sure}, about {by} too {'long' if one.misread > 0 else 'short'}"


def _weaknesses(adjusted: Adjusted, point: AdjustedPoint, unsure: float, system: System) -> list[tuple[str, str, str]]:
    """Return (what, why, source) for each weakness of one point."""
    own = [r for r in readings(adjusted.survey) if point.name in r.points]
    checks = [r.redundancy for r in adjusted.residuals if point.name in _joined(adjusted.survey, r)]
    if point.long == 0 or not own:
        return []
    found = []
    if checks and max(checks) < suspects.UNCHECKED:
        found.append(("nothing checks this point", "a wrong tape here would not show", "house value"))
    cut = _best_cut(adjusted, point.name) if all(r.part == "distance" for r in own) else 90.0
    if min(cut, 180 - cut) < SQUARE_ENOUGH:
        why = f"cuts below {SQUARE_ENOUGH:g} or above {180 - SQUARE_ENOUGH:g} degrees are weak"
        found.append((f"its tapes cross at only {cut:.0f} degrees", why, "from memory, to be confirmed"))
    if point.long > unsure and adjusted.fits:  # a wrong tape swells every ellipse: name it first
        size = show_length(point.long, system, small=True)
        found.append((f"it may be off by {size}", f"limit {show_length(unsure, system, small=True)}", "house value"))
    return found


def _joined(survey: Survey, residual: Residual) -> tuple[str, ...]:
    return points_of(survey.measures[residual.measure])


def _best_cut(adjusted: Adjusted, name: str) -> float:
    """Return the squarest angle in degrees, 0 to 180, between any two tapes that end at a point."""
    at = adjusted.at(name)
    ends = {p for r in readings(adjusted.survey) if name in r.points for p in r.points if p != name}
    ways = [heading(at, adjusted.at(p)) for p in sorted(ends)]
    cuts = [abs((a - b + 180) % 360 - 180) for i, a in enumerate(ways) for b in ways[i + 1 :]]
    return min(cuts, key=lambda c: abs(c - 90)) if cuts else 0.0


def _points(survey: Survey, found: Fit, scale: float) -> tuple[AdjustedPoint, ...]:
    cov = fitting.covariance(found.rows) * scale**2
    fixed = {s.name for s in survey.stations if s.at is not None}
    result = []
    for name in names(survey):
        block = point_covariance(found, cov, name)
        long, short, turned = fitting.spread(block)
        sx, sy = (math.sqrt(max(float(block[i, i]), 0.0)) for i in (0, 1))
        at = found.points[name]
        result.append(
            AdjustedPoint(
                name=name,
                at=at,
                fixed=name in fixed,
                sx=sx,
                sy=sy,
                long=long,
                short=short,
                turned=turned if long else 0.0,
            )
        )
    return tuple(result)


def point_covariance(found: Fit, cov: Matrix, name: str) -> Matrix:
    """Return the (2, 2) covariance of one point out of the covariance of all unknowns; zeros where it is held."""
    block = np.zeros((2, 2))
    place = {column: i for i, column in enumerate(found.columns)}
    for i in (0, 1):
        for j in (0, 1):
            if (name, i) in place and (name, j) in place:
                block[i, j] = cov[place[name, i], place[name, j]]
    return block


def _residuals(survey: Survey, numbers: tuple[Reading, ...], found: Fit) -> tuple[Residual, ...]:
    result = []
    for r, share, off in zip(numbers, fitting.redundancy(found.rows), found.off, strict=True):
        residual = float(off) * r.sigma
        result.append(
            Residual(
                measure=r.measure,
                label=label(survey.measures[r.measure]),
                part=r.part,
                measured=r.value,
                calculated=r.value + residual,
                residual=residual,
                redundancy=float(share),
                standardised=float(off) / math.sqrt(share) if share > suspects.UNCHECKED else 0.0,
            )
        )
    return tuple(result)

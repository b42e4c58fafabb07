"""Which tape is likely wrong: each measure is taken out in turn, to see whether the rest then agrees."""

import math
from typing import Literal

import attrs

from gardenkit.findings import GardenError
from gardenkit.site import fitting, placing
from gardenkit.site.fitting import Fit
from gardenkit.site.survey import Reading, Survey, label
from gardenkit.units import FOOT, INCH

DOUBT = 0.01  # chance of calling a sound survey bad (chi-square test of the whole, one in a hundred). House value.
SHOWN = 6.63  # chi-square, 1 degree of freedom, 1 %: the next explanation must fit this much worse to name one tape
LIKELY = 2.2  # the same for odds of three to one (likelihood ratio exp(2.2 / 2) = 3.0). House value.
UNCHECKED = 0.02  # redundancy number below which nothing checks a reading. House value.
SLIPS = (  # m, misreadings people make, tried when a bad tape is named. Common practice, no source.
    (FOOT, "one foot"),
    (10 * FOOT, "ten feet"),
    (INCH, "one inch"),
    (1.0, "one metre"),
    (0.1, "ten centimetres"),
    (10.0, "ten metres"),
)

Surety = Literal["shown", "likely", "possible"]


@attrs.frozen(kw_only=True)
class LeftOut:
    """The rest of a survey without one measure: its ``s0``, whether it ``fits``, and by how much the measure misreads.

    ``misread`` is measured less expected from the rest, metres or degrees.
    """

    measure: int
    label: str
    s0: float
    square_sum: float
    fits: bool
    misread: float


@attrs.frozen(kw_only=True)
class Suspect:
    """A measure that may be wrong, by how much it reads too long (minus: too short), how sure that is, and why."""

    measure: int
    label: str
    misread: float
    reason: str
    surety: Surety


def within_tapes(square_sum: float, spare: int) -> bool:
    """Return whether squared residuals (in standard errors) are no larger than the stated precision allows, at 1 %."""
    if spare <= 0:
        return True
    from scipy.special import chdtri

    return bool(square_sum <= chdtri(spare, DOUBT))


def taken_out(survey: Survey, numbers: tuple[Reading, ...], found: Fit) -> tuple[LeftOut, ...]:
    """Return how well the rest fits with each checked measure taken out in turn, best fitting rest first."""
    shares = fitting.redundancy(found.rows)
    checked = {r.measure for r, share in zip(numbers, shares, strict=True) if share > UNCHECKED}
    held = frozenset((n, axis) for n in found.points for axis in (0, 1) if (n, axis) not in found.columns)
    result = []
    for index in sorted(checked):
        rest = [r for r in numbers if r.measure != index]
        try:
            without = fitting.fit(rest, found.points, held, north=found.north, turn=("", 2) in found.columns)
        except GardenError:  # without it a point hangs loose: nothing can be said about this one
            continue
        if without.columns != found.columns:
            continue
        own = [r for r in numbers if r.measure == index]
        result.append(
            LeftOut(
                measure=index,
                label=label(survey.measures[index]),
                s0=math.sqrt(without.square_sum / without.spare) if without.spare else 0.0,
                square_sum=without.square_sum,
                fits=within_tapes(without.square_sum, without.spare),
                misread=-max((placing.difference(r, without.points, without.north) for r in own), key=abs),
            )
        )
    return tuple(sorted(result, key=lambda one: one.square_sum))


def named(left_out: tuple[LeftOut, ...], spare: int) -> tuple[Suspect, ...]:
    """Return the measures that may be wrong, likeliest first; ``spare`` is the redundancy of the whole survey."""
    if not left_out:
        return ()
    able = [one for one in left_out if one.fits]
    if not able:
        reason = "no single measure explains the disagreement, so more than one is wrong; leaving this out helps most"
        return (_suspect(left_out[0], reason, "possible"),)
    if spare == 1 and len(able) == 1:
        reason = "nothing else disagrees; if it reads the same again, check the coordinates of its stations"
        return (_suspect(able[0], reason, "likely"),)
    if spare == 1:
        reason = f"one spare reading cannot tell which of {len(able)} measures is wrong; measure each of them again"
        return tuple(_suspect(one, reason, "possible") for one in able)
    best = able[0]
    like = [one for one in able[1:] if one.square_sum - best.square_sum < SHOWN]
    if not like:
        return (_suspect(best, f"without it the rest agrees (s0 {best.s0:.2f})", "shown"),)
    clear = like[0].square_sum - best.square_sum >= LIKELY
    others = " or ".join(one.label for one in like)
    reason = f"without it the rest agrees {'better than' if clear else 'no better than'} without {others}"
    second = (
        f"the rest agrees without it too, though {best.label} is likelier" if clear else "the rest agrees without it"
    )
    return (
        _suspect(best, reason, "likely" if clear else "possible"),
        *(_suspect(one, second, "possible") for one in like),
    )


def slip(misread: float, *, near: float = 0.03) -> str:
    """Return the usual slip that explains a misreading in metres to within ``near``, or an empty string.

    >>> slip(0.31)
    'it may have been read one foot too long'
    """
    for size, words in SLIPS:
        if abs(abs(misread) - size) <= min(near, size / 4):
            return f"it may have been read {words} too {'long' if misread > 0 else 'short'}"
    return ""


def _suspect(one: LeftOut, reason: str, surety: Surety) -> Suspect:
    words = slip(one.misread) if one.label.startswith("the tie") else ""
    return Suspect(
        measure=one.measure,
        label=one.label,
        misread=one.misread,
        reason=f"{reason}; {words}" if words else reason,
        surety=surety,
    )

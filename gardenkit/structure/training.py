"""Trained trees and vines on wires: usual forms, rows, spacing, span per tree, and how hard a wire must be pulled."""

import math

import attrs

from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.sources import COMMON, HOUSE, MEMORY, Figure
from gardenkit.units import FOOT, INCH, POUND

NURSERY = "UK fruit-tree nursery guide"
GEORGIA = "Univ. of Georgia Coop. Extension, Sumner, Muscadine Trellis Systems"
WIRE_LOAD = Figure(7 * POUND / FOOT, "kg per m", f"{GEORGIA}: design load to 7 lb per ft of wire")
WIRE_TENSION = Figure(250 * POUND, "kg", f"{GEORGIA}: initial tension 250 lb")
FREE_POST_SPACING = Figure(10 * FOOT, "m", f"posts at least 4 x 4 in every 10 ft, end posts braced; {COMMON}")
EYE_BOLT_SPACING = Figure(6 * FOOT, "m", f"eye bolts 1-2 in from a masonry joint; {COMMON}")


@attrs.frozen(kw_only=True)
class Form:
    """A usual trained form: height of the first wire, distance to the next, ``span`` of wall per tree, wire gauge."""

    name: str
    first: float
    apart: float
    span: float
    gauge: str
    source: str
    span_source: str


FORMS: dict[str, Form] = {
    "espalier": Form(
        name="espalier",
        first=15 * INCH,
        apart=15 * INCH,
        span=14 * FOOT,
        gauge="14 ga",
        source=f"{NURSERY}: every 15-18 in, first at 15 in",
        span_source=f"14 ft a tree; {COMMON}",
    ),
    "espalier, 12 in tiers": Form(
        name="espalier, 12 in tiers",
        first=12 * INCH,
        apart=12 * INCH,
        span=14 * FOOT,
        gauge="14 ga",
        source=COMMON,
        span_source=COMMON,
    ),
    "espalier, 18 in tiers": Form(
        name="espalier, 18 in tiers",
        first=18 * INCH,
        apart=18 * INCH,
        span=14 * FOOT,
        gauge="14 ga",
        source=f"18 in usual; {MEMORY}",
        span_source=COMMON,
    ),
    "three tiers": Form(
        name="three tiers",
        first=24 * INCH,
        apart=24 * INCH,
        span=15 * FOOT,
        gauge="14 ga",
        source=f"three tiers 24 in apart, 6 ft high; {COMMON}",
        span_source=f"trees 15 ft apart; {COMMON}",
    ),
    "fan": Form(
        name="fan",
        first=15 * INCH,
        apart=6 * INCH,
        span=14 * FOOT,
        gauge="16 ga",
        source=NURSERY,
        span_source=f"as an espalier; {HOUSE}",
    ),
    "cordon": Form(
        name="cordon",
        first=24 * INCH,
        apart=24 * INCH,
        span=2.5 * FOOT,
        gauge="14 ga",
        source=f"{NURSERY}: every 24 in",
        span_source=f"2.5 ft a cordon; {HOUSE}",
    ),
}


@attrs.frozen(kw_only=True)
class Trained:
    """Wires and trees along a wall or row: wire heights in metres, metres of wire, trees that fit, and the form."""

    form: Form
    wires: tuple[float, ...]
    wire_length: float
    trees: int


def trained(length: float, height: float, *, form: str = "espalier") -> Trained:
    """Return wires and trees of a usual form along ``length`` metres, wires up to ``height`` metres.

    Raises GardenError when no wire fits below the height or the form is not known.
    """
    if form not in FORMS:
        raise GardenError(f'there is no trained form "{form}"{nearest(form, FORMS)}')
    shape = FORMS[form]
    count = math.floor((height - shape.first) / shape.apart + 1e-9) + 1
    if count < 1 or not length > 0:
        raise GardenError(
            f"{form} needs a height of {shape.first:.2f} m or more and a length above 0; "
            f"got {height:g} m by {length:g} m"
        )
    wires = tuple(shape.first + k * shape.apart for k in range(count))
    return Trained(
        form=shape, wires=wires, wire_length=count * length, trees=max(1, math.floor(length / shape.span + 1e-9))
    )


def trained_findings(where: str, made: Trained, *, length: float, on_wall: bool) -> tuple[Finding, ...]:
    """Return notes on span, stand-off and trunk distance for trained trees along ``length`` metres."""
    found = []
    if length < made.form.span - 1e-9:
        what = f"{length:.1f} m is short for one {made.form.name}; its usual span is {made.form.span:.1f} m"
        found.append(
            Finding(where=where, what=what, source=made.form.span_source, seriousness="caution", topic="training")
        )
    if on_wall:
        what = (
            "hold wires 2 to 4 in off the wall and plant the trunk 6 to 12 in from it; eye bolts 1 to 2 in from a joint"
        )
        found.append(Finding(where=where, what=what, source=f"{NURSERY}; {COMMON}", topic="training"))
    else:
        what = "posts at least 4 x 4 in, no more than 10 ft apart, end posts braced"
        found.append(Finding(where=where, what=what, source=COMMON, topic="training"))
    return tuple(found)


def wire_length(span: float, sag: float) -> float:
    """Return the length of a sagging wire in metres: L + 8 s2 / 3L."""
    return span + 8.0 * sag**2 / (3.0 * span)


def tension_for(span: float, *, sag: float, load: float = WIRE_LOAD) -> float:
    """Return the tension in kg at which a loaded wire sags no more than ``sag`` metres: w L2 / 8s."""
    if not sag > 0:
        raise GardenError("a wire always sags a little; give a sag above 0 m")
    return load * span**2 / (8.0 * sag)


def wire_findings(where: str, span: float, *, sag: float = 2 * INCH) -> tuple[Finding, ...]:
    """Return a caution when a wire would need more than its usual tension to carry a full vine over ``span`` metres."""
    need = tension_for(span, sag=sag)
    if need <= WIRE_TENSION:
        return ()
    what = f"a full vine over {span:.1f} m would want {need / POUND:,.0f} lb of pull; add posts between or let it sag"
    why = f"7 lb per ft, sag {sag / INCH:.0f} in, wires are set to 250 lb; end posts must be braced or anchored"
    return (Finding(where=where, what=what, why=why, source=GEORGIA, seriousness="caution", topic="supports"),)

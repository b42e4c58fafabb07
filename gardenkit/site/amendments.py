"""How much sulphur, lime, compost, topsoil or mulch a bed takes, each rate from one named table, never a mixture."""

import math
from collections.abc import Callable
from itertools import pairwise
from typing import Literal

import attrs

from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.site.soil import Soil, soil_texture
from gardenkit.site.texture import soil_group
from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.units import CUBIC_YARD, INCH, POUND, SQUARE_FOOT

Group = Literal["sandy", "loam", "clay"]  # what tables call sandy / loam / clay, or sandy loam / loam / clay loam
GROUPS: tuple[Group, ...] = ("sandy", "loam", "clay")

ACRE = 43_560.0 * SQUARE_FOOT  # m2, exact
LB_PER_1000_SQ_FT = POUND * 1000.0 / (1000.0 * SQUARE_FOOT)  # g per m2, exact
LB_PER_100_SQ_FT = 10.0 * LB_PER_1000_SQ_FT  # g per m2
LB_PER_ACRE = POUND * 1000.0 / ACRE  # g per m2

CLEMSON = "Clemson, precisionag.sites.clemson.edu: turf, repeat after 2-3 months, below 75 F (24 C)"
SULPHUR_CAP = Figure(10.0 * LB_PER_1000_SQ_FT, "g per m2 an application", CLEMSON)
LARGEST_CHANGE = Figure(1.5, "pH units", HOUSE)  # beyond this the soil drifts back: change the plants, not the soil
MOST_APPLICATIONS = 4  # a year and more at one every 2-3 months; house value

# RHS: from pH 7.0-7.5 down to 6.0-6.5 in the top 15 cm, g per m2 (sandy, clay; loam is not printed)
RHS_SULPHUR: dict[str, tuple[float, float]] = {"sulphur": (135.0, 270.0), "ferrous sulphate": (1080.0, 2160.0)}
_PER_UNIT_SULPHUR = {"sandy": 10.0, "loam": 15.0, "clay": 20.0}  # lb per 1000 sq ft per pH unit
_KANSAS_SULPHUR = {"sandy": (1.0, 1.5), "loam": (1.5, 2.0), "clay": (2.0, 2.5)}  # lb per 100 sq ft per pH unit
_MICHIGAN_SULPHUR = (  # pH now: lb per acre to reach pH 4.5 on sand, loam, clay
    (5.0, (175.0, 530.0, 800.0)),
    (5.5, (350.0, 1030.0, 1600.0)),
    (6.0, (530.0, 1540.0, 2300.0)),
    (6.5, (660.0, 2020.0, 3030.0)),
    (7.0, (840.0, 2560.0, 3830.0)),
)
_PER_UNIT_LIME = {"sandy": 35.0, "loam": 50.0, "clay": 70.0}  # lb per 1000 sq ft per pH unit
_LIME_TO_65 = (  # pH now: lb per 100 sq ft to reach pH 6.5 on sandy loam, loam, clay loam
    (4.0, (11.5, 16.0, 23.0)),
    (4.5, (9.5, 13.5, 19.5)),
    (5.0, (8.0, 10.5, 15.0)),
    (5.5, (6.0, 8.0, 10.5)),
    (6.0, (3.0, 4.0, 5.5)),
)


@attrs.frozen(kw_only=True)
class Amendment:
    """How much of a material to spread: a rate and a total, each low to high, from one named table."""

    material: str
    table: str
    source: str
    low_g_per_m2: float
    high_g_per_m2: float
    area: float
    applications: int = 1
    impractical: bool = False
    findings: tuple[Finding, ...] = ()

    @property
    def low_kg(self) -> float:
        """Total for the area at the low rate, kg."""
        return self.low_g_per_m2 * self.area / 1000.0

    @property
    def high_kg(self) -> float:
        """Total for the area at the high rate, kg."""
        return self.high_g_per_m2 * self.area / 1000.0


Rate = Callable[[float, float, Group], tuple[float, float]]  # (pH now, pH wanted, group) -> low, high in g per m2


@attrs.frozen(kw_only=True)
class RateTable:
    """One publisher's rates: what they are for, where they are printed, and how they are read."""

    material: str
    source: str
    rate: Rate


def sulphur(
    *,
    table: str,
    group: Group,
    ph_now: float,
    ph_wanted: float,
    area: float,
    free_lime: bool | None = None,
    bare_bed: bool = False,
    where: str = "bed",
) -> Amendment:
    """Return sulphur (or ferrous sulphate) to lower the pH over ``area`` m2 by one table of SULPHUR_TABLES.

    Never above the cap of one application on growing plants; a bare bed takes it all at once, dug in. ``impractical``
    comes with its reason: free lime, a change over LARGEST_CHANGE, too many applications.

    Raises GardenError when the table does not cover the change asked.
    """
    found = _table(SULPHUR_TABLES, table, "sulphur")
    _ph_change(ph_now, ph_wanted, -1, where)
    low, high = found.rate(ph_now, ph_wanted, _group(group))
    cap = SULPHUR_CAP if found.material == "sulphur" and not bare_bed else math.inf
    applications = max(1, math.ceil(high / cap - 1e-9))
    notes = _sulphur_findings(ph_now - ph_wanted, free_lime, applications, where)
    return _amendment(found, table, (low, high), area, applications=applications, notes=notes)


def lime(*, table: str, group: Group, ph_now: float, ph_wanted: float, area: float, where: str = "bed") -> Amendment:
    """Return ground limestone to raise the pH over ``area`` m2 by one of LIME_TABLES (GardenError if outside it)."""
    found = _table(LIME_TABLES, table, "lime")
    _ph_change(ph_now, ph_wanted, +1, where)
    rates = found.rate(ph_now, ph_wanted, _group(group))
    notes = _too_large(ph_wanted - ph_now, where)
    return _amendment(found, table, rates, area, notes=notes)


# ---- volumes


COMPOST_NEW_BED = (  # mixed in
    Figure(3.0 * INCH, "m", "Oregon State Univ. Extension EM 9308: 3-4 in mixed in"),
    Figure(4.0 * INCH, "m", "Oregon State Univ. Extension EM 9308: 3-4 in mixed in"),
)
COMPOST_LEAST = Figure(  # 4 cu yd per 1000 sq ft, as a depth
    4.0 * CUBIC_YARD / (1000.0 * SQUARE_FOOT), "m", "City of Greeley: at least 4 cu yd per 1000 sq ft, tilled to 6-8 in"
)
MULCH = (
    Figure(2.0 * INCH, "m", "US Forest Service tree owner's manual, second-hand: 2-4 in"),
    Figure(4.0 * INCH, "m", "US Forest Service tree owner's manual, second-hand: 2-4 in"),
)
MULCH_AT_STEM = Figure(0.0, "m", "US Forest Service tree owner's manual, second-hand: none against the stem")


def layer_volume(area: float, depth: float, *, settling: float = 0.0) -> float:
    """Return m3 for a layer ``depth`` metres thick over ``area`` m2; ``settling`` is the share lost (0.2 for a fifth).

    >>> round(layer_volume(100 * 0.3048**2, 3 * 0.0254) / 0.9144**3, 3)  # cubic yards for 100 sq ft at 3 in
    0.926
    """
    if area < 0 or depth < 0 or not 0.0 <= settling < 1.0:
        raise GardenError(f"a layer of {depth:g} m on {area:g} m2 settling {settling:g} has no volume; give 0 or more")
    return area * depth / (1.0 - settling)


def change_ph(
    soil: Soil, *, wanted: float, table: str, area: float, bare_bed: bool = False, where: str = "bed"
) -> Amendment:
    """Return what it takes to bring an area (m2) of a soil to another pH, by a named table of lime or of sulphur.

    Raises GardenError while the pH or the texture is not known.
    """
    if soil.ph is None:
        raise GardenError("the pH is not known yet; test it before changing it")
    kind = soil_texture(soil)
    if kind is None:
        raise GardenError("the texture is not known yet, and the tables ask for it; do the jar test first")
    group = soil_group(kind)
    if wanted > soil.ph:
        return lime(table=table, group=group, ph_now=soil.ph, ph_wanted=wanted, area=area, where=where)
    return sulphur(
        table=table,
        group=group,
        ph_now=soil.ph,
        ph_wanted=wanted,
        area=area,
        free_lime=soil.free_lime,
        bare_bed=bare_bed,
        where=where,
    )


def tables_for(ph: float | None, wanted: float | None) -> tuple[str, ...]:
    """Return the names of the tables that tell how to get from one pH to another; none while either is not known."""
    if ph is None or wanted is None or wanted == ph:
        return ()
    return tuple(LIME_TABLES if wanted > ph else SULPHUR_TABLES)


def compost_findings(depth: float, *, where: str = "bed") -> tuple[Finding, ...]:
    """Return advice on compost ``depth`` metres thick before it is dug in."""
    if not 0 < depth < COMPOST_LEAST - 1e-9:
        return ()
    what = f"{depth:.3f} m of compost is less than the least some places ask for"
    return (Finding(where=where, what=what, source=COMPOST_LEAST.source, seriousness="caution", topic="soil"),)


def mulch_findings(depth: float, *, where: str = "bed") -> tuple[Finding, ...]:
    """Return advice on a mulch ``depth`` in metres."""
    found = (
        [Finding(where=where, what="keep mulch off stems and trunks", source=MULCH_AT_STEM.source, topic="mulch")]
        if depth > 0
        else []
    )
    low, high = MULCH
    if depth > 0 and not low - 1e-9 <= depth <= high + 1e-9:
        found.append(
            Finding(
                where=where,
                what=f"mulch {depth / INCH:.1f} in deep is {'thin' if depth < low else 'deep'}; 2-4 in is usual",
                source=low.source,
                seriousness="caution",
                topic="mulch",
            )
        )
    return tuple(found)


# ---- the tables as they are read


def _rhs(material: str) -> Rate:
    def rate(ph_now: float, ph_wanted: float, group: Group) -> tuple[float, float]:
        if not (7.0 <= ph_now <= 7.5 and 6.0 <= ph_wanted <= 6.5):
            raise GardenError(
                f"the RHS table takes pH 7.0-7.5 to 6.0-6.5 only, not {ph_now:g} to {ph_wanted:g}; use another table"
            )
        sandy, clay = RHS_SULPHUR[material]
        return {"sandy": (sandy, sandy), "loam": (sandy, clay), "clay": (clay, clay)}[group]

    return rate


def _per_unit(rates: dict[str, float], unit: float) -> Rate:
    def rate(ph_now: float, ph_wanted: float, group: Group) -> tuple[float, float]:
        amount = rates[group] * unit * abs(ph_wanted - ph_now)
        return amount, amount

    return rate


def _kansas(ph_now: float, ph_wanted: float, group: Group) -> tuple[float, float]:
    low, high = _KANSAS_SULPHUR[group]
    return low * LB_PER_100_SQ_FT * (ph_now - ph_wanted), high * LB_PER_100_SQ_FT * (ph_now - ph_wanted)


def _to_goal(rows: tuple[tuple[float, tuple[float, ...]], ...], goal: float, unit: float, name: str) -> Rate:
    def rate(ph_now: float, ph_wanted: float, group: Group) -> tuple[float, float]:
        if abs(ph_wanted - goal) > 1e-9:
            raise GardenError(f"the {name} table is for reaching pH {goal:g}, not {ph_wanted:g}; use another table")
        amount = _between(rows, ph_now, GROUPS.index(group), f"pH {ph_now:g} in the {name} table") * unit
        return amount, amount

    return rate


SULPHUR_TABLES: dict[str, RateTable] = {
    "RHS sulphur": RateTable(
        material="sulphur",
        source="RHS, rhs.org.uk/soil-composts-mulches/acidifying-soil, top 15 cm",
        rate=_rhs("sulphur"),
    ),
    "RHS ferrous sulphate": RateTable(
        material="ferrous sulphate",
        source="RHS, rhs.org.uk/soil-composts-mulches/acidifying-soil, top 15 cm",
        rate=_rhs("ferrous sulphate"),
    ),
    "per unit": RateTable(
        material="sulphur",
        source=f"{COMMON}: 10/15/20 lb per 1000 sq ft per unit",
        rate=_per_unit(_PER_UNIT_SULPHUR, LB_PER_1000_SQ_FT),
    ),
    "Kansas column": RateTable(
        material="sulphur", source="newspaper column by a Kansas state horticulture agent, second-hand", rate=_kansas
    ),
    "Michigan State": RateTable(
        material="sulphur",
        source="Michigan State Univ. via a dealer, to pH 4.5",
        rate=_to_goal(_MICHIGAN_SULPHUR, 4.5, LB_PER_ACRE, "Michigan State"),
    ),
}
LIME_TABLES: dict[str, RateTable] = {
    "per unit": RateTable(
        material="ground limestone",
        source=f"{COMMON}: 35/50/70 lb per 1000 sq ft per unit",
        rate=_per_unit(_PER_UNIT_LIME, LB_PER_1000_SQ_FT),
    ),
    "to pH 6.5": RateTable(
        material="ground limestone",
        source=f"{COMMON}: lb per 100 sq ft to pH 6.5",
        rate=_to_goal(_LIME_TO_65, 6.5, LB_PER_100_SQ_FT, "to pH 6.5"),
    ),
}


# ---- helpers


def _between(rows: tuple[tuple[float, tuple[float, ...]], ...], at: float, column: int, what: str) -> float:
    if not rows[0][0] - 1e-9 <= at <= rows[-1][0] + 1e-9:
        raise GardenError(f"{what} is outside the printed rows, {rows[0][0]:g} to {rows[-1][0]:g}; use another table")
    for (low, low_row), (high, high_row) in pairwise(rows):
        if at <= high + 1e-9:
            share = (at - low) / (high - low)
            return low_row[column] + (high_row[column] - low_row[column]) * share
    return rows[-1][1][column]


def _table(tables: dict[str, RateTable], name: str, what: str) -> RateTable:
    if name not in tables:
        raise GardenError(f'no {what} table "{name}"{nearest(name, tables)}; use one of {", ".join(tables)}')
    return tables[name]


def _group(group: str) -> Group:
    for known in GROUPS:
        if group == known:
            return known
    raise GardenError(f'"{group}" is not a soil group of the tables{nearest(group, GROUPS)}; use sandy, loam or clay')


def _ph_change(now: float, wanted: float, sign: int, where: str) -> None:
    if not (0.0 <= now <= 14.0 and 0.0 <= wanted <= 14.0) or (wanted - now) * sign <= 0:
        verb = "raises" if sign > 0 else "lowers"
        raise GardenError(f"{where}: this {verb} the pH, so it cannot go from {now:g} to {wanted:g}; check the two")


def _amendment(
    found: RateTable,
    table: str,
    rates: tuple[float, float],
    area: float,
    *,
    applications: int = 1,
    notes: tuple[Finding, ...] = (),
) -> Amendment:
    if not 0.0 <= area < math.inf:
        raise GardenError(f"an area of {area:g} m2 is not 0 or more; check the bed")
    return Amendment(
        material=found.material,
        table=table,
        source=found.source,
        low_g_per_m2=rates[0],
        high_g_per_m2=rates[1],
        area=area,
        applications=applications,
        impractical=any(note.topic == "impractical" for note in notes),
        findings=notes,
    )


def _impractical(where: str, what: str, why: str, source: str) -> Finding:
    return Finding(where=where, what=what, why=why, source=source, seriousness="warning", topic="impractical")


def _too_large(change: float, where: str) -> tuple[Finding, ...]:
    if change <= LARGEST_CHANGE + 1e-9:
        return ()
    what = f"a change of {change:.1f} pH units is impractical; choose plants that suit the soil as it is"
    return (_impractical(where, what, f"more than {LARGEST_CHANGE:g} units", LARGEST_CHANGE.source),)


def _sulphur_findings(change: float, free_lime: bool | None, applications: int, where: str) -> tuple[Finding, ...]:
    found = list(_too_large(change, where))
    if free_lime:
        what = "acidifying is impractical: free lime uses up the sulphur; use a container or other plants"
        found.insert(0, _impractical(where, what, "crumbs fizz in vinegar", COMMON))
    if free_lime is None:
        what = "test a crumb with vinegar first: if it fizzes, sulphur is wasted"
        found.append(Finding(where=where, what=what, source=COMMON, seriousness="caution", topic="soil"))
    if applications > 1:
        why = f"at most {SULPHUR_CAP:.0f} g per m2 (10 lb per 1000 sq ft) at a time"
        what = f"spread it in {applications} applications, 2-3 months apart, in cool weather"
        found.append(Finding(where=where, what=what, why=why, source=CLEMSON, seriousness="caution", topic="soil"))
    if applications > MOST_APPLICATIONS:
        what = f"{applications} applications are impractical; choose plants that suit the soil as it is"
        found.append(_impractical(where, what, f"more than {MOST_APPLICATIONS}", HOUSE))
    what = "have the soil tested by a laboratory and follow the product label; wear a dust mask and eye protection"
    found.append(Finding(where=where, what=what, source=COMMON, seriousness="caution", topic="safety"))
    return tuple(found)

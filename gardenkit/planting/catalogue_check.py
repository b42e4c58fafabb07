"""One clear sentence for every cell of the plant tables that cannot be used."""

from collections.abc import Iterable, Iterator, Mapping

from gardenkit import texts
from gardenkit.findings import nearest
from gardenkit.planting.catalogue_columns import (
    BOTANICAL,
    BY_NAME,
    CASTS_SHADE,
    COLUMNS,
    GRADES,
    HERB_FORMS,
    HERBS,
    WOODY_FORMS,
    Row,
    fits,
    grade_parts,
    month_of,
    name_key,
    parts,
)

SAID = 100  # letters of a cell that are said again. House value.
Complaint = tuple[str, str]  # column, what is allowed
FORMS_OF: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(HERBS, HERB_FORMS),
    **dict.fromkeys(("tree", "conifer", "shrub"), WOODY_FORMS),
    "climber": ("climbing",),
    "wall fruit": ("trained",),
    "ground cover": (*WOODY_FORMS, *HERB_FORMS),
}


def problems(rows: Iterable[Row], *, file: str = "plants") -> tuple[str, ...]:
    """Return one sentence for every cell that cannot be used: file, plant, column, value, and what is allowed.

    ``rows`` map column name to the text of the cell; a row may carry its own ``file``. Empty when all is well.

    >>> problems([{"botanical": "Salvia"}])[0]
    'plants, Salvia: common is ""; give some text'
    """
    found: list[str] = []
    seen: dict[str, str] = {}
    for row in rows:
        where, plant = row.get("file", file), row.get("botanical", "") or "(no botanical name)"
        if unfit := list(_unfit_texts(row)):
            called = texts.NO_NAME.sub("", plant)[:SAID]
            found += [f"{where}, {called}: {column} {fault}" for column, fault in unfit]
            continue
        for column, allowed in _complaints(row):
            found.append(f'{where}, {plant}: {column} is "{row.get(column, "")[:SAID]}"; give {allowed}')
        key = name_key(plant)
        if key in seen:
            found.append(f'{where}, {plant}: botanical is "{plant}", already in {seen[key]}; give each plant one row')
        seen[key] = where
    return tuple(found)


def header_problems(header: Iterable[str], *, file: str) -> tuple[str, ...]:
    """Return one sentence for every column name the plant tables do not have."""
    unknown = [name for name in header if name not in BY_NAME]
    return tuple(f'{file}: there is no column "{n}"{nearest(n, BY_NAME)}; rename or remove it' for n in unknown)


def _unfit_texts(row: Row) -> Iterator[Complaint]:
    """Yield what no text of a garden may be: names of sane length, no signs that cannot be shown."""
    for column in COLUMNS:
        most = texts.LONGEST_NAME if column.name in ("botanical", "common") else texts.LONGEST_TEXT
        if fault := texts.fault(row.get(column.name, ""), most=most):
            yield column.name, fault


def _complaints(row: Row) -> Iterator[Complaint]:
    unfit = [column for column in COLUMNS if not fits(column, row.get(column.name, ""))]
    yield from ((column.name, column.allowed()) for column in unfit if column.name != "botanical")
    if not BOTANICAL.fullmatch(row.get("botanical", "")):
        yield "botanical", "genus and species, hybrids with ' × ', a cultivar in straight single quotes"
    if not unfit:
        for rule in (_sizes_agree, _seasons_agree, _leaves_agree, _groups_agree, _roles_agree):
            yield from rule(row)


def _sizes_agree(row: Row) -> Iterator[Complaint]:
    pairs = [(f"{what}_min_m", f"{what}_max_m") for what in ("height", "spread", "height_10", "spread_10")]
    for low, high in (*pairs, ("zone_min", "zone_max"), ("ph_min", "ph_max")):
        if float(row[low]) > float(row[high]):
            yield high, f"at least {low}, {row[low]}"
    for what in ("height", "spread"):
        mature, ten = row[f"{what}_max_m"], row[f"{what}_10_max_m"]
        if float(ten) > float(mature):
            yield f"{what}_10_max_m", f"at most the size at maturity, {mature}"
        if row["layer"] in HERBS and (ten, row[f"{what}_10_min_m"]) != (mature, row[f"{what}_min_m"]):
            yield f"{what}_10_max_m", f"the size at maturity, {row[f'{what}_min_m']} to {mature}, as for every herb"


def _seasons_agree(row: Row) -> Iterator[Complaint]:
    for what in ("bloom", "fruit", "leaf", "standing"):
        start, end = ("leaf_on", "leaf_off") if what == "leaf" else (f"{what}_start", f"{what}_end")
        if bool(row.get(start)) != bool(row.get(end)):
            yield (start if row.get(end) else end), f"a month, or empty {start} and {end} together"
    start, end = row.get("bloom_start", ""), row.get("bloom_end", "")
    if start.startswith("late") and end.startswith("early") and month_of(start) == month_of(end):
        yield "bloom_end", "a half month that is not before bloom_start, or all of that month"
    if row.get("flower_colours") and not row.get("bloom_start"):
        yield "bloom_start", "the first month of bloom, or empty flower_colours too"
    if bool(row.get("fruit_colour")) != bool(row.get("fruit_start")):
        yield "fruit_colour", "a colour exactly when fruit_start is given"
    if row["sun_best"] not in parts(row["sun_range"]):
        yield "sun_range", f"a range that holds sun_best, {row['sun_best']}"


def _leaves_agree(row: Row) -> Iterator[Complaint]:
    evergreen, casts = row["leaf"] == "evergreen", row["layer"] in CASTS_SHADE
    if evergreen and not row.get("foliage_winter"):
        yield "foliage_winter", "the winter leaf colour of an evergreen"
    if row["leaf"] in ("deciduous", "herbaceous", "annual") and row.get("foliage_winter"):
        yield "foliage_winter", f"nothing: the plant is {row['leaf']}"
    if evergreen and row.get("leaf_on"):
        yield "leaf_on", "nothing: an evergreen keeps its leaves"
    if casts and row["leaf"] == "deciduous" and not row.get("leaf_on"):
        yield "leaf_on", "the month of leafing out"
    if casts and evergreen and float(row["light_in_leaf"]) != float(row["light_bare"]):
        yield "light_bare", f"the same as light_in_leaf, {row['light_in_leaf']}, for an evergreen"
    if not casts and row["layer"] in HERBS and (float(row["light_in_leaf"]) or float(row["light_bare"])):
        yield "light_in_leaf", "0 for light_in_leaf and light_bare: herbs are taken as solid"
    if float(row["light_in_leaf"]) > float(row["light_bare"]):
        yield "light_bare", f"at least light_in_leaf, {row['light_in_leaf']}"


def _groups_agree(row: Row) -> Iterator[Complaint]:
    layer = row["layer"]
    if row["form"] not in FORMS_OF[layer]:
        yield "form", f"one of {', '.join(FORMS_OF[layer])} for the layer {layer}"
    if bool(row.get("climbs_by")) != (layer == "climber"):
        yield "climbs_by", "how it climbs, for climbers only"
    if bool(row.get("weight")) != (layer in ("climber", "wall fruit")):
        yield "weight", "light, medium or heavy, for climbers and wall fruit only"
    if bool(row.get("toxic_to")) != bool(row.get("toxicity")):
        yield "toxicity", "a grade exactly when toxic_to is given"
    elif row.get("toxicity_by"):
        yield from _grades_agree(row)
    if layer in HERBS and row.get("prune_group"):
        yield "prune_group", "nothing: herbs are cut back, not pruned"


def _grades_agree(row: Row) -> Iterator[Complaint]:
    grades = dict(filter(None, map(grade_parts, parts(row["toxicity_by"]))))
    if set(grades) != set(parts(row.get("toxic_to", ""))):
        yield "toxicity_by", f"one grade for each of toxic_to, {row.get('toxic_to', '') or 'which is empty'}"
    elif max(grades.values(), key=GRADES.index) != row.get("toxicity"):
        yield "toxicity", "the worst grade of toxicity_by"


def _roles_agree(row: Row) -> Iterator[Complaint]:
    role = row.get("role", "")
    if role and (role == "climber") != (row["layer"] in ("climber", "wall fruit")) and role != "kitchen":
        yield "role", "climber exactly for climbers and wall fruit, or kitchen"
    if row.get("sociability") and row["layer"] in ("tree", "climber", "wall fruit"):
        yield "sociability", "nothing: the scale is for what is planted in numbers"
    if row["botanical"] in parts(row.get("substitutes", "")):
        yield "substitutes", "other plants than itself"

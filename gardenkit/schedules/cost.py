"""What the garden costs: plants, materials, what is left out, and how that sits with the budget."""

import csv
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from importlib.resources import files
from pathlib import Path

import attrs

from gardenkit.brief.brief import Covers
from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.schedules.orders import ITEMS, Order
from gardenkit.schedules.plants import PlantLine, total_cost
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.build_up import TON
from gardenkit.units import CUBIC_YARD, FOOT, SQUARE_FOOT, System, counted

RESERVE = Figure(0.10, "share of plants and materials", f"{HOUSE}: for losses, cuts and second thoughts")
LEFT_OUT = "labour, delivery, taxes, tools, permits and the supports themselves are not in these figures"
OWN_FILE = "material_prices.csv"
METRIC_UNITS = {
    "cu yd": "m³",
    "US ton": "t",
    "sq ft": "m²",
    "ft": "m",
    "bag": "bag",
    "each": "each",
}  # a price is by one or the other
HOLDS = {"cu yd": CUBIC_YARD, "US ton": TON / 1000, "sq ft": SQUARE_FOOT, "ft": FOOT}  # of the other
WHOLE_FROM = 10.0  # a house value turned into another unit is rounded to whole money from here on. House value.


@attrs.frozen(kw_only=True)
class MaterialPrice:
    """What one unit of a material costs, and who says so."""

    item: str
    unit: str
    price: float
    source: str


@attrs.frozen(kw_only=True)
class CostLine:
    """One line of the cost summary; ``how`` is the amount and the unit price in words."""

    group: str
    name: str
    how: str
    cost: float
    source: str


@attrs.frozen(kw_only=True)
class Costs:
    """The cost summary: its lines, their sum, a reserve, and the whole."""

    lines: tuple[CostLine, ...]
    reserve: float
    currency: str

    @property
    def plants(self) -> float:
        """Cost of plants."""
        return sum(line.cost for line in self.lines if line.group == "plants")

    @property
    def materials(self) -> float:
        """Cost of materials."""
        return sum(line.cost for line in self.lines if line.group == "materials")

    @property
    def total(self) -> float:
        """Plants, materials and the reserve."""
        return self.plants + self.materials + self.reserve


def material_prices(own: Path | None = None, *, system: System = "imperial") -> Mapping[str, MaterialPrice]:
    """Return the price of every material by the unit that ``system`` buys it in; rows of the garden's own file stand
    over the house values, by either unit; without one by that of the system.

    Raises GardenError for a row of that file that cannot be read.
    """
    prices = dict(_house_prices(system))
    if own is not None and own.exists():
        try:
            text = own.read_text(encoding="utf-8-sig")
        except (OSError, UnicodeDecodeError) as error:
            raise GardenError(f"{own.name} cannot be read ({error}); save it as CSV in UTF-8") from error
        prices |= _own(_read(text, own.name, known=prices), prices)
    return prices


def costs(
    plants: Sequence[PlantLine],
    orders: Iterable[Order],
    *,
    prices: Mapping[str, MaterialPrice] | None = None,
    currency: str = "$",
    system: System = "imperial",
) -> Costs:
    """Return the cost summary: plants layer by layer, then every material as it is ordered."""
    known = prices or material_prices(system=system)
    made = (_material_line(o.name, o.priced(system), known[o.item], currency) for o in orders)
    lines = [*_plant_lines(plants), *made]
    bare = sum(line.cost for line in lines)
    return Costs(lines=tuple(lines), reserve=bare * RESERVE, currency=currency)


def cost_findings(
    summary: Costs, budget: float | None, *, covers: Covers = "plants and materials"
) -> tuple[Finding, ...]:
    """Return how what the budget covers sits with it, naming the dearest line, and what is left out."""
    found = [Finding(where="cost", what=LEFT_OUT, source=HOUSE, seriousness="note", topic="cost")]
    if budget is None or not summary.lines:
        return tuple(found)
    alone = covers == "plants"
    lines = [line for line in summary.lines if line.group == "plants"] if alone else summary.lines
    total = sum(line.cost for line in lines) if alone else summary.total
    if not lines:
        return tuple(found)
    dearest = max(lines, key=lambda line: line.cost)
    money = f"{summary.currency}{total:,.0f}"
    over = total > budget
    side = "over" if over else "within"
    summed = "plants come" if alone else "plants, materials and reserve come"
    what = f"{summed} to {money}, {side} the budget of {summary.currency}{budget:,.0f}"
    why = f"largest line: {dearest.name}, {summary.currency}{dearest.cost:,.0f}"
    found.append(
        Finding(
            where="cost",
            what=what,
            why=why,
            source="prices named in the cost table, most of them " + HOUSE,
            seriousness="warning" if over else "note",
            topic="cost",
        )
    )
    return tuple(found)


def _plant_lines(plants: Sequence[PlantLine]) -> list[CostLine]:
    layers: dict[str, list[PlantLine]] = {}
    for line in plants:
        layers.setdefault(line.species.layer, []).append(line)
    return [
        CostLine(
            group="plants",
            name=layer,
            how=f"{counted(sum(line.count for line in group), 'plant')} of {counted(len(group), 'kind')}",
            cost=total_cost(group),
            source="; ".join(dict.fromkeys(line.priced for line in group)),
        )
        for layer, group in layers.items()
    ]


def _material_line(name: str, amount: float, price: MaterialPrice, currency: str) -> CostLine:
    unit = price.unit + ("s" if price.unit in ("bag", "US ton") and amount != 1 else "")
    how = f"{amount:g} {unit} at {currency}{price.price:,.2f}"
    return CostLine(group="materials", name=name, how=how, cost=amount * price.price, source=price.source)


@cache
def _house_prices(system: System) -> Mapping[str, MaterialPrice]:
    text = files("gardenkit").joinpath("data/material_prices.csv").read_text(encoding="utf-8")
    prices = _read(text, "material_prices.csv")
    if system == "imperial":
        return prices
    turned = {item: _by(price, METRIC_UNITS[price.unit]) for item, price in prices.items()}
    return {
        item: attrs.evolve(p, price=round(p.price, 0 if p.price >= WHOLE_FROM else 2)) for item, p in turned.items()
    }


def _by(price: MaterialPrice, unit: str) -> MaterialPrice:
    """Return the same price by the same unit or its twin in the other system."""
    each = price.price / HOLDS.get(price.unit, 1.0) * HOLDS.get(unit, 1.0)
    return price if unit == price.unit else attrs.evolve(price, unit=unit, price=each)


def _own(rows: Mapping[str, MaterialPrice], known: Mapping[str, MaterialPrice]) -> dict[str, MaterialPrice]:
    return {item: _by(price, known[item].unit) for item, price in rows.items()}


def _read(text: str, name: str, *, known: Mapping[str, MaterialPrice] | None = None) -> dict[str, MaterialPrice]:
    found = {}
    for number, row in enumerate(csv.DictReader(text.splitlines()), start=2):
        item = (row.get("item") or "").strip()
        if item not in ITEMS:
            raise GardenError(f'{name} line {number}: there is no material "{item}"{nearest(item, ITEMS)}')
        try:
            price = float(row.get("price") or "")
        except ValueError:
            price = -1.0
        if not price >= 0:
            raise GardenError(f'{name} line {number}: the price of {item} is "{row.get("price")}"; give 0 or more')
        unit = (row.get("unit") or "").strip() or (known[item].unit if known else "")
        if known and unit not in (either := _either(known[item].unit)):
            raise GardenError(
                f'{name} line {number}: {item} is priced by the {" or ".join(either)}, not by the "{unit}"'
            )
        found[item] = MaterialPrice(item=item, unit=unit, price=price, source=row.get("source") or "designer's price")
    return found


def _either(unit: str) -> tuple[str, ...]:
    """Return the unit of a price in both systems, that which is asked for first."""
    pairs = [{imperial, metric} for imperial, metric in METRIC_UNITS.items()]
    return (unit, *(other for pair in pairs if unit in pair for other in pair - {unit}))

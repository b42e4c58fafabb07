"""What the garden costs: plants, materials, what is left out, and how that sits with the budget."""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from importlib.resources import files
from pathlib import Path

import attrs

from gardenkit import reading, texts
from gardenkit.brief.pricing import Covers, Pricing, in_dollars
from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.schedules.labour import PLANNING_RATE, Work, hours
from gardenkit.schedules.orders import IN_BAGS, ITEMS, Order
from gardenkit.schedules.plants import PlantLine, total_cost
from gardenkit.schedules.span import Span, together
from gardenkit.sources import HOUSE
from gardenkit.structure.build_up import TON
from gardenkit.structure.posts import METRIC_BAG, bag_of
from gardenkit.units import CUBIC_YARD, FOOT, SAID, SQUARE_FOOT, System, counted

PLANT_SPREAD = Span(0.8, 1.0, 1.35)  # of our own price of a plant, from nursery to nursery. House value.
PLANNING = "US$ "  # the money of our own prices, where the garden's is another and has no price of its own
OWN_FILE = "material_prices.csv"
PRICE_COLUMNS = ("item", "unit", "low", "price", "high", "source")
METRIC_UNITS = {
    "cu yd": "m³",
    "US ton": "t",
    "sq ft": "m²",
    "ft": "m",
    "bag": "bag",
    "each": "each",
}  # a price is by one or the other
METRIC_BAGS = {  # what a bag of metric countries holds of ours
    "concrete": METRIC_BAG / bag_of("imperial").weight,
    **{item: litres / feet for item, ((feet, _), (litres, _)) in IN_BAGS.items()},
}
HOLDS = {"cu yd": CUBIC_YARD, "US ton": TON / 1000, "sq ft": SQUARE_FOOT, "ft": FOOT}  # of the other
ENDS = ("low", "high")  # columns of a price table beside the price: without them it is certain
WHOLE_FROM = 10.0  # a house value turned into another unit is rounded to whole money from here on. House value.


@attrs.frozen(kw_only=True)
class MaterialPrice:
    """What one unit of a material costs, from ``low`` to ``high``, and who says so; ``own``: the garden's own table."""

    item: str
    unit: str
    price: float
    low: float
    high: float
    source: str
    own: bool = False

    @property
    def span(self) -> Span:
        """Low, likely and high."""
        return Span(self.low, self.price, self.high)


@attrs.frozen(kw_only=True)
class CostLine:
    """One line of the cost summary; ``how`` is the amount and the unit price in words. One that has no price in the
    garden's money yet is not ``priced`` and costs nothing in the sums.
    """

    group: str
    item: str
    name: str
    how: str
    span: Span
    source: str
    priced: bool = True

    @property
    def cost(self) -> float:
        """What it likely costs."""
        return self.span.likely


@attrs.frozen(kw_only=True)
class Costs:
    """The cost summary: plants and materials line by line with their reserve, then labour, delivery and tax.

    ``rate`` is what an hour costs in ``currency``, None while nobody has said it. ``planning``: the garden's money is
    another, and everything is still reckoned by our own figures in US dollars.
    """

    lines: tuple[CostLine, ...]
    work: tuple[Work, ...]
    currency: str
    rate: float | None
    pricing: Pricing = Pricing()
    planning: bool = False

    @property
    def plants(self) -> float:
        """Cost of plants."""
        return sum(line.cost for line in self.lines if line.group == "plants")

    @property
    def materials(self) -> float:
        """Cost of materials."""
        return sum(line.cost for line in self.lines if line.group == "materials")

    @property
    def reserve(self) -> float:
        """What is kept back of plants and materials, for losses, cuts and second thoughts."""
        return self.total - self.plants - self.materials

    @property
    def total(self) -> float:
        """Plants, materials and the reserve."""
        return self.bought.likely

    @property
    def bought(self) -> Span:
        """Plants, materials and the reserve, low, likely and high."""
        return self._bare * self._kept_back

    @property
    def hours(self) -> Span:
        """Hours of one person that are paid apart."""
        return hours(self.work)

    @property
    def labour(self) -> Span:
        """What those hours cost; nothing while no rate is known."""
        return self.hours * (self.rate or 0.0)

    @property
    def labour_reserve(self) -> Span:
        """What is kept back for hours that nobody foresaw."""
        return self.labour * (self.pricing.contingency / 100)

    @property
    def delivery(self) -> Span:
        """What the delivery of plants and materials adds."""
        return self._bare * (self.pricing.delivery / 100)

    @property
    def tax(self) -> Span:
        """What tax adds to all the rest."""
        return self._before_tax * (self.pricing.tax / 100)

    @property
    def everything(self) -> Span:
        """Plants, materials, labour, their reserves, delivery and tax."""
        return self._before_tax + self.tax

    def covered(self, covers: Covers) -> Span:
        """Return what a budget that ``covers`` so much is to pay for."""
        if covers == "plants, materials and labour":
            return self.everything
        return self.bought if covers == "plants and materials" else together(line.span for line in self.under(covers))

    def left_for_plants(self, amount: float, covers: Covers) -> float:
        """Return what plants may cost so that all that is covered comes to an amount, the rest as it is now."""
        more = {
            "plants": 1.0,
            "plants and materials": self._kept_back,
            "plants, materials and labour": self.on_goods,
        }[covers]
        return self.plants + (amount - self.covered(covers).likely) / more

    def under(self, covers: Covers) -> tuple[CostLine, ...]:
        """Return the lines of what is bought that a budget covers."""
        return tuple(line for line in self.lines if covers != "plants" or line.group == "plants")

    def lacking(self, covers: Covers) -> str:
        """Return why what is covered cannot be held against an amount of the garden's money, "" where it can."""
        if self.planning or not all(line.priced for line in self.under(covers)):
            return "not every price is in the garden's own money; fill in its price table"
        unrated = covers == "plants, materials and labour" and self.rate is None
        return "labour has no rate yet; give what an hour costs" if unrated else ""

    @property
    def left_out(self) -> str:
        """What is in none of these sums, as one sentence."""
        missing = [] if self.rate is not None else [f"labour, which has no rate in {self.currency.strip()} yet"]
        missing += ["delivery, where it is not in a price"] if not self.pricing.delivery else []
        missing += ["taxes"] if not self.pricing.tax else []
        said = f"{', '.join([*missing, 'tools', 'felling', 'seats'])} and permits are not in these figures"
        if self.rate is not None:
            said = f"labour is a sum of its own beside plants and materials; {said}"
        if self.plants and self.pricing.contingency:
            said += "; the nursery's spare plants are paid from the reserve"
        without = sum(not line.priced for line in self.lines)
        return said + (f"; {counted(without, 'line')} without a price in {self.currency.strip()}" if without else "")

    @property
    def on_goods(self) -> float:
        """What a unit of plants or materials comes to with its reserve, delivery and tax."""
        return (self._kept_back + self.pricing.delivery / 100) * (1 + self.pricing.tax / 100)

    @property
    def on_work(self) -> float:
        """What a unit of labour comes to with its reserve and tax."""
        return self._kept_back * (1 + self.pricing.tax / 100)

    @property
    def _bare(self) -> Span:
        return together(line.span for line in self.lines)

    @property
    def _kept_back(self) -> float:
        return 1 + self.pricing.contingency / 100

    @property
    def _before_tax(self) -> Span:
        return self.bought + self.labour + self.labour_reserve + self.delivery


def material_prices(
    own: Path | None = None, *, system: System = "imperial", currency: str = "$"
) -> Mapping[str, MaterialPrice]:
    """Return the price of every material by the unit that ``system`` buys it in; rows of the garden's own file, in its
    own ``currency``, stand over the house values, by either unit; without one by that of the system.

    Raises GardenError for a row of that file that cannot be read.
    """
    prices = dict(_house_prices(system))
    if own is not None and own.exists():
        try:
            text = own.read_text(encoding="utf-8-sig")
        except (OSError, UnicodeDecodeError) as error:
            raise GardenError(f"{own.name} cannot be read ({error}); save it as CSV in UTF-8") from error
        prices |= _own(_read(text, own.name, known=prices, currency=currency), prices)
    return prices


def price_table(orders: Iterable[Order], *, system: System = "imperial") -> str:
    """Return a price table for the garden's own prices, as CSV: what is ordered and by which unit, prices empty."""
    prices, out = material_prices(system=system), io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(PRICE_COLUMNS)
    writer.writerows((order.item, prices[order.item].unit, "", "", "", "") for order in orders)
    return out.getvalue()


def costs(
    plants: Sequence[PlantLine],
    orders: Iterable[Order],
    *,
    work: Sequence[Work] = (),
    prices: Mapping[str, MaterialPrice] | None = None,
    currency: str = "$",
    pricing: Pricing | None = None,
    system: System = "imperial",
    own: bool = False,
) -> Costs:
    """Return the cost summary: plants layer by layer, every material as it is ordered, then the ``work``.

    Our own prices are US dollars and never stand for another money: where ``currency`` is another, sums hold the
    garden's own prices alone, or while it has none at all, are planning figures in US dollars. ``own``: there are
    prices of its own, if only for kinds that are not planted.
    """
    known, ordered, terms = prices or material_prices(system=system), tuple(orders), pricing or Pricing()
    own = own or terms.labour_rate is not None or any(known[order.item].own for order in ordered)
    own = own or any(line.priced != HOUSE for line in plants)
    dollars = in_dollars(currency)
    planning = not dollars and not own
    money = PLANNING if planning else currency
    ours = dollars or planning  # our own prices count
    made = (_material_line(o, o.priced(system), known[o.item], money, ours=ours) for o in ordered)
    rate = float(PLANNING_RATE) if terms.labour_rate is None and ours else terms.labour_rate
    return Costs(
        lines=(*_plant_lines(plants, ours=ours), *made),
        work=tuple(work),
        currency=money,
        rate=rate,
        pricing=terms,
        planning=planning,
    )


def cost_findings(
    summary: Costs, budget: float | None, *, covers: Covers = "plants and materials", currency: str = "$"
) -> tuple[Finding, ...]:
    """Return how what the budget covers sits with it, naming the dearest line, and what is left out; a budget in one
    ``currency`` is not compared with sums in another.
    """
    found = [Finding(where="cost", what=summary.left_out, source=HOUSE, seriousness="note", topic="cost")]
    if summary.planning:
        what = f"prices are planning figures in US dollars, not in {currency.strip()}; fill in your own price table"
        found.append(Finding(where="cost", what=what, source=HOUSE, seriousness="caution", topic="cost"))
    if budget is None or not summary.under(covers):
        return tuple(found)
    return (*found, _against(summary, budget, covers=covers, currency=currency))


SUMMED: dict[Covers, str] = {
    "plants": "plants come",
    "plants and materials": "plants, materials and reserve come",
    "plants, materials and labour": "plants, materials, labour, delivery and tax come",
}


def _against(summary: Costs, budget: float, *, covers: Covers, currency: str) -> Finding:
    """Return how the sum of what the budget covers sits with it."""
    total, comparable = summary.covered(covers), not summary.lacking(covers)
    dearest = max(summary.under(covers), key=lambda line: line.cost)
    over = comparable and total.likely > budget
    side = f"{'over' if over else 'within'} the budget" if comparable else "not comparable yet with the budget"
    what = f"{SUMMED[covers]} to {summary.currency}{total.likely:,.0f}, {side} of {currency}{budget:,.0f}"
    if covers == "plants, materials and labour":
        what += f"; it may come to {summary.currency}{total.high:,.0f}"
    return Finding(
        where="cost",
        what=what,
        why=f"largest line: {dearest.name}, {summary.currency}{dearest.cost:,.0f}",
        source="prices named in the cost table, most of them " + HOUSE,
        seriousness="warning" if over else "note",
        topic="cost",
    )


def _plant_lines(plants: Sequence[PlantLine], *, ours: bool) -> list[CostLine]:
    layers: dict[str, list[PlantLine]] = {}
    for line in plants:
        layers.setdefault(line.species.layer, []).append(line)
    return [_layer(layer, group, ours=ours) for layer, group in layers.items()]


def _layer(layer: str, group: Sequence[PlantLine], *, ours: bool) -> CostLine:
    house = [line for line in group if line.priced == HOUSE]
    known = total_cost(line for line in group if line.priced != HOUSE)
    span = Span(known, known, known) + (PLANT_SPREAD * total_cost(house) if ours else Span())
    how = f"{counted(sum(line.bought for line in group), 'plant')} of {counted(len(group), 'kind')}"
    return CostLine(
        group="plants",
        item=layer,
        name=layer,
        how=how if ours or not house else f"{how}, {len(house)} of them without a price yet",
        span=span,
        source="; ".join(dict.fromkeys(line.priced for line in group)),
        priced=ours or not house,
    )


def _material_line(order: Order, amount: float, price: MaterialPrice, currency: str, *, ours: bool) -> CostLine:
    priced = ours or price.own
    unit = price.unit + ("s" if price.unit in ("bag", "US ton") and amount != 1 else "")
    how = f"{amount:g} {unit}" + (f" at {currency}{price.price:,.2f}" if priced else ", no price yet")
    return CostLine(
        group="materials",
        item=order.item,
        name=order.name,
        how=how,
        span=price.span * amount if priced else Span(),
        source=price.source if priced else "",
        priced=priced,
    )


@cache
def _house_prices(system: System) -> Mapping[str, MaterialPrice]:
    text = files("gardenkit").joinpath("data/material_prices.csv").read_text(encoding="utf-8")
    prices = _read(text, "material_prices.csv")
    if system == "imperial":
        return prices
    turned = {item: _by(price, METRIC_UNITS[price.unit]) for item, price in prices.items()}
    turned |= {item: _in_metric_bags(turned[item], share) for item, share in METRIC_BAGS.items()}
    return {
        item: attrs.evolve(p, price=_even(p.price), low=_even(p.low), high=_even(p.high)) for item, p in turned.items()
    }


def _in_metric_bags(price: MaterialPrice, share: float) -> MaterialPrice:
    """Return the price of a bag for the bag that metric countries sell, which holds that ``share`` of it."""
    source = f"{price.source}, here for one that holds {share:.0%} of it"
    low, likely, high = (end * share for end in (price.low, price.price, price.high))
    return attrs.evolve(price, low=low, price=likely, high=high, source=source)


def _even(price: float) -> float:
    return round(price, 0 if price >= WHOLE_FROM else 2)


def _by(price: MaterialPrice, unit: str) -> MaterialPrice:
    """Return the same price by the same unit or its twin in the other system."""
    if price.unit == unit:
        return price
    times = HOLDS.get(unit, 1.0) / HOLDS.get(price.unit, 1.0)
    return attrs.evolve(price, unit=unit, price=price.price * times, low=price.low * times, high=price.high * times)


def _own(rows: Mapping[str, MaterialPrice], known: Mapping[str, MaterialPrice]) -> dict[str, MaterialPrice]:
    return {item: _by(price, known[item].unit) for item, price in rows.items()}


def _read(
    text: str, name: str, *, known: Mapping[str, MaterialPrice] | None = None, currency: str = "$"
) -> dict[str, MaterialPrice]:
    found: dict[str, MaterialPrice] = {}
    for number, row in _rows(text, name):
        where, item = f"{name} line {number}", row.get("item", "")
        if item not in ITEMS:
            raise GardenError(f'{where}: there is no material "{item[:SAID]}"{nearest(item, ITEMS)}')
        if item in found:
            raise GardenError(f"{where}: {item} is there twice; keep one of the two rows")
        if known and not row.get("price"):
            if any(row.get(key) for key in ENDS):
                raise GardenError(f"{where}: {item} has a low or a high price and no likely one; give it under price")
            continue  # not filled in yet
        price = _money(row, "price", where, currency)
        low, high = (_money(row, key, where, currency) if row.get(key) else price for key in ENDS)
        if not low <= price <= high:
            raise GardenError(f"{where}: {item} costs {low:g}, {price:g} and {high:g}; give low, likely and high")
        unit = row.get("unit") or (known[item].unit if known else "")
        if known and unit not in (either := _either(known[item].unit)):
            raise GardenError(f'{where}: {item} is priced by the {" or ".join(either)}, not by the "{unit[:SAID]}"')
        found[item] = MaterialPrice(
            item=item,
            unit=unit,
            price=price,
            low=low,
            high=high,
            source=_source(row, where),
            own=known is not None,
        )
    return found


def _rows(text: str, name: str) -> Iterator[tuple[int, dict[str, str]]]:
    """Return the filled rows of a price table, each with its line; cells part at commas, semicolons or tabs."""
    lines = text.splitlines()
    mark = next((mark for mark in ("\t", ";") if lines and mark in lines[0]), ",")
    try:
        table = [[cell.strip() for cell in row] for row in csv.reader(lines, delimiter=mark)]
    except csv.Error as error:
        raise GardenError(f"{name} is no table that can be read ({error}); save it as CSV in UTF-8") from error
    header = table[0] if table else []
    for column in dict.fromkeys(header):
        if column and column not in PRICE_COLUMNS:
            shown = texts.NO_NAME.sub("", column)[:SAID]
            said = f'there is no column "{shown}"{nearest(column, PRICE_COLUMNS)}'
            raise GardenError(f"{name}: {said}; use {', '.join(PRICE_COLUMNS)}")
        if column and header.count(column) > 1:
            raise GardenError(f'{name}: the column "{column}" is there twice; leave one out')
    if not {"item", "price"} <= set(header):
        raise GardenError(f"{name}: its first line names no columns; begin it with {', '.join(PRICE_COLUMNS)}")
    for number, cells in enumerate(table[1:], start=2):
        if any(cell for at, cell in enumerate(cells) if at >= len(header) or not header[at]):
            said = "more cells are filled than there are columns; put a number with a comma in quotes"
            raise GardenError(f"{name} line {number}: {said}")
        if any(cells):
            yield number, dict(zip(header, cells, strict=False))


def _money(row: Mapping[str, str], key: str, where: str, currency: str) -> float:
    what = f"the {key} of {row.get('item')} in {where}"
    return reading.amount(row.get(key, ""), what, money=currency, small=True)


def _source(row: Mapping[str, str], where: str) -> str:
    """Return who says a price, in words that can be shown. Raises GardenError."""
    source = row.get("source", "")
    if fault := texts.fault(source):
        raise GardenError(f"{where}: the source {fault}")
    return source or "designer's price"


def _either(unit: str) -> tuple[str, ...]:
    """Return the unit of a price in both systems, that which is asked for first."""
    pairs = [{imperial, metric} for imperial, metric in METRIC_UNITS.items()]
    return (unit, *(other for pair in pairs if unit in pair for other in pair - {unit}))

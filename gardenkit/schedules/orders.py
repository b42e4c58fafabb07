"""What to order: each material rounded the way it is sold, in bulk, bags, lengths or tons, in both systems of units."""

import math
from collections.abc import Iterable, Mapping, Sequence

import attrs

from gardenkit.findings import GardenError
from gardenkit.schedules.lines import Line, Unit
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure import build_up
from gardenkit.structure.posts import METRIC_BAG
from gardenkit.units import CUBIC_FOOT, CUBIC_YARD, FOOT, SQUARE_FOOT, System, counted, show_length

MULCH_BAG = Figure(2 * CUBIC_FOOT, "m3", f"{HOUSE}: the usual bag of bark, 2 cu ft")
COMPOST_BAG = Figure(1 * CUBIC_FOOT, "m3", f"{HOUSE}: the usual bag of compost, 1 cu ft")
BAGS: Mapping[str, Figure] = {"mulch": MULCH_BAG, "compost": COMPOST_BAG}  # in bulk or, where that is less, in bags
SYSTEMS: tuple[System, System] = ("imperial", "metric")
LITRE_BAG = Figure(0.05, "m3", f"{HOUSE}: the usual bag of bark or compost in metric countries, 50 L")
IN_BAGS: Mapping[str, tuple[tuple[Figure, str], tuple[Figure, str]]] = {  # sold in bags alone: one of either system
    "potting mix": ((Figure(2 * CUBIC_FOOT, "m3", f"{HOUSE}: the usual large bag"), "2 cu ft"), (LITRE_BAG, "50 L")),
    "joint filling": (
        (Figure(CUBIC_FOOT / 2, "m3", f"{HOUSE}: what a bag fills"), "50 lb"),
        (Figure(0.0125, "m3", f"{HOUSE}: what a bag fills"), "20 kg"),
    ),
}
HALF_YARD = Figure(CUBIC_YARD / 2, "m3", f"{HOUSE}: bulk is ordered to the next half cubic yard")
HALF_METRE = Figure(0.5, "m3", f"{HOUSE}: bulk is ordered to the next half cubic metre")

WHOLE = "up to the next whole number"
FIXED = "with the screws and bolts it is fixed by"
Amounts = tuple[float, float]  # the same need as either system rounds and prices it

# What each item is called on an order, in the order of the work
ITEMS: Mapping[str, str] = {
    "mulch": "bark mulch",
    "compost": "compost, dug in",
    "crushed stone": "crushed stone base, with 10 % for compacting",
    "bedding": "bedding sand or stone screenings",
    "joint filling": "joint filling between flagstones",
    "gravel": "gravel",
    "bark": "path bark",
    "topsoil": "topsoil under grass",
    "stones": "stepping stones and flagstones",
    "paving": "paving",
    "lawn": "lawn, seed or turf",
    "meadow seed": "meadow seed, for the area to be sown",
    "edging": "edging",
    "concrete": "concrete mix for posts, in bags",
    "excavation": "digging, soil as it lies",
    "soil placed": "soil placed and firmed",
    "spoil away": "soil taken away, loose",
    "fill soil": "soil brought in, loose",
    "retaining wall": "retaining wall, its face and what is buried",
    "gully": "gully with its grate and trap",
    "channel drain": "channel drain with its grate",
    "drain pipe": "perforated drain pipe",
    "pond": "pond liner with its underlay",
    "post": "post, 4 x 4 in (90 mm)",
    "timber 2 x 2": "sawn timber, 2 x 2 in (45 x 45 mm)",
    "timber 2 x 4": "sawn timber, 2 x 4 in (45 x 90 mm)",
    "timber": "sawn timber, 2 x 6 in (45 x 140 mm)",
    "timber 2 x 8": "sawn timber, 2 x 8 in (45 x 190 mm)",
    "timber 2 x 10": "sawn timber, 2 x 10 in (45 x 240 mm)",
    "lattice": "lattice",
    "fence boards": "boards of fences and screens",
    "gate": "gate, with hinges and latch",
    "wire": "training wire or rod",
    "fixing": "eye bolts, turnbuckles and caps",
    "dripline": "dripline",
    "supply pipe": "supply pipe of the watering",
    "valve": "valve of the watering",
    "backflow preventer": "backflow preventer",
    "controller": "controller of the watering, a station a valve",
    "drip filter": "drip filter",
    "pressure regulator": "pressure regulator",
    "steps": "steps, built: riser and tread by their width",
    "handrail": "handrail with its posts",
    "hedge plant": "hedge plant, bare-rooted, 2 ft (60 cm)",
    "small hedge plant": "box or other edging plant",
    "large hedge plant": "yew or other slow hedge plant",
    "vegetable seed": "vegetable seed, packets",
    "vegetable plant": "young vegetable plants",
    "sets": "sets, cloves and seed potatoes",
    "crowns": "crowns of asparagus and the like",
    "boards": "boards, 2 in (50 mm) thick",
    "decking": "decking with its joists",
    "raised bed soil": "soil for raised beds",
    "potting mix": "potting mix",
    "greenhouse": "greenhouse, frame and glass",
    "shed": "shed: walls, floor and roof",
    "water butt": "water butt with stand and tap",
    "bins store": "bins store",
    "clothes line": "clothes line, rotary",
    "play frame": "play frame",
    "bench": "bench",
    "garden table": "garden table",
    "garden chair": "garden chair",
    "statue": "statue with plinth",
    "sundial": "sundial",
    "bird bath": "bird bath",
    "pot": "pot",
    "planter": "planter of boards",
    "boulder": "boulder, set",
    "fire bowl": "fire bowl",
    "cistern": "cistern, 1,000 L (265 gal)",
    "path light": "path light, 12 V",
    "step light": "step light, 12 V",
    "wall light": "wall light, 12 V",
    "seat light": "seat light, 12 V",
    "tree light": "tree light, 12 V",
    "cable": "low-voltage cable",
    "transformer": "low-voltage transformer",
}


@attrs.frozen(kw_only=True)
class Order:
    """What to order of one item: the exact need, and the amount rounded the way it is sold, in both systems.

    ``feet`` and ``metres`` are the rounded amounts in the unit each system prices by: cubic yards, US tons, feet,
    square feet or bags; cubic metres, tonnes, metres, square metres or bags.
    """

    item: str
    name: str
    amount: float
    unit: Unit
    feet: float
    metres: float
    imperial: str
    metric: str
    rule: str

    def words(self, system: System) -> str:
        """Return the order in the garden's own units."""
        return self.imperial if system == "imperial" else self.metric

    def priced(self, system: System) -> float:
        """Return the rounded amount in the unit that the item is priced by."""
        return self.feet if system == "imperial" else self.metres


def orders(lines: Iterable[Line]) -> tuple[Order, ...]:
    """Return one order an item, in the order of ITEMS: bulk to the next half, bags whole, lengths to the foot."""
    listed = tuple(lines)
    return tuple(_order(item, group) for item in ITEMS if (group := [line for line in listed if line.item == item]))


def bulk(volume: float, system: System = "imperial") -> float:
    """Return m3 rounded up to the next half cubic yard, or half cubic metre.

    >>> round(bulk(2.963 * 0.9144**3) / 0.9144**3, 6)
    3.0
    """
    step = HALF_YARD if system == "imperial" else HALF_METRE
    return math.ceil(round(volume / step, 9)) * float(step)


def whole_bags(volume: float, bag: float) -> int:
    """Return whole bags of ``bag`` m3, rounded up. Raises GardenError for a bag without size."""
    if not bag > 0:
        raise GardenError(f"a bag of {bag:g} m3 holds nothing; give its size above 0")
    return math.ceil(round(volume / bag, 9))


def whole_length(metres: float, system: System) -> str:
    """Return a length rounded up to the whole foot or metre it is bought in."""
    if system == "imperial":
        return f"{math.ceil(round(metres / FOOT, 6)):,} ft"
    return f"{math.ceil(round(metres, 6)):,} m"


def whole_area(square_metres: float, system: System) -> str:
    """Return an area rounded up to the whole square foot or metre it is bought in."""
    if system == "imperial":
        return f"{math.ceil(round(square_metres / SQUARE_FOOT, 6)):,} sq ft"
    return f"{math.ceil(round(square_metres, 6)):,} m²"


# ---- helpers


def _order(item: str, lines: Sequence[Line]) -> Order:
    total, unit = sum(line.amount for line in lines), lines[0].unit
    amounts, imperial, metric, rule = _rounded(item, total, unit, sum(line.count for line in lines), lines)
    return Order(
        item=item,
        name=ITEMS[item],
        amount=total,
        unit=unit,
        feet=amounts[0],
        metres=amounts[1],
        imperial=imperial,
        metric=metric,
        rule=rule,
    )


def _pieces(lines: Sequence[Line], system: System) -> str:
    """Return how many pieces of which length a length is bought for; nothing where it may be cut anywhere."""
    found: dict[str, int] = {}
    for line in lines:
        if not line.count:
            return ""
        long = show_length(line.amount / line.count, system)
        found[long] = found.get(long, 0) + line.count
    return f": {', '.join(f'{number} of {long}' for long, number in found.items())}"


def _sheets(lines: Sequence[Line], system: System) -> str:
    """Return the pieces that an area is bought in where each must be whole, as a liner; nothing where it may be cut."""
    if not all(line.sheet for line in lines):
        return ""
    return f": {', '.join(' by '.join(show_length(side, system) for side in line.sheet) for line in lines)}"


def _bags(item: str, total: float) -> tuple[Amounts, str, str, str]:
    """Return what is sold in bags alone, whole ones in either system."""
    (feet, of_feet), (litres, of_litres) = IN_BAGS[item]
    imperial, metric = whole_bags(total, float(feet)), whole_bags(total, float(litres))
    in_feet, in_litres = f"{counted(imperial, 'bag')} of {of_feet}", f"{counted(metric, 'bag')} of {of_litres}"
    return (imperial, metric), in_feet, in_litres, "bags whole"


def _rounded(item: str, total: float, unit: Unit, count: int, lines: Sequence[Line]) -> tuple[Amounts, str, str, str]:
    if item == "concrete":
        number = math.ceil(total)
        return (
            (number, number),
            f"{number} bags of 80 lb",
            f"{number} bags of {METRIC_BAG:g} kg",
            "whole bags up, support by support",
        )
    if unit == "each":
        number = math.ceil(round(total, 6))
        return (number, number), f"{number}", f"{number}", WHOLE
    if item in IN_BAGS:
        return _bags(item, total)
    if unit == "m3":
        yards, metres = bulk(total) / CUBIC_YARD, bulk(total, "metric")
        feet_bags, litre_bags = "", ""
        if item in BAGS:
            feet_bags = f", or {whole_bags(total, BAGS[item])} bags of {BAGS[item] / CUBIC_FOOT:g} cu ft"
            litre_bags = f", or {whole_bags(total, LITRE_BAG)} bags of {LITRE_BAG * 1000:.0f} L"
        if item == "gravel":  # what is ordered, by the weight that a truck carries it by
            feet_bags = f", weighing about {build_up.gravel_tons(yards * CUBIC_YARD, 1.0):.1f} US tons"
            litre_bags = f", weighing about {build_up.gravel_tons(metres, 1.0) * build_up.TON / 1000:.1f} t"
        rule = "bulk to the next half, bags whole" if item in BAGS else "bulk to the next half"
        return (yards, metres), f"{yards:g} cu yd{feet_bags}", f"{metres:g} m³{litre_bags}", rule
    if unit == "m":
        long = math.ceil(round(total / FOOT, 6)), math.ceil(round(total, 6))
        cut, metric = (f"{whole_length(total, system)}{_pieces(lines, system)}" for system in SYSTEMS)
        return long, cut, metric, f"{WHOLE}; {FIXED}" if item.startswith("timber") else WHOLE
    if unit == "m2":
        square = math.ceil(round(total / SQUARE_FOOT, 6)), math.ceil(round(total, 6))
        cut, metric = (f"{whole_area(total, system)}{_sheets(lines, system)}" for system in SYSTEMS)
        return square, cut, metric, WHOLE
    with_waste = total * (1 + build_up.WASTE)
    tons = math.ceil(round(with_waste / build_up.TON * 10, 6)) / 10
    pieces = f"{counted(count, 'stone')}, " if count else ""
    metric_tons = math.ceil(round(with_waste / 10, 6)) / 100
    imperial, metric = (
        f"{pieces}{amount} with 10 % for cuts"
        for amount in (f"{tons:g} US {'ton' if tons == 1 else 'tons'}", f"{metric_tons:g} t")
    )
    return (tons, metric_tons), imperial, metric, build_up.WASTE.source

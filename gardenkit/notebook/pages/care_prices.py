"""How the garden is priced and when it is planted: what an hour of work costs, the crew, percentages, the first year,
and the garden's own price table.
"""

from functools import partial

import ipywidgets as w

from gardenkit import reading
from gardenkit.brief.pricing import Pricing
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.part import Part
from gardenkit.planting.planting import Planting
from gardenkit.project.edits import brief as edits
from gardenkit.project.edits import planting
from gardenkit.project.ranges import RANGES
from gardenkit.schedules import cost
from gardenkit.storage.files import replace_safely

FIELDS = {  # field of Pricing: words, what stands there while nothing is said
    "labour_rate": ("One person's hour of work", "planning figure, or none"),
    "crew": ("People who work", "2"),
    "day": ("Hours they work a day", "8"),
    "delivery": ("Delivery, % of plants and materials", "0"),
    "tax": ("Tax, % of everything", "0"),
    "contingency": ("Reserve, %", "10"),
    "year_budget": ("What one year may cost", "all at once"),
}
MAY_BE_NONE = ("labour_rate", "year_budget")


class PricesPart(Part):
    """The figures that prices are made up of besides the table, and a table to fill in."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.fields = {
            key: controls.field(words, "", partial(self.take, key), name=key.replace("_", "-"), hint=hint)
            for key, (words, hint) in FIELDS.items()
        }
        table = controls.button(
            "Write a price table to fill in", self.write_table, name="price-table", tip=cost.OWN_FILE, width="96%"
        )
        low, high = (int(year) for year in RANGES[Planting]["first_year"][:2])
        self.first_year = controls.field(
            "First year of planting", "", partial(self.begin, low, high), name="first-year", hint="2027"
        )
        self.widget = w.VBox([controls.label("Prices"), *self.fields.values(), self.first_year, table])

    def refresh(self) -> None:
        """Show the figures as they stand."""
        for key, field in self.fields.items():
            value = getattr(self.project.brief.pricing, key)
            field.show("" if value is None else reading.shown(value))
        self.first_year.show(str(self.project.planting.first_year))

    @handler
    def take(self, key: str, text: str) -> None:
        """Take one figure; nothing typed: back to what stands without one."""
        value = _figure(
            key, text.strip() or ("" if key in MAY_BE_NONE else FIELDS[key][1]), self.project.brief.currency
        )
        self.edit(FIELDS[key][0].lower(), lambda project: edits.set_pricing(project, **{key: value}))

    @handler
    def begin(self, low: int, high: int, text: str) -> None:
        """Take the year of the first planting season, from which programme, care and journal count."""
        year = reading.whole(text, "the first year of planting", low=low, high=high)
        self.edit(f"planting begins in {year}", lambda project: planting.set_first_year(project, year))

    @handler
    def write_table(self) -> None:
        """Write the garden's own price table with every material it takes, unless it has one."""
        target = self.page.session.folder / cost.OWN_FILE
        if target.exists():
            raise GardenError(f"{cost.OWN_FILE} stands in the garden folder already; type your prices there")
        text = cost.price_table(self.garden.orders, system=self.garden.units)
        replace_safely(target, text.encode("utf-8-sig"))
        self.message.say(f"{cost.OWN_FILE} is in the garden folder: type prices, save it, and open the garden again")


def _figure(key: str, typed: str, currency: str) -> float | None:
    """Return one figure of the pricing as it is typed; None for none. Raises GardenError."""
    words, (low, high, unit) = FIELDS[key][0].lower(), RANGES[Pricing][key]
    if key in MAY_BE_NONE:
        return reading.amount(typed, words, money=currency) if typed else None
    if key == "crew":
        return reading.whole(typed, words, low=int(low), high=int(high), unit=unit)
    return reading.between(typed, words, low=low, high=high, unit=unit)

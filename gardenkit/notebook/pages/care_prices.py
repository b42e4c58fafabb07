"""How the garden is priced: what an hour of work costs, the crew, percentages, and the garden's own price table."""

from functools import partial

import ipywidgets as w

from gardenkit import reading
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.part import Part
from gardenkit.project.edits import brief as edits
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
        self.widget = w.VBox([controls.label("Prices"), *self.fields.values(), table])

    def refresh(self) -> None:
        """Show the figures as they stand."""
        for key, field in self.fields.items():
            value = getattr(self.project.brief.pricing, key)
            field.show("" if value is None else f"{value:g}")

    @handler
    def take(self, key: str, text: str) -> None:
        """Take one figure; nothing typed: back to what stands without one."""
        words = FIELDS[key][0].lower()
        value = reading.amount(text, words, money=key in MAY_BE_NONE) if text.strip() else None
        if value is None and key not in MAY_BE_NONE:
            value = float(FIELDS[key][1])
        whole = int(value) if key == "crew" and value is not None else value
        if whole != value:
            raise GardenError(f"{text.strip()} people cannot work; give a whole number")
        self.edit(words, lambda project: edits.set_pricing(project, **{key: whole}))

    @handler
    def write_table(self) -> None:
        """Write the garden's own price table with every material it takes, unless it has one."""
        target = self.page.session.folder / cost.OWN_FILE
        if target.exists():
            raise GardenError(f"{cost.OWN_FILE} stands in the garden folder already; type your prices there")
        text = cost.price_table(self.garden.orders, system=self.garden.units)
        replace_safely(target, text.encode("utf-8-sig"))
        self.message.say(f"{cost.OWN_FILE} is in the garden folder: type prices, save it, and open the garden again")

"""Quantities and care: what to buy and what it costs, how to water, in which order to build, what to do in which
month.
"""

import ipywidgets as w

from gardenkit import reading
from gardenkit.drawing.programme_chart import programme_chart
from gardenkit.drawing.svg import svg
from gardenkit.garden import Garden
from gardenkit.handover import calendar, tables
from gardenkit.handover.contents import Contents, contents
from gardenkit.handover.tables import Table
from gardenkit.notebook import controls
from gardenkit.notebook.advice_list import AdviceList
from gardenkit.notebook.page import Page, escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.care_prices import PricesPart
from gardenkit.notebook.still import CLASS, NAMED
from gardenkit.project.edits import planting as edits
from gardenkit.units import counted

ORDER_OF_WORK = "order of work"
WHOLE = "the whole property"
SCROLLED = "overflow-x:auto;max-height:720px"
TOPICS = ("cost", "water", "mulch", "safety", "plant cautions", "wants")  # the share of advice that belongs here


class CarePage(Page):
    """One table at a time, chosen left; prices typed over the house values; files to take along."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.told: Contents | None = None
        self.chosen = "plant schedule"
        self.pick = controls.choice("Show", None, [("...", None)], self.show, name="table")
        self.area = controls.choice("Of", "", [(WHOLE, "")], self.count, name="schedule-area")
        kinds = sorted({p.species for p in self.project.planting.plants})
        self.kind = controls.choice(
            "Price of",
            kinds[0] if kinds else None,
            kinds or [("no plants yet", None)],
            lambda _: None,
            name="price-kind",
        )
        self.price = controls.field("asked by the nursery for one", "", lambda _: None, name="price", hint="12.50")
        take = controls.button("Take this price", self.take_price, name="take-price", width="96%")
        files = controls.button(
            "Write spreadsheet and calendar",
            self.write_files,
            tip="xlsx, csv and .ics in the garden folder",
            width="96%",
        )
        self.prices = PricesPart(self)
        self.table, self.advice = w.HTML(), AdviceList(self, topics=TOPICS)
        self.widget = controls.page(
            self.message,
            [self.pick, self.area, self.kind, self.price, take, files, self.prices.widget, self.undo_row()],
            self.table,
            [self.advice.widget],
        )

    def refresh(self) -> None:
        """Work everything out again and show the chosen table."""
        known = [area.name for area in self.project.areas]
        forms.relist(self.area, [(WHOLE, ""), *((name, name) for name in known)], self.area.bar.value)
        self.area.layout.display = "" if known else "none"
        self.told = contents(self._counted())
        names = [table.name for table in tables.tables(self.told)]
        if ORDER_OF_WORK not in names:
            names.append(ORDER_OF_WORK)
        self.pick.quiet = True
        self.pick.bar.options = names
        self.chosen = self.chosen if self.chosen in names else names[0]
        self.pick.bar.value = self.chosen
        self.pick.quiet = False
        self._show_table()
        self.prices.refresh()
        self.advice.show()

    def show(self, name: str | None) -> None:
        """Show another table."""
        if name:
            self.chosen = name
            self.attempt(self._show_table)

    @handler
    def count(self, _: str) -> None:
        """Count another area of the property, or all of it."""
        self.refresh()

    @handler
    def take_price(self) -> None:
        """Put the nursery's price in the place of the house value."""
        kind = self.kind.bar.value
        each = reading.amount(self.price.bar.value, f"the price of {kind}", money=self.project.brief.currency)

        self.edit(f"price of {kind}", lambda p: edits.set_price(p, kind, each))

    @handler
    def write_files(self) -> None:
        """Write the schedules as a spreadsheet and CSV files, and the care calendar, into the garden folder."""
        folder, told = self.session.folder / "schedules", self._told()
        tables.write_xlsx(told, folder / "schedules.xlsx")
        tables.write_csv(told, folder)
        calendar.write(told, folder / "care.ics")
        self.message.say(f"written to {folder}")

    def still(self, drawing: str | None = None) -> str:
        """Return every table, not only the one that is chosen, as plain HTML."""
        first, others = self.chosen, []
        for _, name in controls.choices(self.pick.bar):
            if name != first:
                self.show(name)
                others.append(f"<h3>{escaped(name)}</h3>{self.table.value}")
        self.show(first)
        shown = super().still(drawing)
        more = NAMED.sub(r"\1k\2", "".join(others))
        return f'{shown}<div class="{CLASS}">{more}</div>' if shown else ""

    def table_named(self, name: str) -> Table | None:
        """Return one of the tables by its name, None when it has no rows."""
        return next((t for t in tables.tables(self._told()) if t.name == name), None)

    def _counted(self) -> Garden:
        """Return the garden as it is counted: all of it, or the area that is chosen."""
        return self.garden.of_area(self.area.bar.value) if self.area.bar.value else self.garden

    def _told(self) -> Contents:
        if self.told is None:
            self.told = contents(self._counted())
        return self.told

    def _show_table(self) -> None:
        told = self._told()
        if self.chosen == ORDER_OF_WORK:
            said = ((step.name, "; ".join(step.work), "; ".join(step.cautions)) for step in told.garden.phases)
            rows = [tuple(map(self.garden.say, row)) for row in said]
            chart = svg(programme_chart(told.garden.programme))
            self.table.value = chart + controls.table_html(("step", "work", "beware"), rows)
            return
        table = self.table_named(self.chosen)
        if table is None:
            self.table.value = controls.label("Nothing here yet: plant something in 05_layering first.").value
            return
        made = controls.table_html(*_filled(table))
        self.table.value = f'<div class="gk-scroll" tabindex="0" style="{SCROLLED}">{made}</div>'

    def summary(self) -> str:
        """Return the schedules in words."""
        told = self._told()
        planted, money = told.garden.planted, told.garden.costs.currency
        what = f"{counted(len(planted), 'plant')} of {counted(len(told.garden.kinds), 'kind')}"
        return f"{what}; {escaped(money)}{told.garden.costs.total:,.0f} in all"


def _filled(table: Table) -> tuple[list[str], list[list[object]]]:
    """Return the heads and rows of a table without the columns in which nothing stands."""
    kept = [k for k in range(len(table.heads)) if any(row[k] not in (None, "") for row in table.rows)]
    return [table.heads[k] for k in kept], [[row[k] for k in kept] for row in table.rows]

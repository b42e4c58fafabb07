"""What is wished of a palette: how many kinds and of which layers, which flowers when, and which kinds in any case."""

from typing import TYPE_CHECKING, Any

import ipywidgets as w

from gardenkit import reading
from gardenkit.drawing.garden import MONTHS
from gardenkit.findings import GardenError
from gardenkit.garden.choosing import fixed_kinds, kept_kinds
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.planting import kind_named, swatches
from gardenkit.notebook.part import Part
from gardenkit.planting.catalogue_columns import LAYERS
from gardenkit.planting.choosing import LayerWish
from gardenkit.planting.choosing_rules import USUAL_LAYERS
from gardenkit.planting.species import months_from_to
from gardenkit.planting.suitability import MOISTURE
from gardenkit.project.edits import planting as edits
from gardenkit.project.season import local_months
from gardenkit.project.styled import wishes_of

if TYPE_CHECKING:
    from gardenkit.notebook.pages.palette import PalettePage

MOST_KINDS = 40
IN_FLOWER = (4, 10)  # months of the northern year in which flowers are wanted at first


class Amounts(Part):
    """How many kinds, how evergreen, how native, how dear, and in what ground."""

    def build(self) -> None:
        """Make the widgets, once."""
        brief, usual = self.project.brief, wishes_of(self.project)
        self.number = _range("Kinds in all", (usual.kinds_least, usual.kinds_most), 3, MOST_KINDS, name="kinds")
        self.evergreen = _share_slider("Evergreen kinds, at least", usual.evergreen_share, "evergreen")
        self.natives = _share_slider("Native to North America, at least", usual.natives_share, "natives")
        costs = self.garden.costs  # a budget in another money than the prices says nothing of them
        known = brief.budget is not None and not costs.planning
        left = costs.left_for_plants(brief.budget or 0.0, brief.budget_covers)  # what else it covers is paid first
        budget = f"{max(0.0, left):.0f}" if known else ""
        self.budget = controls.field(
            f"Plants may cost, {costs.currency.strip()}",
            budget,
            lambda _: None,
            name="palette-budget",
            hint="no limit",
        )
        self.moisture = controls.choice(
            "The ground is", None, [("not known", None), *((word, word) for word in MOISTURE)], lambda _: None
        )
        self.genus = controls.slider("Most kinds of one genus", 2, 1, 8, 1, lambda _: None, show="{:.0f}".format)
        self.family = controls.slider("Most kinds of one family", 6, 1, 12, 1, lambda _: None, show="{:.0f}".format)
        self.no_invasive = controls.tick("None listed as invasive in this country", True, lambda _: None)
        self.controls = [
            self.number,
            self.evergreen,
            self.natives,
            self.no_invasive,
            self.budget,
            self.moisture,
            self.genus,
            self.family,
        ]

    def asked(self) -> dict[str, Any]:
        """Return these wishes as fields of ``Wishes``. Raises GardenError for an amount that cannot be read."""
        least, most = self.number.bar.value
        typed = self.budget.bar.value.strip()
        return {
            "kinds_least": least,
            "kinds_most": most,
            "evergreen_share": self.evergreen.bar.value,
            "natives_share": self.natives.bar.value,
            "most_per_genus": int(self.genus.bar.value),
            "most_per_family": int(self.family.bar.value),
            "budget": reading.amount(typed, "the plants", money=self.project.brief.currency) if typed else None,
        }


class Flowers(Part):
    """In which months how many kinds flower, and in whose colours."""

    def build(self) -> None:
        """Make the widgets, once."""
        first, last = local_months(self.project.site, IN_FLOWER)
        names = [(name, number) for number, name in enumerate(MONTHS, 1)]
        self.first_month = controls.choice("Flowers wanted from", first, names, lambda _: None, name="flowers-from")
        self.last_month = controls.choice("to", last, names, lambda _: None, name="flowers-to")
        self.a_month = controls.slider(
            "Kinds in flower in each month", 3, 0, 8, 1, lambda _: None, show="{:.0f}".format, name="a-month"
        )
        self.colour_share = _share_slider(
            "Flowering kinds in the style's colours", wishes_of(self.project).colour_share, "colour-share"
        )
        self.colours = w.HTML()
        self.controls = [self.first_month, self.last_month, self.a_month, self.colour_share, self.colours]

    def refresh(self) -> None:
        """Show the colours of the style."""
        colours = self.project.brief.style.colours
        words = "the style's colours" if colours else "no colours chosen in 01_inspiration_and_style; any colour counts"
        self.colours.value = controls.label(words).value + swatches(colours)

    def asked(self) -> dict[str, Any]:
        """Return these wishes as fields of ``Wishes``, the months as in the catalogue's northern year."""
        months = months_from_to(self.first_month.bar.value, self.last_month.bar.value)
        return {
            "months": local_months(self.project.site, months),
            "kinds_a_month": int(self.a_month.bar.value),
            "colours": self.project.brief.style.colours,
            "colour_share": self.colour_share.bar.value,
        }


class LayerCounts(Part):
    """How many kinds of each layer at least and at most."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.counts: dict[str, tuple[w.BoundedIntText, w.BoundedIntText]] = {}
        self.controls = [w.HBox([_cell("layer", 110), _cell("least", 72), _cell("most", 72)])]
        for layer in LAYERS:
            least, most = USUAL_LAYERS[layer]
            low, high = _count(least), _count(MOST_KINDS if most is None else most)
            self.counts[layer] = (low, high)
            self.controls.append(w.HBox([_cell(layer, 110), low, high]))

    def asked(self) -> dict[str, Any]:
        """Return these wishes as fields of ``Wishes``; the greatest number there is means no limit."""
        return {
            "layers": tuple(
                LayerWish(layer=layer, least=low.value, most=high.value if high.value < MOST_KINDS else None)
                for layer, (low, high) in self.counts.items()
            )
        }


class Favourites(Part):
    """Kinds that every proposal keeps, and kinds left out of the next ones; the latter are not saved."""

    page: "PalettePage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.left_out: tuple[str, ...] = ()
        self.kind = controls.field("Kind", "", lambda _: None, name="favourite", hint="e.g. catmint")
        self.lists = w.HTML()
        self.take_off = controls.choice("Take off the lists", None, [("choose ...", None)], self.take_off_list)
        self.controls = [
            self.kind,
            controls.row(
                controls.button("Keep it always", self.keep, name="keep", width="49%"),
                controls.button("Leave it out", self.leave_out, name="leave-out", width="49%"),
            ),
            self.lists,
            self.take_off,
        ]

    def refresh(self) -> None:
        """Show the two lists."""
        favourites = self.project.planting.favourites
        rows = [("kept", name) for name in favourites]
        rows += [("stands fixed on the plan", name) for name in fixed_kinds(self.garden) if name not in favourites]
        rows += [("left out", name) for name in self.left_out]
        self.lists.value = controls.table_html(("", "kind"), rows) if rows else ""
        listed = [("choose ...", None), *((name, name) for name in (*favourites, *self.left_out))]
        forms.relist(self.take_off, listed, None)

    def asked(self) -> dict[str, Any]:
        """Return these wishes as fields of ``Wishes``."""
        return {"locked": kept_kinds(self.garden), "excluded": self.left_out}

    @handler
    def keep(self) -> None:
        """Keep the typed kind in every proposal."""
        name = kind_named(self.garden.catalogue, self.kind.bar.value).botanical
        if self.edit(f"keep {name}", lambda p: edits.keep_kind(p, name)):
            self.left_out = tuple(n for n in self.left_out if n != name)
            self.kind.show("")
            self.refresh()

    @handler
    def leave_out(self) -> None:
        """Leave the typed kind out of the next proposals; not saved."""
        name = kind_named(self.garden.catalogue, self.kind.bar.value).botanical
        if name in kept_kinds(self.garden):
            raise GardenError(f"{name} is a favourite or stands fixed on the plan; take it off the list, or unlock it")
        self.left_out = tuple(dict.fromkeys((*self.left_out, name)))
        self.kind.show("")
        self.refresh()

    @handler
    def take_off_list(self, name: str | None) -> None:
        """Take a kind off the two lists."""
        if name is not None:
            self.left_out = tuple(n for n in self.left_out if n != name)
            if name in self.project.planting.favourites:
                self.edit(f"no longer keep {name}", lambda p: edits.release_kind(p, name))
            self.refresh()


def _cell(text: str, wide: int) -> w.HTML:
    return w.HTML(f'<div class="gk-label">{escaped(text)}</div>', layout=w.Layout(width=f"{wide}px"))


def _count(value: int) -> w.BoundedIntText:
    return w.BoundedIntText(value=value, min=0, max=MOST_KINDS, layout=w.Layout(width="68px"))


def _share_slider(text: str, value: float, name: str) -> controls.Labelled:
    return controls.slider(text, value, 0.0, 1.0, 0.05, lambda _: None, show="{:.0%}".format, name=name)


def _range(text: str, value: tuple[int, int], low: int, high: int, *, name: str) -> controls.Labelled:
    caption = controls.label(f"{text}: {value[0]} to {value[1]}")
    bar = w.IntRangeSlider(value=value, min=low, max=high, readout=False, layout=w.Layout(width="96%"))
    bar.add_class(f"gk-slider-{name}")

    def moved(change: dict[str, tuple[int, int]]) -> None:
        caption.value = controls.label(f"{text}: {change['new'][0]} to {change['new'][1]}").value

    bar.observe(moved, "value")
    return controls.Labelled([caption, bar], bar)

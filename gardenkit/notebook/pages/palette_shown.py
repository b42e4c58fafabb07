"""The palette on the page: as accepted, or as proposed with why each kind is in and which wishes give way."""

from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.drawing import charts
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.garden.choosing import Proposed, kept_kinds
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped
from gardenkit.notebook.pages.planting import Html, beware_cell, named, pictured, rich_table, swatches, title
from gardenkit.notebook.part import Part
from gardenkit.planting.catalogue_columns import LAYERS
from gardenkit.planting.choosing import Choice, Fulfilment, Palette
from gardenkit.planting.species import Species
from gardenkit.project.plant_choice import Suited, refusal_words
from gardenkit.project.season import local_month_words
from gardenkit.units import counted

if TYPE_CHECKING:
    from gardenkit.notebook.pages.palette import PalettePage

WHY_SHOWN = 5  # reasons shown for one kind; the first are those it is needed for
BEDS_SHOWN = 3
AGAINST_SHOWN = 2


class PaletteShown(Part):
    """A table of kinds, the wishes met and given up, and a calendar of what flowers when."""

    page: "PalettePage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.heading, self.table = w.HTML(), w.HTML(layout=w.Layout(width="100%"))
        self.wishes = w.HTML(layout=w.Layout(flex="0 1 auto", max_width="560px"))
        self.calendar = w.HTML(layout=w.Layout(flex="1 1 560px", max_width="860px"))

    def refresh(self) -> None:
        """Show the proposal while there is one, else the palette as it was accepted."""
        if self.page.proposal is None:
            self._show_accepted()
        else:
            self._show_proposal(self.page.proposal)

    def scene(self) -> Scene | None:
        """Return the bloom calendar of the palette."""
        proposal = self.page.proposal
        names = proposal.palette.names if proposal else self.project.planting.palette
        return self._calendar([self.garden.catalogue[name] for name in names], "What of the palette flowers when")

    def _show_accepted(self) -> None:
        kinds = [self.garden.catalogue[name] for name in self.project.planting.palette]
        self.heading.value = title(
            f"The palette as accepted: {counted(len(kinds), 'kind')}"
            if kinds
            else "No palette is accepted yet: propose one"
        )
        placed = {p.species for p in self.project.planting.plants}
        rows = [
            (
                *self._kind_cells(s),
                "on the plan" if s.botanical in placed else "not placed yet",
                beware_cell(s, told=self.page.told),
            )
            for s in sorted(kinds, key=lambda s: LAYERS.index(s.layer))
        ]
        heads = ("", "plant", "layer, full size", "in flower", "stands", "beware")
        self.table.value = rich_table(heads, rows, scroll=True) if rows else ""
        self.wishes.value = ""
        self._show_calendar(kinds, "What of the palette flowers when")

    def _show_proposal(self, proposal: Proposed) -> None:
        palette = proposal.palette
        better = f"a palette up to {palette.gap:.1%} better may exist: the search stopped at its time limit"
        proof = "proven to be the best for these wishes" if palette.proven else better
        self.heading.value = title(f"Proposed: {counted(len(palette.choices), 'kind')}, {proof}")
        ordered = sorted(palette.choices, key=lambda c: (LAYERS.index(c.species.layer), -c.worth))
        rows = [
            (
                *self._kind_cells(c.species),
                self._why(c, proposal.suited.get(c.species.botanical)),
                f"{self._cost(c, proposal)}; worth {c.worth:.2f}",
                beware_cell(c.species, told=self.page.told),
            )
            for c in ordered
        ]
        heads = ("", "plant", "layer, full size", "in flower", "why it is in", "cost, worth", "beware")
        self.table.value = rich_table(heads, rows, scroll=True)
        self._show_wishes(proposal)
        self._show_calendar([c.species for c in ordered], "What of the proposal flowers when")

    def _show_wishes(self, proposal: Proposed) -> None:
        palette = proposal.palette
        wishes = [(sign, self._local(words)) for sign, words in wish_lines(palette)]
        relaxed = [self._local(f.sentence()) for f in palette.relaxed]
        words = (
            "Not every wish can be had at once. The smallest set to give up: " + "; ".join(relaxed) + "."
            if relaxed
            else "Every wish is met."
        )
        refusals = refusal_words(proposal.suited.values(), self.project.brief.refused, kept_kinds(self.garden))
        words += f" What the client refuses: {'; '.join(refusals)}." if refusals else ""
        box = f'<div class="gk-message{" gk-problem" if relaxed else ""}">{escaped(words)}</div>'
        self.wishes.value = box + controls.table_html(("", "wish: what the palette gives"), wishes)

    def _kind_cells(self, species: Species) -> tuple[Html, Html, str, Html]:
        return (
            pictured(species, self.project.units),
            named(species),
            f"{species.layer}; {self.page.size_of(species)}",
            Html(f"{escaped(self.page.bloom_words(species))}<br>{swatches(species.flower_colours)}"),
        )

    def _cost(self, choice: Choice, proposal: Proposed) -> str:
        currency = self.garden.costs.currency.strip()
        known = choice.species.botanical not in proposal.unpriced
        return f"about {currency} {choice.cost:,.0f}" if known else f"no price in {currency} yet"

    def _why(self, choice: Choice, suited: Suited | None) -> Html:
        said = "; ".join(self._local(self.page.told(text)) for text in choice.reasons[:WHY_SHOWN])
        lines = [f'<span class="gk-for">{escaped(said)}</span>']
        if suited is not None:
            more = " and more" if len(suited.beds) > BEDS_SHOWN else ""
            where = f"would do in {', '.join(suited.beds[:BEDS_SHOWN])}{more}"
            lines.append(escaped(where if suited.beds else "suits no bed as it is: a favourite, kept all the same"))
            against = "; ".join(self.page.told(r.text) for r in suited.judgement.against[:AGAINST_SHOWN])
            lines += [f'<span class="gk-against">{escaped(against)}</span>'] if against else []
        return Html('<div style="min-width:280px">' + "<br>".join(lines) + "</div>")

    def _calendar(self, kinds: list[Species], words: str) -> Scene | None:
        rows = self.page.bloom_rows(kinds)
        return charts.bloom_calendar(rows, title=words) if rows else None

    def _show_calendar(self, kinds: list[Species], words: str) -> None:
        scene = self._calendar(kinds, words)
        self.calendar.value = "" if scene is None else svg(scene)

    def _local(self, text: str) -> str:
        return local_month_words(self.project.site, text)


def wish_lines(palette: Palette) -> list[tuple[str, str]]:
    """Return every wish in one line with whether it is met; the least and most of one thing together, hours by month
    as their tightest month, genera and families only where they give way.
    """
    by_words: dict[str, list[Fulfilment]] = {}
    for one in palette.fulfilments:
        if not (one.topic in ("genus", "family") and one.is_met):
            words = one.words.rpartition(", in ")[0] if one.measure == "hours" else ""
            by_words.setdefault(words or one.words, []).append(one)
    lines = []
    for same in by_words.values():
        sign = "✔ met" if all(one.is_met for one in same) else "✘ gives way"
        words = max(same, key=lambda one: one.value - one.wanted if one.measure == "hours" else 0.0).sentence()
        if len(same) == 2 and same[0].measure != "hours":
            words += f", {same[1].sentence().rpartition(', wanted ')[2]}"
        lines.append((sign, words))
    return lines

"""The palette on the page: as accepted, or as proposed with why each kind is in and which wishes give way."""

import re
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.drawing import charts
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.garden.choosing import Proposed, kept_kinds
from gardenkit.garden.musts import musts_of_places
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped
from gardenkit.notebook.pages.planting import Html, beware_cell, named, pictured, rich_table, swatches, title
from gardenkit.notebook.part import Part
from gardenkit.planting.catalogue_columns import LAYERS
from gardenkit.planting.choosing import Choice, Fulfilment, Palette
from gardenkit.planting.palettes import CHARACTERS
from gardenkit.planting.species import Species
from gardenkit.project.plant_choice import Suited, refusal_words
from gardenkit.project.season import local_month_words
from gardenkit.units import counted

if TYPE_CHECKING:
    from gardenkit.notebook.pages.palette import PalettePage

WHY_SHOWN = 5  # reasons shown for one kind; the first are those it is needed for
BEDS_SHOWN = 3
AGAINST_SHOWN = 2
LETTERS = "ABC"
COLUMNS = "repeat(auto-fit, minmax(min(300px, 100%), 1fr))"  # as many side by side as the page is wide for
UNSAID = ("genus", "family", "twins", "character", "roles", "contrast")  # topics told of only where they give way


class PaletteCard(w.VBox):
    """One proposed palette: its character, why one would take it, what its kinds look like."""

    def __init__(self, page: "PalettePage", number: int) -> None:
        self.heading, self.words, self.looks = w.HTML(), w.HTML(), w.HTML()
        look = controls.button(
            "Look at this one",
            lambda: page.look_at(number),
            name=f"palette-{LETTERS[number]}",
            width="60%",
            tip="its kinds and reasons below; Accept takes the one shown",
        )
        layout = w.Layout(min_width="0", display="none", padding="0 12px 10px 0")
        super().__init__([self.heading, self.looks, self.words, look], layout=layout)
        self.add_class(f"gk-palette-{LETTERS[number]}")

    def show(self, proposals: Sequence[Proposed], number: int, local: Callable[[str], str]) -> None:
        """Show one of some proposals, or nothing where there are fewer."""
        self.layout.display = "flex" if number < len(proposals) else "none"
        if number >= len(proposals):
            self.heading.value = self.words.value = self.looks.value = ""
            return
        one = proposals[number]
        self.heading.value = title(f"{LETTERS[number]}: {one.character}")
        given = len(one.palette.relaxed)
        more = f" {counted(given, 'wish gives way', 'wishes give way')}." if given else ""
        self.words.value = f'<div class="gk-label" style="margin:4px 0 6px">{escaped(local(one.words) + more)}</div>'
        kinds = sorted((c.species for c in one.palette.choices), key=lambda s: -s.height)
        self.looks.value = "".join(_spot(kind) for kind in kinds)


class PaletteShown(Part):
    """A table of kinds, the wishes met and given up, and a calendar of what flowers when."""

    page: "PalettePage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.heading, self.table = w.HTML(), w.HTML(layout=w.Layout(width="100%"))
        self.each = [PaletteCard(self.page, number) for number in range(len(CHARACTERS))]
        self.cards = w.GridBox(self.each, layout=w.Layout(width="100%", grid_template_columns=COLUMNS))
        self.wishes = w.HTML(layout=w.Layout(flex="0 1 auto", max_width="560px"))
        self.calendar = w.HTML(layout=w.Layout(flex="1 1 560px", max_width="860px"))

    def refresh(self) -> None:
        """Show the proposals while there are some, else the palette as it was accepted."""
        for number, card in enumerate(self.each):
            card.show(self.page.proposals, number, self._local)
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
        self.heading.value = title(
            f"{LETTERS[self.page.chosen]}, {proposal.character}: {counted(len(palette.choices), 'kind')}, {proof}"
        )
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
        words += self._of_areas_and_places()
        box = f'<div class="gk-message{" gk-problem" if relaxed else ""}">{escaped(words)}</div>'
        self.wishes.value = box + controls.table_html(("", "wish: what the palette gives"), wishes)

    def _of_areas_and_places(self) -> str:
        """Return which musts a palette leaves to the composing of the beds, in sentences."""
        brief, places = self.project.brief, musts_of_places(self.garden)
        ruled_out = {area: ", ".join(brief.ruled_out_in(area)) for area in brief.areas_refusing}
        said = [f" Not to stand in {area}, and kept out of it: {words}." for area, words in ruled_out.items()]
        if places:
            said.append(f" Where plants stand decides about {', '.join(places)}: each proposal is judged by it.")
        return "".join(said)

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


def _spot(kind: Species) -> str:
    """Return a kind as a spot of its summer leaf with its flowers in it, its name on pointing."""
    known = [c if re.fullmatch("#[0-9a-f]{6}", c) else "#c9c3b4" for c in (kind.foliage_summer, *kind.flower_colours)]
    box = "display:inline-block;vertical-align:top"
    dot = f"{box};width:10px;height:10px;margin:6px 0 0 4px;border-radius:5px;background:"
    flowers = "".join(f'<span style="{dot}{colour}"></span>' for colour in known[1:3])
    style = f"{box};width:36px;height:24px;margin:1px;background:{known[0]}"
    return f'<span title="{escaped(kind.botanical)}" style="{style}">{flowers}</span>'


def wish_lines(palette: Palette) -> list[tuple[str, str]]:
    """Return every wish in one line with whether it is met; the least and most of one thing together, hours by month
    as their tightest month; how kinds go together, and genera and families, only where they give way.
    """
    by_words: dict[str, list[Fulfilment]] = {}
    for one in palette.fulfilments:
        if not (one.topic in UNSAID and one.is_met):
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

"""A palette for the garden: wishes as sliders, the best set of kinds that keeps them, and why each is in."""

import ipywidgets as w

from gardenkit import reading
from gardenkit.drawing import charts
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.scene import Scene
from gardenkit.drawing.svg import svg
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import Job, Stopped, Tell
from gardenkit.notebook.page import escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.planting import (
    Html,
    PlantingPage,
    beware_cell,
    kind_named,
    named,
    pictured,
    rich_table,
    row,
    swatches,
    title,
    wide_page,
)
from gardenkit.planting.catalogue_columns import LAYERS
from gardenkit.planting.choosing import (
    Choice,
    Fulfilment,
    LayerWish,
    Palette,
    Wishes,
    candidates,
    estimated_cost,
    propose,
)
from gardenkit.planting.choosing_rules import USUAL_LAYERS
from gardenkit.planting.invasive import listed_near
from gardenkit.planting.species import Species, months_from_to
from gardenkit.planting.suitability import MOISTURE
from gardenkit.project.edits import planting as edits
from gardenkit.project.plant_choice import Suited, bed_spots, refusal_words, suited_to_garden, with_room
from gardenkit.project.season import local_month_words, local_months
from gardenkit.schedules.plants import usual_price

MOST_KINDS = 40
WHY_SHOWN = 5  # reasons shown for one kind; the first are those it is needed for


class PalettePage(PlantingPage):
    """Wishes left; the proposal with its reasons, the wishes met and the bloom calendar right. Accepting writes it."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.proposal: Palette | None = None
        self.suited: dict[str, Suited] = {}
        self.left_out: tuple[str, ...] = ()
        self.job = Job(self, name="palette")
        groups = [
            ("How many, how much", self._amounts()),
            ("Flowers", self._flowers()),
            ("Kinds of each layer", self._layers()),
            ("Favourites", self._favourites()),
        ]
        self.accept_button = controls.button("Accept", self.accept, name="accept-palette", width="48%")
        drop = controls.button("Drop", self.drop_proposal, tip="forget the proposal", width="48%")
        panel = [
            forms.sections(groups),
            controls.button("Propose a palette", self.propose, name="propose", width="96%"),
            self.job.widget,
            row(self.accept_button, drop),
            self.undo_row(),
        ]
        self.heading, self.table = w.HTML(), w.HTML(layout=w.Layout(width="100%"))
        self.wishes_table = w.HTML(layout=w.Layout(flex="0 1 auto", max_width="560px"))
        self.calendar = w.HTML(layout=w.Layout(flex="1 1 560px", max_width="860px"))
        right = w.VBox([self.heading, self.table], layout=w.Layout(width="100%", min_width="0"))
        self.widget = wide_page(self.message, panel, right, [forms.beside(self.wishes_table, self.calendar)])

    def refresh(self) -> None:
        """Show the proposal, or the palette as it was accepted."""
        planting = self.project.planting
        rows = [("kept", name) for name in planting.favourites]
        rows += [("stands fixed on the plan", name) for name in self._fixed() if name not in planting.favourites]
        rows += [("left out", name) for name in self.left_out]
        self.lists.value = controls.table_html(("", "kind"), rows) if rows else ""
        listed = [("choose ...", None), *((name, name) for name in (*planting.favourites, *self.left_out))]
        forms.relist(self.take_off, listed, None)
        self.colours.value = (
            controls.label("the style's colours").value + swatches(self.project.brief.style.colours)
            if self.project.brief.style.colours
            else controls.label("no colours chosen on the style page; any colour counts").value
        )
        self._show()

    # --- handlers -----------------------------------------------------------------------------------------------

    @handler
    def propose(self) -> None:
        """Look for the best palette that keeps the wishes; the sun is worked out beside the page."""
        wishes = self.wishes()

        def work(tell: Tell, stopped: Stopped) -> tuple[Palette, dict[str, Suited]]:
            del stopped
            return self.found(wishes, tell)

        def done(found: tuple[Palette, dict[str, Suited]]) -> None:
            self.proposal, self.suited = found
            self.message.say(f"{len(found[0].choices)} kinds proposed; nothing is saved before you accept")
            self._show()

        self.job.start("working out the sun on the beds ...", work, done)

    @handler
    def accept(self) -> None:
        """Write the proposal into the garden as its palette; favourites and kinds fixed on the plan stay in it."""
        if self.proposal is None:
            raise GardenError('there is no proposal to accept; press "Propose a palette" first')
        names = tuple(dict.fromkeys((*self.proposal.names, *self.locked())))

        before = set(self.project.planting.palette)
        self.proposal = None
        if self.edit("accept a palette", lambda p: edits.set_palette(p, names)):
            new = len(set(names) - before)
            self.message.say(f"the palette has {len(names)} kinds now, {new} of them new; arrange them below")

    def drop_proposal(self) -> None:
        """Forget the proposal; nothing was saved of it."""
        self.proposal = None
        self.attempt(self.refresh)

    @handler
    def keep(self) -> None:
        """Keep the typed kind in every proposal."""
        name = kind_named(self.catalogue, self.kind.bar.value).botanical
        if self.edit(f"keep {name}", lambda p: edits.keep_kind(p, name)):
            self.left_out = tuple(n for n in self.left_out if n != name)
            self.kind.show("")

    @handler
    def leave_out(self) -> None:
        """Leave the typed kind out of the next proposals; not saved."""
        name = kind_named(self.catalogue, self.kind.bar.value).botanical
        if name in self.locked():
            raise GardenError(f"{name} is a favourite or stands fixed on the plan; take it off the list, or unlock it")
        self.left_out = tuple(dict.fromkeys((*self.left_out, name)))
        self.kind.show("")
        self.refresh()

    def take_off_list(self, name: str | None) -> None:
        """Take a kind off the two lists."""
        if name is not None:
            self.left_out = tuple(n for n in self.left_out if n != name)
            if name in self.project.planting.favourites:
                self.edit(f"no longer keep {name}", lambda p: edits.release_kind(p, name))
            self.attempt(self.refresh)

    # --- what is worked out -------------------------------------------------------------------------------------

    def wishes(self) -> Wishes:
        """Return the wishes as the controls say them. Raises GardenError for an amount that cannot be read."""
        least, most = self.number.bar.value
        months = months_from_to(self.first_month.bar.value, self.last_month.bar.value)
        typed = self.budget.bar.value.strip()
        layers = tuple(
            LayerWish(layer=layer, least=low.value, most=high.value if high.value < MOST_KINDS else None)
            for layer, (low, high) in self.layers.items()
        )
        return Wishes(
            kinds_least=least,
            kinds_most=most,
            layers=layers,
            months=local_months(self.project.site, months),
            kinds_a_month=int(self.a_month.bar.value),
            colours=self.project.brief.style.colours,
            colour_share=self.colour_share.bar.value,
            evergreen_share=self.evergreen.bar.value,
            natives_share=self.natives.bar.value,
            most_per_genus=int(self.genus.bar.value),
            most_per_family=int(self.family.bar.value),
            budget=reading.amount(typed, "the plants", money=True) if typed else None,
            locked=self.locked(),
            excluded=self.left_out,
        )

    def locked(self) -> tuple[str, ...]:
        """Return the kinds every proposal keeps: favourites, and kinds of plants locked or put by hand."""
        return tuple(dict.fromkeys((*self.project.planting.favourites, *self._fixed())))

    def found(self, wishes: Wishes, tell: Tell | None = None) -> tuple[Palette, dict[str, Suited]]:
        """Return the palette proposed for some wishes, and how each kind was judged for the garden's beds."""
        now, later = self.suns(tell)
        if tell is not None:
            tell(1.0, "judging the plants for every bed ...")
        spots = bed_spots(self.project, now=now, later=later)
        judged = with_room(self.project, suited_to_garden(self.catalogue, spots, moisture=self.moisture.bar.value))
        allowed = [s for s in judged if s.species.botanical in wishes.locked or self._may_be_in(s)]
        area = sum(bed.area for bed in self.garden.layout.beds)
        costs = {s.species.botanical: self._cost(s.species, area) for s in allowed}
        if tell is not None:
            tell(1.0, "looking for the best palette ...")
        palette = propose(
            candidates((s.judgement for s in allowed), costs), wishes, shift_days=self.garden.spring_shift
        )
        return palette, {s.species.botanical: s for s in judged}

    # --- helpers ------------------------------------------------------------------------------------------------

    def _amounts(self) -> list[w.Widget]:
        brief = self.project.brief
        self.number = _range("Kinds in all", (18, 22), 3, MOST_KINDS, name="kinds")
        self.evergreen = _share_slider("Evergreen kinds, at least", brief.style.evergreen_share, "evergreen")
        self.natives = _share_slider("Native to North America, at least", brief.style.natives_share, "natives")
        budget = "" if brief.budget is None else f"{brief.budget:g}"
        self.budget = controls.field(
            f"Plants may cost, {brief.currency}", budget, lambda _: None, name="palette-budget", hint="no limit"
        )
        self.moisture = controls.choice(
            "The ground is", None, [("not known", None), *((word, word) for word in MOISTURE)], lambda _: None
        )
        self.genus = controls.slider("Most kinds of one genus", 2, 1, 8, 1, lambda _: None, show="{:.0f}".format)
        self.family = controls.slider("Most kinds of one family", 6, 1, 12, 1, lambda _: None, show="{:.0f}".format)
        self.no_invasive = controls.tick("None listed as invasive in this country", True, lambda _: None)
        return [
            self.number,
            self.evergreen,
            self.natives,
            self.no_invasive,
            self.budget,
            self.moisture,
            self.genus,
            self.family,
        ]

    def _flowers(self) -> list[w.Widget]:
        first, last = local_months(self.project.site, (4, 10))
        names = [(name, number) for number, name in enumerate(MONTHS, 1)]
        self.first_month = controls.choice("Flowers wanted from", first, names, lambda _: None, name="flowers-from")
        self.last_month = controls.choice("to", last, names, lambda _: None, name="flowers-to")
        self.a_month = controls.slider(
            "Kinds in flower in each month", 3, 0, 8, 1, lambda _: None, show="{:.0f}".format, name="a-month"
        )
        self.colour_share = _share_slider("Flowering kinds in the style's colours", 0.0, "colour-share")
        self.colours = w.HTML()
        return [self.first_month, self.last_month, self.a_month, self.colour_share, self.colours]

    def _layers(self) -> list[w.Widget]:
        self.layers: dict[str, tuple[w.BoundedIntText, w.BoundedIntText]] = {}
        head = w.HBox([_cell("layer", 110), _cell("least", 72), _cell("most", 72)])
        lines: list[w.Widget] = [head]
        for layer in LAYERS:
            least, most = USUAL_LAYERS[layer]
            low, high = _count(least), _count(MOST_KINDS if most is None else most)
            self.layers[layer] = (low, high)
            lines.append(w.HBox([_cell(layer, 110), low, high]))
        return lines

    def _favourites(self) -> list[w.Widget]:
        self.kind = controls.field("Kind", "", lambda _: None, name="favourite", hint="e.g. catmint")
        self.lists = w.HTML()
        self.take_off = controls.choice("Take off the lists", None, [("choose ...", None)], self.take_off_list)
        return [
            self.kind,
            row(
                controls.button("Keep it always", self.keep, name="keep", width="49%"),
                controls.button("Leave it out", self.leave_out, name="leave-out", width="49%"),
            ),
            self.lists,
            self.take_off,
        ]

    def _fixed(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(p.species for p in self.project.planting.plants if p.locked or p.by_hand))

    def _cost(self, species: Species, bed_area: float) -> float:
        own = {price.species: price.each for price in self.project.planting.prices}
        return estimated_cost(species, own.get(species.botanical, usual_price(species)[0]), bed_area)

    def _show(self) -> None:
        self.accept_button.disabled = self.proposal is None
        if self.proposal is None:
            self._show_accepted()
        else:
            self._show_proposal(self.proposal)

    def _show_accepted(self) -> None:
        kinds = [self.catalogue[name] for name in self.project.planting.palette]
        self.heading.value = title(
            f"The palette as accepted: {len(kinds)} kinds" if kinds else "No palette is accepted yet: propose one"
        )
        placed = {p.species for p in self.project.planting.plants}
        rows = [
            (
                pictured(s, self.project.units),
                named(s),
                f"{s.layer}; {self.size_of(s)}",
                Html(f"{escaped(self.bloom_words(s))}<br>{swatches(s.flower_colours)}"),
                "on the plan" if s.botanical in placed else "not placed yet",
                beware_cell(s),
            )
            for s in sorted(kinds, key=lambda s: LAYERS.index(s.layer))
        ]
        heads = ("", "plant", "layer, full size", "in flower", "stands", "beware")
        self.table.value = rich_table(heads, rows, scroll=True) if rows else ""
        self.wishes_table.value = ""
        self.calendar.value = self._calendar(kinds, "What of the palette flowers when")

    def _show_proposal(self, palette: Palette) -> None:
        better = f"a palette up to {palette.gap:.1%} better may exist: the search stopped at its time limit"
        proof = "proven to be the best for these wishes" if palette.proven else better
        self.heading.value = title(f"Proposed: {len(palette.choices)} kinds, {proof}")
        currency = self.project.brief.currency
        ordered = sorted(palette.choices, key=lambda c: (LAYERS.index(c.species.layer), -c.worth))
        rows = [
            (
                pictured(c.species, self.project.units),
                named(c.species),
                f"{c.species.layer}; {self.size_of(c.species)}",
                Html(f"{escaped(self.bloom_words(c.species))}<br>{swatches(c.species.flower_colours)}"),
                self._why(c),
                f"about {currency} {c.cost:,.0f}; worth {c.worth:.2f}",
                beware_cell(c.species),
            )
            for c in ordered
        ]
        heads = ("", "plant", "layer, full size", "in flower", "why it is in", "cost, worth", "beware")
        self.table.value = rich_table(heads, rows, scroll=True)
        wishes = [(sign, self._local(words)) for sign, words in wish_lines(palette)]
        relaxed = [self._local(f.sentence()) for f in palette.relaxed]
        words = (
            "Not every wish can be had at once. The smallest set to give up: " + "; ".join(relaxed) + "."
            if relaxed
            else "Every wish is met."
        )
        refusals = refusal_words(self.suited.values(), self.project.brief.refused, self.locked())
        words += f" What the client refuses: {'; '.join(refusals)}." if refusals else ""
        box = f'<div class="gk-message{" gk-problem" if relaxed else ""}">{escaped(words)}</div>'
        self.wishes_table.value = box + controls.table_html(("", "wish: what the palette gives"), wishes)
        self.calendar.value = self._calendar([c.species for c in ordered], "What of the proposal flowers when")

    def _may_be_in(self, suited: Suited) -> bool:
        if suited.judgement.verdict == "no":
            return False
        return not (self.no_invasive.bar.value and listed_near(suited.species, self.project.site.place.timezone))

    def _why(self, choice: Choice) -> Html:
        suited = self.suited.get(choice.species.botanical)
        said = "; ".join(self._local(self.told(text)) for text in choice.reasons[:WHY_SHOWN])
        lines = [f'<span class="gk-for">{escaped(said)}</span>']
        if suited is not None:
            where = f"would do in {', '.join(suited.beds[:3])}" + (" and more" if len(suited.beds) > 3 else "")
            lines.append(escaped(where if suited.beds else "suits no bed as it is: a favourite, kept all the same"))
            against = "; ".join(self.told(r.text) for r in suited.judgement.against[:2])
            lines += [f'<span class="gk-against">{escaped(against)}</span>'] if against else []
        return Html('<div style="min-width:280px">' + "<br>".join(lines) + "</div>")

    def _calendar(self, kinds: list[Species], title: str) -> str:
        rows = self.bloom_rows(kinds)
        return svg(charts.bloom_calendar(rows, title=title)) if rows else ""

    def _local(self, text: str) -> str:
        return local_month_words(self.project.site, text)

    def scene(self) -> Scene | None:
        """Return the bloom calendar of the palette."""
        names = self.proposal.names if self.proposal else self.project.planting.palette
        rows = self.bloom_rows([self.catalogue[name] for name in names])
        return charts.bloom_calendar(rows, title="What of the palette flowers when") if rows else None

    def summary(self) -> str:
        """Return the palette in words."""
        if self.proposal is not None:
            met = sum(f.is_met for f in self.proposal.fulfilments)
            names = ", ".join(self.proposal.names)
            return f"Proposed, not accepted: {names}; {met} of {len(self.proposal.fulfilments)} wishes met"
        return f"The palette as accepted: {', '.join(self.project.planting.palette) or 'none yet'}"


def wish_lines(palette: Palette) -> list[tuple[str, str]]:
    """Return every wish in one line with whether it is met; the least and most of one thing together, genera and
    families only where they give way.
    """
    by_words: dict[str, list[Fulfilment]] = {}
    for one in palette.fulfilments:
        if not (one.topic in ("genus", "family") and one.is_met):
            by_words.setdefault(one.words, []).append(one)
    lines = []
    for same in by_words.values():
        sign = "✔ met" if all(one.is_met for one in same) else "✘ gives way"
        words = same[0].sentence()
        if len(same) == 2:
            words += f", {same[1].sentence().rpartition(', wanted ')[2]}"
        lines.append((sign, words))
    return lines


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

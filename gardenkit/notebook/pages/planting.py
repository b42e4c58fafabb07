"""What the pages about plants share: the catalogue as it stands, the garden's sun, and tables with small pictures."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import Any

import ipywidgets as w

from gardenkit.drawing import charts
from gardenkit.drawing.garden import MONTHS
from gardenkit.drawing.plant_picture import plant_picture
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped
from gardenkit.notebook.pages.bones import BonesPage
from gardenkit.planting.bloom import bloom_calendar
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.season import halves_words
from gardenkit.planting.species import Species, grades_text
from gardenkit.planting.suitability import Judgement
from gardenkit.progress import Tell
from gardenkit.project.season import local_halves
from gardenkit.project.sunlight import GroundMap
from gardenkit.units import System

LATER = 10  # year in which plants are asked whether they still have their sun
VERDICT_SIGNS = {"yes": "✔ yes", "maybe": "◆ maybe", "no": "✘ no"}
QUICK_YEARS = (1, 5, 10, 15)
STYLE = """<style>
.gk-plants td{padding:4px 10px 4px 0}
.gk-plants td i{font-size:14px}
.gk-for{color:#1d4d2b}.gk-against{color:#7a2410}.gk-unsure{color:#4f4a33}
.gk-scroll{max-height:640px;overflow:auto;border:1px solid #ddd;padding:0 8px;background:#fff}
.gk-scroll thead th{position:sticky;top:0;background:#fff}
.gk-chart{max-width:820px}
.gk-plants td.gk-wide{min-width:300px}
.gk-year{border-collapse:separate;border-spacing:0 3px;font-size:12px;color:#222}
.gk-year caption{text-align:left;font-weight:600;font-size:13px;padding-bottom:4px}
.gk-year th{font-weight:400;width:18px;text-align:center;padding:0}
.gk-year th.gk-now{font-weight:700;background:#f1e7c9}
.gk-year td{width:18px;min-width:18px;height:15px;padding:0;text-align:center;border-left:1px solid #e3decf}
.gk-year td:first-child{border:0;text-align:right;padding-right:8px;font-style:italic;white-space:nowrap;
 max-width:176px;overflow:hidden;text-overflow:ellipsis}
.gk-year td.gk-now{background:#f1e7c9}
.gk-year tr.gk-count td{font-weight:600;font-style:normal}
@container (max-width:430px){.gk-year td:first-child{max-width:146px}}
@container (max-width:560px){.gk-cards.gk-plants td:first-child{float:left;padding-right:10px}
.gk-cards.gk-plants td:nth-child(2){display:block}}
</style>"""


class Html(str):
    """Text that is HTML already: nothing in it comes from a project unescaped."""

    __slots__ = ()


class PlantingPage(BonesPage):
    """A page about plants: it does long work beside the page."""

    @property
    def catalogue(self) -> Catalogue:
        """The plants as they stand, with the garden's own laid over them."""
        return self.garden.catalogue

    def suns(self, tell: Tell | None = None) -> tuple[GroundMap | None, GroundMap | None]:
        """Return what places are judged by, now and in year ten; None for both while the place or the boundary is
        missing.
        """
        garden = self.garden
        now = garden.judged_light(progress=_part(tell, 0.0, "working out the sun as it is now ..."))
        if now is None or not self.project.planting.plants:
            return now, now
        return now, garden.judged_light(LATER, progress=_part(tell, 0.5, f"working out the sun in year {LATER} ..."))

    def told(self, text: str) -> str:
        """Return a text with its lengths in the garden's units and the words of its place."""
        return self.garden.say(text)

    def size_of(self, species: Species) -> str:
        """Return how big a kind gets, in the garden's units."""
        return f"{self.lengths(species.height)} high, {self.lengths(species.spread)} wide"

    def bloom_words(self, species: Species) -> str:
        """Return when a kind flowers in this garden, in words."""
        rows = self.bloom_rows((species,))
        return halves_words(rows[0].halves, MONTHS) if rows else "no flowers to speak of"

    def bloom_rows(self, kinds: Iterable[Species]) -> tuple[charts.BloomRow, ...]:
        """Return the bloom calendar's rows of some kinds, in this garden's months."""
        site = self.project.site
        return tuple(
            charts.BloomRow(name=row.botanical, halves=local_halves(site, row.halves), colours=row.colours)
            for row in bloom_calendar(kinds, shift_days=self.garden.spring_shift)
        )


def kind_named(catalogue: Catalogue, typed: str) -> Species:
    """Return the kind a designer typed: a whole name, or words that only one plant has. Raises GardenError."""
    text = typed.strip()
    if not text:
        raise GardenError("type the botanical or common name of a kind of plant")
    if text not in catalogue:
        hits = catalogue.find(text)
        if len(hits) == 1:
            return hits[0]
        if hits:
            some = ", ".join(s.botanical for s in hits[:6]) + (" and more" if len(hits) > 6 else "")
            raise GardenError(f'"{text}" may be any of {len(hits)} plants: {some}; type more of the name')
    return catalogue[text]


def months_words(months: Sequence[int]) -> str:
    """Return months as words: ``April to June``; an empty text for none."""
    if not months:
        return ""
    first, last = MONTHS[months[0] - 1], MONTHS[months[-1] - 1]
    return first if first == last else f"{first} to {last}"


def pictured(species: Species, units: System, *, px: int = 54) -> Html:
    """Return a plant's small picture as a table cell."""
    return Html(plant_picture(species, px=px, units=units))


def named(species: Species) -> Html:
    """Return a plant's names as a table cell."""
    return Html(f"<i>{escaped(species.botanical)}</i><br>{escaped(species.common)}")


def swatches(colours: Iterable[str]) -> Html:
    """Return colours as small squares; anything that is not a colour is left out."""
    known = (c for c in colours if len(c) == 7 and c[0] == "#" and all(d in "0123456789abcdef" for d in c[1:]))
    return Html(
        "".join(
            f'<span class="gk-swatch" title="{c}" style="background:{c};width:16px;height:16px"></span>' for c in known
        )
    )


def alike_words(alike: Mapping[str, bool | None]) -> str:
    """Return in a sentence or two what is the same for all plants of a table; empty when nothing is."""
    suits = ", ".join(topic for topic, ok in alike.items() if ok)
    unknown = ", ".join(topic for topic, ok in alike.items() if ok is None)
    said = f" Suits all of these: {suits}." if suits else ""
    return said + (f" Not known or not listed for any of them: {unknown}." if unknown else "")


def reasons_cell(judged: Judgement, *, told: Callable[[str], str], ok: bool | None, but: Collection[str] = ()) -> Html:
    """Return the reasons for (True), against (False) or not known (None) as a table cell, some topics left out."""
    word = {True: "for", False: "against", None: "unsure"}[ok]
    texts = [reason.text for reason in judged.reasons if reason.ok is ok and reason.topic not in but]
    return Html(f'<span class="gk-{word}">{escaped(told("; ".join(texts)))}</span>' if texts else "–")


def beware_cell(species: Species, *, told: Callable[[str], str]) -> Html:
    """Return what to beware of, told in the garden's units; a plant that is not listed is never shown as safe."""
    toxic = (
        f"toxicity listed: {grades_text(species)}"
        if species.toxic_to
        else "toxicity not listed, which does not mean safe"
    )
    listed = "; ".join(entry.sentence() for entry in species.invasive)
    lines = [toxic, *([f"listed as invasive: {listed}"] if listed else []), *species.cautions]
    word = "against" if species.toxicity == "severe" or listed else "unsure"
    return Html(f'<span class="gk-{word}">{escaped(told("; ".join(lines)))}</span>')


def year_table(rows: Sequence[charts.BloomRow], *, month: int | None = None, caption: str = "What flowers when") -> str:
    """Return a bloom calendar small enough to stand beside a plan, each bar in the flowers' own colours."""
    if not rows:
        return ""

    def now(number: int) -> str:
        return ' class="gk-now"' if number == month else ""

    def bar(one: charts.BloomRow, number: int) -> str:
        if number not in one.months:
            return f"<td{now(number)}></td>"
        colours = [c for c in one.colours if len(c) == 7][:3] or ["#d8d4c8"]
        stops = ",".join(
            f"{c} {100 * k // len(colours)}% {100 * (k + 1) // len(colours)}%" for k, c in enumerate(colours)
        )
        half = [half for half in one.halves if (half + 1) // 2 == number]
        part = "" if len(half) == 2 else "late " if half[0] % 2 == 0 else "early "
        words = f"{one.name} in flower in {part}{MONTHS[number - 1]}"
        place = {"": "", "late ": " right/50% 100% no-repeat", "early ": " left/50% 100% no-repeat"}[part]
        return (
            f'<td title="{escaped(words)}" style="background:linear-gradient({escaped(stops)}){place};'
            'border-top:1px solid #777;border-bottom:1px solid #777"></td>'
        )

    head = "".join(f'<th{now(n)} title="{name}">{name[0]}</th>' for n, name in enumerate(MONTHS, 1))
    body = "".join(f"<tr><td>{escaped(one.name)}</td>{''.join(bar(one, n) for n in range(1, 13))}</tr>" for one in rows)
    last = "".join(f"<td{now(n)}>{count or '–'}</td>" for n, count in enumerate(charts.kinds_each_month(rows), 1))
    foot = f'<tr class="gk-count"><td>kinds in flower</td>{last}</tr>'
    return (
        f'{STYLE}<table class="gk-year"><caption>{escaped(caption)}</caption><thead><tr><td></td>{head}</tr></thead>'
        f"<tbody>{body}{foot}</tbody></table>"
    )


def rich_table(headings: Sequence[str], rows: Iterable[Sequence[Any]], *, scroll: bool = False) -> str:
    """Return an HTML table whose ``Html`` cells stand as they are and all others are escaped."""
    head = "".join(f"<th>{escaped(text)}</th>" if text else "<td></td>" for text in headings)
    cards, told = controls.as_cards(headings, named=2)  # its picture and its name

    def said(cell: Any, of: str) -> str:
        return f"<td{of}>{cell if isinstance(cell, Html) else escaped(cell)}</td>"

    body = "".join(f"<tr>{''.join(map(said, row, told))}</tr>" for row in rows)
    made = f'<table class="gk-table gk-plants{cards}"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'
    return STYLE + (f'<div class="gk-scroll">{made}</div>' if scroll else made)


def title(text: str) -> str:
    """Return a heading over a part of the page."""
    return f'<div style="font-size:16px;font-weight:600;color:#2c3a26;margin:2px 0 6px">{escaped(text)}</div>'


def wide_page(message: w.Widget, panel: Sequence[w.Widget], right: w.Widget, below: Sequence[w.Widget]) -> w.VBox:
    """Return a page whose right side takes all the width that is left: for tables and strips of pictures."""
    left = w.VBox(list(panel), layout=w.Layout(width="316px", min_width="316px", flex="0 0 auto", padding="0 14px 0 0"))
    held = w.VBox([right], layout=w.Layout(flex="1 1 0%", min_width="0"))
    line = w.HBox([left, held], layout=w.Layout(width="100%", align_items="flex-start"))
    made = w.VBox([w.HTML(controls.STYLE), message, line, *below], layout=w.Layout(width="100%"))
    for box, name in ((left, "panel"), (held, "seen"), (line, "work"), (made, "page")):
        box.add_class(f"gk-{name}")
    return made


def year_buttons(chosen: Callable[[int], object], *, name: str = "year") -> w.HBox:
    """Return quick buttons for the years 1, 5, 10 and 15."""

    def one(year: int) -> w.Button:
        return controls.button(f"Year {year}", lambda: chosen(year), width="24%", name=f"{name}-{year}")

    return controls.row(*(one(year) for year in QUICK_YEARS))


def _part(tell: Tell | None, start: float, words: str) -> Callable[[float], None] | None:
    if tell is None:
        return None
    return lambda share: tell(start + 0.5 * share, words)

"""The colours of the garden: out of the pictures, kept, dropped, added by code or name, and how they go together."""

from itertools import combinations
from typing import TYPE_CHECKING

import ipywidgets as w

from gardenkit.brief.colour_names import name_of, read_colour
from gardenkit.brief.palette import Swatch, shared_colours
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped, handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.part import Part
from gardenkit.planting.colour import HARMONY_SOURCE, WHEELS, harmony
from gardenkit.planting.harmony import pair_harmony
from gardenkit.project.edits import brief as edits

if TYPE_CHECKING:
    from gardenkit.notebook.pages.style import StylePage

SHOWN = 8  # colours that the pictures share. House value.
NONE = ("choose ...", None)
LEVELS = ((0.5, "go well together"), (0.0, "bear each other"), (-9.0, "jar"))  # of Ou and Luo's figure. House values.
OU_LUO = "Ou and Luo, Color Research & Application 31(3), 2006: about -1.2 to +1.4, larger is more harmonious"


class Palette(Part):
    """The kept colours, those of the pictures, and the harmony of the kept ones."""

    page: "StylePage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.take = controls.button(
            "Keep the colours of the pictures", self.take_colours, name="take-colours", width="96%"
        )
        self.keep = controls.choice("Keep one of them", None, [NONE], self.add, name="keep-colour")
        self.delete = controls.choice("Delete a kept colour", None, [NONE], self.let_go, name="delete-colour")
        self.typed = controls.field("Add a colour", "", self.add, name="add-colour", hint="#755f98 or lavender")
        wheels = [(name, name) for name in WHEELS]
        self.wheel = controls.choice("On the wheel of", wheels[0][0], wheels, self.turn, name="wheel")
        self.controls = [self.take, self.keep, self.delete, self.typed, self.wheel]
        self.table = w.HTML(layout=w.Layout(width="100%"))

    def refresh(self) -> None:
        """Show the colours as they stand; a picture that is gone has none."""
        kept, seen = self.project.brief.style.colours, self._seen()
        rest = [s for s in seen if s.colour not in kept]
        forms.relist(self.keep, [NONE, *((f"{name_of(s.colour)}, {s.share:.0%}", s.colour) for s in rest)], None)
        forms.relist(self.delete, [NONE, *((f"{name_of(c)} {c}", c) for c in kept)], None)
        self.typed.show("")
        of_pictures = "".join(_chip(s.colour, f"{s.share:.0%}") for s in seen) or "none yet: pin pictures up first"
        chosen = "".join(_chip(c, c) for c in kept) or "none kept yet"
        self.table.value = (
            f"{STYLE}<p class='gk-label'><b>Colours of the garden</b></p><div class='gk-chips'>{chosen}</div>"
            f"<p class='gk-label'>{escaped(self.told())}</p>"
            f"<p class='gk-label'><b>What the pictures share</b></p><div class='gk-chips'>{of_pictures}</div>"
        )

    # ---- handlers

    @handler
    def take_colours(self) -> None:
        """Make the colours the pictures share the colours of the garden."""
        found = self.shared(count=6)
        if not found:
            raise GardenError("there are no pictures to take colours from; add one first")
        self.edit("keep the colours of the pictures", lambda p: edits.set_colours(p, [s.colour for s in found]))

    @handler
    def add(self, typed: str | None) -> None:
        """Keep a colour of the pictures, or one that is typed by code or name."""
        if typed and typed.strip():
            colour = read_colour(typed)
            self.edit(f"keep {name_of(colour)}", lambda p: edits.add_colour(p, colour))

    @handler
    def let_go(self, colour: str | None) -> None:
        """Delete a kept colour."""
        if colour:
            self.edit(f"delete {name_of(colour)}", lambda p: edits.drop_colour(p, colour))

    @handler
    def turn(self, _: str) -> None:
        """Look at the colours on another wheel."""
        self.refresh()

    # ---- what is told

    def shared(self, *, count: int) -> tuple[Swatch, ...]:
        """Return the colours that the pictures share, the largest share first. Raises GardenError."""
        return shared_colours([self.page.pinned.swatches(p.file) for p in self.project.brief.pictures], count=count)

    def told(self) -> str:
        """Return how the kept colours go together, by the two-colour model and by their places on the wheel."""
        kept = self.project.brief.style.colours
        if len(kept) < 2:
            return "Two colours or more tell how they go together."
        pairs = sorted((pair_harmony(a, b), a, b) for a, b in combinations(kept, 2))
        mean = sum(value for value, _, _ in pairs) / len(pairs)
        scheme = harmony(kept, wheel=str(self.wheel.bar.value))
        worst, best = pairs[0], pairs[-1]
        return (
            f"Together: {_level(mean)} ({mean:+.2f}). Best: {name_of(best[1])} with {name_of(best[2])}, "
            f"{best[0]:+.2f}. Hardest: {name_of(worst[1])} with {name_of(worst[2])}, {worst[0]:+.2f}, they "
            f"{_level(worst[0])}. ({OU_LUO}.) On the {scheme.wheel} wheel they are "
            f"{'' if scheme.fit > 0.99 else 'nearest to '}{scheme.scheme}, fit {scheme.fit:.0%} ({HARMONY_SOURCE})."
        )

    def _seen(self) -> tuple[Swatch, ...]:
        try:
            return self.shared(count=SHOWN)
        except GardenError:
            return ()  # the wall says which picture is gone


STYLE = """<style>.gk-chips{display:flex;flex-wrap:wrap;gap:10px;margin:4px 0 6px}
.gk-chip{width:92px;font-size:12px;line-height:1.3;color:#222}
.gk-chip b{display:block;height:44px;border-radius:3px;border:1px solid rgba(0,0,0,.2);margin-bottom:3px}</style>"""


def _chip(colour: str, words: str) -> str:
    return (
        f'<span class="gk-chip"><b style="background:{escaped(colour)}"></b>'
        f"{escaped(name_of(colour))}<br>{escaped(words)}</span>"
    )


def _level(value: float) -> str:
    return next(words for least, words in LEVELS if value >= least)

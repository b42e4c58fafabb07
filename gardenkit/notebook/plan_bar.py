"""Under the one plan of a desk: which ground is looked at, what is left out, and what the signs mean."""

import html
from collections.abc import Callable

import ipywidgets as w

from gardenkit.drawing import style
from gardenkit.drawing.legend import GROUPS, Sign, signs
from gardenkit.drawing.scene import Bounds, grown_bounds
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region
from gardenkit.notebook import controls
from gardenkit.notebook.one_plan import OnePlan
from gardenkit.notebook.page import Page
from gardenkit.notebook.pages.forms import relist
from gardenkit.project.within import ground_of

PLOT, CHOSEN = "the whole plot", "what is chosen"
NOTHING = "No ground is drawn yet: its boundary is measured or drawn in 03_site_measurement."
NOTHING_HERE = "No ground is drawn yet: draw its boundary in the first step, or measure it in the second or third."
ROUND_IT = 0.8  # m of ground shown round what is looked at. House value.


class PlanBar:
    """The controls under the plan; ``page`` gives the page of the step that is open.

    ``nothing`` is said while no ground is drawn.
    """

    def __init__(self, one: OnePlan, page: Callable[[], Page], *, nothing: str = NOTHING) -> None:
        self._one, self._page = one, page
        self.look = controls.choice("Look at", PLOT, [(PLOT, PLOT)], self.look_at, name="look-at")
        self.alone = controls.tick("Fade the rest", False, self.fade)
        self.leave_out = controls.tick("Leave out", False, self.fold)
        self.key = controls.tick("Key to the plan", False, self.fold)
        self.groups = {name: controls.tick(name, False, self.hide) for name in GROUPS}
        self.left_out = w.HBox(list(self.groups.values()))
        self.left_out.add_class("gk-plan-groups")
        self.meaning = w.HTML()
        self.meaning.add_class("gk-plan-key")
        self.nothing = controls.label(nothing)
        row = w.HBox([self.look, self.alone, self.leave_out, self.key])
        row.add_class("gk-plan-row")
        self.widget = w.VBox([row, self.left_out, self.meaning])
        self.widget.add_class("gk-plan-bar")
        one.drawn = self.show_key
        self.fold(False)

    # ---- handlers

    def look_at(self, what: str) -> bool:
        """Fit the plan to the plot, an area of the property, a bed, or to what is chosen."""
        return self._page().attempt(self._look, what)

    def fade(self, _: bool) -> bool:
        """Let everything fade but the ground that is looked at, or show all again."""
        return self._page().attempt(self._fade)

    def hide(self, _: bool) -> bool:
        """Leave out the groups that are ticked."""
        return self._page().attempt(self._hide)

    def fold(self, _: bool) -> None:
        """Open or close the list of what can be left out, and the key."""
        self.left_out.layout.display = "" if self.leave_out.bar.value else "none"
        self.meaning.layout.display = "" if self.key.bar.value else "none"
        self.show_key()

    def refresh(self) -> None:
        """Offer the areas and beds as they are now; say so while there is no ground at all."""
        self.nothing.layout.display = "none" if self._page().project.site.boundary else ""
        options = [(PLOT, PLOT), (CHOSEN, CHOSEN), *((name, name) for name in self._grounds())]
        relist(self.look, options, self.look.bar.value)

    def show_key(self) -> None:
        """Say what the signs on the plan mean, while the key is open."""
        self.meaning.value = key_html(signs(self._one.live.marks)) if self.key.bar.value else ""

    # ---- helpers

    def _grounds(self) -> dict[str, Region]:
        garden = self._page().garden
        areas = {f"area: {one.name}": ground_of(garden.layout, one) for one in garden.project.areas}
        return {**areas, **{f"bed: {bed.name}": bed.region for bed in garden.layout.beds if not bed.region.is_empty}}

    def _look(self, what: str) -> None:
        self._one.live.look_at(self._bounds(what))
        self.look.show(what)
        self._fade()

    def _hide(self) -> None:
        self._one.live.hide(name for name, box in self.groups.items() if box.bar.value)
        self.show_key()

    def _bounds(self, what: str) -> Bounds:
        if what == PLOT:
            return self._one.live.bounds
        if what == CHOSEN:
            spots = self._page().chosen_spots()
            if not spots:
                raise GardenError("nothing is chosen on this step; click what you want to look at, then look again")
            xs, ys = [x for x, _ in spots], [y for _, y in spots]
            return grown_bounds((min(xs), min(ys), max(xs), max(ys)), ROUND_IT)
        ground = self._grounds().get(what)
        if ground is None or ground.is_empty:
            raise GardenError(f'"{what}" is no longer on the plan; choose another ground to look at')
        return grown_bounds(plane.bounds(ground), ROUND_IT)

    def _fade(self) -> None:
        what = str(self.look.bar.value)
        ground = self._grounds().get(what) if self.alone.bar.value else None
        if self.alone.bar.value and ground is None:
            self._one.live.show_alone("", None)
            raise GardenError("choose a bed or an area to look at first; the rest of the plan then fades")
        self._one.live.show_alone(what, ground)


def key_html(found: tuple[Sign, ...]) -> str:
    """Return signs with their meanings as a list that takes as many columns as there is room for."""
    rows = "".join(f"<li>{_swatch(one)}{_meaning(one)}</li>" for one in found)
    return f'<ul aria-label="key to the plan">{rows}</ul>' if rows else "<p>nothing is drawn yet</p>"


def _meaning(one: Sign) -> str:
    words = html.escape(one.words)
    return f"<b>{html.escape(one.key)}</b> {words}, {one.count}" if one.key else words


def _swatch(one: Sign) -> str:
    stroke, dash = one.stroke or style.SOFT_INK, " ".join(str(2 * d) for d in one.dash)
    line = f'stroke="{stroke}" stroke-width="1.6" stroke-dasharray="{dash}"'
    shape = f'<rect x="2" y="2" width="20" height="10" fill="{one.fill}" {line}/>' if one.fill else ""
    shape = shape or f'<path d="M1 7H23" fill="none" {line}/>'
    return f'<svg width="24" height="14" aria-hidden="true">{shape}</svg> '

"""The part of the paths page about lights: lamps set along the chosen path at a usual distance, to be moved singly."""

from typing import TYPE_CHECKING

from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import heading
from gardenkit.notebook.part import Part
from gardenkit.project.edits import structure as edits
from gardenkit.structure.kinds import THINGS
from gardenkit.structure.kinds.things_lights import EVERY

if TYPE_CHECKING:
    from gardenkit.notebook.pages.paths import PathsPage

LAMPS = tuple(name for name, kind in THINGS.items() if kind.lamp is not None)
SIDES = ("left", "right", "both in turn")


class LightsAlong(Part):
    """Which lamp, how far apart, on which side of the chosen path."""

    page: "PathsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.kind = controls.choice("Light", LAMPS[0], LAMPS, lambda _: None, name="light-kind")
        self.every = controls.field("From lamp to lamp", self.page.typed(EVERY), lambda _: None, name="light-every")
        self.side = controls.choice("On the side", SIDES[2], SIDES, lambda _: None, name="light-side")
        put = controls.button(
            "Set lights along it", self.put, tip="each may be moved then", name="light-path", width="96%"
        )
        self.controls = [heading("Lights along it"), self.kind, self.every, self.side, put]

    def refresh(self) -> None:
        """Nothing here follows the garden."""

    @handler
    def put(self) -> None:
        """Set lamps along the chosen path."""
        name, kind, side = self.page.path_name, self.kind.bar.value, self.side.bar.value
        every = self.page.metres(self.every.bar.value, "from lamp to lamp")
        self.edit(f"lights along {name}", lambda p: edits.light_path(p, name, kind=kind, every=every, side=side))

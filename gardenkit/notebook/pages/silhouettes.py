"""A stone of the shape in a picture: the picture dropped on the page, the stone laid into the chosen path."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import heading
from gardenkit.notebook.part import Part
from gardenkit.notebook.pin_up import PinUp
from gardenkit.project.edits import structure as edits
from gardenkit.structure.silhouette import silhouette

if TYPE_CHECKING:
    from gardenkit.notebook.pages.paths import PathsPage

USUAL = 0.6  # m over its longer side. House value.
WORDS = "Drop, paste or choose a picture of one dark shape on a light ground, or a light one on a dark."


class StoneOfAPicture(Part):
    """A stone cut to the silhouette in a picture, in the middle of the chosen path; it is dragged from there."""

    page: "PathsPage"

    def build(self) -> None:
        """Make the widgets, once."""
        self.long = controls.field("Its longer side", self.page.typed(USUAL), lambda _: None, name="silhouette-long")
        self.take = PinUp(self.took, lambda _: None)
        self.take.words = WORDS
        self.controls = [heading("A stone of the shape in a picture"), self.long, self.take]

    @handler
    def took(self, pictures: Sequence[dict[str, Any]]) -> None:
        """Lay a stone of the shape in the first of some pictures."""
        if not pictures:
            raise GardenError("no picture came in; drop one on the page")
        one = pictures[0]
        long = self.page.metres(self.long.bar.value, "its longer side")
        shape = silhouette(bytes(one["content"]), long=long, name=str(one["name"]))
        name, at = self.page.path_name, self._middle()
        if self.edit(f"a stone like {one['name']} in {name}", lambda p: edits.add_cut_stone(p, plane.moved(shape, at))):
            self.message.say("the stone lies in the middle of the path; its cutting template is among the documents")

    def _middle(self) -> Point:
        laid, name = self.garden.layout, self.page.path_name
        if name not in laid.routes:
            raise GardenError("choose a path of stones that runs first; the stone is laid into it")
        stones = laid.layings[name].stones
        if stones:
            return stones[len(stones) // 2].at
        x, y = laid.routes[name].curve.at(laid.routes[name].length / 2)[0]
        return float(x), float(y)

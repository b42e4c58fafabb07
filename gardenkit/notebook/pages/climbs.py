"""Steps and ramps between two places on the ground: risers, treads, length of a ramp, and what the codes say."""

from gardenkit.drawing.scene import Scene
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages.bones import BonesPage
from gardenkit.notebook.pages.climbs_parts import Compared, Lie, RampAsked, StepsAsked
from gardenkit.units import show_length

FLAT = "the two places are level with each other: nothing to climb"
NO_HEIGHTS = (
    "No ground heights are measured yet: type the rise, or take heights in 03_site_measurement, The tape survey."
)


class ClimbsPage(BonesPage):
    """Two handles on the plan, or a typed rise; the steps and the ramp that overcome it, in figures and in section."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.lie, self.steps, self.ramp, self.compared = Lie(self), StepsAsked(self), RampAsked(self), Compared(self)
        panel = [*self.lie.controls, *self.steps.controls, *self.ramp.controls]
        self.widget = controls.page(self.message, panel, self.lie.board, self.compared.below)

    def refresh(self) -> None:
        """Work out steps and ramp between the two places."""
        self.lie.refresh()
        self.compared.refresh()
        if not self.lie.is_known:
            self.message.say(NO_HEIGHTS)
        else:
            self.message.say(FLAT if self.lie.climb().is_flat else "")

    @handler
    def again(self, _: object) -> None:
        """Work it out again as the controls ask for it now."""
        self.refresh()

    def drop(self, handle: str, at: Point) -> None:
        """Put one of the two places; nothing is saved."""
        self.lie.drop(handle, at)
        self.refresh()

    def small(self, metres: float) -> str:
        """Return a small length in the garden's units."""
        return show_length(metres, self.project.units, small=True)

    def scene(self) -> Scene:
        """Return the plan with the line between the two places."""
        return self.lie.scene()

    def summary(self) -> str:
        """Return the climb in words."""
        try:
            climb = self.lie.climb()
        except GardenError as error:
            return str(error)
        return f"a rise of {self.lengths(climb.height)} over {self.lengths(climb.run)}"

"""What is seen while a handle of a live plan is dragged: distances, lengths, area, and in red where it cannot be."""

from importlib.resources import files

from bokeh.core.properties import value
from bokeh.models import ColumnDataSource, CustomJS, MultiLine, Scatter, Text

from gardenkit.drawing import style
from gardenkit.drawing.bokeh import SCREEN_FONT, LivePlan, put_on
from gardenkit.notebook.session import Session
from gardenkit.project import Project
from gardenkit.project.surroundings import bounds_about, neighbours

CLOSED = r"^(corner:|ground_area:|house:|obstacle:|\d+$)"  # handles that are the corners of an outline
EVENTS = ("panstart", "pan", "panend")


class Dragged:
    """The measures of dragging on one live plan; the browser works them out, from what it is told lies about."""

    def __init__(self, plan: LivePlan, session: Session) -> None:
        self._plan, self._session = plan, session
        self.about = ColumnDataSource(name="about")
        self.beside = ColumnDataSource(name="beside")
        self.leads = ColumnDataSource(data={"xs": [], "ys": []}, name="leads")
        self.refused = ColumnDataSource(data={"x": [], "y": []}, name="refused")
        columns = ("x", "y", "text", "x_offset", "y_offset", "text_align", "text_color", "background_fill_color")
        self.said = ColumnDataSource(data={column: [] for column in columns}, name="measured")
        self.tell()
        self._draw()
        self._follow()

    def tell(self) -> None:
        """Tell the browser what lies about, where that is other than it was."""
        for source, data in (
            (self.about, _about(self._session.project)),
            (self.beside, _beside(self._session.project)),
        ):
            if dict(source.data) != data:
                source.data = data
        if self.about.tags != [self._session.project.units]:
            self.about.tags = [self._session.project.units]

    def _draw(self) -> None:
        plot = self._plan.figure
        lead = MultiLine(xs="xs", ys="ys", line_color=style.INK, line_width=1, line_dash=[3, 3])
        ring = Scatter(x="x", y="y", size=26, fill_alpha=0.0, line_color=style.ALERT, line_width=4)
        words = Text(
            **{column: column for column in self.said.data},
            text_font=value(SCREEN_FONT),
            text_font_size="12px",
            text_baseline="middle",
            background_fill_alpha=0.88,
            padding=2,
            border_radius=3,
        )
        for source, glyph in ((self.leads, lead), (self.refused, ring), (self.said, words)):
            put_on(plot, source, glyph)

    def _follow(self) -> None:
        lengths, code = (
            files("gardenkit.notebook").joinpath(name).read_text(encoding="utf-8")
            for name in ("lengths.js", "dragged.js")
        )
        seen = {name: getattr(self, name) for name in ("about", "beside", "leads", "refused", "said")}
        said = f'const units = about.tags[0], ink = "{style.INK}", red = "{style.ALERT}", paper = "{style.PAPER}";'
        closed = f"const closed = /{CLOSED}/;"
        args = {**seen, "plot": self._plan.figure, "handles": self._plan.handles}
        follow = CustomJS(args=args, code="\n".join((said, closed, lengths, code)))
        for event in EVENTS:
            self._plan.figure.js_on_event(event, follow)


def _about(project: Project) -> dict[str, list[object]]:
    found = bounds_about(project)
    return {
        "what": [one.what for one in found],
        "xs": [[x for x, _ in one.line] for one in found],
        "ys": [[y for _, y in one.line] for one in found],
        "refuses": [one.refuses for one in found],
        "plants": [one.plants for one in found],
    }


def _beside(project: Project) -> dict[str, list[object]]:
    found = neighbours(project)
    return {
        "names": [one.name for one in found],
        "x": [one.at[0] for one in found],
        "y": [one.at[1] for one in found],
        "climbs": [one.on_support for one in found],
        "group": [one.group for one in found],
    }

"""The controls of a notebook page: sliders, choices and fields with their labels above them, and a place for
messages.
"""

import html
import re
from calendar import month_name
from collections.abc import Callable, Iterable, Sequence
from typing import Any, TypeVar

import ipywidgets as w
from ipywidgets.widgets.widget_string import HTMLStyle, TextStyle

PANEL_WIDTH = "300px"
Boxed = TypeVar("Boxed", bound=w.Box)
_SHARED: dict[type[w.Widget], w.Widget] = {}
QUOTED = 200  # letters of what was typed that a message says again. House value.
MANY = 7  # columns from which a table stands row by row where it has no room. House value.
LONG = 24  # letters from which the words of a column are not broken into a narrow pillar. House value.
HEADING = 'class="gk-heading"'  # of what stands between groups of controls
STYLE = """<style>
.gk-label{font-size:13px;line-height:1.35;color:#222;margin:6px 0 0}
.gk-message{font-size:14px;padding:6px 10px;border-left:4px solid #20639b;background:#eef4fa;color:#14304a;margin:4px 0}
.gk-problem{border-color:#9b2915;background:#fbeeea;color:#5c1709}
.gk-survey-table textarea{white-space:pre;font-family:monospace;font-size:11px;overflow:auto}
.gk-table{border-collapse:collapse;font-size:13px;color:#222}
.gk-table th{text-align:left;border-bottom:2px solid #6b705c;padding:3px 10px 3px 0}
.gk-table td{border-bottom:1px solid #ddd;padding:3px 10px 3px 0;vertical-align:top;line-height:1.35}
.gk-table th{line-height:1.3}.gk-table td.gk-long{min-width:min(150px,24cqw)}
.gk-table td.gk-number,.gk-table th.gk-number{text-align:right;white-space:nowrap}
.gk-swatch{display:inline-block;width:22px;height:22px;border:1px solid #444;margin-right:3px;vertical-align:middle}
.gk-page{container-type:inline-size}
.gk-page .jupyter-button{padding:0 4px}
.gk-panel>.jupyter-button,.gk-panel .widget-vbox>.jupyter-button{max-width:96%}
.gk-page .widget-checkbox,.gk-page .widget-checkbox label{height:auto;line-height:1.4;white-space:normal}
.gk-page .widget-html-content{min-width:0}
.gk-row>.gk-labelled>*{width:calc(100% - 4px)!important}
.gk-page :focus-visible{outline:2px solid #20639b!important;outline-offset:1px}
.gk-page [class*=Collapse-header]{color:#333!important}
.jp-OutputArea-child:has(+.jp-OutputArea-child .jupyter-widgets) .gk-still{display:none}
@container (max-width:880px){.gk-panel{width:240px!important;min-width:240px!important}.gk-panel button{padding:0 3px}}
@container (max-width:560px){.gk-cards thead{display:none}
.gk-cards tr{display:flow-root;padding:3px 0;line-height:1.4;border-bottom:1px solid #ddd}
.gk-cards td{display:inline;border:0;padding:0 9px 0 0}.gk-cards td:first-child{display:block;font-weight:600}
.gk-cards td:empty{display:none}.gk-cards td::before{content:attr(data-of)" ";color:#555}}
@container (max-width:700px){.gk-work{flex-direction:column}.gk-panel{width:100%!important}
.gk-seen{order:-1;width:100%;flex:0 0 auto!important}}
@container (min-width:560px) and (max-width:700px){.gk-panel:not(:has(.widget-accordion)){display:block;columns:2}
.gk-panel>*{break-inside:avoid}.gk-panel>.widget-vbox:not(.gk-labelled){break-inside:auto}
.gk-panel>.widget-vbox>*{break-inside:avoid}.gk-panel>:has(.gk-heading){break-after:avoid}}
@container (min-width:701px){.gk-desk-step .gk-work:not(:has(.gk-seen :is(.widget-html,.gk-board,svg)))>
.gk-panel:not(:has(.widget-accordion)){width:calc(100% - 4px)!important;display:block;columns:2}
.gk-desk-step .gk-panel>*{break-inside:avoid}}
.gk-desk{height:calc(100vh - 130px);min-height:520px;flex-wrap:nowrap}
.gk-steps{flex:0 0 auto;width:100%!important}
.gk-steps .widget-toggle-button{width:auto!important;padding:0 7px}
.gk-opening{font-size:13px;line-height:1.4;color:#444;margin:2px 0 6px}
.gk-opening-now{font-size:13px;color:#444;padding:6px 0 8px;background:linear-gradient(90deg,#20639b 0 28%,#dde3ea 28%)
0 100%/140% 3px no-repeat;animation:gk-opening 1.2s linear infinite}
@keyframes gk-opening{from{background-position:100% 100%}to{background-position:0 100%}}
.gk-desk-row{flex:1 1 0%;min-height:0;width:100%;align-items:stretch}
.gk-desk-plan{flex:1 1 0%;min-width:0;overflow:hidden;flex-direction:column;flex-wrap:nowrap}
.gk-desk-board{flex:1 1 0%;min-height:0;width:100%;overflow:hidden}
.gk-board{width:100%;height:100%}
.gk-plan-bar{flex:0 0 auto;max-height:45%;overflow:hidden;width:100%;padding:0 2px;flex-wrap:nowrap}
.gk-plan-bar>*{flex:0 0 auto}.gk-plan-bar>.gk-plan-key{flex:0 1 auto;overflow:auto;height:auto}
.gk-plan-row,.gk-plan-groups{flex-flow:row wrap;align-items:flex-end;column-gap:10px}
.gk-plan-row>*,.gk-plan-groups>*{width:auto!important;flex:0 1 auto}.gk-plan-row .widget-dropdown{min-width:150px}
.gk-plan-bar .widget-checkbox{width:auto!important}
.gk-plan-row>:first-child{flex-flow:row nowrap;align-items:center;column-gap:6px}
.gk-plan-row>:first-child .gk-label{white-space:nowrap}.gk-plan-row>:first-child>.widget-html{flex:0 0 auto}
.gk-plan-key ul{columns:230px;font-size:12px;line-height:1.5;margin:2px 0;padding:0;list-style:none;color:#222}
.gk-plan-key li{break-inside:avoid}
.gk-desk-step{display:block;flex:0 0 clamp(340px,38%,1000px);min-width:0;overflow:auto;padding:0 4px 0 14px}
.gk-desk-step .widget-html{overflow-x:auto}
.gk-seen{padding-right:4px}.gk-seen .widget-vbox{overflow:visible}
.gk-desk-step .gk-seen{order:1}
.gk-desk-step>.widget-box,.gk-desk-step>.widget-box>.widget-box,.gk-desk-step .gk-page{overflow:visible}
.gk-desk-step .gk-page>.gk-said{position:sticky;top:0;z-index:3;background:#fff}
.gk-pin-up{display:block;box-sizing:border-box;width:96%;margin:4px 0 8px;padding:14px 12px;border:2px dashed #8a9279}
.gk-pin-up{border-radius:6px;background:#f6f7f0;color:#333;font-size:13px;line-height:1.4;text-align:center}
.gk-pin-up{cursor:pointer;white-space:normal}
.gk-pin-up:hover,.gk-pin-up:focus,.gk-pin-up.gk-over{border-color:#20639b;background:#eef4fa}
.gk-desk-alone .gk-desk-plan{display:none}
.gk-desk-alone .gk-desk-step{flex:1 1 100%;padding:0}
.gk-desk-pictures .gk-desk-step{flex-basis:62%}
.gk-desk-pictures .gk-desk-step .gk-seen{order:-1}
@container (max-width:760px){.gk-desk-row{flex-direction:column;flex-wrap:nowrap}
.gk-desk-plan{flex:0 0 58%!important;width:100%}.gk-desk-step{flex:1 1 0%!important;width:100%;padding:8px 0 0}
.gk-desk-bare .gk-desk-plan{flex-basis:34%!important}}
</style>"""  # the plan stands beside its controls, and above them where both would be strips


def label(text: str) -> w.HTML:
    """Return a label; project text is escaped."""
    return w.HTML(_label_html(text), style=_one_for_all(HTMLStyle))


def _caption(text: str) -> w.HTML:
    """Return the words above a control; they are as wide as it is and never hidden alone."""
    return w.HTML(_label_html(text), style=_one_for_all(HTMLStyle), layout=_one_for_all(w.Layout))


def _one_for_all(kind: type[w.Widget]) -> w.Widget:
    """Return the style or layout that all controls of a kind share: its own for each is one more message."""
    if kind not in _SHARED or _SHARED[kind].comm is None:  # closed with all widgets of the notebook
        _SHARED[kind] = kind()
    return _SHARED[kind]


def _named(name: str) -> dict[str, tuple[str, ...]]:
    """Return the name that CSS and tests know a control by, as it is told with the control and not after it."""
    return {"_dom_classes": (name,)} if name else {}


def _label_html(text: str) -> str:
    return f'<div class="gk-label">{html.escape(text)}</div>'


def slider(
    text: str,
    value: float,
    low: float,
    high: float,
    step: float,
    changed: Callable[[float], object],
    *,
    show: Callable[[float], str] = "{:.2f}".format,
    live: bool = True,
    name: str = "",
) -> "Slider":
    """Return a labelled slider that calls ``changed`` with each new value; ``live=False`` waits for the hand to let
    go.
    """
    box = Slider(text, value, (low, high, step), changed, show=show, live=live)
    if name:
        box.bar.add_class(f"gk-slider-{name}")
    return box


def month_slider(
    text: str, month: int, changed: Callable[[float], object], *, live: bool = True, name: str = ""
) -> "Slider":
    """Return a slider over the months of the year, standing at ``month``."""
    return slider(text, month, 1, 12, 1, changed, show=lambda v: month_name[int(v)], live=live, name=name)


def day_slider(day: int, changed: Callable[[float], object], *, name: str = "") -> "Slider":
    """Return a slider over the days of a month; the 31st of a short month is its last day."""
    return slider("Day of the month", day, 1, 31, 1, changed, show="{:.0f}".format, live=False, name=name)


def hour_slider(text: str, hour: int, changed: Callable[[float], object], *, name: str = "") -> "Slider":
    """Return a slider over the hours that are light somewhere in the year, by the clock of the place."""
    return slider(text, hour, 5, 22, 1, changed, show="{:.0f}:00".format, live=False, name=name)


# A step worked out as 0.41000000000000003 would be told to a browser that put the knob on 0.41, and the last presses
# of a key be lost by that.
STEP_DIGITS = 9


class Labelled(w.VBox):
    """A control with its label above it; ``show`` sets the control without calling anyone."""

    quiet: bool = False

    def __init__(self, children: Sequence[w.Widget], bar: w.Widget) -> None:
        named = _named("gk-labelled")  # ``labels.js`` ties the words to the control
        super().__init__(children, layout=w.Layout(width="100%", overflow="hidden"), **named)
        self.bar = bar
        self.beside = tuple(children)

    def complain(self, text: str) -> None:
        """Say beside the control what is wrong with what stands in it; an empty text takes that away again."""
        self.children = (*self.beside, w.HTML(_alert(text))) if text else self.beside

    def show(self, value: Any) -> None:
        """Show a value that came from the records."""
        if self.bar.value == value:
            return
        self.quiet = True
        try:
            self.bar.value = value
        finally:
            self.quiet = False


class Slider(Labelled):
    """A slider with the value of the records in words above it.

    Its knob stands on the nearest of its steps: a browser puts it there anyway and sends that place back as if a hand
    had moved it, by which a page that is only opened would change the garden.
    """

    def __init__(
        self,
        text: str,
        value: float,
        ends: tuple[float, float, float],
        changed: Callable[[float], object],
        *,
        show: Callable[[float], str],
        live: bool,
    ) -> None:
        self.text, self.said, self.changed = text, show, changed
        self.low, self.high, self.step = ends
        self.caption = _caption(f"{text}: {show(value)}")
        self.stands = self._on_step(value)
        bar = w.FloatSlider(
            value=self.stands,
            min=self.low,
            max=self.high,
            step=self.step,
            continuous_update=live,
            readout=False,
            layout=w.Layout(width="96%"),
        )
        bar.observe(self._moved, "value")
        super().__init__([self.caption, bar], bar)

    def show(self, value: float) -> None:
        """Say a value that came from the records, and put the knob on the step nearest to it."""
        self._say(value)
        self.stands = self._on_step(value)
        super().show(self.stands)

    def _moved(self, change: dict[str, Any]) -> None:
        if self.quiet or abs(change["new"] - self.stands) < self.step / 1000:
            return
        self.stands = float(change["new"])
        self._say(self.stands)
        self.changed(self.stands)

    def _say(self, value: float) -> None:
        self.caption.value = _label_html(f"{self.text}: {self.said(value)}")

    def _on_step(self, value: float) -> float:
        steps = round((min(max(value, self.low), self.high) - self.low) / self.step)
        return round(float(min(self.low + steps * self.step, self.high)), STEP_DIGITS)


def _never_blank(field: w.Dropdown | w.Select) -> None:
    """Let a list go on showing its "choose ..." or "a new one" when that is chosen: ipywidgets blanks it at None."""

    def show(change: dict[str, Any]) -> None:
        values = [value for _, value in choices(field)]
        if change["new"] is None and None in values:
            field.index = values.index(None)

    field.observe(show, "value")


def choices(field: w.Dropdown | w.Select) -> list[tuple[str, Any]]:
    """Return what a list offers as (words, value) pairs."""
    return [o if isinstance(o, tuple) else (str(o), o) for o in field.options]


def choice(
    text: str, value: Any, options: Iterable[Any], changed: Callable[[Any], object], *, name: str = "", lines: int = 1
) -> Labelled:
    """Return a labelled list; ``options`` are values or (words, value) pairs; ``lines`` shows as many at once."""
    more: dict[str, Any] = {} if lines == 1 else {"rows": lines}
    kind = w.Dropdown if lines == 1 else w.Select
    more |= _named(f"gk-choice-{name}" if name else "")
    field = kind(options=list(options), value=value, layout=w.Layout(width="96%"), **more)
    if value is None and field.options:
        field.index = 0  # a list that begins with "choose ..." shows these words, not nothing
    _never_blank(field)
    box = Labelled([_caption(text), field], field)
    field.observe(lambda change: None if box.quiet else changed(change["new"]), "value")
    return box


def tick(text: str, value: bool, changed: Callable[[bool], object]) -> Labelled:
    """Return a tick box with its words beside it."""
    field = w.Checkbox(value=value, description=text, indent=False, layout=w.Layout(width="96%"))
    box = Labelled([field], field)
    field.observe(lambda change: None if box.quiet else changed(change["new"]), "value")
    return box


def field(text: str, value: str, changed: Callable[[str], object], *, name: str = "", hint: str = "") -> Labelled:
    """Return a labelled text field that calls ``changed`` when the designer leaves it or presses Enter."""
    entry = w.Text(
        value=value,
        placeholder=hint,
        continuous_update=False,
        layout=w.Layout(width="96%"),
        style=_one_for_all(TextStyle),
        **_named(f"gk-field-{name}" if name else ""),
    )
    box = Labelled([_caption(text), entry], entry)
    entry.observe(lambda change: None if box.quiet else changed(change["new"]), "value")
    return box


def button(text: str, pressed: Callable[[], object], *, tip: str = "", name: str = "", width: str = "auto") -> w.Button:
    """Return a button that calls ``pressed``."""
    named = _named(f"gk-button-{name}" if name else "")
    made = w.Button(description=text, tooltip=tip or text, layout=w.Layout(width=width), **named)
    made.on_click(lambda _: pressed())
    return made


class Message(w.VBox):
    """The top of a page: one line for what was just done or what is wrong, and failures, which stay until dismissed."""

    def __init__(self) -> None:
        self.failures: list[str] = []
        self.line = w.HTML()
        self.failed = w.HTML()
        self.dismiss_button = button("Dismiss", self.dismiss, tip="I have read this", name="dismiss")
        self.dismiss_button.layout.display = "none"
        super().__init__([w.HBox([self.failed, self.dismiss_button]), self.line])
        self.add_class("gk-said")

    @property
    def value(self) -> str:
        """What is shown, as HTML."""
        return str(self.failed.value) + str(self.line.value)

    @value.setter
    def value(self, shown: str) -> None:
        """Show again what was shown; failures stay whatever is given."""
        for failure in self.failures:
            shown = shown.replace(failure, "")
        self.line.value = shown

    def say(self, text: str) -> None:
        """Show what was done."""
        self.line.value = f'<div class="gk-message" role="status">{html.escape(text)}</div>' if text else ""

    def problem(self, text: str) -> None:
        """Show what is wrong; of something very long that was typed only the beginning is said again."""
        self.line.value = _alert(text)

    def failure(self, text: str) -> None:
        """Show what went wrong, above everything else, until the designer dismisses it."""
        shown = _alert(text)
        if shown not in self.failures:
            self.failures.append(shown)
        self.failed.value = "".join(self.failures)
        self.dismiss_button.layout.display = ""

    def dismiss(self) -> None:
        """Take the failures off the page; they stay in the log of the garden folder."""
        self.failures.clear()
        self.failed.value = ""
        self.dismiss_button.layout.display = "none"


def _alert(text: str) -> str:
    short = re.sub(rf'"([^"]{{{QUOTED}}})[^"]+"', r'"\1 ..."', text)
    return f'<div class="gk-message gk-problem" role="alert">{html.escape(short)}</div>'


def row(*children: w.Widget) -> w.HBox:
    """Return controls side by side, as wide as a field."""
    made = w.HBox(list(children), layout=w.Layout(width="calc(96% + 4px)", justify_content="space-between"))
    return _classed(made, "row")


def table_html(headings: Sequence[str], rows: Iterable[Sequence[Any]], *, caption: str = "") -> str:
    """Return an HTML table; every cell is escaped, numbers stand right."""
    numeric: list[bool] = [True] * len(headings)
    cells = [list(row) for row in rows]
    for row in cells:
        for i, value in enumerate(row):
            numeric[i] = numeric[i] and isinstance(value, (int, float)) and not isinstance(value, bool)
    long = [any(len(str(row[i])) > LONG for row in cells) for i in range(len(headings))]
    kinds = [_kind(number=number and bool(cells), long=words) for number, words in zip(numeric, long, strict=True)]
    head = "".join(_heading(text, kind) for text, kind in zip(headings, kinds, strict=True))
    name, told = as_cards(headings)
    body = "".join(
        "<tr>"
        + "".join(f"<td{kind}{of}>{_cell(value)}</td>" for value, kind, of in zip(row, kinds, told, strict=True))
        + "</tr>"
        for row in cells
    )
    top = f"<caption>{html.escape(caption)}</caption>" if caption else ""
    return f'<table class="gk-table{name}">{top}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'


def as_cards(headings: Sequence[str], *, named: int = 1) -> tuple[str, list[str]]:
    """Return what a table adds to its class to be told row by row where there is no room, and to the cells of each
    column to say there what they are; the first ``named`` columns name the row. Nothing for few columns.
    """
    if len(headings) < MANY:
        return "", [""] * len(headings)
    told = [f' data-of="{html.escape(text)}"' if number >= named else "" for number, text in enumerate(headings)]
    return " gk-cards", told


def _kind(*, number: bool, long: bool) -> str:
    return ' class="gk-number"' if number else ' class="gk-long"' if long else ""


def _heading(text: str, kind: str) -> str:
    return f"<th{kind}>{html.escape(text)}</th>" if text else f"<td{kind}></td>"


def _cell(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:,.2f}".rstrip("0").rstrip(".")
    return "" if value is None else html.escape(str(value))


def page(
    message: Message,
    panel: Sequence[w.Widget],
    plan: w.Widget,
    below: Sequence[w.Widget] = (),
    *,
    beside: Sequence[w.Widget] = (),
) -> w.VBox:
    """Return a page: controls in a fixed panel left, the plan right, tables below, messages on top.

    ``beside`` stands to the right of the plan where the window is wide enough, otherwise under it.
    """
    row = work(panel, plan, beside=beside)
    return _classed(w.VBox([w.HTML(STYLE), message, row, *below], layout=w.Layout(width="100%")), "page")


def work(panel: Sequence[w.Widget], plan: w.Widget, *, beside: Sequence[w.Widget] = ()) -> w.HBox:
    """Return controls in a fixed panel, and what they change to their right, or above them on a narrow page."""
    left = _classed(
        w.VBox(list(panel), layout=w.Layout(width=PANEL_WIDTH, min_width=PANEL_WIDTH, flex="0 0 auto")), "panel"
    )
    more = (
        [w.VBox(list(beside), layout=w.Layout(flex="1 1 340px", min_width="300px", max_width="640px"))]
        if beside
        else []
    )
    plan_box = w.VBox([plan], layout=w.Layout(flex="0 1 auto", min_width="0"))
    seen = w.Layout(flex="1 1 0%", min_width="0", overflow="auto", flex_flow="row wrap")
    right = _classed(w.HBox([plan_box, *more], layout=seen), "seen")
    return _classed(w.HBox([left, right], layout=w.Layout(width="100%", align_items="flex-start")), "work")


def _classed(box: Boxed, name: str) -> Boxed:
    box.add_class(f"gk-{name}")
    return box

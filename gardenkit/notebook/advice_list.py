"""A page's share of the advice: worst first, none hidden; one chosen lights up on the plan, its remedy is one press."""

import html
from collections.abc import Callable, Iterable, Sequence

import ipywidgets as w

from gardenkit.drawing.overlays import lit_marks
from gardenkit.drawing.previewed import preview_marks
from gardenkit.drawing.scene import Mark
from gardenkit.findings import Finding, GardenError, Remedy
from gardenkit.garden import Garden, register
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import Job, beside, raiser
from gardenkit.notebook.later import Later
from gardenkit.notebook.page import Page, handler
from gardenkit.project import edits

SHOWN = 6  # lines before "and 14 more". House value.
STYLE = """<style>
.gk-advice button{white-space:normal;height:auto;min-height:28px;line-height:1.35;padding:4px 8px;text-align:left;
background:#fff;color:#222;border-left:4px solid #9a9a9a;width:99%}
.gk-advice button.gk-chosen{background:#fdf3dd;outline:2px solid #b8741a}
.gk-advice-stop button,.gk-advice-warning button{border-left-color:#9b2915}
</style>"""
SIGNS = {"stop": "■ stop", "warning": "▲ warning", "caution": "◆ caution", "note": "● note"}
PREVIEWED = '<div style="color:#1d5f8a">Drawn in blue on the plan: what this would change.</div>'
WORKING = "Working out the advice ..."
MANY = 300  # plants: from here on a page opens before its advice is known. House value.
NOTHING = "No advice: nothing here breaks a rule that is checked."


class AdviceList:
    """Lists the advice of a page's garden about some topics; ``chosen`` is called when another line is chosen.

    Put ``widget`` on the page, call ``show`` in its ``refresh``, and add ``marks(scale)`` to the extra marks of its
    plan. ``more`` returns findings that only this page knows; with ``of_garden=False`` there are no others. ``about``
    says which lines belong here. ``first`` names what is chosen on the page: its lines stand first. A plain list of
    methods, so that tests call them.
    """

    def __init__(
        self,
        page: Page,
        *,
        topics: Sequence[str] = (),
        chosen: Callable[[], object] | None = None,
        more: Callable[[], Sequence[Finding]] | None = None,
        about: Callable[[Finding], bool] | None = None,
        of_garden: bool = True,
        shown: int = SHOWN,
        first: Callable[[], Sequence[str]] = lambda: (),
    ) -> None:
        self.page, self.topics, self.tell, self.more, self.shown = page, tuple(topics), chosen, more, shown
        self.about, self.of_garden, self._first = about, of_garden, first
        self._named: tuple[str, ...] = ()  # what stands first as it was listed last
        self.lines: tuple[Finding, ...] = ()
        self.picked: Finding | None = None
        self.open = self._listed = False
        self._later = Later()
        self.rows: list[w.Button] = []
        self.heading, self.detail = w.HTML(STYLE), w.HTML()
        self.list = w.VBox(layout=w.Layout(width="100%"))
        self.list.add_class("gk-advice")
        self.opener = controls.button("", self.open_all, name="advice-more", width="99%")
        self.opener.layout.display = "none"
        self.taker = controls.button("", self.take, name="advice-take", width="99%")
        self.taker.layout.display = "none"
        self.others = w.VBox(layout=w.Layout(width="100%"))
        self.job = Job(page, name="advice")
        self.wait = w.VBox(layout=w.Layout(width="100%"))
        rows = [self.heading, self.wait, self.list, self.opener, self.detail, self.taker, self.others]
        self.widget = w.VBox(rows, layout=w.Layout(width="100%"))

    # what the page's handlers need of a page
    def attempt(self, action: Callable[..., object], *arguments: object) -> bool:
        """Run a handler as the page does: what goes wrong is said there."""
        return self.page.attempt(action, *arguments)

    def show(self) -> None:
        """List the advice of the garden as it stands; what was chosen stays chosen while it is still said.

        The first time at once, of a large garden beside the page. Later, when the hand has been still, always beside
        it: a drag does not wait for it.
        """
        if self._listed:
            if self._named != tuple(self._first()):
                self.lines = self._chosen_first(self.lines)
                self._fill()
            self._later.do(self._look)
        elif self.of_garden and len(self.page.project.planting.plants) > MANY:
            self._work_out()
        else:
            self._list(self._share(self.page.garden))

    def ask(self, topics: Sequence[str]) -> None:
        """List the advice about other topics, at once."""
        self.topics, self.picked, self._listed = tuple(topics), None, False
        self.show()

    def _look(self) -> None:
        garden = self.page.garden
        beside(
            lambda _: self._share(garden),
            done=lambda found: self._list(found) if garden is self.page.garden else None,
            failed=lambda error: self.page.attempt(raiser(error)),
        )

    def _work_out(self) -> None:
        if self.job.is_running:
            return
        garden = self.page.garden
        self.wait.children = (self.job.widget,)
        self.job.start(WORKING, lambda _, __: self._share(garden), lambda found: self._worked_out(garden, found))

    def _worked_out(self, garden: Garden, found: tuple[Finding, ...]) -> None:
        self.wait.children = ()
        if garden is self.page.garden:
            self._list(found)
        else:
            self.show()

    def _share(self, garden: Garden) -> tuple[Finding, ...]:
        return garden.advice_about(self.topics) if self.of_garden else ()

    def _all(self, registered: tuple[Finding, ...]) -> tuple[Finding, ...]:
        lines = register.worst((*(self.more() if self.more else ()), *registered))
        return self._chosen_first(line for line in lines if self.about is None or self.about(line))

    def _chosen_first(self, lines: Iterable[Finding]) -> tuple[Finding, ...]:
        """Return the lines with those about what is chosen first, else worst first as they came."""
        self._named = tuple(name for name in self._first() if name)
        found = register.worst(lines)
        return tuple(sorted(found, key=lambda line: not self._is_of_chosen(line)))

    def _is_of_chosen(self, line: Finding) -> bool:
        return any(names(one, name) for one in (line, *line.members) for name in self._named)

    @handler
    def _list(self, registered: tuple[Finding, ...]) -> None:
        self._listed = True
        self.lines = self._all(registered)
        if self.picked is not None:
            self.picked = next((line for line in self.lines if _same(line, self.picked)), None)
            if self.picked is None and self.tell is not None:
                self.tell()
        self._fill()

    @handler
    def choose(self, number: int) -> None:
        """Choose a line, or let go of it when it is chosen already."""
        line = self.lines[number] if number < len(self.lines) else None  # a press on what is gone lets go
        self.picked = None if line is self.picked else line
        self._fill()
        if self.tell is not None:
            self.tell()

    @handler
    def open_all(self) -> None:
        """Show every line, or only the worst again."""
        self.open = not self.open
        self._fill()

    @handler
    def take(self) -> None:
        """Make the remedy of the chosen line; undone like any edit."""
        if self.picked is not None and self.picked.remedy is not None:
            self._take(self.picked.remedy)

    @handler
    def take_other(self, number: int) -> None:
        """Make another remedy of the chosen line, the first of the others 0."""
        if self.picked is not None and number < len(self.picked.others):
            self._take(self.picked.others[number])

    def _take(self, remedy: Remedy) -> None:
        self.picked = None
        self.page.edit(self._said(remedy.words), lambda project: edits.apply(project, remedy))

    def marks(self, scale: float) -> tuple[Mark, ...]:
        """Return what lights the chosen line up on a plan with what its remedy would change, nothing while none is
        chosen.
        """
        if self.picked is None:
            return ()
        lit = lit_marks(self.picked, register.spots(self.page.garden, self.picked), scale=scale)
        return (*lit, *self._preview(self.picked.remedy, scale))

    def _preview(self, remedy: Remedy | None, scale: float) -> tuple[Mark, ...]:
        if remedy is None:
            return ()
        now = self.page.garden.project
        try:
            return preview_marks(now, edits.apply(now, remedy), scale=scale)
        except GardenError:  # the garden has moved on since: what is left to say is said when it is taken
            return ()

    def text(self) -> str:
        """Return every line as plain text, for readers without widgets."""
        lines = self._all(self._share(self.page.garden))
        return "\n".join(self._line(line) for line in lines) or NOTHING

    # ---- helpers

    def _fill(self) -> None:
        own = sum(map(self._is_of_chosen, self.lines))
        of_it = f", first {own} about {self._named[0]}" if own else ""
        self.heading.value = (
            STYLE + controls.label(f"Advice ({len(self.lines)}){of_it}" if self.lines else NOTHING).value
        )
        visible = len(self.lines) if self.open else min(self.shown, len(self.lines))
        while len(self.rows) < visible:
            number = len(self.rows)
            self.rows.append(controls.button("", lambda n=number: self.choose(n), width="99%"))  # type: ignore[misc]
        for row, line in zip(self.rows, self.lines[:visible], strict=False):
            row.description = self._line(line)
            row.tooltip = self._said("; ".join(p for p in (line.why, line.source) if p)) or row.description
            row.remove_class("gk-chosen")
            row.style.font_weight = "bold" if line.seriousness in ("stop", "warning") else "normal"
            if line is self.picked:
                row.add_class("gk-chosen")
        self.list.children = tuple(self.rows[:visible])
        rest = len(self.lines) - self.shown
        self.opener.layout.display = "" if rest > 0 else "none"
        self.opener.description = "show only the worst" if self.open else f"and {max(rest, 0)} more"
        self._detail()

    def _detail(self) -> None:
        line = self.picked
        self.taker.layout.display, self.others.children = "none", ()
        if line is None:
            self.detail.value = ""
            return
        rows = [self._said(one.sentence()) for one in line.members]
        why = "" if rows else self._said("; ".join(part for part in (line.why, line.source) if part))
        items = "".join(f"<li>{html.escape(row)}</li>" for row in rows)
        blue = PREVIEWED if line.remedy is not None and self.tell is not None else ""
        listed = f'<ul style="margin:2px 0 2px 18px;padding:0">{items}</ul>'
        self.detail.value = f'<div class="gk-label">{listed}{html.escape(why)}{blue}</div>'
        if line.remedy is not None:
            self.taker.description = f"Do this: {self._said(line.remedy.words)}"
            self.taker.layout.display = ""
        self.others.children = tuple(
            controls.button(
                f"Or this: {self._said(remedy.words)}",
                lambda n=number: self.take_other(n),  # type: ignore[misc]
                name=f"advice-other-{number}",
                width="99%",
            )
            for number, remedy in enumerate(line.others)
        )

    def _line(self, line: Finding) -> str:
        return f"{SIGNS[line.seriousness]} · {line.where}: {self._said(line.what)}"

    def _said(self, words: str) -> str:
        return self.page.garden.say(words)


def names(finding: Finding, name: str) -> bool:
    """Return whether a finding is about the thing of a name, or about another that is beside it."""
    subject = finding.subject[1] if finding.subject else ""
    where = finding.where
    return name in (where, subject, finding.beside) or f'"{name}"' in where or where.endswith(f" {name}")


def _same(a: Finding, b: Finding) -> bool:
    return (a.where, a.topic, a.rule, a.alike) == (b.where, b.topic, b.rule, b.alike)

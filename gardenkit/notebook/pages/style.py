"""Inspiration and style: the wall of reference pictures, the palette, the style, and how far the plan keeps to it."""

from collections.abc import Sequence

import ipywidgets as w

from gardenkit.brief.style import LEANINGS
from gardenkit.garden.kept_setting import Kept
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import beside, raiser
from gardenkit.notebook.later import Later
from gardenkit.notebook.page import Page, escaped
from gardenkit.notebook.pages.bones import heading
from gardenkit.notebook.pages.planting import Html, rich_table
from gardenkit.notebook.pages.style_palette import Palette
from gardenkit.notebook.pages.style_settings import WORDS, Settings
from gardenkit.notebook.pages.style_wall import ReferenceWall

_MORE = {
    "materials": "Materials",
    "signature": "Signature plants",
    "forms": "Forms favoured",
    "materials_most": "How many materials",
}


class StylePage(Page):
    """Controls left; right the wall, under it the palette, the style, and how far the plan keeps to it."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.pinned, self.palette, self.settings = ReferenceWall(self), Palette(self), Settings(self)
        self.kept, self.calm = w.HTML(), Later()
        pictures = [
            heading("Reference pictures"),
            *self.pinned.controls,
            heading("Colours"),
            *self.palette.controls,
        ]
        shown = w.VBox([self.pinned.wall, self.palette.table], layout=w.Layout(width="100%"))
        settings = [heading("The style"), *self.settings.controls, self.undo_row()]
        kept = w.VBox([self.settings.table, self.kept], layout=w.Layout(width="100%"))
        self.widget = controls.page(self.message, pictures, shown, [controls.work(settings, kept)])

    def refresh(self) -> None:
        """Show the pictures, their colours and the style."""
        self.pinned.refresh()
        self.palette.refresh()
        self.settings.refresh()
        self.calm.do(self._judge)

    def colours(self, *, count: int = 6) -> tuple[str, ...]:
        """Return the colours the pictures have in common."""
        return tuple(swatch.colour for swatch in self.palette.shared(count=count))

    def summary(self) -> str:
        """Return the style in words."""
        chosen = self.project.brief.style
        leanings = ", ".join(f"{key.replace('_', ' ')} {getattr(chosen, key):.0%}" for key in LEANINGS)
        return f"Style {chosen.name or 'not named'}: {leanings}; colours {', '.join(chosen.colours) or 'none'}"

    def _judge(self) -> None:
        """Work out beside the page how far the plan keeps to the style: no slider waits for it."""
        garden = self.garden
        beside(
            lambda _: garden.style_kept,
            done=lambda found: self._show_kept(found) if garden is self.garden else None,
            failed=lambda error: self.attempt(raiser(error)),
        )

    def _show_kept(self, kept: Sequence[Kept]) -> None:
        """Show how far the plan keeps to the style, setting by setting, as a table."""
        told = [one for one in kept if one.found is not None]
        words = {key: text for key, (text, _, _) in WORDS.items()} | _MORE
        rows = [
            ("✔\u00a0kept" if one.is_kept else "✘\u00a0not\u00a0kept", self._told(words[one.setting], one))
            for one in told
        ]
        heads = ("", "how far the plan keeps to the style")
        self.kept.value = rich_table(heads, rows) if rows else ""

    def _told(self, setting: str, one: Kept) -> Html:
        """Return a setting, what is wanted, what the plan has, and the plants, lines or materials behind it."""
        soft = '<span style="color:#666">{}</span>'
        lines = [f"<b>{escaped(setting)}</b> {soft.format(f'wanted {one.wanted:.0%}')}"]
        lines.append(escaped(self.garden.say(one.figure)))
        lines += [soft.format(f"because of {escaped(', '.join(one.answerable))}")] if one.answerable else []
        return Html("<br>".join(lines))

"""Inspiration and style: the pictures on the wall with their colours, and the style as settings."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import Any

import ipywidgets as w

from gardenkit.brief import pictures
from gardenkit.brief.palette import Swatch, shared_colours
from gardenkit.brief.style import LEANINGS, STYLES
from gardenkit.findings import GardenError
from gardenkit.garden.kept_style import Kept
from gardenkit.notebook import controls
from gardenkit.notebook.jobs import beside, raiser
from gardenkit.notebook.page import Later, Page, escaped, handler
from gardenkit.notebook.pages.planting import kind_named
from gardenkit.project.edits import brief as edits
from gardenkit.storage import PICTURES_FOLDER
from gardenkit.storage.files import trouble

_WORDS = {
    "curving": ("How curving", "straight", "winding"),
    "formal": ("How formal", "loose", "clipped"),
    "symmetry": ("How alike both sides", "free", "alike"),
    "fullness": ("How full the beds", "open ground", "packed"),
    "evergreen_share": ("Wanted share with winter leaves", "none", "all"),
    "natives_share": ("Wanted share of natives", "none", "all"),
    "strict": ("How strict the colours", "any", "only these"),
    "texture": ("Leaves", "fine", "coarse"),
    "variety": ("Kinds of plants", "few", "many"),
    "repetition": ("Repetition", "each once", "again and again"),
    "boldness": ("Masses", "finely woven", "large"),
}
_MORE = {"materials": "Materials", "signature": "Signature plants"}


class StylePage(Page):
    """Pictures left to right with their colours; below them the style and its leanings."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.palettes: dict[str, tuple[Swatch, ...]] = {}
        self.upload = w.FileUpload(accept="image/*", multiple=True, description="Add pictures")
        self.upload.observe(lambda change: self.add(change["new"]), "value")
        self.wall = w.HTML()
        self.start = controls.choice(
            "Begin from a style", None, [("choose ...", None), *((n, n) for n in STYLES)], self.begin
        )
        self.leanings = {
            key: controls.slider(
                f"{words}, {low} to {high}",
                0.5,
                0,
                1,
                0.05,
                partial(self.lean, key),
                show="{:.0%}".format,
                live=False,
                name=key,
            )
            for key, (words, low, high) in _WORDS.items()
        }
        self.materials = controls.field(
            "Materials, the first for new paths", "", self.set_materials, name="materials", hint="gravel, brick"
        )
        self.signature = controls.field(
            "Signature plants", "", self.set_signature, name="signature", hint="botanical names, with commas between"
        )
        self.kept, self.calm = w.HTML(), Later()
        self.take = controls.button(
            "Take the colours of the pictures", self.take_colours, name="take-colours", width="96%"
        )
        self.remove = controls.choice("Take a picture off the wall", None, [("choose ...", None)], self.take_off)
        said = [*self.leanings.values(), self.materials, self.signature]
        panel = [self.upload, self.remove, self.start, *said, self.take, self.undo_row()]
        self.widget = controls.page(self.message, panel, w.VBox([self.wall, self.kept]))

    def refresh(self) -> None:
        """Show the pictures, their colours and the style."""
        brief = self.project.brief
        blocks = [self._block(self._folder() / p.file, p.caption, p.liked) for p in brief.pictures]
        chosen = "".join(_swatch(c) for c in brief.style.colours) or "none taken yet"
        words = ", ".join(escaped(word) for word in brief.style.words)
        name = escaped(brief.style.name or "not named yet")
        self.wall.value = (
            f'<div style="display:flex;flex-wrap:wrap;gap:16px">{"".join(blocks) or "No pictures yet: add some."}</div>'
            f'<p class="gk-label"><b>Style: {name}</b> {words}</p>'
            f'<p class="gk-label">Colours of the garden: {chosen}</p>'
        )
        for key, box in self.leanings.items():
            box.show(getattr(brief.style, key))
        self.materials.show(", ".join(brief.style.materials))
        self.signature.show(", ".join(brief.style.signature))
        self.calm.do(self._judge)
        self.remove.quiet = True
        self.remove.bar.options = [("choose ...", None), *((p.caption or p.file, p.file) for p in brief.pictures)]
        self.remove.bar.value = None
        self.remove.quiet = False

    def begin(self, name: str | None) -> None:
        """Take the settings of a starting style; colours already chosen stay."""
        if name:
            self.edit(f"begin from {name}", lambda p: edits.begin_style(p, name))

    def lean(self, key: str, value: float) -> None:
        """Change one leaning."""
        self.edit(_WORDS[key][0].lower(), lambda p: edits.adjust_style(p, key, value), gesture=f"style {key}")

    def set_materials(self, text: str) -> None:
        """Say what paths and places are to be made of."""
        self.edit("materials", lambda p: edits.set_materials(p, text.split(",")))

    @handler
    def set_signature(self, text: str) -> None:
        """Name the plants that make the style known. Raises GardenError for one that the catalogue does not know."""
        names = [kind_named(self.garden.catalogue, word).botanical for word in text.split(",") if word.strip()]
        self.edit("signature plants", lambda p: edits.set_signature(p, names))

    def add(self, files: Any) -> None:
        """Add uploaded pictures; one that is no picture is named and the others are still added."""
        problems = []
        for file in files:
            try:
                picture = pictures.add_picture(self._folder(), file["name"], bytes(file["content"]))
            except GardenError as error:
                problems.append(str(error))
                continue
            except OSError as error:
                problems.append(trouble(error))
                continue
            self.edit(f"add picture {picture.file}", partial(edits.add_picture, picture=picture))
        if problems:
            self.message.problem("; ".join(problems))
        self.upload.unobserve_all("value")
        self.upload.value = ()
        self.upload.observe(lambda change: self.add(change["new"]), "value")

    def take_off(self, file: str | None) -> None:
        """Take a picture off the wall; its file stays in the folder."""
        if file:
            self.edit(f"take off {file}", lambda p: edits.remove_picture(p, file))

    @handler
    def take_colours(self) -> None:
        """Make the colours the pictures share the colours of the garden."""
        colours = self.colours()
        if not colours:
            self.message.problem("there are no pictures to take colours from; add one first")
            return
        self.edit("take the colours of the pictures", lambda p: edits.set_colours(p, colours))

    def colours(self, *, count: int = 6) -> tuple[str, ...]:
        """Return the colours the pictures have in common."""
        return shared_colours(
            [self._palette(self._folder() / p.file) for p in self.project.brief.pictures], count=count
        )

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
        words = {key: text for key, (text, _, _) in _WORDS.items()} | _MORE
        rows = [
            (
                "✔\u00a0kept" if one.is_kept else "✘\u00a0not\u00a0kept",
                words[one.setting],
                f"{one.wanted:.0%}",
                self.garden.say(one.figure),
                ", ".join(one.answerable),
            )
            for one in told
        ]
        caption = "How far the plan keeps to the style"
        heads = ("", "setting", "wanted", "the plan", "because of")
        self.kept.value = controls.table_html(heads, rows, caption=caption) if rows else ""

    def _folder(self) -> Path:
        return self.session.folder / PICTURES_FOLDER

    def _palette(self, path: Path) -> tuple[Swatch, ...]:
        key = f"{path}:{path.stat().st_mtime_ns if path.exists() else 0}"
        if key not in self.palettes:
            self.palettes[key] = pictures.colours_of(path)
        return self.palettes[key]

    def _block(self, path: Path, caption: str, liked: str) -> str:
        try:
            swatches = "".join(_swatch(s.colour, f"{s.share:.0%}") for s in self._palette(path))
            alt = escaped(caption or path.name)
            image = f'<img src="{pictures.thumbnail_url(path)}" alt="{alt}" style="display:block">'
        except GardenError as error:
            return f'<div class="gk-message gk-problem">{escaped(error)}</div>'
        return (
            f'<figure style="margin:0;max-width:240px">{image}<div style="margin:4px 0">{swatches}</div>'
            f'<figcaption class="gk-label"><b>{escaped(caption)}</b> {escaped(liked)}</figcaption></figure>'
        )


def _swatch(colour: str, words: str = "") -> str:
    safe = escaped(colour)
    return f'<span class="gk-swatch" style="background:{safe}" title="{safe} {escaped(words)}"></span>'
